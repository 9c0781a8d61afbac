package donor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// mostTried is how many other parts for a fixed one are tried.
const mostTried = 6

// mostInstead is how many other parts for a fixed one are named.
const mostInstead = 3

// insteadOf names other parts for a fixed place with which the demand would
// hold.
func insteadOf(p *planner, d *demand, id graph.PositionID) ([]string, error) {
	byKind, err := readCandidates(p, []graph.PositionID{id})
	if err != nil {
		return nil, err
	}
	was := p.fixed[id]
	var tried []insteadPart
	for _, kind := range kindsAt(p, id) {
		for _, part := range byKind[kind] {
			if part == was.part || part == p.before.Seat(id).Part.ID || isForOtherSide(p, id, p.before.Library().Part(part)) ||
				isForElsewhere(p, id, part) {
				continue
			}
			if err := p.ctx.Err(); err != nil {
				return nil, err
			}
			if way, ok := holdsWith(p, d, id, part); ok {
				tried = append(tried, insteadPart{part, way})
			}
		}
	}
	slices.SortStableFunc(tried, func(a, b insteadPart) int {
		return cmp.Or(cmp.Compare(a.way.cost.Effort, b.way.cost.Effort), cmp.Compare(a.way.cost.Parts, b.way.cost.Parts))
	})
	return insteadWords(p, id, tried)
}

// insteadPart is another part for a fixed place, and the way it holds.
type insteadPart struct {
	part graph.PartID
	way  donorWay
}

// insteadWords name those of the parts with which there is a plan.
func insteadWords(p *planner, id graph.PositionID, tried []insteadPart) ([]string, error) {
	var ids []graph.PartID
	for _, t := range tried[:min(len(tried), mostTried)] {
		ids = append(ids, t.part)
	}
	fitments, err := p.before.Library().Reader().FitmentsOf(p.ctx, ids...)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, t := range tried[:len(ids)] {
		if len(words) == mostInstead {
			break
		}
		a := tryInstead(p, id, t.part)
		if a.fails {
			continue
		}
		text := fmt.Sprintf("instead at %s: %s", id.Local(), p.named(t.part))
		if at := slices.IndexFunc(fitments,
			func(f graph.Fitment) bool { return f.Part == t.part && len(f.On) > 0 }); at >= 0 {
			text += " (built on " + string(fitments[at].On[0]) + ")"
		}
		if t.way.name != "" {
			text += ", " + t.way.name
		}
		words = append(words, text+a.also)
	}
	return words, nil
}

// holdsWith tries a demand with another part at a place, all else as asked for.
func holdsWith(p *planner, d *demand, id graph.PositionID, part graph.PartID) (donorWay, bool) {
	return holdsWithAll(p, d, id, map[graph.PositionID]graph.PartID{id: part})
}

// on is the same planner for a moment on another machine, as if other parts had
// been asked for; what it learns stays.
func on(p *planner, base *machine.Setup) *planner {
	t, other := *p.task, *p
	t.base, other.task = base, &t
	return &other
}

// holdsWithAll tries it with parts at several places, of which one is the place
// in question.
func holdsWithAll(p *planner, d *demand, id graph.PositionID,
	parts map[graph.PositionID]graph.PartID) (donorWay, bool) {
	changes := make(map[graph.PositionID]*machine.Seat, len(parts))
	for at, part := range parts {
		changes[at] = seatOf(p, at, part)
	}
	if twin := machine.OtherSide(id); twin != "" && slices.Contains(d.Places, twin) {
		return donorWay{}, false
	}
	base := p.base.WithOther(changes)
	o, ok := outcomeOn(p, d, base)
	if !ok || o.After == graph.Unknown {
		return donorWay{}, false
	}
	other := on(p, base)
	ways := withoutRefused(other, d, nil, waysFor(other, d, o))
	p.fault = cmp.Or(p.fault, other.fault)
	if len(ways) == 0 {
		return donorWay{}, false
	}
	slices.SortStableFunc(ways, func(a, b donorWay) int { return cmp.Compare(a.cost.Effort, b.cost.Effort) })
	return ways[0], true
}

// withDonors says where the donor's own part, in the place of one that stays,
// would mate with what was asked for: the two go over together.
func withDonors(p *planner, joints []ClashJoint) ([]string, error) {
	if p.donor == nil {
		return nil, nil
	}
	together := map[string]map[string]string{} // by assembly and place, what to call it
	clash := lists.Kept(slices.Clone(p.demands), func(d *demand) bool {
		return d.lot == nil && slices.ContainsFunc(joints,
			func(j ClashJoint) bool { return j.What == d.What && j.ID == d.ID })
	})
	for _, d := range clash {
		for _, id := range d.Places {
			if _, fixed := p.fixed[id]; fixed {
				continue
			}
			if err := p.donor.Load(p.ctx, p.onDonor(id)); err != nil {
				return nil, err
			}
			seat := p.donor.Seat(p.onDonor(id))
			if seat.Empty || seat.Part.ID == p.before.Seat(id).Part.ID {
				continue
			}
			if _, ok := holdsWith(p, d, id, seat.Part.ID); ok || holdsTogether(p, d, id, seat.Part.ID, clash) {
				assembly := id.Assembly().Local()
				if together[assembly] == nil {
					together[assembly] = map[string]string{}
				}
				together[assembly][id.Local()] = fmt.Sprintf("%s (%s)", id.Local(), seat.Part.ID)
			}
		}
	}
	var words []string
	for _, assembly := range lists.KeysOf(together) {
		places := lists.KeysOf(together[assembly])
		take, a := tryTaking(p, places, assembly)
		if a.fails {
			continue
		}
		if take[0] != assembly {
			places = take
		}
		named := lists.Mapped(places, func(at string) string { return together[assembly][at] })
		text := fmt.Sprintf("the donor's own %s would mate with it: --take %s too", strings.Join(named, " and "),
			strings.Join(take, ","))
		if kept := keptIn(p, assembly); len(kept) > 0 {
			text += ", and do not keep " + strings.Join(kept, ",")
		}
		words = append(words, text+a.also)
	}
	return words, nil
}

// keptIn is what the question keeps of an assembly, as it was asked.
func keptIn(p *planner, assembly string) []string {
	return lists.Kept(slices.Clone(p.q.Keep), func(place string) bool {
		of, _, _ := strings.Cut(place, "/")
		return of == assembly
	})
}
