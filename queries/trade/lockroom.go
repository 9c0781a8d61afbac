package trade

import "cmp"

// SwingGap is the room left at full lock between a turning part and what stands
// beside it, along the circle that the part describes.
//
//	gap = radius x (angle - lock - side)
//
// In mm from mm and degrees: angle is where the part stands with the bars
// straight, side where the standing part begins, both from the middle line as
// seen from above; lock is how far the bars turn. Below zero they strike each
// other first. Source: length of an arc. Refuses a radius not above zero and
// angles outside 0 to 180 degrees.
func SwingGap(radius, angle, lock, side float64) (float64, error) {
	err := cmp.Or(positive("radius", radius, "mm"), between("angle", angle, 0, 180, "deg"),
		between("lock", lock, 0, 180, "deg"), between("side", side, 0, 180, "deg"))
	if err != nil {
		return 0, err
	}
	return radius * radians(angle-lock-side), nil
}
