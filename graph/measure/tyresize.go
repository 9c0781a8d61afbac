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
	const build, rim, marks = `[A-Z]{0,2}[-X]?`, `(?P<rim>\d{2}(?:\.5)?)`, `(?:M/C|[A-Z(*].*|\d{2,3}[A-Z].*)?$`
	return []*regexp.Regexp{
		regexp.MustCompile(`^(?P<width>\d{2,3})/(?P<aspect>\d{2,3})` + build + rim + marks),
		regexp.MustCompile(`^(?P<inches>\d{1,2}(?:\.\d{1,2}|-?[1357]/[248]))(?:/\d{1,2}\.\d{1,2})?` + build + rim + marks),
		regexp.MustCompile(`^M[A-Z]\d{2}` + build + rim + marks),
	}
})

// tyreLimits are beyond what any motorcycle tyre has: width in mm or inches,
// height in percent of the width, rim in inches. Common practice, no source.
var tyreLimits = map[string][2]float64{"width": {40, 400}, "inches": {1.5, 16}, "aspect": {20, 110}, "rim": {4, 30}}

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
