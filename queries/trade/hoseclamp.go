package trade

import (
	"cmp"
	"math"
)

// StretchedOutside is the outside of a hose once it is on its pipe: the rubber
// keeps its section.
//
//	D' = sqrt(pipe^2 + D^2 - d^2)
//
// In mm; D and d are outside and bore off the pipe. Source: pages on hose
// clamps, recomputed: equal area of the ring. Refuses a bore not below the
// outside, and measures not above zero.
func StretchedOutside(pipe, outside, bore float64) (float64, error) {
	err := cmp.Or(positive("pipe", pipe, "mm"), positive("outside", outside, "mm"), positive("bore", bore, "mm"))
	if err != nil {
		return 0, err
	}
	if bore >= outside {
		return 0, &inputError{"bore", amount(bore, "mm"), "less than the outside of " + amount(outside, "mm")}
	}
	return math.Sqrt(pipe*pipe + outside*outside - bore*bore), nil
}
