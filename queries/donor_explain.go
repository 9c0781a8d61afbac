package queries

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
	"matewell/queries/plan"
)

// DonorClash is why there is no plan: connections that can't hold together,
// whatever else is changed.
type DonorClash struct {
	// Smallest is true when no fewer connections clash anywhere.
	Smallest bool         `json:"smallest"`
	Joints   []ClashJoint `json:"joints"`
	// Also are connections that fail in the same way by themselves.
	Also []ClashJoint `json:"also,omitempty"`
	// Opens are facts or parts that would open the way.
	Opens []string `json:"opens"`
}

// ClashJoint is one connection of a clash, as it comes out with what was asked
// for and as little else as possible.
type ClashJoint struct {
	What    string        `json:"what"`
	ID      string        `json:"id"`
	Verdict graph.Verdict `json:"verdict"`
	Text    string        `json:"text"` // in trade words
	Ends    []End         `json:"ends"`
}

// clash puts a clash into words.
func (p *planner) clash(c plan.Clash) (*DonorClash, error) {
	d := &DonorClash{Smallest: c.Smallest, Opens: []string{}}
	clash := mapped(c.Demands, func(i int) *demand { return p.demands[i] })
	for _, one := range clash {
		j := p.clashJoint(one)
		if text := p.togetherText(one, clash); len(clash) > 1 && text != "" {
			j.Text = text
		}
		d.Joints = append(d.Joints, j)
	}
	for i, demand := range p.demands {
		if len(demand.ways) == 0 && len(c.Demands) == 1 && !slices.Contains(c.Demands, i) {
			d.Also = append(d.Also, p.clashJoint(demand))
		}
	}
	err := p.waysOpen(d, c)
	if errors.Is(err, errLate) {
		p.notes, err = append(p.notes, "there was no time to look for all that would open the way"), nil
	}
	return d, err
}

// waysOpen adds what would open the way, until the time is over.
func (p *planner) waysOpen(d *DonorClash, c plan.Clash) error {
	for _, i := range c.Demands {
		opens, err := p.opens(p.demands[i])
		d.Opens = append(d.Opens, opens...)
		if err != nil {
			return err
		}
	}
	freed, err := p.withDonors(slices.Concat(d.Joints, d.Also))
	d.Opens = append(d.Opens, freed...)
	return err
}

// clashJoint is the least bad outcome of a demand over what its slots can take.
func (p *planner) clashJoint(d *demand) ClashJoint {
	if d.lot != nil {
		return p.lotClash(*d.lot)
	}
	o := p.leastBad(d)
	j := ClashJoint{What: d.what, ID: d.id, Verdict: o.After, Ends: o.Ends}
	j.Text = clashText(o)
	return j
}

func (p *planner) leastBad(d *demand) Outcome {
	return p.leastBadOf(d, func(int, int) bool { return true })
}

// leastBadOf is that over some of the options.
func (p *planner) leastBadOf(d *demand, some func(slot, option int) bool) Outcome {
	all := make([][]bool, len(p.slots))
	for i, s := range p.slots {
		for o, option := range s.options {
			all[i] = append(all[i], !option.other && some(i, o))
		}
	}
	var best, unfilled Outcome
	p.combinations(d, all, func(choice []int, _ plan.Cost) {
		parts := map[graph.PositionID]graph.PartID{}
		for k, i := range d.slots {
			parts[p.slots[i].at] = p.slots[i].options[choice[k]].part
		}
		least := &best
		if len(p.mustFill(d, parts)) > 0 {
			least = &unfilled
		}
		o, ok := p.outcome(d, parts)
		if ok && (least.What == "" || cmp.Or(cmp.Compare(o.After, least.After), cmp.Compare(changedEnds(o), changedEnds(*least))) < 0) {
			*least = o
		}
	})
	if best.What == "" { // nothing is known for an empty place
		return unfilled
	}
	return best
}

func changedEnds(o Outcome) int {
	return len(kept(slices.Clone(o.Ends), func(e End) bool { return e.Changed }))
}

// clashText says what was met and what was wanted.
func clashText(o Outcome) string {
	text := whyText(o)
	if len(o.Ends) > 1 {
		text = fmt.Sprintf("%s on %s: %s", o.Ends[0].Name, o.Ends[1].Name, text)
	}
	if o.What == OfJoint && o.After == graph.DoesNotFit {
		text += "; " + betweenWord(o) + " known"
	}
	return text
}

// whyText is what was met and what was wanted, without the names of the ends.
func whyText(o Outcome) string {
	var said []string
	for _, c := range o.Checks {
		if c.Verdict != o.After {
			continue
		}
		text := c.Why
		if at, empty := strings.CutPrefix(c.Rule, nothingAt); empty {
			text = at + " is empty now, and no part is known for it"
		}
		if c.Had != "" && c.Wanted != "" && !strings.Contains(text, c.Had) {
			text += fmt.Sprintf(" (%s where %s is wanted)", c.Had, c.Wanted)
		}
		said = append(said, text)
	}
	return strings.Join(said, "; ")
}

func betweenWord(o Outcome) string {
	if slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return strings.HasPrefix(c.Rule, "caliper") }) {
		return "no bracket"
	}
	return "no adapter"
}

// opens says what would make a demand hold: what an adapter would have to be,
// and other parts for what is fixed that would mate with what stays.
func (p *planner) opens(d *demand) ([]string, error) {
	if d.lot != nil {
		return []string{fmt.Sprintf("one more of %s", p.named(d.lot.part))}, nil
	}
	o := p.leastBad(d)
	var opens []string
	for _, c := range o.Checks {
		for _, order := range c.Orders {
			opens = append(opens, "made or found: "+order.Text)
		}
		for _, ask := range c.Measure {
			opens = append(opens, fmt.Sprintf("measured: %s of %s", ask.What, ask.Where))
		}
	}
	for _, id := range d.places {
		if _, fixed := p.fixed[id]; !fixed {
			continue
		}
		others, err := p.insteadOf(d, id)
		if err != nil {
			return opens, err
		}
		opens = append(opens, others...)
	}
	return opens, nil
}

// mostInstead is how many other parts for a fixed one are named.
const mostInstead = 3

// insteadOf names other parts for a fixed place with which the demand would
// hold.
func (p *planner) insteadOf(d *demand, id graph.PositionID) ([]string, error) {
	byKind, err := p.readCandidates([]graph.PositionID{id})
	if err != nil {
		return nil, err
	}
	was := p.fixed[id]
	var tried []insteadPart
	for _, kind := range p.kindsAt(id) {
		for _, part := range byKind[kind] {
			if part == was.part || part == p.before.Seat(id).Part.ID || p.isForOtherSide(id, p.before.library.parts[part]) || p.isForElsewhere(id, part) {
				continue
			}
			if err := p.ctx.Err(); err != nil {
				return nil, err
			}
			if way, ok := p.holdsWith(d, id, part); ok {
				tried = append(tried, insteadPart{part, way})
			}
		}
	}
	slices.SortStableFunc(tried, func(a, b insteadPart) int {
		return cmp.Or(cmp.Compare(a.way.cost.Effort, b.way.cost.Effort), cmp.Compare(a.way.cost.Parts, b.way.cost.Parts))
	})
	return p.insteadWords(id, tried)
}

// insteadPart is another part for a fixed place, and the way it holds.
type insteadPart struct {
	part graph.PartID
	way  donorWay
}

func (p *planner) insteadWords(id graph.PositionID, tried []insteadPart) ([]string, error) {
	var ids []graph.PartID
	for _, t := range tried[:min(len(tried), mostInstead)] {
		ids = append(ids, t.part)
	}
	fitments, err := p.before.library.r.FitmentsOf(p.ctx, ids...)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, t := range tried[:len(ids)] {
		text := fmt.Sprintf("instead at %s: %s", id.Local(), p.named(t.part))
		if at := slices.IndexFunc(fitments, func(f graph.Fitment) bool { return f.Part == t.part && len(f.On) > 0 }); at >= 0 {
			text += " (built on " + string(fitments[at].On[0]) + ")"
		}
		if t.way.name != "" {
			text += ", " + t.way.name
		}
		words = append(words, text)
	}
	return words, nil
}

func (p *planner) named(id graph.PartID) string { return nameOf(p.before.library.parts[id]) }

// holdsWith tries a demand with another part at a place, all else as asked for.
func (p *planner) holdsWith(d *demand, id graph.PositionID, part graph.PartID) (donorWay, bool) {
	return p.holdsWithAll(d, id, map[graph.PositionID]graph.PartID{id: part})
}

// holdsWithAll tries it with parts at several places, of which one is the place
// in question.
func (p *planner) holdsWithAll(d *demand, id graph.PositionID, parts map[graph.PositionID]graph.PartID) (donorWay, bool) {
	base := *p.base
	base.changes = map[graph.PositionID]Seat{}
	for at, seat := range p.base.changes {
		base.changes[at] = seat
	}
	for at, part := range parts {
		base.changes[at] = p.seatOf(at, part, p.before.Seat(at).Position)
	}
	if twin := twinOf(id); twin != "" && slices.Contains(d.places, twin) {
		return donorWay{}, false
	}
	all := d.judge(p.examiner(&base))
	if len(all) == 0 || all[0].After == graph.Unknown {
		return donorWay{}, false
	}
	kept := p.base
	p.base = &base
	defer func() { p.base = kept }()
	ways := p.waysFor(d, all[0])
	if len(ways) == 0 {
		return donorWay{}, false
	}
	slices.SortStableFunc(ways, func(a, b donorWay) int { return cmp.Compare(a.cost.Effort, b.cost.Effort) })
	return ways[0], true
}

// withDonors says where the donor's own part, in the place of one that stays,
// would mate with what was asked for: the two go over together.
func (p *planner) withDonors(joints []ClashJoint) ([]string, error) {
	if p.donor == nil {
		return nil, nil
	}
	together := map[string][]string{}
	clash := kept(slices.Clone(p.demands), func(d *demand) bool {
		return d.lot == nil && slices.ContainsFunc(joints, func(j ClashJoint) bool { return j.What == d.what && j.ID == d.id })
	})
	for _, d := range clash {
		for _, id := range d.places {
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
			if _, ok := p.holdsWith(d, id, seat.Part.ID); ok || p.holdsTogether(d, id, seat.Part.ID, clash) {
				assembly := id.Assembly().Local()
				together[assembly] = append(together[assembly], fmt.Sprintf("%s (%s)", id.Local(), seat.Part.ID))
			}
		}
	}
	var words []string
	for _, assembly := range keysOf(together) {
		words = append(words, fmt.Sprintf("the donor's own %s would mate with it: --take %s too, and do not keep it",
			strings.Join(unique(together[assembly]), " and "), assembly))
	}
	return words, nil
}
