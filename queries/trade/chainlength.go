package trade

import (
	"cmp"
	"fmt"
	"math"
)

// ChainLinks is the number of links, not yet whole, that two sprockets need.
//
//	L = 2C/p + (z1+z2)/2 + ((z2-z1)/2pi)^2 p/C
//
// For a toothed belt it is the same, in teeth: its pulleys have a pitch circle of p z / pi,
// and with that 2C + pi (d1+d2)/2 + (d2-d1)^2/4C comes to it. C, the centre distance, and p,
// the pitch, in mm. Source: chain handbooks,
// common practice; within 0.1 link on a motorcycle. Refuses sprockets of fewer
// than 6 teeth, a distance or pitch not above zero, and sprockets that would
// touch each other.
func ChainLinks(front, rear int, centre, pitch float64) (float64, error) {
	d1, err1 := pitchDiameter(front, pitch)
	d2, err2 := pitchDiameter(rear, pitch)
	if err := cmp.Or(err1, err2, positive("centre distance", centre, "mm")); err != nil {
		return 0, err
	}
	if apart := (d1 + d2) / 2; centre <= apart {
		return 0, &inputError{"centre distance", amount(centre, "mm"), fmt.Sprintf("more than %.1f mm, or the sprockets "+
			"touch", apart)}
	}
	return 2*centre/pitch + float64(front+rear)/2 + bend(front, rear)*pitch/centre, nil
}

// bend is ((z2-z1)/2pi)^2, the part of the length due to unequal sprockets.
func bend(front, rear int) float64 {
	k := float64(rear-front) / (2 * math.Pi)
	return k * k
}

// EvenLinks rounds a number of links up to an even one, since inner and outer
// links alternate and a half-link is a weak spot.
//
// Refuses a number not above zero. Source: common practice.
func EvenLinks(links float64) (int, error) {
	if err := positive("links", links, ""); err != nil {
		return 0, err
	}
	// The formula's own rounding error must not buy two more links.
	return 2 * int(math.Ceil(links/2-1e-9)), nil
}

// ChainCentre is the centre distance a chain of that many links gives: where
// the axle comes to sit. It solves the formula of ChainLinks for C.
//
//	C = p/4 (m + sqrt(m^2 - 8 ((z2-z1)/2pi)^2)), m = L - (z1+z2)/2
//
// In mm. Refuses what ChainLinks refuses, and a chain too short to go round.
func ChainCentre(front, rear, links int, pitch float64) (float64, error) {
	d1, err1 := pitchDiameter(front, pitch)
	d2, err2 := pitchDiameter(rear, pitch)
	if err := cmp.Or(err1, err2, between("links", float64(links), 1, 10000, "")); err != nil {
		return 0, err
	}
	m := float64(links) - float64(front+rear)/2
	root := m*m - 8*bend(front, rear)
	tooShort := &inputError{"chain", fmt.Sprintf("%d links", links), fmt.Sprintf("long enough to go round %d and %d "+
		"teeth", front, rear)}
	if m <= 0 || root < 0 {
		return 0, tooShort
	}
	centre := pitch / 4 * (m + math.Sqrt(root))
	if centre <= (d1+d2)/2 {
		return 0, tooShort
	}
	return centre, nil
}

// pitchDiameter is the diameter on which the roller centres of a sprocket lie.
//
//	d = p / sin(pi/z)
//
// In mm. Source: ISO 606 (geometry of a polygon). Refuses fewer than 6 teeth
// and a pitch not above zero.
func pitchDiameter(z int, pitch float64) (float64, error) {
	if err := cmp.Or(teeth("sprocket", z, 6), positive("pitch", pitch, "mm")); err != nil {
		return 0, err
	}
	return pitch / math.Sin(math.Pi/float64(z)), nil
}
