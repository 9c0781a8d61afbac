package trade

import "cmp"

// ReadingFactor is what clocks show over what is true, when they are made for
// perKm pulses or cable turns a kilometre and get perTurn for each turn of what
// is sensed.
//
//	factor = perTurn x gearing x 1000000 / circumference / perKm
//
// No unit; 1 is true, above 1 shows more. Circumference in mm; gearing is turns
// of what is sensed per turn of the wheel: 1 at the wheel itself, rear over
// front teeth at the gearbox. Source: turns of the wheel. Refuses any not above
// zero.
func ReadingFactor(perTurn, gearing, circumference, perKm float64) (float64, error) {
	err := cmp.Or(positive("pulses per turn", perTurn, ""), positive("gearing", gearing, ""),
		positive("circumference", circumference, "mm"), positive("pulses per km", perKm, ""))
	if err != nil {
		return 0, err
	}
	return perTurn * gearing * 1e6 / circumference / perKm, nil
}
