package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// takenWhole finds what came over from one machine together, as a fork with its own
// yokes, wheel and calipers: what is unknown between such parts is as it was built
// there. Nothing is said of what reaches over to the machine, and a "no" stays.
func (x *judging) takenWhole(ctx context.Context, outcomes []examine.Outcome) error {
	joints, err := x.joinedElsewhere(ctx, graph.Joint.Places)
	if err != nil {
		return err
	}
	pairs, err := x.joinedElsewhere(ctx, endsOf)
	if err != nil || len(pairs) == 0 {
		return err
	}
	for i, o := range outcomes {
		on, inside := joints[o.Joint.ID]
		if o.What == examine.OfJoint && o.After == graph.Unknown && inside && !x.asksForSpan(o) &&
			!slices.ContainsFunc(o.Places(), func(id graph.PositionID) bool { return !x.cameOver(id) }) {
			outcomes[i] = x.asBuiltOn(o, on)
		}
	}
	x.AsBuiltOn, x.PairedOn = x.allInside(joints), x.allInside(pairs)
	return nil
}

// asksForSpan reports whether an outcome is open for want of something that must suit a
// distance on this very machine.
func (x *judging) asksForSpan(o examine.Outcome) bool {
	return slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict == graph.Unknown && slices.ContainsFunc(c.Measure, func(a mating.Ask) bool {
			return graph.Spans(x.After.KindOf(graph.FeatureRef{Position: a.Position, Feature: a.Feature}), a.Dim)
		})
	})
}

// endsOf are the places of a joint without those of its bolts, and of what is renewed with
// it.
func endsOf(j graph.Joint) []graph.PositionID { return []graph.PositionID{j.A.Position, j.B.Position} }

// allInside are the features that some joints have and no other joint, with the machine on
// which they are joined so.
func (x *judging) allInside(joints map[graph.JointID]graph.VariantID) map[graph.FeatureRef]graph.VariantID {
	found := map[graph.FeatureRef]graph.VariantID{}
	for _, j := range x.Joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if on, ok := joints[j.ID]; ok && !slices.ContainsFunc(x.Joints, func(k graph.Joint) bool {
				_, inside := joints[k.ID]
				return (k.A == ref || k.B == ref) && !inside
			}) {
				found[ref] = on
			}
		}
	}
	return found
}

// TakenWhole has outcomes on a machine, and the places that an examiner judges, answered by
// the machine from which parts came over together, as the judgement of a whole setup does.
// Errors come from the reader.
func TakenWhole(ctx context.Context, e *examine.Examiner, outcomes []examine.Outcome) error {
	x := &judging{Examiner: e}
	var err error
	if x.donors, err = donorSeats(ctx, e.After); err != nil {
		return err
	}
	return x.takenWhole(ctx, outcomes)
}

// joinedElsewhere are the joints between parts that came over, each with a variant that
// lists all of them and has them joined by the same features. Which places of a joint
// count is told.
func (x *judging) joinedElsewhere(ctx context.Context,
	places func(graph.Joint) []graph.PositionID) (map[graph.JointID]graph.VariantID, error) {
	inner := lists.Kept(slices.Clone(x.Joints), func(j graph.Joint) bool {
		return !slices.ContainsFunc(places(j), func(id graph.PositionID) bool { return !x.cameOver(id) })
	})
	if len(inner) == 0 {
		return nil, nil
	}
	var parts []graph.PartID
	for _, j := range inner {
		parts = append(parts, lists.Mapped(places(j), x.After.PartIDAt)...)
	}
	listed, err := x.After.Library().Reader().FitmentsOf(ctx, lists.Unique(parts)...)
	if err != nil {
		return nil, err
	}
	by := map[graph.PartID][]graph.Fitment{}
	for _, f := range listed {
		by[f.Part] = append(by[f.Part], f)
	}
	found := map[graph.JointID]graph.VariantID{}
	for _, j := range inner {
		on, ok, err := x.joinedOn(ctx, j, places(j), by)
		if err != nil {
			return nil, err
		}
		if ok {
			found[j.ID] = on
		}
	}
	return found, nil
}

// cameOver reports whether the part at a place is listed on another machine and came
// from it as it is.
func (x *judging) cameOver(id graph.PositionID) bool {
	seat := x.After.Seat(id)
	return seat.Changed && !seat.Empty && !seat.Made && seat.Packed == 0 && x.donors[id].setup != nil
}

// joinedOn finds a variant that lists the parts at some places of a joint, and has its two
// sides joined by the same features.
func (x *judging) joinedOn(ctx context.Context, j graph.Joint, places []graph.PositionID,
	listed map[graph.PartID][]graph.Fitment) (graph.VariantID, bool, error) {
	for _, a := range listed[x.After.PartIDAt(j.A.Position)] {
		for _, b := range listed[x.After.PartIDAt(j.B.Position)] {
			ends := [2]graph.FeatureRef{{Position: a.Position, Feature: j.A.Feature},
				{Position: b.Position, Feature: j.B.Feature}}
			for _, v := range a.On {
				if v == x.After.Variant.ID || !slices.Contains(b.On, v) || !x.listsAll(places, listed, v) {
					continue
				}
				joined, err := x.hasJoint(ctx, v, ends)
				if err != nil || joined {
					return v, joined, err
				}
			}
		}
	}
	return "", false, nil
}

// listsAll reports whether a variant lists the part at each of some places.
func (x *judging) listsAll(places []graph.PositionID, listed map[graph.PartID][]graph.Fitment,
	v graph.VariantID) bool {
	return !slices.ContainsFunc(places, func(id graph.PositionID) bool {
		return !slices.ContainsFunc(listed[x.After.PartIDAt(id)], func(f graph.Fitment) bool {
			return slices.Contains(f.On, v)
		})
	})
}

func (x *judging) hasJoint(ctx context.Context, v graph.VariantID, ends [2]graph.FeatureRef) (bool, error) {
	joints, err := x.After.Library().JointsTouching(ctx, v, []graph.PositionID{ends[0].Position, ends[1].Position})
	return slices.ContainsFunc(joints, func(j graph.Joint) bool {
		return j.A == ends[0] && j.B == ends[1] || j.A == ends[1] && j.B == ends[0]
	}), err
}

// asBuiltOn is an outcome whose unknown checks are answered by the machine that the parts
// came from.
func (x *judging) asBuiltOn(o examine.Outcome, on graph.VariantID) examine.Outcome {
	checks := slices.Clone(o.Checks)
	for i, c := range checks {
		if c.Verdict == graph.Unknown {
			checks[i] = mating.Check{Rule: c.Rule, Verdict: graph.Fits, Why: "as built on " + string(on), Basis: c.Basis,
				Uses: c.Uses, Renew: c.Renew}
		}
	}
	return x.Judged(o, o.Was, checks)
}
