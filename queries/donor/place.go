package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
)

// weighPlaces has every part count as an unknown that would leave something
// undecided at its place which nobody has judged: the swap engine says so of the
// whole plan, and a plan with fewer such places is the better one. What meets each
// place is handed in.
func weighPlaces(p *planner, meets map[graph.PositionID][]*demand) error {
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
			key := seatKey{s.at, o.part}
			unknown, known := p.weighed[key]
			if !known {
				unknown = leavesUnknown(p, s.at, o.part, meets[s.at])
				p.weighed[key] = unknown
			}
			if unknown {
				o.cost.Unknowns += unknownsAt(p, s.at)
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
	var outcomes []examine.Outcome
	for _, d := range meets {
		if !isJudged(p, d, after) && p.ctx.Err() != nil {
			return false // too late: nobody asks any more
		}
		if o, ok := outcomeWith(p, d, after, at); ok {
			outcomes = append(outcomes, o)
		}
	}
	x := p.around.Examiner(p.was, after)
	numbers := slices.Concat(x.HydraulicNumbers(nil), x.CableNumbers())
	return x.EarnedAt(at, outcomes, numbers, word) == examine.EarnedNothing
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
