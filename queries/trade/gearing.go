package trade

import "cmp"

// SprocketRatio is the final drive's ratio.
//
//	ratio = rear teeth / front teeth
//
// No unit: turns of the front sprocket per turn of the wheel. Source: gearing.
// Refuses sprockets of fewer than 6 teeth.
func SprocketRatio(front, rear int) (float64, error) {
	if err := cmp.Or(teeth("front sprocket", front, 6), teeth("rear sprocket", rear, 6)); err != nil {
		return 0, err
	}
	return float64(rear) / float64(front), nil
}

// RatioChange is the change from one ratio to another, in percent: above zero
// is a shorter gearing, more revs at the same speed.
//
//	change = after / before - 1
//
// Refuses a ratio not above zero.
func RatioChange(before, after float64) (float64, error) {
	if err := cmp.Or(positive("ratio before", before, ""), positive("ratio after", after, "")); err != nil {
		return 0, err
	}
	return (after/before - 1) * 100, nil
}

// Revs is the engine speed at a road speed.
//
//	revs = speed / circumference x overall ratio
//
// In 1/min from km/h and mm; overall is engine turns per turn of the wheel:
// primary x gear x final. Source: gearing. Holds without slip of clutch or
// tyre. Refuses a speed below zero, the others not above it.
func Revs(speed, overall, circumference float64) (float64, error) {
	err := cmp.Or(between("speed", speed, 0, 1000, "km/h"), positive("overall ratio", overall, ""),
		positive("circumference", circumference, "mm"))
	if err != nil {
		return 0, err
	}
	return speed * 1e6 / 60 / circumference * overall, nil
}
