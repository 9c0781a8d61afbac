package swap

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/machine"
)

// candidate is a part that may put an outcome right.
type candidate struct {
	position graph.PositionID
	part     graph.Part
	setup    *machine.Setup
	left     []examine.Outcome // what it leaves or makes wrong, worst first
	all      []examine.Outcome // everything at its position
	donor    bool              // what the new part meets on its donor
	score    [3]int            // does not fit, unknown, changes by effort
	helps    int               // how many misfits it takes away
}

// givesWay is the place of what alone is exchanged for the sake of a joint: a seal, and a
// bearing or brake lining that was asked for and does not go there; false for any other
// joint.
func givesWay(s *machine.Setup, o examine.Outcome) (graph.PositionID, bool) {
	if o.What != examine.OfJoint {
		return "", false
	}
	for _, ref := range []graph.FeatureRef{o.Joint.A, o.Joint.B} {
		switch s.KindOf(ref) {
		case "seal":
			return ref.Position, true
		case "bearing", "shoes", "pad":
			if s.Seat(ref.Position).Changed {
				return ref.Position, true
			}
		}
	}
	return "", false
}

// isForOtherSide reports whether a part belongs on the other side of the
// machine: sources list it there and not here, or its name says so.
func isForOtherSide(s *machine.Setup, p graph.PositionID, part graph.Part) bool {
	twin := machine.OtherSide(p)
	if twin == "" {
		return false
	}
	listed := func(at graph.PositionID) bool {
		return slices.ContainsFunc(s.Library().ListedAt(at), func(f graph.Fitment) bool { return f.Part == part.ID })
	}
	if listed(twin) != listed(p) {
		return listed(twin)
	}
	return machine.IsCalledForOtherSide(s.Seat(p).Position, part)
}

// isGood reports whether the candidate closes the gap without making more wrong
// than it puts right. A gap that something made can close is worth a part only
// when that part leaves nothing wrong; of a pair both sides must be alike,
// whatever that takes.
func (c candidate) isGood(o examine.Outcome) bool {
	switch {
	case !c.putsRight(o):
		return false
	case c.isClean() || o.What == examine.OfPair:
		return true
	}
	return o.After != graph.FitsWithChanges && c.score[0] <= c.helps
}

// tooDear says which part would close a gap at the price of more misfits than
// it takes away; empty when none would.
func tooDear(tried []candidate, o examine.Outcome) string {
	best := -1
	for i, c := range tried {
		if c.putsRight(o) && (best < 0 || slices.Compare(c.score[:], tried[best].score[:]) < 0) {
			best = i
		}
	}
	if best < 0 || o.After == graph.FitsWithChanges {
		return ""
	}
	return fmt.Sprintf("%s would take it, but then %d other things do not fit", machine.NameOf(tried[best].part),
		tried[best].score[0])
}

// isClean reports whether the candidate leaves nothing wrong.
func (c candidate) isClean() bool { return c.score == [3]int{} }

// count adds an outcome to the score. One that only asks for hand tools is no
// reason to look for another part.
func (c *candidate) count(o examine.Outcome) {
	switch o.After {
	case graph.DoesNotFit:
		if !c.wantsNewLink(o) {
			c.score[0]++
		}
	case graph.Unknown:
		c.score[1]++
	case graph.FitsWithChanges:
		effort := examine.EffortOf(o.Checks)
		if effort <= graph.EffortHandTools {
			return
		}
		c.score[2] += int(effort)
	}
	if needsPart(o) {
		c.left = append(c.left, o)
	}
}

// wantsNewLink reports whether what does not fit is the link that closes a chain, with
// another chain in: that is new with every chain, and is got with it.
func (c *candidate) wantsNewLink(o examine.Outcome) bool {
	return o.What == examine.OfJoint && slices.ContainsFunc([]graph.FeatureRef{o.Joint.A, o.Joint.B},
		func(ref graph.FeatureRef) bool {
			return ref.Position != c.position && c.setup.KindOf(ref) == "joining-link"
		})
}

// lacksEnd reports whether the candidate has nothing by which it would take part in a
// joint: a misfit that nobody can tell any more is not put right.
func (c *candidate) lacksEnd(o examine.Outcome) bool {
	return o.What == examine.OfJoint && slices.ContainsFunc([]graph.FeatureRef{o.Joint.A, o.Joint.B},
		func(ref graph.FeatureRef) bool { return ref.Position == c.position && c.setup.KindOf(ref) == "" })
}

// isRetired reports whether a candidate gave way to another part and must not go back.
func (c *candidate) isRetired() bool { return c.setup.Library().Retired(c.part.ID) != "" }

// isOutdated reports whether a candidate gave way to a newer number, or is sold no more.
func (c *candidate) isOutdated() bool {
	return c.part.Gone || c.setup.Library().IsSuperseded(c.part.ID)
}

// excess is by how many mm, at most, a line is longer than the outcome wants it; 0 for any
// other part.
func (c *candidate) excess(o examine.Outcome) float64 {
	if got, ok := c.outcome(o); ok && o.What == examine.OfRun && len(got.Checks) > 0 {
		v, _ := measure.ParseQuantity(got.Checks[0].Gap, measure.Length)
		return v.Nominal
	}
	return 0
}

// outcome is the outcome with the candidate in; false where it has no part in that.
func (c *candidate) outcome(o examine.Outcome) (examine.Outcome, bool) {
	if at := slices.IndexFunc(c.all, func(got examine.Outcome) bool { return got.Key() == o.Key() }); at >= 0 {
		return c.all[at], true
	}
	return o, false
}

// verdictOf is how the outcome stands with the candidate in, as it is without it where it
// has no part in that.
func (c *candidate) verdictOf(o examine.Outcome) graph.Verdict {
	got, _ := c.outcome(o)
	return got.After
}

// putsRight reports whether the outcome is better with the candidate in.
func (c *candidate) putsRight(o examine.Outcome) bool { return isBetter(c.verdictOf(o), o) }

// isBetter reports whether an outcome is better than it was.
func isBetter(got graph.Verdict, was examine.Outcome) bool {
	return got < was.After && got != graph.DoesNotFit
}

// neighbour is the next thing that the part in its new place meets, to show
// where a trail comes to rest.
func (c *candidate) neighbour(seen map[graph.PositionID]bool) (TrailStep, bool) {
	for _, o := range c.all {
		if o.What != examine.OfJoint || o.After > graph.FitsWithChanges {
			continue
		}
		for i, e := range o.Ends {
			other := o.Ends[len(o.Ends)-1-i]
			if e.Position == c.position && !seen[other.Position] && !c.isFastener(other.Position) {
				return TrailStep{Position: other.Position, Feature: other.Feature, Part: other.Part, What: o.After.String()}, true
			}
		}
	}
	return TrailStep{}, false
}

func (c *candidate) isFastener(id graph.PositionID) bool {
	return machine.HasKind(c.setup.Seat(id).Part, "male-thread") || machine.HasKind(c.setup.Seat(id).Part, "washer")
}
