package trade

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Tyre is a tyre size with an aspect ratio. The zero Tyre is none.
type Tyre struct {
	Width    float64 // nominal section width, mm
	Aspect   float64 // section height in percent of the width
	Rim      float64 // nominal rim diameter, inches
	Category string  // speed letter inside the size, "Z" of "ZR"; may be empty
	Build    string  // "radial", "bias-belted" or "diagonal"
	Load     int     // load index; 0 when the text has none
	Speed    string  // speed symbol; empty when the text has none
}

// NoAspectError refuses an inch size without an aspect ratio ("3.00-18"): its
// height is each tyre's own and must be measured or read from its maker.
type NoAspectError struct{ Text string }

// Error says what to do instead.
func (e *NoAspectError) Error() string {
	return fmt.Sprintf("tyre size %q has no aspect ratio, so its diameter can't be worked out: measure the tyre, "+
		"fitted and blown up", e.Text)
}

// The forms of a size, after blanks between its parts are taken out.
const (
	letterForm = `^(M[A-Z])(\d{2})([A-Z]?)(-|R|B|)(\d{2})(.*)$`
	metricForm = `^(\d{2,3})/(\d{2,3})([A-Z]?)(-|R|B|)(\d{2})(.*)$`
	inchForm   = `^\d{1,2}\.\d{1,2}(/\d{1,2}\.\d{1,2})?[A-Z]{0,2}-?\d{2}`
	marksForm  = `^(?:M/C)?(?:\((\d{2,3})([A-Z])\)|(\d{2,3})([A-Z]))?(?:M/C)?(?:TL|TT)?$`
)

// ParseTyre reads a size as a wall carries it: "120/70-17", "120/70 ZR 17",
// "180/55ZR17 M/C (73W)".
//
// Source of the form: UN R75, ISO 5751. A letter before R, B or the dash is the
// speed category; no letter at all means diagonal. A letter size ("MT90-16")
// is read as the metric one that stands for it, where tyre size tables say which
// (letterSizes). Refuses inch sizes without an aspect ratio by a
// *NoAspectError, other letter sizes, and numbers no motorcycle tyre has: width
// 40 to 400 mm, aspect 25 to 100, rim 4 to 26 in.
func ParseTyre(text string) (Tyre, error) {
	tight := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	if inchSize().MatchString(tight) {
		return Tyre{}, &NoAspectError{text}
	}
	tight, err := lettersRead(tight)
	if err != nil {
		return Tyre{}, err
	}
	m := metricSize().FindStringSubmatch(tight)
	if m == nil {
		return Tyre{}, fmt.Errorf("tyre size %q is not like 120/70-17 or 120/70 ZR 17", text)
	}
	t := Tyre{Category: m[3]}
	t.Width, t.Aspect, t.Rim = number(m[1]), number(m[2]), number(m[5])
	build := m[4]
	if build == "" && (t.Category == "R" || t.Category == "B") {
		build, t.Category = t.Category, ""
	}
	t.Build = map[string]string{"R": "radial", "B": "bias-belted", "-": "diagonal", "": "diagonal"}[build]
	marks := tyreMarks().FindStringSubmatch(m[6])
	if marks == nil {
		return Tyre{}, fmt.Errorf("tyre size %q: %q behind the rim is neither M/C, a load index with a speed symbol, TL "+
			"nor TT", text, m[6])
	}
	t.Load, t.Speed = int(number(marks[1]+marks[3])), marks[2]+marks[4]
	return t, t.check()
}

// letterSizes are the metric sizes that letter sizes stand for: "MT90" is
// 130/90. Source: tyre size tables on public pages, MT90 on two of them, the
// others on one.
func letterSizes() map[string]string {
	return map[string]string{"MH90": "80/90", "MM90": "100/90", "MR90": "120/90", "MT90": "130/90"}
}

// lettersRead puts the metric size in the place of a letter size; any other
// text stays as it is.
func lettersRead(tight string) (string, error) {
	m := letterSize().FindStringSubmatch(tight)
	if m == nil {
		return tight, nil
	}
	metric, ok := letterSizes()[m[1]+m[2]]
	if !ok {
		return "", fmt.Errorf("letter size %q is in no table here: measure the tyre, fitted and blown up", m[1]+m[2])
	}
	build := m[4]
	if build == "" && m[3] == "" {
		build = "-"
	}
	return metric + m[3] + build + m[5] + m[6], nil
}

// number reads digits the form has already let through; none at all is 0.
func number(digits string) float64 {
	n, _ := strconv.Atoi(digits)
	return float64(n)
}

func (t Tyre) check() error {
	for _, err := range []error{
		between("tyre width", t.Width, 40, 400, "mm"),
		between("aspect ratio", t.Aspect, 25, 100, "%"),
		between("rim diameter", t.Rim, 4, 26, "in"),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// Diameter is the outside diameter of the tyre, new and unloaded.
//
//	D = 25.4 rim + 2 width aspect / 100
//
// In mm. Source: UN R75, ISO 5751 (design dimensions). A real tyre may differ
// by a few mm and squats under load. Refuses what ParseTyre refuses.
func (t Tyre) Diameter() (float64, error) {
	if err := t.check(); err != nil {
		return 0, err
	}
	return 25.4*t.Rim + 2*t.Width*t.Aspect/100, nil
}

// Circumference is pi times Diameter, in mm: the way of one turn without
// squat. Compare circumferences worked out the same way; for the true way of
// one turn, roll the loaded machine and measure. Refuses what Diameter does.
func (t Tyre) Circumference() (float64, error) {
	d, err := t.Diameter()
	if err != nil {
		return 0, err
	}
	return math.Pi * d, nil
}

// inchSize and the others are the forms of a size, each made when first read by.
var inchSize = compiled(inchForm)

// metricSize is width, aspect, build and rim.
var metricSize = compiled(metricForm)

// tyreMarks are what stands behind the rim.
var tyreMarks = compiled(marksForm)

// letterSize is "MT90-16".
var letterSize = compiled(letterForm)
