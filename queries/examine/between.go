package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// throughChecks judges a joint whose two sides are joined by a part between them:
// each side against what that has for it, its metal, and how far a bracket carries
// its caliper.
func throughChecks(x *Examiner, s *machine.Setup, j graph.Joint, part graph.Part) []mating.Check {
	a, b := s.Side(j.A), s.Side(j.B)
	on, off, ok := between(part, a, b)
	if !ok {
		return []mating.Check{{Rule: "part between", Verdict: graph.DoesNotFit,
			Why: machine.NameOf(part) + " does not join " + j.A.Position.Local() + " and " + j.B.Position.Local()}}
	}
	safety := FirstSafety(x.SafetyOf(x.Ends(j.A, j.B)))
	checks := ofSide(j.A, mating.Judge(mating.Meeting{Joint: j.ID, A: a, B: on, Safety: safety}))
	checks = append(checks, ofSide(j.B, mating.Judge(mating.Meeting{Joint: j.ID, A: off, B: b, Safety: safety}))...)
	if plate, ok := metalOf(x, s, part); ok && isCarried(a.Feature.Kind) && isCarried(b.Feature.Kind) {
		in := mating.PlateCase{Plate: plate, A: a, B: b, Safety: safety}
		if shift, ok := shiftOf(part, a, b); ok {
			if machine.BestText(a.Feature, "style") != "radial" { // there it is across the plate
				in.Apart, _ = machine.LengthIn(shift.Feature, "outward")
			}
		}
		checks = append(checks, mating.JudgePlate(in)...)
	}
	return append(checks, shiftChecks(x, s, j, part)...)
}

// ofSide are checks that name the side they are of, so that each has a name of its
// own.
func ofSide(ref graph.FeatureRef, checks []mating.Check) []mating.Check {
	for i := range checks {
		checks[i].Rule += " at " + ref.Position.Local()
	}
	return checks
}

// between are the two features of a part that meet two sides, those that meet them
// best; one feature alone for a sleeve.
func between(part graph.Part, a, b mating.Side) (on, off mating.Side, ok bool) {
	worst := graph.NoVerdict
	for _, one := range part.Features {
		for _, other := range part.Features {
			if one.Name == other.Name && one.Kind != "sleeve" {
				continue
			}
			sideA, sideB := mating.Side{Part: part.ID, Feature: one}, mating.Side{Part: part.ID, Feature: other}
			if !slices.Contains(mating.Meets(a.Feature.Kind), one.Kind) ||
				!slices.Contains(mating.Meets(b.Feature.Kind), other.Kind) {
				continue
			}
			verdict := mating.Worst(append(mating.Judge(mating.Meeting{A: a, B: sideA}),
				mating.Judge(mating.Meeting{A: sideB, B: b})...))
			if !ok || verdict < worst {
				on, off, worst, ok = sideA, sideB, verdict, true
			}
		}
	}
	return on, off, ok
}

// metalOf is the metal of a part that joins two patterns; false for one that has
// none described and whose kind asks for none.
func metalOf(x *Examiner, s *machine.Setup, part graph.Part) (mating.Side, bool) {
	if f, ok := machine.FeatureOfKind(part, "plate"); ok {
		return mating.Side{Part: part.ID, Feature: f}, true
	}
	for _, f := range s.Library().Kind(part.Kind).Features {
		if f.Kind == "plate" && !f.May {
			return mating.Side{Part: part.ID, Feature: graph.Feature{Name: f.Name, Kind: f.Kind}}, true
		}
	}
	return mating.Side{}, false
}

// shiftChecks judge whether a bracket carries its caliper to where the disc runs.
func shiftChecks(x *Examiner, s *machine.Setup, j graph.Joint, part graph.Part) []mating.Check {
	a, b := s.Side(j.A), s.Side(j.B)
	if a.Feature.Kind != "caliper-mount" || b.Feature.Kind != "caliper-mount" {
		return nil
	}
	leg, caliper := legFirst(a, b)
	shift, ok := shiftOf(part, leg, caliper)
	if !ok {
		shift = mating.Side{Part: part.ID, Feature: graph.Feature{Name: "shift", Kind: "shift"}}
	}
	in := mating.ShiftCase{Shift: shift, Leg: leg, Caliper: caliper, Disc: x.DiscAt(s, j),
		Safety: FirstSafety(x.SafetyOf(x.Ends(j.A, j.B)))}
	if d, ok := discLineOf(x.Connections, j); ok {
		in.Line = func() mating.DiscLineCase { return discCase(x, s, d) }
	}
	checks := mating.JudgeShift(in)
	if len(leg.Feature.Dims["offset"])+len(caliper.Feature.Dims["offset"]) == 0 { // nothing to stand aside by
		checks = slices.DeleteFunc(checks, func(c mating.Check) bool { return c.Rule == mating.BracketSideways })
	}
	return checks
}

// under is all that lies between the part at a place and what it is bolted to: rings
// under it, and the metal of an adapter.
func under(x *Examiner, s *machine.Setup, id graph.PositionID) []mating.Side {
	var all []mating.Side
	if plate, ok := s.PackedAt(id); ok {
		all = append(all, plate)
	}
	for j := range x.JointsAt(id) {
		part, ok := s.Between(j.ID)
		if !ok || s.KindOf(j.A) != "bolt-pattern" {
			continue
		}
		if metal, ok := metalOf(x, s, part); ok {
			all = append(all, metal)
		}
	}
	return all
}

// thickUnder is how thick that is, in mm, as far as it is known.
func thickUnder(x *Examiner, s *machine.Setup, id graph.PositionID) float64 {
	var thick float64
	for _, side := range under(x, s, id) {
		v, _ := machine.LengthIn(side.Feature, "thickness")
		thick += v
	}
	return thick
}

// isBracketed reports whether a part stands between a caliper and its leg.
func isBracketed(x *Examiner, s *machine.Setup, d discLine) bool {
	for j := range x.JointsAt(d.caliper.Position) {
		_, ok := s.Between(j.ID)
		if ok && (j.A == d.caliper && j.B == d.lug || j.B == d.caliper && j.A == d.lug) {
			return true
		}
	}
	return false
}
