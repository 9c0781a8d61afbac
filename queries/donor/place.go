package donor

import (
	"cmp"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// weighPlaces has every part count as an unknown that would leave something
// undecided at its place which nobody has judged: the swap engine says so of the
// whole plan, and a plan with fewer such places is the better one.
func weighPlaces(p *planner) error {
	var kinds []graph.KindID
	for _, s := range p.slots {
		for _, o := range s.options {
			if !o.weighed && o.part != "" {
				kinds = append(kinds, p.before.Library().Part(o.part).Kind)
			}
		}
	}
	if err := p.before.Library().ReadKinds(p.ctx, kinds); err != nil {
		return err
	}
	for _, s := range p.slots {
		if s.fixed || !s.grown {
			continue
		}
		for i := range s.options {
			o := &s.options[i]
			if o.weighed || o.other || o.part == "" {
				continue
			}
			o.weighed = true
			if leavesUnknown(p, s.at, o.part, p.meets[s.at]) {
				o.open = true
				if !s.exact {
					o.cost.Unknowns += unknownsAt(p, s.at)
				}
			}
		}
	}
	return p.ctx.Err()
}

// leavesUnknown reports whether a part at a place earns nothing there, neither with all else
// as it is nor with what sits around it on a machine that it is built on: two that come
// together answer for one another.
func leavesUnknown(p *planner, at graph.PositionID, part graph.PartID, meets []*demand) bool {
	if part == p.before.Seat(at).Part.ID {
		return false
	}
	word := wordFor(p, at, part)
	if word.Earned != examine.EarnedNothing { // it earns the place whatever else there is to say
		return false
	}
	if !earnsNothingWith(p, map[graph.PositionID]graph.PartID{at: part}, at, meets) {
		return false
	}
	if p.rough { // no plan costs more than it counts, that is enough
		return true
	}
	company := companyOf(p, at, part, meets)
	if len(company) == 0 {
		return true
	}
	company[at] = part
	return earnsNothingWith(p, company, at, meets)
}

// earnsNothingWith reports whether the part at a place earns nothing there, with some parts on.
func earnsNothingWith(p *planner, parts map[graph.PositionID]graph.PartID, at graph.PositionID, meets []*demand) bool {
	after := setupWith(p, p.base, parts)
	key := fmt.Sprint(weighedOn(p, at, after, meets), parts)
	unknown, known := p.weighed[key]
	if !known {
		unknown = earnsNothing(p, at, after, meets, len(parts) > 1)
		if p.ctx.Err() != nil {
			return false // too late: nobody asks any more
		}
		p.weighed[key] = unknown
	}
	return unknown
}

// companyOf is what the donor has around a part of its own, at the places that meet that
// one's, as far as it is another than is there, and may come.
func companyOf(p *planner, at graph.PositionID, part graph.PartID, meets []*demand) map[graph.PositionID]graph.PartID {
	company := map[graph.PositionID]graph.PartID{}
	if !isDonors(p, at, part) {
		return company
	}
	var places []graph.PositionID
	for _, d := range meets {
		places = append(places, d.Places...)
	}
	places = lists.Kept(lists.Unique(places), func(id graph.PositionID) bool {
		_, fixed := p.fixed[id]
		return id != at && !fixed && !p.keep[id]
	})
	p.fault = cmp.Or(p.fault, p.donor.Load(p.ctx, lists.Mapped(places, p.onDonor)...))
	for _, id := range places {
		if other := p.donor.PartIDAt(p.onDonor(id)); other != "" && other != p.before.PartIDAt(id) {
			company[id] = other
		}
	}
	return company
}

// earnsNothing reports whether what sits at a place, of which nobody says anything, is
// judged by nothing; together is true where others came with it. Figures are worked out only
// where no check has judged it.
func earnsNothing(p *planner, at graph.PositionID, after *machine.Setup, meets []*demand, together bool) bool {
	var outcomes []examine.Outcome
	for _, d := range meets {
		if !isJudged(p, d, after) && p.ctx.Err() != nil {
			return false
		}
		if o, ok := outcomeWith(p, d, after, at); ok {
			outcomes = append(outcomes, o)
		}
	}
	x := p.around.Examiner(p.was, after)
	if together || cameWith(p, at, after.PartIDAt(at)) {
		p.fault = cmp.Or(p.fault, swap.TakenWhole(p.ctx, x, outcomes))
	}
	if x.EarnedAt(at, outcomes, nil, examine.Word{}) != examine.EarnedNothing {
		return false
	}
	numbers := slices.Concat(x.HydraulicNumbers(nil), x.CableNumbers())
	return len(numbers) == 0 || x.EarnedAt(at, outcomes, numbers, examine.Word{}) == examine.EarnedNothing
}

// weighedOn tells apart all that what a part earns at a place hangs on: the part itself,
// how all that meets the place is judged, and for the figures what shares a circuit or a
// cable with it.
func weighedOn(p *planner, at graph.PositionID, after *machine.Setup, meets []*demand) string {
	key := []byte(string(at) + "=" + string(after.PartIDAt(at)))
	for _, d := range meets {
		key = append(append(key, '\n'), keyOn(p, d, after)...)
	}
	var shared []graph.PositionID
	for _, c := range p.around.Circuits {
		if places := c.Places(); slices.Contains(places, at) {
			shared = append(shared, places...)
		}
	}
	if after.HasAt(at, "nipple-seat") {
		shared = append(shared, after.Changed()...)
	}
	for _, id := range shared {
		key = append(append(key, '\n'), id+"="+graph.PositionID(after.PartIDAt(id))...)
	}
	return string(key)
}

// wordFor is who lists the part at the place, or fitted it there.
func wordFor(p *planner, at graph.PositionID, part graph.PartID) examine.Word {
	for _, f := range p.before.Library().ListedAt(at) {
		if f.Part == part && slices.Contains(f.On, p.before.Variant.ID) && len(f.Said) > 0 {
			return examine.Word{Earned: examine.EarnedListed, Of: string(f.Said[0].Source)}
		}
	}
	for _, f := range wordOn(p, at, part).by {
		if f.Verdict <= graph.FitsWithChanges && f.Verdict != graph.NoVerdict {
			return examine.Word{Earned: examine.EarnedFound, Of: string(f.ID)}
		}
	}
	return examine.Word{}
}
