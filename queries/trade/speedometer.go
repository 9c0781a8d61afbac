package trade

import (
	"cmp"
	"fmt"
)

// SpeedometerRule names the rule SpeedometerBand keeps.
const SpeedometerRule = "UN R39, 5.3: 0 <= V1 - V2 <= 0.1 V2 + 4 km/h"

// SpeedometerBand is what a speedometer may show at a true speed: never less
// than it, and not much more.
//
//	true <= shown <= 1.1 true + 4
//
// In km/h. Source: UN R39, 5.3. Which speeds are tried, and whether the rule
// binds this machine, is for local rules. Refuses a speed below zero or above
// 500.
func SpeedometerBand(trueSpeed float64) (low, high float64, err error) {
	if err := between("true speed", trueSpeed, 0, 500, "km/h"); err != nil {
		return 0, 0, err
	}
	return trueSpeed, trueSpeed + 0.1*trueSpeed + 4, nil
}

// SpeedometerFault is what is wrong with a shown speed under SpeedometerRule,
// in words; empty when nothing is.
//
// Both in km/h. Refuses what SpeedometerBand refuses, for either speed.
func SpeedometerFault(shown, trueSpeed float64) (string, error) {
	low, high, err := SpeedometerBand(trueSpeed)
	if err = cmp.Or(err, between("shown speed", shown, 0, 1000, "km/h")); err != nil {
		return "", err
	}
	switch {
	case shown < low:
		return fmt.Sprintf("shows %.1f km/h at a true %.1f km/h: below the true speed, which UN R39 never allows", shown,
			trueSpeed), nil
	case shown > high:
		return fmt.Sprintf("shows %.1f km/h at a true %.1f km/h: more than the %.1f km/h UN R39 allows", shown, trueSpeed,
			high), nil
	}
	return "", nil
}

// SpeedTake is the road speed pick-up of a machine: what turns, and how that
// becomes a reading. Only the fields that its kind uses matter.
type SpeedTake struct {
	Circumference float64 // of the tyre on the wheel that is sensed or driven, mm
	Ratio         float64 // rear teeth over front teeth; used when sensed at the gearbox
	RingTeeth     int     // of the sensor ring; used when sensed by a ring
}

// WheelFactor is how a reading taken from a wheel changes with another tyre.
//
//	shown after / shown before = circumference before / after
//
// No unit; 1 is no change, above 1 it shows more than before. Source: turns of
// the wheel; common practice. Refuses a circumference not above zero.
func WheelFactor(before, after SpeedTake) (float64, error) {
	err := cmp.Or(positive("circumference before", before.Circumference, "mm"),
		positive("circumference after", after.Circumference, "mm"))
	if err != nil {
		return 0, err
	}
	return before.Circumference / after.Circumference, nil
}

// GearboxFactor is how a reading taken at the gearbox output changes with
// other sprockets or another rear tyre.
//
//	factor = ratio after / ratio before x C before / C after
//
// No unit. Source: turns of the sprocket per turn of the wheel; common
// practice. Refuses a ratio not above zero too.
func GearboxFactor(before, after SpeedTake) (float64, error) {
	wheel, err := WheelFactor(before, after)
	if err = cmp.Or(err, positive("ratio before", before.Ratio, ""), positive("ratio after", after.Ratio,
		"")); err != nil {
		return 0, err
	}
	return wheel * after.Ratio / before.Ratio, nil
}

// PulsesPerMetre is what a sensor ring gives.
//
//	pulses = 1000 teeth / circumference
//
// Per metre from mm. Source: one pulse a tooth. Refuses fewer than 1 tooth and
// a circumference not above zero.
func PulsesPerMetre(ringTeeth int, circumference float64) (float64, error) {
	err := cmp.Or(teeth("sensor ring", ringTeeth, 1), positive("circumference", circumference, "mm"))
	if err != nil {
		return 0, err
	}
	return 1000 * float64(ringTeeth) / circumference, nil
}

// RingFactor is how a reading taken from a sensor ring changes with another
// ring or tyre.
//
//	factor = pulses per metre after / before
//
// No unit. Refuses what PulsesPerMetre refuses.
func RingFactor(before, after SpeedTake) (float64, error) {
	b, err1 := PulsesPerMetre(before.RingTeeth, before.Circumference)
	a, err2 := PulsesPerMetre(after.RingTeeth, after.Circumference)
	if err := cmp.Or(err1, err2); err != nil {
		return 0, err
	}
	return a / b, nil
}
