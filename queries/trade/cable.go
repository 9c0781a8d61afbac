package trade

import (
	"cmp"
	"math"
)

// CablePull is how much inner a drum winds up.
//
//	pull = radius x turn
//
// In mm from mm and degrees of turn. Source: length of an arc. Holds while the
// cable lies on the drum. Refuses a radius not above zero and a turn outside 0
// to 720 degrees.
func CablePull(radius, turn float64) (float64, error) {
	if err := cmp.Or(positive("drum radius", radius, "mm"), between("turn", turn, 0, 720, "deg")); err != nil {
		return 0, err
	}
	return radius * radians(turn), nil
}

// GripTurn is how far a grip must turn to open a throttle wheel all the way.
//
//	turn = wheel turn x wheel radius / grip radius
//
// In degrees from degrees and mm. Source: the same cable on both drums. Refuses
// what CablePull refuses.
func GripTurn(wheelTurn, wheelRadius, gripRadius float64) (float64, error) {
	pull, err := CablePull(wheelRadius, wheelTurn)
	if err = cmp.Or(err, positive("grip radius", gripRadius, "mm")); err != nil {
		return 0, err
	}
	return degrees(pull / gripRadius), nil
}

// FreeInner is what a cable has outside its outer.
//
//	free = inner - outer
//
// In mm. It, not the length of either, decides whether a cable works at its
// place. Source: common practice. Refuses an outer not above zero and an inner
// not longer than it.
func FreeInner(inner, outer float64) (float64, error) {
	if err := cmp.Or(positive("outer", outer, "mm"), positive("inner", inner, "mm")); err != nil {
		return 0, err
	}
	if inner <= outer {
		return 0, &InputError{"inner", amount(inner, "mm"), "longer than the outer of " + amount(outer, "mm")}
	}
	return inner - outer, nil
}

// FreeInnerGap is how much too long (positive) or too short (negative) the free
// inner of a cable is once its adjuster has done what it can; 0 when the
// adjuster takes it up.
//
//	gap = what is left of have - want beyond half the adjuster's travel
//
// In mm; have is with the adjuster in its middle. Too short holds a throttle
// open, too long leaves play. Source: common practice. Refuses a free inner
// not above zero and a travel below it.
func FreeInnerGap(have, want, adjust float64) (float64, error) {
	err := cmp.Or(positive("free inner", have, "mm"), positive("free inner wanted", want, "mm"),
		between("adjuster travel", adjust, 0, 1000, "mm"))
	if err != nil {
		return 0, err
	}
	gap := have - want
	if left := math.Abs(gap) - adjust/2; left > 0 {
		return math.Copysign(left, gap), nil
	}
	return 0, nil
}
