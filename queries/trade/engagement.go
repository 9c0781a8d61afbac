package trade

import (
	"fmt"
	"slices"
	"strings"
)

// EngagementClaim is what one source asks of a thread, in bolt diameters.
type EngagementClaim struct {
	Diameters float64
	Name      string // "trials", "rule of thumb"
	Source    string
}

// Engagement is how much thread must carry a bolt of a property class, by what
// the thread is cut in, largest first: two sources disagree on aluminium, and
// the larger one is to be taken with both named.
//
//	steel      1.0 d, for 10.9 and above 1.25 d
//	cast iron  1.0 d by trials, 1.5 d by rule of thumb
//	aluminium  2.0 d by trials (soft), 1.5 d by rule of thumb
//	brass      1.5 d by rule of thumb, 1.0 d as nuts of an exhaust are high
//
// In diameters of the bolt. Sources: a fastener handbook's trials on M6 to M16,
// coarse, Rm of steel above 360 N/mm2, read in an excerpt; the rule of thumb
// stands in handbooks, from memory. A steel insert sits in aluminium, whose
// thread around it is a size larger: it takes the rule of thumb. The class
// counts in steel only; an empty one is taken for 8.8. The trials say nothing
// of a diameter outside 6 to 16 mm, such as an axle's: there the rule of thumb
// stands alone, and 1 d in steel. Refuses another material and a diameter that
// is not above zero.
func Engagement(material, class string, diameter float64) ([]EngagementClaim, error) {
	if err := positive("thread diameter", diameter, "mm"); err != nil {
		return nil, err
	}
	tried := diameter >= 6 && diameter <= 16
	trials := func(d float64, on string) EngagementClaim {
		return EngagementClaim{d, "trials", "fastener handbook, trials M6 to M16" + on}
	}
	thumb := EngagementClaim{1.5, "rule of thumb", "rule of thumb in handbooks, from memory"}
	var claims []EngagementClaim
	switch material {
	case "steel":
		claims = []EngagementClaim{trials(1, "")}
		if g, err := ParseGrade(class); tried && err == nil && g.Tensile >= 1000 {
			claims = []EngagementClaim{trials(1.25, ", class 10.9")}
		}
	case "cast iron":
		claims = []EngagementClaim{trials(1, ", Rm above 220"), thumb}
	case "aluminium":
		claims = []EngagementClaim{trials(2, ", soft aluminium"), thumb}
	case "steel insert":
		claims = []EngagementClaim{thumb}
	case "brass":
		claims = []EngagementClaim{thumb, {1, "usual height of exhaust nuts", "common practice, no source"}}
	default:
		return nil, &inputError{"material", fmt.Sprintf("%q", material),
			"steel, aluminium, cast iron, steel insert or brass"}
	}
	if !tried && material != "steel" && material != "brass" {
		claims = []EngagementClaim{thumb}
	}
	slices.SortStableFunc(claims, func(a, b EngagementClaim) int {
		switch {
		case a.Diameters > b.Diameters:
			return -1
		case a.Diameters < b.Diameters:
			return 1
		}
		return strings.Compare(a.Source, b.Source)
	})
	return claims, nil
}

// RingThread reports whether a thread is one of a cap, a ring nut or a steering
// nut, and not of a bolt: 1 d of engagement, which a bolt needs to break before
// its thread strips, is not asked of it.
//
//	d >= 20 mm and pitch / d <= 0.05
//
// In mm. Common practice, no source: the fine threads of axles end at M24x1.5
// (0.063), those of steering stems and fork tubes start at M20x1 (0.05).
func RingThread(diameter, pitch float64) bool {
	return diameter >= 20-1e-9 && pitch > 0 && pitch/diameter <= 0.05+1e-9
}

// StandardThread is how much thread a standard bolt of a length has, in mm; all
// of a shorter one is thread.
//
//	b = 2 d + 6 up to 125 mm of length, 2 d + 12 up to 200, 2 d + 25 above
//
// Source: ISO 4014, ISO 888 (up to 125 mm read in an open parts library, the
// others from memory). Refuses a diameter or length not above zero.
func StandardThread(diameter, length float64) (float64, error) {
	if err := positive("thread diameter", diameter, "mm"); err != nil {
		return 0, err
	}
	if err := positive("length", length, "mm"); err != nil {
		return 0, err
	}
	b := 2*diameter + 6
	switch {
	case length > 200:
		b = 2*diameter + 25
	case length > 125:
		b = 2*diameter + 12
	}
	return min(b, length), nil
}
