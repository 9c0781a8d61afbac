package trade

import (
	"fmt"
	"strconv"
	"strings"
)

// Grade is what a marking on a bolt's head says of its strength. The zero Grade
// is none.
type Grade struct {
	Name    string  // "8.8", "A2-70", "7T"
	Sort    string  // "property class", "stainless" or "tensile number"
	Tensile float64 // least tensile strength, N/mm2
	// Yield is the least yield or proof strength, N/mm2; 0 when the marking does
	// not say, as the old T numbers do not.
	Yield      float64
	FromMemory bool
}

// grades are the classes with their strengths.
//
// Sources: ISO 898-1 (12.9 from memory), ISO 3506-1 (A2-50, A2-70; those with
// 80 from memory).
func grades() []Grade {
	const class, stainless = "property class", "stainless"
	return []Grade{
		{"4.6", class, 400, 240, false}, {"4.8", class, 420, 340, true}, {"5.6", class, 500, 300, true},
		{"5.8", class, 520, 400, false}, {"6.8", class, 600, 480, true}, {"8.8", class, 800, 640, false},
		{"9.8", class, 900, 720, true}, {"10.9", class, 1040, 940, false}, {"12.9", class, 1220, 1100, true},
		{"A1-50", stainless, 500, 210, true}, {"A2-50", stainless, 500, 210, false}, {"A4-50", stainless, 500, 210,
			false},
		{"A1-70", stainless, 700, 450, true}, {"A2-70", stainless, 700, 450, false}, {"A4-70", stainless, 700, 450,
			false},
		{"A2-80", stainless, 800, 600, true}, {"A4-80", stainless, 800, 600, true},
	}
}

// ParseGrade reads the marking of a bolt's head: "8.8", "A2-70", "7T", also
// "class 8.8" and "8,8" as people write them.
//
// The old Japanese head numbers 4T, 7T, 9T, 11T are the tensile strength in
// tens of kgf/mm2 and no property class: 7T is 686 N/mm2, less than 8.8. Source:
// the units; a hand table. Refuses any other text.
func ParseGrade(text string) (Grade, error) {
	tight := strings.ToUpper(strings.ReplaceAll(strings.Join(strings.Fields(text), ""), ",", "."))
	tight = strings.TrimPrefix(tight, "CLASS")
	if m := stainlessMark().FindStringSubmatch(tight); m != nil {
		tight = m[1] + "-" + m[2]
	}
	for _, g := range grades() {
		if g.Name == tight {
			return g, nil
		}
	}
	if m := headNumber().FindStringSubmatch(tight); m != nil {
		n, _ := strconv.Atoi(m[1])
		if n >= 3 && n <= 14 {
			return Grade{Name: tight, Sort: "tensile number", Tensile: float64(n) * 10 * 9.80665}, nil
		}
	}
	return Grade{}, &inputError{"bolt marking", fmt.Sprintf("%q", text),
		"a property class such as 8.8, a stainless one such as A2-70, or an old T number such as 7T"}
}

// Serve is whether one bolt may stand in for another.
type Serve int

// The answers, best first.
const (
	Serves     Serve = iota + 1 // as strong in all that is known of both
	ServesOpen                  // what is known does not rule it out and does not prove it
	ServesNot                   // weaker
)

// MayServe reports whether a bolt of one grade may stand where another is
// listed: neither its tensile strength nor its yield may be below. A T number
// says nothing of yield, so it proves no class.
//
// Source: ISO 898-1, ISO 3506-1. A2-70 (700, 450 N/mm2) never stands in for 8.8
// (800, 640). A stronger bolt serves, but the joint's torque stays its own. A
// bolt marked alike serves. Both must be grades ParseGrade gives.
func MayServe(had, listed Grade) Serve {
	switch {
	case had.Name != "" && had.Name == listed.Name:
		return Serves
	case had.Tensile < listed.Tensile, had.Yield > 0 && listed.Yield > 0 && had.Yield < listed.Yield:
		return ServesNot
	case had.Yield == 0 || listed.Yield == 0:
		return ServesOpen
	}
	return Serves
}

// NutMates reports whether a nut of a marking may carry a bolt of a grade.
//
// Source: ISO 898-2: class 5 for bolts up to 5.8, 6 up to 6.8, 8 up to 8.8, 9
// up to 9.8, 10 up to 10.9, 12 up to 12.9; a higher one may stand in. 04 and 05
// are thin nuts, no partner of any class. ISO 3506-2: a stainless nut of the
// same number or a higher one carries a stainless bolt. known is false for a
// marking or grade neither standard compares.
func NutMates(nut string, bolt Grade) (mates, thin, known bool) {
	nut = strings.ToUpper(strings.TrimSpace(nut))
	if nut == "04" || nut == "05" || nut == "025" || nut == "035" || nut == "040" {
		return false, true, true
	}
	if g, err := ParseGrade(nut); err == nil && g.Sort == "stainless" {
		return g.Tensile >= bolt.Tensile, false, true
	}
	n, err := strconv.Atoi(nut)
	if err != nil || n < 4 || n > 14 || bolt.Tensile == 0 {
		return false, false, false
	}
	if bolt.Sort == "property class" {
		first, _, _ := strings.Cut(bolt.Name, ".")
		least, _ := strconv.Atoi(first)
		return n >= least, false, true
	}
	return float64(n)*100 >= bolt.Tensile-1, false, true
}

// stainlessMark is "A2-70", with the dash or without.
var stainlessMark = compiled(`^([AC][1-5])-?(50|70|80)$`)

// headNumber is "7T".
var headNumber = compiled(`^(\d{1,2})T$`)
