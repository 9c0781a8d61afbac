package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// threadedShaftAspects are the thread of an axle, pivot or spindle on its shaft: a part
// that has both by the names of its features.
func threadedShaftAspects(x *Examiner, id graph.PositionID) []aspect {
	if _, _, ok := threadedShaftAt(x.After, id); !ok {
		return nil
	}
	return []aspect{{what: OfShaft, id: string(id),
		meets:    []featureAt{{at: id, kind: "shaft"}, {at: id, kind: "male-thread", dims: []string{"thread"}}},
		remedies: []graph.PositionID{id},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			shaft, thread, ok := threadedShaftAt(s, id)
			if !ok {
				return nil
			}
			checks := mating.JudgeThreadedShaft(mating.ThreadedShaftCase{Shaft: shaft, Thread: thread,
				Safety: s.Seat(id).Position.Safety})
			builtShaft, builtThread, ok := threadedShaftAt(x.Built, id)
			if !ok || inKnownRow(x, id) {
				return checks
			}
			return append(checks, mating.JudgePlainLength(mating.AxleCase{Shaft: shaft, Thread: thread,
				Built: &mating.AxleCase{Shaft: builtShaft, Thread: builtThread}})...)
		}}}
}

// inKnownRow reports whether a shaft goes through a row whose width somebody recorded:
// its plain length is then held against that.
func inKnownRow(x *Examiner, id graph.PositionID) bool {
	return slices.ContainsFunc(slices.Concat(x.stacks, x.rows), func(st graph.Stack) bool {
		shaft, _, ok := axleThrough(x, st)
		return ok && shaft.Position == id && len(x.Built.Side(st.Within).Feature.Dims["width"]) > 0
	})
}

func threadedShaftAt(s *machine.Setup, id graph.PositionID) (shaft, thread mating.Side, ok bool) {
	return bothAt(s, id, "shaft", "shaft", "thread", "male-thread")
}

// bothAt are two features of what sits at a place, each by its name and kind; false
// where it lacks one.
func bothAt(s *machine.Setup, id graph.PositionID, one, oneKind, other, otherKind string) (a, b mating.Side, ok bool) {
	seat := s.Seat(id)
	f, okF := seat.Part.Feature(one)
	g, okG := seat.Part.Feature(other)
	side := func(f graph.Feature) mating.Side {
		return mating.Side{Position: id, Part: seat.Part.ID, PartKind: seat.Part.Kind, Feature: f}
	}
	return side(f), side(g), okF && okG && !seat.Empty && f.Kind == oneKind && g.Kind == otherKind
}
