package examine

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Shifts reports whether a bracket carries a caliper by as much as it must over
// the disc fitted: by the value, whatever it is called. What is no bracket of
// calipers shifts nothing, and passes. Disc zero takes that of the lug.
func Shifts(part graph.Part, a, b, disc mating.Side) bool {
	if a.Feature.Kind != "caliper-mount" || b.Feature.Kind != "caliper-mount" {
		return true
	}
	leg, caliper := legFirst(a, b)
	shift, ok := shiftOf(part, leg, caliper)
	if !ok {
		return false
	}
	aside := len(leg.Feature.Dims["offset"])+len(caliper.Feature.Dims["offset"]) > 0
	checks := mating.JudgeShift(mating.ShiftCase{Shift: shift, Leg: leg, Caliper: caliper, Disc: disc})
	return !slices.ContainsFunc(checks, func(c mating.Check) bool {
		return c.Verdict != graph.Fits && (aside || c.Rule != mating.BracketSideways)
	})
}

// legFirst are two sides of a caliper's mount, the tapped one first: that is the
// leg's.
func legFirst(a, b mating.Side) (leg, caliper mating.Side) {
	if len(a.Feature.Dims["thread"]) == 0 && len(b.Feature.Dims["thread"]) > 0 {
		return b, a
	}
	return a, b
}

// shiftOf is what a bracket gives: as measured, else by the discs and offsets
// that its two sides are made for.
func shiftOf(part graph.Part, leg, caliper mating.Side) (mating.Side, bool) {
	if f, ok := machine.FeatureOfKind(part, "shift"); ok {
		return mating.Side{Part: part.ID, Feature: f}, true
	}
	var on, off graph.Feature // the sides that meet leg and caliper
	for _, f := range part.Features {
		side := mating.Side{Part: part.ID, Feature: f}
		switch {
		case f.Kind != "caliper-mount":
		case on.Kind == "" && mates(leg, side):
			on = f
		case mates(side, caliper):
			off = f
		}
	}
	f := graph.Feature{Name: "shift", Kind: "shift", Dims: map[string][]graph.Reading{}}
	outward, ok := lessBy(on, off, "disc", 0.5)
	if ok {
		f.Dims["outward"] = outward
	}
	if sideways, given := lessBy(on, off, "offset", 1); given {
		f.Dims["sideways"] = sideways
	}
	return mating.Side{Part: part.ID, Feature: f}, ok
}

// lessBy is a dimension of one feature less that of another, times a factor.
func lessBy(a, b graph.Feature, dim string, factor float64) ([]graph.Reading, bool) {
	one, errA := measure.Parse(machine.BestText(a, dim), measure.Length)
	other, errB := measure.Parse(machine.BestText(b, dim), measure.Length)
	if errA != nil || errB != nil {
		return nil, false
	}
	return []graph.Reading{{Text: measure.Format(factor*(one.Quantity.Nominal-other.Quantity.Nominal),
		measure.Length)}}, true
}
