package trade

import "cmp"

// RideHeightChange is how far the rear comes up with a longer shock.
//
//	rise = length change x link ratio
//
// In mm at the axle, longer and higher positive; the link ratio is wheel
// movement over shock movement. Source: levers, common practice. Holds for
// changes small against the shock's length, since the ratio itself moves with
// the link. Refuses a change beyond 1000 mm and a ratio not above zero.
func RideHeightChange(lengthChange, linkRatio float64) (float64, error) {
	err := cmp.Or(between("shock length change", lengthChange, -1000, 1000, "mm"), positive("link ratio", linkRatio, ""))
	if err != nil {
		return 0, err
	}
	return lengthChange * linkRatio, nil
}
