package mating

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// rimBand is the rim width a tyre takes, as a share of its nominal width.
// Common practice, no source that could be read in full: the ends are drawn
// around a trade table of permitted rims (120 on 2.15 to 2.75 in, 130 on 2.50
// to 3.00, 140 on 2.75 to 3.50, 150 on 3.50 to 4.00) and around usual pairs
// (120/70 on 3.50, 180/55 on 5.50), from memory. Between band and doubt only
// the tyre maker's list decides.
type rimBand struct{ low, high float64 }

const rimDoubt = 0.10

func rimBandFor(aspect float64) rimBand {
	switch {
	case aspect >= 80:
		return rimBand{0.45, 0.72}
	case aspect > 60:
		return rimBand{0.60, 0.80}
	}
	return rimBand{0.68, 0.86}
}

// inchAspect is taken for an inch size that names no aspect ratio ("3.00-18").
// Common practice, no source: such tyres are about as high as they are wide.
const inchAspect = 100

// tyreOnRim judges diameter and width of the rim a tyre sits on.
func tyreOnRim(b *bench, m Meeting) {
	if m.A.PartKind == tubeKind {
		tubeOnRim(b, m)
		return
	}
	c := b.check("tyre on rim")
	size, okSize := c.phrase(m.A, "size")
	diameter, okDiameter := c.length(m.B, "diameter")
	width, okWidth := c.length(m.B, "width")
	if !okSize {
		return
	}
	rim, nominal, aspect, ok := tyreSize(strings.ToUpper(size))
	if !ok {
		c.unknown("tyre size %q can't be read: compare it with the rim by hand", strings.ToUpper(size))
		return
	}
	wantsTube(c, m, size)
	rimWantsTube(b, m, size)
	if okDiameter {
		if inch := diameter.nominal / 25.4; math.Abs(inch-rim) > rimStep/2 {
			c.sizes(plain(rim)+" in tyre", plain(math.Round(inch*4)/4)+" in rim", "")
			c.no("a %s in tyre does not sit on a %s in rim", plain(rim), plain(math.Round(inch*4)/4))
		} else {
			c.fits("%s in tyre on a %s in rim", plain(rim), plain(rim))
		}
	}
	if okWidth {
		rimWidth(c, size, width, nominal, aspect)
	}
}

// wantsTube asks about a tube in a tyre that is marked for one, where the tyre built in was not and the rim is no
// spoked one by itself. Source: UN R75, TT for tube type, from memory.
func wantsTube(c *check, m Meeting, size string) {
	if !hasMark(size, "TT") || m.B.PartKind == "wheel-rim" || !m.Tube.IsZero() {
		return
	}
	if was, known := asBuilt(m, "tyre"); known {
		if text, ok := c.peek(was, "size", measure.Word); ok && hasMark(text.Text, "TT") {
			return
		}
	}
	c.settle(lookAt(m.A, "size", "whether an inner tube of its size lies in it, and the wheel takes its valve"))
	c.unknown("it is marked TT: it holds no air without an inner tube, and nobody said that this wheel has one")
}

// rimWantsTube judges a rim by its type, where somebody recorded that: one of tube type has no
// safety hump, and often the holes of spokes, so that a tyre holds air on it with an inner tube
// alone, whatever is marked on the tyre. One that is tubeless takes a tube too. Common
// practice, no source.
func rimWantsTube(b *bench, m Meeting, size string) {
	if len(m.B.Feature.Dims["type"]) == 0 {
		return
	}
	c := b.check("tube on its rim")
	sort, ok := c.word(m.B, "type")
	marked := ""
	if hasMark(size, "TL") {
		marked = "; the tyre is marked TL, and its maker must allow a tube in it"
	}
	switch {
	case !ok:
	case sort != "tube type":
		c.fits("a tubeless rim")
	case !m.Tube.IsZero():
		c.fits("a rim of tube type, and an inner tube in it%s", marked)
	default:
		c.settle(lookAt(m.B, "type", "whether an inner tube of its size lies in it"))
		c.unknown("the rim is of tube type: no tyre holds air on it without an inner tube, and nobody said that it has one")
	}
}

func hasMark(size, mark string) bool {
	return slices.Contains(strings.Fields(strings.ToUpper(size)), mark)
}

// rimStep is how far nominal rim diameters are apart at least, in inches: common
// practice, no source (17, 17.5 and 18 exist). Less than half of it is a reading.
const rimStep = 0.5

// rimRead is how far a rim may be off a permitted width, in inches: what measuring
// it to 1 mm leaves. The reading is common practice, no source.
const rimRead = 1 / 25.4

// rimWidth judges the width between the flanges: by the table of permitted rims
// (trade.RimWidthsFor) where that has the size, and by the usual band. A row from
// memory decides nothing alone: it must agree with the band.
func rimWidth(c *check, size string, width span, nominal, aspect float64) {
	row, inTable := trade.RimWidthsFor(size)
	inch := width.nominal / 25.4
	permitted := inTable && inch >= row.Least-rimRead && inch <= row.Most+rimRead
	band := rimBandFor(aspect)
	share := width.times(1 / nominal)
	wanted := mmRange(math.Ceil(band.low*nominal), math.Floor(band.high*nominal))
	switch {
	case permitted && !row.FromMemory:
		c.fits("a rim %s wide is permitted for it, %s to %s in (%s)", mm(width.nominal), plain(row.Least), plain(row.Most),
			row.Source)
	case share.against(band.low, band.high) == inside && (permitted || !inTable):
		c.fits("a rim %s wide suits it, usual is %s", mm(width.nominal), wanted)
	case share.high < band.low-rimDoubt:
		c.Gap = mm(band.low*nominal - width.nominal)
		c.no("the rim, %s, is far too narrow for it: %s is usual", mm(width.nominal), wanted)
	case share.low > band.high+rimDoubt:
		c.Gap = mm(width.nominal - band.high*nominal)
		c.no("the rim, %s, is far too wide for it: %s is usual", mm(width.nominal), wanted)
	case inTable && !permitted && share.against(band.low, band.high) == inside:
		c.settle(rimList())
		c.unknown("a rim %s wide: %s to %s in are permitted by %s, %s is usual: only the tyre maker's list decides",
			mm(width.nominal), plain(row.Least), plain(row.Most), row.Source, wanted)
	default:
		c.settle(rimList())
		c.unknown("a rim %s wide is unusual for it, %s is usual: only the tyre maker's list decides", mm(width.nominal),
			wanted)
	}
}

// rimList is what settles an unusual rim.
func rimList() Ask {
	return Ask{Dim: "width", What: "rim widths the tyre's maker permits", Where: "the tyre maker's list",
		Gauge: graph.ByEye, Accuracy: "book"}
}

// tyreSize is rim diameter in inches, nominal width in mm and aspect ratio.
func tyreSize(text string) (rim, width, aspect float64, ok bool) {
	t, err := trade.ParseTyre(text)
	if err == nil {
		return t.Rim, t.Width, t.Aspect, true
	}
	var inch *trade.NoAspectError
	if !errors.As(err, &inch) {
		return 0, 0, 0, false
	}
	m := inchSize().FindStringSubmatch(text)
	if m == nil {
		return 0, 0, 0, false
	}
	inches, err1 := strconv.ParseFloat(m[1], 64)
	if to, err := strconv.ParseFloat(m[2], 64); err == nil { // a tube for several widths
		inches = (inches + to) / 2
	}
	rim, err2 := strconv.ParseFloat(m[3], 64)
	return rim, inches * 25.4, inchAspect, err1 == nil && err2 == nil
}

// inchSize is a size in inches, as 3.25-18, or of a tube as 2.75/3.00-18.
var inchSize = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*([0-9]+\.[0-9]+)(?:\s*/\s*([0-9]+\.[0-9]+))?[^0-9]*([0-9]{2})\b`)
})
