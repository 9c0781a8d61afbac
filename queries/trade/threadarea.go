package trade

import (
	"cmp"
	"fmt"
	"math"
)

// Flanks are the diameters of a metric thread, in mm.
type Flanks struct {
	Pitch float64 // D2, the pitch diameter
	Minor float64 // D1, the minor diameter of the nut
	Root  float64 // d3, the root of the bolt
}

// ThreadFlanks works out the diameters of a metric thread.
//
//	D2 = d - 0.649519 P, D1 = d - 1.082532 P, d3 = d - 1.226869 P
//
// In mm. Source: ISO 724 (D2, D1), ISO 898-1 (d3). Nominal sizes, without
// tolerance. Refuses a diameter outside 1 to 300 mm and a pitch that leaves no
// root.
func ThreadFlanks(diameter, pitch float64) (Flanks, error) {
	err := cmp.Or(between("thread diameter", diameter, 1, 300, "mm"), positive("pitch", pitch, "mm"))
	if err == nil && diameter-1.226869*pitch <= 0 {
		err = &InputError{"pitch", amount(pitch, "mm"), "small enough to leave a root in " + amount(diameter, "mm")}
	}
	if err != nil {
		return Flanks{}, err
	}
	return Flanks{Pitch: diameter - 0.649519*pitch, Minor: diameter - 1.082532*pitch, Root: diameter - 1.226869*pitch}, nil
}

// StressArea is the area that carries the load of a metric thread.
//
//	As = pi/4 (d - 0.9382 P)^2
//
// In mm2 from mm. Source: ISO 898-1. Refuses what ThreadFlanks refuses.
func StressArea(diameter, pitch float64) (float64, error) {
	if _, err := ThreadFlanks(diameter, pitch); err != nil {
		return 0, err
	}
	return circle(diameter - 0.9382*pitch), nil
}

// PropertyClass is what a property class of bolts must stand.
type PropertyClass struct {
	Name    string  // "8.8"
	Proof   float64 // stress under proof load, N/mm2
	Tensile float64 // least tensile strength, N/mm2
}

// PropertyClasses are the classes this package has values for.
//
// Source: ISO 898-1 for threads up to 16 mm. The stresses are from memory; the
// published loads of M3 to M12, which the tests hold them against, confirm them
// within 1 %.
func PropertyClasses() []PropertyClass {
	return []PropertyClass{{"8.8", 580, 800}, {"10.9", 830, 1040}, {"12.9", 970, 1220}}
}

// ProofLoad is the pull a bolt of a property class stands without staying
// longer.
//
//	F = As x proof stress of the class
//
// In N from mm. Source: ISO 898-1; its printed loads are rounded down, so
// compare within 1 %. Holds for steel bolts of 3 to 16 mm. Refuses other
// diameters (the stress of 8.8 changes there) and other classes.
func ProofLoad(diameter, pitch float64, class string) (float64, error) {
	return boltLoad(diameter, pitch, class, func(c PropertyClass) float64 { return c.Proof })
}

// TensileLoad is the pull a bolt of a property class stands before it breaks,
// in N. Source, range and refusals as for ProofLoad.
func TensileLoad(diameter, pitch float64, class string) (float64, error) {
	return boltLoad(diameter, pitch, class, func(c PropertyClass) float64 { return c.Tensile })
}

func boltLoad(diameter, pitch float64, class string, stress func(PropertyClass) float64) (float64, error) {
	area, err := StressArea(diameter, pitch)
	if err = cmp.Or(err, between("thread diameter", diameter, 3, 16, "mm")); err != nil {
		return 0, err
	}
	for _, c := range PropertyClasses() {
		if c.Name == class {
			return area * stress(c), nil
		}
	}
	return 0, &InputError{"property class", fmt.Sprintf("%q", class), "8.8, 10.9 or 12.9"}
}

// NutHolds reports whether a nut of a class may carry a bolt of a class: the
// nut's number must not be below the bolt's first one.
//
// Source: ISO 898-2 (M6 proof load: class 8 17 200 N, class 10 20 900 N). Nut
// class as marked: 8, 10, 12. Refuses bolt classes ProofLoad refuses and a nut
// class outside 4 to 14.
func NutHolds(nutClass int, boltClass string) (bool, error) {
	if err := between("nut class", float64(nutClass), 4, 14, ""); err != nil {
		return false, err
	}
	for _, c := range PropertyClasses() {
		if c.Name == boltClass {
			return nutClass >= int(math.Floor(c.Tensile/100)), nil
		}
	}
	return false, &InputError{"property class", fmt.Sprintf("%q", boltClass), "8.8, 10.9 or 12.9"}
}
