package trade

import (
	"fmt"
	"strings"
)

// Limits are how far a size may be off its nominal one, in micrometres: upper
// and lower, with their signs.
type Limits struct{ Upper, Lower float64 }

// sizeStep is one step of nominal sizes of ISO 286, with the tolerances IT6 to
// IT9 and the fundamental deviations of shafts, all in micrometres.
type sizeStep struct {
	over, incl         float64 // mm
	it6, it7, it8, it9 float64
	e, f, g            float64 // distance of the upper limit below nominal
	k, m, n, p, r, s   float64 // lower limit above nominal
	j6, bigJ7          Limits
}

// sizeSteps are ISO 286-1 and -2 for 3 to 120 mm. Source: the standards as an
// open calculator and public limit tables reprint them; those the tests compare
// row by row, the others from memory, worked out by the standard's own rules.
func sizeSteps() []sizeStep {
	return []sizeStep{
		{3, 6, 8, 12, 18, 30, 20, 10, 4, 1, 4, 8, 12, 15, 19, Limits{6, -2}, Limits{6, -6}},
		{6, 10, 9, 15, 22, 36, 25, 13, 5, 1, 6, 10, 15, 19, 23, Limits{7, -2}, Limits{8, -7}},
		{10, 18, 11, 18, 27, 43, 32, 16, 6, 1, 7, 12, 18, 23, 28, Limits{8, -3}, Limits{10, -8}},
		{18, 30, 13, 21, 33, 52, 40, 20, 7, 2, 8, 15, 22, 28, 35, Limits{9, -4}, Limits{12, -9}},
		{30, 50, 16, 25, 39, 62, 50, 25, 9, 2, 9, 17, 26, 34, 43, Limits{11, -5}, Limits{14, -11}},
		{50, 65, 19, 30, 46, 74, 60, 30, 10, 2, 11, 20, 32, 41, 53, Limits{12, -7}, Limits{18, -12}},
		{65, 80, 19, 30, 46, 74, 60, 30, 10, 2, 11, 20, 32, 43, 59, Limits{12, -7}, Limits{18, -12}},
		{80, 100, 22, 35, 54, 87, 72, 36, 12, 3, 13, 23, 37, 51, 71, Limits{13, -9}, Limits{22, -13}},
		{100, 120, 22, 35, 54, 87, 72, 36, 12, 3, 13, 23, 37, 54, 79, Limits{13, -9}, Limits{22, -13}},
	}
}

// FitLimits are the limits of a tolerance class for a nominal size.
//
// In micrometres from mm. Shafts e7 to e9, f6 to f9, g6, g7, h6 to h9, j6, js6,
// js7 and k6 to s7; holes E, F, G and H in 6 to 9, J7, JS7 and K7 to S7. Source:
// ISO 286-1 and -2. Refuses a size outside 3 to 120 mm (over 3, up to and with
// 120) and any other class.
func FitLimits(class string, size float64) (Limits, error) {
	if err := between("size", size, 3, 120, "mm"); err != nil {
		return Limits{}, err
	}
	class = strings.TrimSpace(class)
	for _, s := range sizeSteps() {
		if size <= s.incl && (size > s.over || s.over == 3) {
			if l, ok := s.limits(class); ok {
				return l, nil
			}
			break
		}
	}
	return Limits{}, &inputError{"tolerance class", fmt.Sprintf("%q", class), "one such as h6, k6, H7, N7 or P7"}
}

func (s sizeStep) limits(class string) (Limits, bool) {
	switch class {
	case "j6":
		return s.j6, true
	case "J7":
		return s.bigJ7, true
	}
	letter := strings.TrimRight(class, "6789")
	tol, ok := map[string]float64{"6": s.it6, "7": s.it7, "8": s.it8, "9": s.it9}[strings.TrimPrefix(class, letter)]
	if !ok {
		return Limits{}, false
	}
	below := map[string]float64{"e": s.e, "f": s.f, "g": s.g, "h": 0}
	above := map[string]float64{"k": s.k, "m": s.m, "n": s.n, "p": s.p, "r": s.r, "s": s.s}
	if letter == "js" || letter == "JS" {
		return Limits{tol / 2, -tol / 2}, true
	}
	small := strings.ToLower(letter)
	d, isBelow := below[small]
	up, isAbove := above[small]
	switch {
	case letter == small && isBelow:
		return Limits{0 - d, -d - tol}, true
	case letter == small && isAbove && tol <= s.it7:
		return Limits{up + tol, up}, true
	case letter != small && isBelow:
		return Limits{d + tol, d}, true
	case letter != small && isAbove && tol == s.it7:
		// ISO 286-1: ES = -ei + the difference of IT7 and IT6.
		es := s.it7 - s.it6 - up
		return Limits{es, es - tol}, true
	}
	return Limits{}, false
}

// ringOutside is how far the outside of a bearing of the Normal class may be below
// nominal, in micrometres.
//
// Source: ISO 492, read on bearing pages for the steps that the tests compare,
// the others from memory.
func ringOutside(size float64) float64 {
	return firstStep(size, [][2]float64{{18, 8}, {30, 9}, {50, 11}, {80, 13}, {120, 15}})
}

func firstStep(size float64, steps [][2]float64) float64 {
	for _, s := range steps {
		if size <= s[0] {
			return s[1]
		}
	}
	return steps[len(steps)-1][1]
}

// SeatFit is the clearance between a bearing's ring and its seat, in
// micrometres: below zero is interference.
type SeatFit struct{ Least, Most float64 }

// OuterRingFit is the fit of a bearing's outer ring in a housing bored to a class.
//
// In micrometres from mm. Source: ISO 286-2 and ISO 492, class Normal.
// Refuses what FitLimits refuses.
func OuterRingFit(class string, outside float64) (SeatFit, error) {
	l, err := FitLimits(class, outside)
	if err != nil {
		return SeatFit{}, err
	}
	return SeatFit{l.Lower, l.Upper + ringOutside(outside)}, nil
}

// HubFits are the classes a hub that turns round its axle is bored to, lightest
// load first. Source: two fit tables: M7 or K7 for light loads, N7 for normal,
// P7 for heavy or hollow; one names wheel hubs at P7, one loose wheels at K7 to
// M7. J7 is the lightest that any names. Light alloy takes one class tighter.
func HubFits() []string { return []string{"J7", "K7", "M7", "N7", "P7"} }

// Play is the radial play of a ball bearing before it is fitted, in micrometres.
type Play struct{ Least, Most float64 }

// playSteps are ISO 5753-1 by bore, groups C2, CN, C3, C4. Source: two bearing
// pages for 10 to 18, 30 to 40 and 50 to 65 mm; the others from memory.
var playSteps = [...]struct {
	incl   float64
	groups [4]Play
}{
	{10, [4]Play{{0, 7}, {2, 13}, {8, 23}, {14, 29}}},
	{18, [4]Play{{0, 9}, {3, 18}, {11, 25}, {18, 33}}},
	{24, [4]Play{{0, 10}, {5, 20}, {13, 28}, {20, 36}}},
	{30, [4]Play{{1, 11}, {5, 20}, {13, 28}, {23, 41}}},
	{40, [4]Play{{1, 11}, {6, 20}, {15, 33}, {28, 46}}},
	{50, [4]Play{{1, 11}, {6, 23}, {18, 36}, {30, 51}}},
	{65, [4]Play{{1, 15}, {8, 28}, {23, 43}, {38, 61}}},
}

// RadialPlay is the play of a group for a deep-groove ball bearing of a bore. A
// group is no size: a C3 goes wherever its CN goes, and runs looser cold.
//
// In micrometres from mm; an empty group is CN, which no marking means. Source:
// ISO 5753-1. Refuses a bore outside 6 to 65 mm and another group.
func RadialPlay(bore float64, group string) (Play, error) {
	if err := between("bore", bore, 6, 65, "mm"); err != nil {
		return Play{}, err
	}
	at, ok := map[string]int{"C2": 0, "": 1, "CN": 1, "C3": 2, "C4": 3}[strings.ToUpper(group)]
	if !ok {
		return Play{}, &inputError{"play group", fmt.Sprintf("%q", group), "C2, CN, C3 or C4"}
	}
	for _, s := range playSteps {
		if bore <= s.incl {
			return s.groups[at], nil
		}
	}
	return Play{}, nil
}
