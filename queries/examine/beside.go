package examine

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/othervalue"
)

// onlyBeside is the place of the one other new part that a dimension was held against,
// where nothing else was: two parts that are changed alike go together as they did, and
// what stays on the machine was made for neither. Empty where something that stays, or a
// third part, was held against it or against what it meets there, and where no third
// could tell.
func (j judgements) onlyBeside(use mating.Use, p Place, ones []judgement) graph.PositionID {
	if j.isAsWas(use, p) {
		return ""
	}
	f, _ := p.New.Feature(use.Feature)
	was, hadOne := p.Old.Feature(use.Feature)
	if graph.Confined(f.Kind, use.Dim) != "" || hadOne && was.Kind != f.Kind { // a banjo where a nipple was
		return ""
	}
	met, further := j.metBy(use, ones)
	places := lists.Unique(lists.Mapped(met, func(u mating.Use) graph.PositionID { return u.Position }))
	if len(places) != 1 || j.isScrewed(use, p, places[0]) || j.isRunOn(use, p, places[0]) ||
		j.isHeldFurther(use, p, further) {
		return ""
	}
	for _, u := range met {
		if !isAbout(use, p.New, u, j.prover.x.After.Seat(u.Position).Part) {
			continue
		}
		there, all := j.placeOf(u), j
		all.whether = false // else it would ask back
		ones, _ := all.comparing(withoutReading(u), there)
		if _, further := j.metBy(withoutReading(u), ones); j.isHeldFurther(withoutReading(u), there, further) {
			return ""
		}
	}
	return places[0]
}

// metBy are what checks that looked at a dimension took of other new parts that are
// another in it, and what looked further: figures, runs, which are measured on the machine,
// and checks by their rule.
func (j judgements) metBy(use mating.Use, ones []judgement) (met []mating.Use, further []judgement) {
	places := []graph.PositionID{use.Position}
	var checks []judgement // one for each check that looked at it
	for _, one := range ones {
		switch {
		case one.figure, one.outcome.What == OfRun, one.outcome.After > graph.FitsWithChanges:
			further = append(further, judgement{figure: true})
			continue
		case comparesNewWithNew(*one.outcome), isOfItself(*one.outcome):
			continue
		}
		for _, c := range one.outcome.Checks {
			if !slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return withoutReading(u) == use }) {
				continue
			}
			checks = append(checks, judgement{name: c.Rule, outcome: one.outcome, other: c.Uses})
			for _, u := range c.Uses {
				if u.Position != use.Position && j.prover.x.isAnother(u) {
					met, places = append(met, u), append(places, u.Position)
				}
			}
		}
	}
	for _, c := range checks {
		if looksBeyond(c.other, places) {
			further = append(further, judgement{name: c.name, outcome: c.outcome})
		}
	}
	return met, further
}

// looksBeyond reports whether a check looked at more than some places, or at one of them
// alone, against what was built in there.
func looksBeyond(uses []mating.Use, places []graph.PositionID) bool {
	return slices.ContainsFunc(uses, func(u mating.Use) bool { return !slices.Contains(places, u.Position) }) ||
		!slices.ContainsFunc(uses, func(u mating.Use) bool { return u.Position != places[0] })
}

// isOfItself reports whether an outcome judges a part by its own sizes alone.
func isOfItself(o Outcome) bool {
	return slices.Contains([]string{OfWall, OfShaft, OfRubber, OfMetal, OfWear, OfTwice}, o.What)
}

// placeOf is what is known of the place of a use, as far as it is compared.
func (j judgements) placeOf(u mating.Use) Place {
	x := j.prover.x
	return Place{Position: x.After.Position(u.Position), New: x.After.Seat(u.Position).Part,
		Old: x.Before.Seat(u.Position).Part, Same: evidence.SameReading}
}

// isAbout reports whether two sizes may be what meets in one check, which may take others
// of the same parts too: of the same type, and about as large.
func isAbout(a mating.Use, of graph.Part, b mating.Use, to graph.Part) bool {
	spec, other := specOf(of, a), specOf(to, b)
	if spec.Type != other.Type || !spec.Type.Measured() {
		return spec.Type == other.Type
	}
	x, errX := measure.ParseQuantity(readingsAt(of, a)[0].Text, spec.Type)
	y, errY := measure.ParseQuantity(readingsAt(to, b)[0].Text, spec.Type)
	const near = 0.2 // ours: it chooses what is looked at, and no verdict hangs on it
	return errX == nil && errY == nil && math.Abs(x.Nominal-y.Nominal) <= near*math.Abs(x.Nominal)
}

// isAnother reports whether what a check used is not what was there before: a size of a
// new part which the one before had not. What is made is made to suit what it meets.
func (x *Examiner) isAnother(u mating.Use) bool {
	seat, was := x.After.Seat(u.Position), x.Before.Seat(u.Position)
	if !seat.Changed || seat.Made || seat.Part.ID != u.Part {
		return false
	}
	now, before := readingsAt(seat.Part, u), readingsAt(was.Part, u)
	return len(now) > 0 && (len(before) == 0 || !evidence.SameReading(specOf(seat.Part, u), now[0], before[0]))
}

// isHeldFurther reports whether something that looked at more than a pair comes to
// something else with another value: that of a tyre's build looks at its size, and says
// nothing of how wide it is.
func (j judgements) isHeldFurther(use mating.Use, p Place, further []judgement) bool {
	spec := specOf(p.New, use)
	texts := slices.Concat(othervalue.Of(spec, evidence.FirstText(readingsAt(p.Old, use)),
		readingsAt(p.New, use)[0].Text)...)
	return slices.ContainsFunc(further, func(one judgement) bool {
		return one.figure || j.prover.moves(*one.outcome, one.name, spot{use.Position, use.Feature, spec}, texts)
	})
}

// isScrewed reports whether a dimension is a thread whose pitch or hand alone is another, or
// by which one part is screwed into another, as a mirror into its perch, and nothing that
// carries the machine gets thinner. What a bolt or nut clamps must suit it too.
func (j judgements) isScrewed(use mating.Use, p Place, other graph.PositionID) bool {
	spec := specOf(p.New, use)
	was, errWas := measure.Parse(evidence.FirstText(readingsAt(p.Old, use)), spec.Type)
	now, errNow := measure.Parse(evidence.FirstText(readingsAt(p.New, use)), spec.Type)
	if spec.Type != measure.Thread || errWas != nil || errNow != nil {
		return false
	}
	s := j.prover.x.After
	carries := func(id graph.PositionID) bool {
		return slices.Contains([]graph.Safety{graph.SafetySteering, graph.SafetyWheel, graph.SafetyDrive,
			graph.SafetyBrake}, s.SafetyAt(id))
	}
	isBolted := s.IsHardwareAt(use.Position) || s.IsHardwareAt(other)
	isThinner := now.Thread.Nominal < was.Thread.Nominal && carries(use.Position) && carries(other)
	return was.Thread.Nominal == now.Thread.Nominal || !isBolted && !isThinner
}

// isRunOn reports whether a dimension is the bore of a seal whose lip runs on a spacer, or
// what that spacer has for the lip alone, and is smaller than it was: nothing else meets
// either. The spacer's bore and wall are judged for themselves, and so is the seal in its
// seat; a larger one may reach beyond the inner ring of the bearing that it stands on.
func (j judgements) isRunOn(use mating.Use, p Place, other graph.PositionID) bool {
	x := j.prover.x
	at := graph.FeatureRef{Position: use.Position, Feature: use.Feature}
	lip, surface, ok := x.meets(use.Position, func(own, ref graph.FeatureRef) bool {
		return own == at && ref.Position == other
	})
	if !ok {
		return false
	}
	if x.After.KindOf(lip) != "seal" {
		lip, surface = surface, lip
	} else if use.Dim != "inside" {
		return false
	}
	isLip := func(ref graph.FeatureRef) bool { return x.After.KindOf(ref) == "seal" }
	if !isLip(lip) || !IsSpacer(x.After.Seat(surface.Position)) || !isSmaller(use, p) {
		return false
	}
	for k := range x.JointsAt(surface.Position) {
		if k.A == surface && !isLip(k.B) || k.B == surface && !isLip(k.A) {
			return false
		}
	}
	return true
}

// isSmaller reports whether a measured dimension is less than it was.
func isSmaller(use mating.Use, p Place) bool {
	spec := specOf(p.New, use)
	now, errNow := measure.ParseQuantity(evidence.FirstText(readingsAt(p.New, use)), spec.Type)
	was, errWas := measure.ParseQuantity(evidence.FirstText(readingsAt(p.Old, use)), spec.Type)
	return errNow == nil && errWas == nil && now.High < was.Low
}
