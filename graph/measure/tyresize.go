package measure

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// tyreForms are the forms of a size on a tyre, without blanks, in capitals: by
// millimetres (120/70ZR17), by inches (3.25S18, 4.60/4.25-18), by letters
// (MT90B16). Behind the rim stand load, speed and other marks.
var tyreForms = sync.OnceValue(func() []*regexp.Regexp {
	const build, rim = `(?P<within>[A-Z]?)[RB]?[-X]?`, `(?P<rim>\d{2}(?:\.5)?)`
	const marks = `(?:M/C)?(?:\(?(?P<load>\d{2,3})?(?P<speed>` + speedSymbols + `)\)?)?(?:M/C|TL|TT|REINF(?:ORCED)?|RF|` +
		`\d{1,2}PR|M\+S|MST|NHS|\*)*$`
	return []*regexp.Regexp{
		regexp.MustCompile(`^(?P<width>\d{2,3})/(?P<aspect>\d{2,3})` + build + rim + marks),
		regexp.MustCompile(`^(?P<inches>\d{1,2}(?:\.\d{1,2}|-?[1357]/[248]))(?:/\d{1,2}\.\d{1,2})?` + build + rim + marks),
		regexp.MustCompile(`^M[A-Z]\d{2}` + build + rim + marks),
	}
})

// tyreLimits are beyond what any motorcycle tyre has: width in mm or inches,
// height in percent of the width, rim in inches. Common practice, no source.
var tyreLimits = map[string][2]float64{"width": {40, 400}, "inches": {1.5, 16}, "aspect": {20, 110}, "rim": {4, 30}}

// speedSymbols are the letters that stand for a speed on a tyre of a motorcycle. Source:
// UN R75; B to E, of mopeds, from memory.
const speedSymbols = `[B-HJ-NP-WYZ]`

// CheckSpeedSymbol says why a text is no speed symbol, as "H" or "(W)"; nil when it is one.
func CheckSpeedSymbol(text string) error {
	if !speedForm().MatchString(strings.ToUpper(strings.TrimSpace(text))) {
		return fmt.Errorf("%q is no speed symbol: one is a letter as P, H or (W)", text)
	}
	return nil
}

var speedForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:` + speedSymbols + `|\(` + speedSymbols + `\))$`)
})

// TyreMarks are the load index and the speed symbol that a size carries: 57 and H of
// "100/90-19 57H", 0 and H of "3.25 H 18". Zero and empty where it carries none, or is no
// size. Source of the marks: UN R75.
func TyreMarks(text string) (load int, speed string) {
	tight := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	for _, form := range tyreForms() {
		m := form.FindStringSubmatch(tight)
		if m == nil {
			continue
		}
		load, _ = strconv.Atoi(m[form.SubexpIndex("load")])
		speed = m[form.SubexpIndex("speed")]
		// Z alone, before the rim, only says more than 240 km/h; R and B there are how it is built
		if within := m[form.SubexpIndex("within")]; speed == "" && within != "Z" && within != "R" && within != "B" {
			speed = within
		}
		return load, speed
	}
	return 0, ""
}

// CheckTyreSize says why a text is no tyre size; nil when it is one, as a wall
// carries it: "120/70 ZR 17 M/C (58W)", "3.25-18", "MT90B16". It says nothing
// about whether anybody makes that size. Source of the forms: UN R75, ISO 5751,
// ISO 4249 for inches; letters are trade practice.
func CheckTyreSize(text string) error {
	tight := strings.ToUpper(strings.Join(strings.Fields(text), ""))
	for _, form := range tyreForms() {
		m := form.FindStringSubmatch(tight)
		if m == nil {
			continue
		}
		for i, name := range form.SubexpNames() {
			limits, limited := tyreLimits[name]
			n, err := strconv.ParseFloat(m[i], 64)
			if limited && err == nil && (n < limits[0] || n > limits[1]) {
				return fmt.Errorf("tyre size %q: no motorcycle tyre has %s %s", text, tyreWords[name], m[i])
			}
		}
		return nil
	}
	return fmt.Errorf("%q is no tyre size: one is like 120/70 ZR 17, 3.25-18 or MT90B16", text)
}

// TyreRadius is the design radius in mm of a size written in millimetres, half the rim
// and the height of one wall: 120/70 ZR 17 gives 299.9. False for sizes in inches and
// letters, of which tables tell it. Source: UN R75, 2.21.
func TyreRadius(text string) (float64, bool) {
	const mmPerInch = 25.4
	m := tyreForms()[0].FindStringSubmatch(strings.ToUpper(strings.Join(strings.Fields(text), "")))
	if m == nil || CheckTyreSize(text) != nil {
		return 0, false
	}
	size := map[string]float64{}
	for i, name := range tyreForms()[0].SubexpNames() {
		if v, err := strconv.ParseFloat(m[i], 64); err == nil {
			size[name] = v
		}
	}
	return size["rim"]*mmPerInch/2 + size["width"]*size["aspect"]/100, true
}

var tyreWords = map[string]string{"width": "the width", "inches": "the width in inches", "aspect": "the height in " +
	"percent", "rim": "the rim of"}
