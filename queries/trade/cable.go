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

// FreeInnerGap is how much too long (positive) or too short (negative) the free
// inner of a cable is once its adjuster has done what it can; 0 when the
// adjuster takes it up.
//
//	gap = what is left of have - want beyond half the adjuster's travel
//
// In mm; have is with the adjuster in its middle, and it, not the length of inner
// or outer, decides whether a cable works at its place. Too short holds a throttle
// open, too long leaves play. Source: common practice. Refuses any below zero.
func FreeInnerGap(have, want, adjust float64) (float64, error) {
	err := cmp.Or(between("free inner", have, 0, most, "mm"), between("free inner wanted", want, 0, most, "mm"),
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
