package graph

import "math"

// HolesTouch reports whether holes of a diameter, even round a circle, run into one
// another; two holes lie opposite. Source: plain geometry, the chord between neighbours.
func HolesTouch(holes int, circle, hole float64) bool {
	return holes > 1 && circle*math.Sin(math.Pi/float64(holes)) <= hole
}

// LeavesMetal reports whether holes on a circle lie inside what they are bored in: an edge
// outside, and a bore or spigot in the middle; 0 for what nobody gave. Source: plain
// geometry. It asks for no more metal than none, so that it refuses only what can't be.
func LeavesMetal(circle, hole, outside, inside float64) bool {
	return (outside == 0 || circle+hole < outside) && (inside == 0 || circle > inside)
}

// RootCircle is the diameter at the roots of the teeth of a sprocket: its pitch circle less
// a roller. Source: ISO 606, pitch circle and root diameter of chain sprockets.
func RootCircle(teeth int, pitch, roller float64) float64 {
	if teeth < 3 {
		return 0
	}
	return pitch/math.Sin(math.Pi/float64(teeth)) - roller
}
