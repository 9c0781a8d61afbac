package examine

import (
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
// third part, was held against it too, and where no third could tell.
func (j judgements) onlyBeside(use mating.Use, p Place, ones []judgement) graph.PositionID {
	if j.isAsWas(use, p) || isConfined(use, p) {
		return ""
	}
	var beside []graph.PositionID
	var further []judgement // one for each check that looked further
	for _, one := range ones {
		if one.figure || one.outcome.After > graph.FitsWithChanges {
			return ""
		}
		if comparesNewWithNew(*one.outcome) {
			continue
		}
		for _, c := range one.outcome.Checks {
			if !slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return withoutReading(u) == use }) {
				continue
			}
			switch others, stays := j.othersIn(c, use); {
			case stays || len(others) > 1:
				further = append(further, judgement{name: c.Rule, outcome: one.outcome})
			default:
				beside = append(beside, others...)
			}
		}
	}
	if beside = lists.Unique(beside); len(beside) != 1 || j.isHeldFurther(use, p, further) {
		return ""
	}
	return beside[0]
}

// othersIn are the places of other new parts that are another in what a check looked at,
// and whether it looked at what is there as it was. What was built in at a place of the
// pair is nothing that stays: a check of the pair alone reads it to tell what has changed.
func (j judgements) othersIn(c mating.Check, use mating.Use) (others []graph.PositionID, stays bool) {
	for _, u := range c.Uses {
		if u.Position != use.Position && j.prover.x.isAnother(u) {
			others = append(others, u.Position)
		}
	}
	others = lists.Unique(others)
	return others, slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
		isOwn := u.Position == use.Position && (u.Part == use.Part || len(others) > 0)
		return !isOwn && !slices.Contains(others, u.Position)
	})
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

// isHeldFurther reports whether a check that looked at more than a pair comes to something
// else with another value: that of a tyre's build looks at its size, and says nothing of
// how wide it is.
func (j judgements) isHeldFurther(use mating.Use, p Place, further []judgement) bool {
	spec := specOf(p.New, use)
	texts := slices.Concat(othervalue.Of(spec, evidence.FirstText(readingsAt(p.Old, use)),
		readingsAt(p.New, use)[0].Text)...)
	return slices.ContainsFunc(further, func(one judgement) bool {
		return j.prover.moves(*one.outcome, one.name, spot{use.Position, use.Feature, spec}, texts)
	})
}

// isConfined reports whether what differs in a dimension reaches no further than what it
// meets: by its kind of feature, and of a thread its pitch and hand.
func isConfined(use mating.Use, p Place) bool {
	spec := specOf(p.New, use)
	f, _ := p.New.Feature(use.Feature)
	if graph.Confined(f.Kind, use.Dim) != "" || spec.Type != measure.Thread {
		return graph.Confined(f.Kind, use.Dim) != ""
	}
	was, errWas := measure.Parse(evidence.FirstText(readingsAt(p.Old, use)), spec.Type)
	now, errNow := measure.Parse(evidence.FirstText(readingsAt(p.New, use)), spec.Type)
	return errWas == nil && errNow == nil && was.Thread.Nominal == now.Thread.Nominal
}
