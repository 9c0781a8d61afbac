package trade

import "cmp"

// PedalRatio is the leverage of a pedal.
//
//	ratio = pivot to foot / pivot to rod
//
// No unit, from mm. The rod feels the foot's force times the ratio and moves
// the foot's way divided by it. Source: levers; holds while the rod stands
// about square to its arm. Refuses a length not above zero.
func PedalRatio(foot, rod float64) (float64, error) {
	if err := cmp.Or(positive("pivot to foot", foot, "mm"), positive("pivot to rod", rod, "mm")); err != nil {
		return 0, err
	}
	return foot / rod, nil
}
