package trade

import (
	"strings"
)

var inchParts = compiled(`^(\d{1,2}\.\d{1,2})(?:/\d{1,2}\.\d{1,2})?(?:[A-Z]{0,2}-|[A-Z]{1,2}|-)(\d{2})`)

// RimWidths are the widths between the flanges that a tyre size may sit on, in
// inches.
type RimWidths struct {
	Standard, Least, Most float64
	// FromMemory is true when nothing was read that says so: such a row decides
	// nothing alone.
	FromMemory bool
	Source     string
}

// RimWidthsFor are the permitted rims of a tyre size; false when it is not in
// the table. The tyre maker's list comes first.
//
// Source: practice after ETRTO and ISO 5751: 120/90-18 read on one page that
// quotes a tyre maker, 3.00-18 on 1.60 likewise; all others from memory. The
// rim's diameter does not matter to the width, so 90/90-18 stands for 90/90-21.
func RimWidthsFor(size string) (RimWidths, bool) {
	const memory = "practice after ETRTO and ISO 5751, from memory"
	name := ""
	if t, err := ParseTyre(size); err == nil {
		name = amount(t.Width, "") + "/" + amount(t.Aspect, "")
	} else if w, _, ok := InchTyre(size); ok {
		name = w
	}
	for _, row := range []struct {
		names string
		RimWidths
	}{
		{"2.75", RimWidths{1.60, 1.40, 1.85, true, memory}},
		{"3.00", RimWidths{1.85, 1.60, 2.15, true, memory}},
		{"3.25", RimWidths{1.85, 1.85, 2.50, true, memory}},
		{"3.50", RimWidths{2.15, 1.85, 2.50, true, memory}},
		{"4.00", RimWidths{2.50, 2.15, 3.00, true, memory}},
		{"90/90", RimWidths{2.15, 1.85, 2.50, true, memory}},
		{"100/90", RimWidths{2.50, 2.15, 2.75, true, memory}},
		{"110/80", RimWidths{2.50, 2.15, 3.00, true, memory}},
		{"120/90", RimWidths{2.75, 2.15, 3.00, false, "one page that quotes a tyre maker"}},
		{"120/70", RimWidths{3.50, 3.00, 3.75, true, memory}},
		{"130/90", RimWidths{3.00, 2.50, 3.50, true, memory}},
		{"150/70", RimWidths{4.00, 3.50, 4.50, true, memory}},
		{"160/60", RimWidths{4.50, 4.00, 5.00, true, memory}},
		{"180/55", RimWidths{5.50, 5.50, 6.00, true, memory + "; other lists 5.00 to 6.00"}},
	} {
		if row.names == name {
			return row.RimWidths, true
		}
	}
	return RimWidths{}, false
}

// InchTyre reads an inch size without an aspect ratio: its width as written
// ("3.00") and its rim in inches. Its height is each tyre's own, so neither
// diameter nor trail can be worked out from it.
func InchTyre(text string) (width string, rim float64, ok bool) {
	m := inchParts().FindStringSubmatch(strings.ToUpper(strings.Join(strings.Fields(text), "")))
	if m == nil {
		return "", 0, false
	}
	return m[1], number(m[2]), true
}
