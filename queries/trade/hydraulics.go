package trade

import (
	"cmp"
	"fmt"
	"math"
)

// Layout is how the pistons of a caliper or slave cylinder are laid out. The
// zero value is no layout and is refused.
type Layout int

// The layouts.
const (
	Opposed Layout = iota + 1 // pistons on both sides of the disc
	Sliding                   // pistons on one side, the body slides
	Slave                     // a clutch slave cylinder
)

// ParseLayout reads "opposed", "sliding" or "slave".
func ParseLayout(word string) (Layout, error) {
	switch word {
	case "opposed":
		return Opposed, nil
	case "sliding":
		return Sliding, nil
	case "slave":
		return Slave, nil
	}
	return 0, fmt.Errorf("layout %q is none of: opposed, sliding, slave", word)
}

// faces is how often a piston of the layout counts. A sliding caliper presses
// the far pad by its own body, with the same force through the same stroke.
func (l Layout) faces() (float64, error) {
	switch l {
	case Opposed, Slave:
		return 1, nil
	case Sliding:
		return 2, nil
	}
	return 0, &inputError{"layout", fmt.Sprintf("number %d", int(l)), "opposed, sliding or slave"}
}

// Piston is a number of equal pistons.
type Piston struct {
	Count    int     // at least 1
	Diameter float64 // mm
}

// Caliper is the pistons that one master moves, in one body.
type Caliper struct {
	Layout  Layout
	Pistons []Piston // every piston there is, on both sides
}

// workingArea is the piston area that fluid of one master works on.
//
//	A = sum over pistons of n pi/4 d^2, twice for a sliding caliper
//
// In mm2 from mm. Source: Pascal's principle (OpenStax, College Physics); the
// counting is from published workshop notes: all pistons of all calipers on that
// master, both sides. Some writers count one side only, and their numbers are half
// of these. Holds for
// any number of calipers on one master. Refuses no caliper at all, a caliper
// without pistons, a count below 1 and a diameter not above zero.
func workingArea(calipers ...Caliper) (float64, error) {
	if len(calipers) == 0 {
		return 0, &inputError{"calipers", "none", "at least one"}
	}
	var sum float64
	for _, c := range calipers {
		area, err := c.area()
		if err != nil {
			return 0, err
		}
		sum += area
	}
	return sum, nil
}

func (c Caliper) area() (float64, error) {
	faces, err := c.Layout.faces()
	if err != nil {
		return 0, err
	}
	if len(c.Pistons) == 0 {
		return 0, &inputError{"pistons", "none", "at least one"}
	}
	var sum float64
	for _, p := range c.Pistons {
		if err := between("number of pistons", float64(p.Count), 1, 100, ""); err != nil {
			return 0, err
		}
		if err := positive("piston diameter", p.Diameter, "mm"); err != nil {
			return 0, err
		}
		sum += float64(p.Count) * circle(p.Diameter)
	}
	return faces * sum, nil
}

// circle is pi/4 d^2.
func circle(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// HydraulicRatio is the area of the pistons over that of the master's bore.
//
//	R = A / (pi/4 bore^2)
//
// No unit; bore in mm. Source and counting as for workingArea. It is also how
// far the master's piston moves for 1 mm of pad clearance. Compare it only
// between masters of one style: between an axial and a radial one compare
// TotalLeverage. Refuses what workingArea refuses and a bore not above zero.
func HydraulicRatio(bore float64, calipers ...Caliper) (float64, error) {
	area, err := workingArea(calipers...)
	if err = cmp.Or(err, positive("bore", bore, "mm")); err != nil {
		return 0, err
	}
	return area / circle(bore), nil
}

// TotalLeverage is what the hand's force is multiplied by on its way to the
// pads.
//
//	T = R x lever
//
// No unit; lever is pivot to hand over pivot to pushrod, such as 90/25.
// Source: levers and Pascal's principle. Refuses either not above zero.
func TotalLeverage(hydraulic, lever float64) (float64, error) {
	err := cmp.Or(positive("hydraulic ratio", hydraulic, ""), positive("lever ratio", lever, ""))
	if err != nil {
		return 0, err
	}
	return hydraulic * lever, nil
}

// LinePressure is the pressure behind the master's piston at a hand or foot
// force.
//
//	p = force x lever / (pi/4 bore^2)
//
// In bar from N and mm (1 N/mm2 is 10 bar). Source: Pascal's principle
// (OpenStax, College Physics). Holds without friction and return spring, so it
// is a little high. Refuses a force below zero, a lever or bore not above it.
func LinePressure(force, lever, bore float64) (float64, error) {
	err := cmp.Or(between("hand force", force, 0, most, "N"), positive("lever ratio", lever, ""),
		positive("bore", bore, "mm"))
	if err != nil {
		return 0, err
	}
	return 10 * force * lever / circle(bore), nil
}

// ClampForce is how hard the pads squeeze: the force on one face of the discs,
// added up over the calipers of that master. The same force presses on the
// other face.
//
//	F = p A / 2
//
// In N from bar and mm, A as workingArea counts it, both faces. Source:
// Pascal's principle. Refuses a pressure below zero, a clutch slave cylinder
// (it clamps nothing) and what workingArea refuses.
func ClampForce(pressure float64, calipers ...Caliper) (float64, error) {
	for _, c := range calipers {
		if c.Layout == Slave {
			return 0, &inputError{"layout", "slave", "opposed or sliding"}
		}
	}
	area, err := workingArea(calipers...)
	if err = cmp.Or(err, between("pressure", pressure, 0, most, "bar")); err != nil {
		return 0, err
	}
	return pressure / 10 * area / 2, nil
}
