package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/assemble"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// unsupported finds what nothing holds any more, since what carried it was taken
// off: it is joined to nothing else that is there and holds it. What hangs
// between two parts, as a hose does, holds neither.
func unsupported(ctx context.Context, x *judging) ([]examine.Outcome, error) {
	off := lists.Kept(x.After.Changed(), func(id graph.PositionID) bool {
		return x.After.Seat(id).Empty && !x.Before.Seat(id).Empty
	})
	if len(off) == 0 {
		return nil, nil
	}
	l, v := x.After.Library(), x.After.Variant.ID
	gone, err := l.JointsTouching(ctx, v, off)
	if err != nil {
		return nil, err
	}
	carried := map[graph.PositionID]graph.PositionID{} // what was joined to it, and to which
	for _, j := range gone {
		joint := assemble.JointOf(x.Before, j)
		for _, id := range joint.Ends() {
			if on := joint.Other(id); slices.Contains(off, on) && !slices.Contains(off, id) && joint.Holds &&
				!x.Before.IsHardwareAt(id) && !x.Before.IsHardwareAt(on) {
				carried[id] = on
			}
		}
	}
	if len(carried) == 0 {
		return nil, nil // what the whole machine hangs on need not be read
	}
	isLoose, err := looseWithout(ctx, x, lists.KeysOf(carried))
	if err != nil {
		return nil, err
	}
	var all []examine.Outcome
	for _, id := range lists.KeysOf(carried) {
		if x.After.Seat(id).Empty || !isLoose(id) {
			continue
		}
		on := carried[id]
		o := examine.Outcome{What: examine.OfSupport, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id},
			graph.FeatureRef{Position: on})}
		was := []mating.Check{{Rule: "support", Verdict: graph.Fits, Why: on.Local() + " carries it"}}
		all = append(all, x.Judged(o, was, []mating.Check{{Rule: "support", Verdict: graph.DoesNotFit,
			Why:   "only " + on.Local() + " carried it, which is taken off: nothing holds it",
			Basis: "common practice, no source", Do: []string{"fit what carries it, or make a bracket for it"}}}))
	}
	return all, nil
}

// looseWithout tells of each of some places whether it was held before and is not now: by
// what hangs together with the frame, since two parts that only hold each other fall
// together; where no frame is known, by its neighbours.
func looseWithout(ctx context.Context, x *judging, places []graph.PositionID) (func(graph.PositionID) bool, error) {
	whole, err := assemble.Read(ctx, x.Before)
	if err != nil {
		return nil, err
	}
	if err := x.After.Load(ctx, lists.Mapped(whole.Positions,
		func(p graph.Position) graph.PositionID { return p.ID })...); err != nil {
		return nil, err
	}
	there := func(s *machine.Setup) func(graph.PositionID) bool {
		return func(id graph.PositionID) bool { return !s.Seat(id).Empty }
	}
	if before := whole.Held(there(x.Before)); before != nil {
		after := whole.Held(there(x.After))
		return func(id graph.PositionID) bool { return before[id] > 0 && after[id] == 0 }, nil
	}
	around, err := x.After.Library().JointsTouching(ctx, x.After.Variant.ID, places)
	if err != nil {
		return nil, err
	}
	for _, j := range around {
		if err := x.After.Load(ctx, j.Places()...); err != nil {
			return nil, err
		}
	}
	return func(id graph.PositionID) bool {
		return !IsHeld(x.After, id, around) && IsHeld(x.Before, id, around)
	}, nil
}

// IsHeld reports whether something at a position is joined to another part that is
// there and can hold it: not a bolt, and not a hose, cable or lead.
func IsHeld(s *machine.Setup, id graph.PositionID, joints []graph.Joint) bool {
	return slices.ContainsFunc(joints, func(j graph.Joint) bool {
		joint := assemble.JointOf(s, j)
		if !joint.Holds || !slices.Contains(joint.Ends(), id) {
			return false
		}
		on := joint.Other(id)
		return on != id && !s.Seat(on).Empty && !s.IsHardwareAt(on) && !machine.IsLine(s.Seat(on).Part)
	})
}
