package trade

import (
	"cmp"
	"math"
)

// SideStand is what decides how far a machine leans on its side stand, all
// measured with the machine upright on its wheels.
type SideStand struct {
	Height float64 // pivot above the ground, mm
	Side   float64 // pivot from the middle plane, mm
	Length float64 // pivot to the ground under the foot, mm
	Spread float64 // leg from the upright, outward positive, degrees
}

// Lean is how far the machine leans over on the stand.
//
//	tan lean = (height - length cos spread) / (side + length sin spread)
//
// In degrees. Source: geometry; narrow tyres on level ground, pivot to foot
// held out by its own stop. At zero or below the machine stands upright or
// leans away and falls; how much lean is right was found in no published
// source: compare with the machine as built. Refuses lengths not above zero,
// a spread outside -45 to 60 degrees, and a foot inside the middle plane.
func (s SideStand) Lean() (float64, error) {
	err := cmp.Or(positive("pivot height", s.Height, "mm"), between("pivot to the side", s.Side, 0, 1000, "mm"),
		positive("stand length", s.Length, "mm"), between("spread", s.Spread, -45, 60, "deg"))
	if err != nil {
		return 0, err
	}
	out := s.Side + s.Length*math.Sin(radians(s.Spread))
	if err := positive("foot to the side", out, "mm"); err != nil {
		return 0, err
	}
	return degrees(math.Atan((s.Height - s.Length*math.Cos(radians(s.Spread))) / out)), nil
}
