package trade

import (
	"cmp"
	"fmt"
)

// FluidDisplaced is the fluid that moves while the pads close their clearance.
//
//	V = A x clearance
//
// In cm3 from mm; clearance is that of one pad to its disc face, A as
// workingArea counts it (a sliding piston closes both gaps, hence twice).
// Source: volume of a cylinder. Leaves out the swelling of hoses and the bend
// of the caliper. Refuses a clearance below zero and what workingArea refuses.
func FluidDisplaced(clearance float64, calipers ...Caliper) (float64, error) {
	area, err := workingArea(calipers...)
	if err = cmp.Or(err, between("pad clearance", clearance, 0, 1000, "mm")); err != nil {
		return 0, err
	}
	return area * clearance / 1000, nil
}

// PistonStroke is how far the master's piston moves until the pads touch.
//
//	s = R x clearance
//
// In mm; R is HydraulicRatio. Source: the same fluid in and out; common
// practice. A lower bound: hoses swell and pads give. Refuses a ratio not
// above zero and a clearance below it.
func PistonStroke(hydraulic, clearance float64) (float64, error) {
	err := cmp.Or(positive("hydraulic ratio", hydraulic, ""), between("pad clearance", clearance, 0, 1000, "mm"))
	if err != nil {
		return 0, err
	}
	return hydraulic * clearance, nil
}

// LeverTravel is how far the hand moves for a stroke of the master's piston.
//
//	travel = stroke x lever
//
// In mm at the point of the hand that lever, the lever ratio, is stated for.
// Source: levers. Holds for small angles. Refuses a stroke below zero and a
// lever ratio not above it.
func LeverTravel(stroke, lever float64) (float64, error) {
	err := cmp.Or(between("piston stroke", stroke, 0, most, "mm"), positive("lever ratio", lever, ""))
	if err != nil {
		return 0, err
	}
	return stroke * lever, nil
}

// LeastReserve is the gap, in mm, that must remain between lever and grip at
// the hardest squeeze. Source: a rider-training guide, read in an excerpt.
const LeastReserve = 13.0

// Reserve is what is left between lever and grip.
type Reserve struct {
	Gap    float64 // mm; below zero when the lever would reach the grip first
	Enough bool    // Gap is at least LeastReserve
	Source string  // of LeastReserve
}

// ReserveToGrip is the reach of the lever less its travel.
//
//	gap = reach - travel
//
// In mm. Source of the 13 mm: a rider-training guide; it speaks of the hardest
// squeeze, and a travel worked out from pad clearance alone is less than that,
// so "not enough" is certain and "enough" is to be tried by hand. Refuses a
// reach not above zero and a travel below it.
func ReserveToGrip(reach, travel float64) (Reserve, error) {
	err := cmp.Or(positive("reach", reach, "mm"), between("lever travel", travel, 0, most, "mm"))
	if err != nil {
		return Reserve{}, err
	}
	gap := reach - travel
	return Reserve{Gap: gap, Enough: gap >= LeastReserve,
		Source: "13 mm to the grip at the hardest squeeze: a rider-training guide"}, nil
}

// BoreChange is what another bore does to a brake or clutch.
type BoreChange struct {
	Force  float64 // change of force at the pads for the same hand force, percent
	Travel float64 // change of lever travel, percent; the same number
	Words  string  // the same for a person
}

// ChangeBore compares two bores on the same calipers and the same lever ratio.
//
//	change = (before / after)^2 - 1
//
// In percent from mm: force and travel both go as one over the square of the
// bore. Source: Pascal's principle. Refuses a bore not above zero.
func ChangeBore(before, after float64) (BoreChange, error) {
	err := cmp.Or(positive("bore before", before, "mm"), positive("bore after", after, "mm"))
	if err != nil {
		return BoreChange{}, err
	}
	percent := (before*before/(after*after) - 1) * 100
	words := "the same bore: neither force nor travel changes"
	switch {
	case after < before:
		words = fmt.Sprintf("the smaller bore presses %.1f %% harder for the same hand force, and the lever moves as much "+
			"further", percent)
	case after > before:
		words = fmt.Sprintf("the bigger bore does not brake harder: it presses %.1f %% less for the same hand force, and "+
			"the lever moves as much less", -percent)
	}
	return BoreChange{Force: percent, Travel: percent, Words: words}, nil
}

// SlaveTravel is how far a clutch slave cylinder moves.
//
//	travel = stroke (bore / slave)^2
//
// All in mm; stroke is that of the master's piston. Source: the same fluid in
// and out; common practice. It must be at least the travel the clutch needs to
// release. Refuses a stroke below zero, a bore or slave not above it.
func SlaveTravel(stroke, bore, slave float64) (float64, error) {
	err := cmp.Or(between("piston stroke", stroke, 0, 1000, "mm"), positive("bore", bore, "mm"),
		positive("slave piston", slave, "mm"))
	if err != nil {
		return 0, err
	}
	return stroke * circle(bore) / circle(slave), nil
}
