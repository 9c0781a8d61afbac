package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
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
				o.cost.Unknowns += unknownsAt(p, s.at)
				o.open = true
			}
		}
	}
	return p.ctx.Err()
}

// leavesUnknown reports whether a part at a place, with all else as it is, earns
// nothing there.
func leavesUnknown(p *planner, at graph.PositionID, part graph.PartID, meets []*demand) bool {
	if part == p.before.Seat(at).Part.ID {
		return false
	}
	word := wordFor(p, at, part)
	if word.Earned != examine.EarnedNothing { // it earns the place whatever else there is to say
		return false
	}
	after := setupWith(p, p.base, map[graph.PositionID]graph.PartID{at: part})
	key := weighedOn(p, at, after, meets)
	unknown, known := p.weighed[key]
	if !known {
		unknown = earnsNothing(p, at, after, meets)
		if p.ctx.Err() != nil {
			return false // too late: nobody asks any more
		}
		p.weighed[key] = unknown
	}
	return unknown
}

// earnsNothing reports whether what sits at a place, of which nobody says anything, is
// judged by nothing. Figures are worked out only where no check has judged it.
func earnsNothing(p *planner, at graph.PositionID, after *machine.Setup, meets []*demand) bool {
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
	if isDonors(p, at, after.PartIDAt(at)) {
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
