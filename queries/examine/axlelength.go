package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// axleAspects are the axles and pivots that go through a row: how long their plain part
// is against what they carry.
func axleAspects(x *Examiner) []aspect {
	var all []aspect
	for _, st := range slices.Concat(x.stacks, x.rows) {
		places := append(st.Places(), machine.OtherSide(st.Within.Position))
		if !x.asksFor(places) && !x.joins(x.only, places) {
			continue
		}
		shaft, bores, ok := axleThrough(x, st)
		if !ok {
			continue
		}
		a := aspect{what: OfAxle, id: string(st.ID), remedies: []graph.PositionID{shaft.Position},
			meets: []featureAt{{at: shaft.Position, kind: "shaft", dims: []string{"length"}},
				{at: shaft.Position, kind: "male-thread", dims: []string{"grip"}},
				{at: st.Within.Position, kind: "gap", dims: []string{"width"}}},
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				in := axleCase(s, st, shaft, bores)
				if s != x.Built {
					built := axleCase(x.Built, st, shaft, bores)
					in.Built = &built
				}
				return mating.JudgeAxle(in)
			}}
		for _, bore := range bores {
			a.meets = append(a.meets, featureAt{at: bore.Position, kind: "bore", dims: []string{"length"}})
		}
		all = append(all, a)
	}
	return all
}

func axleCase(s *machine.Setup, st graph.Stack, shaft graph.FeatureRef, bores []graph.FeatureRef) mating.AxleCase {
	in := mating.AxleCase{Shaft: s.Side(shaft), Gap: s.Side(st.Within)}
	if _, thread, ok := threadedShaftAt(s, shaft.Position); ok {
		in.Thread = thread
	}
	for _, bore := range bores {
		in.Bores = append(in.Bores, s.Side(bore))
	}
	return in
}

// axleThrough is the shaft through a row, and what holds it beside that, as far as
// somebody recorded how long that is; false where none goes through.
func axleThrough(x *Examiner, st graph.Stack) (shaft graph.FeatureRef, bores []graph.FeatureRef, ok bool) {
	through := shaftThrough(x, x.After, st)
	shaft = graph.FeatureRef{Position: through.Position, Feature: through.Feature.Name}
	holders := []graph.PositionID{st.Within.Position, machine.OtherSide(st.Within.Position)}
	held := false // by what the row sits within: else it is the shaft of another row
	for j := range x.JointsAt(shaft.Position) {
		if _, _, met := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own == shaft && other.Position == st.Within.Position
		}); met {
			held = true
		}
		_, bore, met := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own == shaft && slices.Contains(holders, other.Position) && x.After.KindOf(other) == "bore"
		})
		if met && (hasLength(x.After, bore) || hasLength(x.Built, bore)) {
			bores = append(bores, bore)
		}
	}
	return shaft, bores, held && (hasPlain(x.After, shaft) || hasPlain(x.Built, shaft))
}

// hasPlain reports whether somebody recorded how long the plain part of a shaft is: of
// itself, or as what its thread leaves.
func hasPlain(s *machine.Setup, ref graph.FeatureRef) bool {
	_, thread, ok := threadedShaftAt(s, ref.Position)
	return hasLength(s, ref) || ok && len(thread.Feature.Dims["grip"]) > 0
}

func hasLength(s *machine.Setup, ref graph.FeatureRef) bool {
	return len(s.Side(ref).Feature.Dims["length"]) > 0
}
