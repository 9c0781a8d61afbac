package mating

import "math"

// circlipSize is one row of DIN 471 (shafts) or DIN 472 (bores), mm.
type circlipSize struct{ nominal, thickness, groove float64 }

// Source: DIN 471 and DIN 472; the sizes of testdata/published/circlips.csv read
// in an open parts library, the others from memory.
var (
	shaftCirclips = [...]circlipSize{
		{8, 0.8, 7.6}, {9, 1, 8.6}, {10, 1, 9.6}, {11, 1, 10.5}, {12, 1, 11.5}, {13, 1, 12.4},
		{14, 1, 13.4}, {15, 1, 14.3}, {16, 1, 15.2}, {17, 1, 16.2}, {18, 1.2, 17}, {19, 1.2, 18},
		{20, 1.2, 19}, {21, 1.2, 20}, {22, 1.2, 21}, {24, 1.2, 22.9}, {25, 1.2, 23.9}, {26, 1.2, 24.9},
		{28, 1.5, 26.6}, {30, 1.5, 28.6}, {32, 1.5, 30.3}, {35, 1.5, 33}, {38, 1.75, 36}, {40, 1.75, 37.5},
		{42, 1.75, 39.5}, {45, 1.75, 42.5}, {48, 1.75, 45.5}, {50, 2, 47},
	}
	boreCirclips = [...]circlipSize{
		{8, 0.8, 8.4}, {9, 0.8, 9.4}, {10, 1, 10.4}, {11, 1, 11.4}, {12, 1, 12.5}, {13, 1, 13.6},
		{14, 1, 14.6}, {15, 1, 15.7}, {16, 1, 16.8}, {17, 1, 17.8}, {18, 1, 19}, {19, 1, 20},
		{20, 1, 21}, {21, 1, 22}, {22, 1, 23}, {24, 1.2, 25.2}, {25, 1.2, 26.2}, {26, 1.2, 27.2},
		{28, 1.2, 29.4}, {30, 1.2, 31.4}, {32, 1.2, 33.7}, {35, 1.5, 37}, {37, 1.5, 39}, {40, 1.75, 42.5},
		{42, 1.75, 44.5}, {45, 1.75, 47.5}, {47, 1.75, 49.5}, {50, 2, 53}, {52, 2, 55}, {55, 2, 58},
		{60, 2, 63}, {62, 2, 65},
	}
)

// ringRead is what a nominal diameter read with a vernier caliper may be off, in mm:
// nominal sizes of DIN 471 and DIN 472 are 1 mm apart and more. Common practice, no
// source.
const ringRead = 0.1

// circlipFor finds the standard ring for a shaft or bore.
func circlipFor(on string, nominal float64) (circlipSize, bool) {
	rows := shaftCirclips[:]
	if on == "bore" {
		rows = boreCirclips[:]
	}
	for _, r := range rows {
		if math.Abs(r.nominal-nominal) <= ringRead {
			return r, true
		}
	}
	return circlipSize{}, false
}

// grooveOff is how far the bottom of a groove may be off the standard one, in
// mm: it is read to 0.1 mm, and its tolerance (h11 to h12) reaches 0.25 mm.
// From memory.
const grooveOff = 0.3

// circlipInGroove judges a ring in its groove: for a shaft or a bore, of which
// size, and whether it goes in sideways.
func circlipInGroove(b *bench, m Meeting) {
	c := b.check("circlip")
	on, okOn := c.word(m.A, "on")
	wanted, okWanted := c.word(m.B, "on")
	size, okSize := c.length(m.A, "nominal")
	place, okPlace := c.length(m.B, "nominal")
	thick, okThick := c.length(m.A, "thickness")
	width, okWidth := c.length(m.B, "width")
	bottom, okBottom := c.length(m.B, "diameter")
	if okOn && okWanted && on != wanted {
		c.sizes(on, wanted, "")
		c.no("a ring for a %s in the groove of a %s", on, wanted)
		if okPlace {
			orderCirclip(c, m, place.nominal)
		}
		return
	}
	if okSize && okPlace {
		equalRing(c, m, size, place)
	}
	if okThick && okWidth {
		ringSideways(c, m, thick, width)
	}
	if okBottom && okSize && okOn {
		grooveBottom(c, m.B, on, size, bottom)
	}
}

func equalRing(c *check, m Meeting, size, place span) {
	diff := size.minus(place)
	c.sizes(mm(size.nominal), mm(place.nominal), "")
	switch where := diff.against(-ringRead, ringRead); {
	case where == inside || same(diff.nominal, 0):
		c.fits("a ring for %s beside a groove at %s", mm(size.nominal), mm(place.nominal))
	case where == astride:
		askTwo(c, m, "nominal", "nominal")
		c.unknown("at the limits of the sizes it may be a ring for another diameter")
	default:
		c.no("a ring for %s does not hold at %s", mm(size.nominal), mm(place.nominal))
		orderCirclip(c, m, place.nominal)
	}
}

// orderCirclip orders the standard ring for the place; nothing where the table has
// none.
func orderCirclip(c *check, m Meeting, place float64) {
	on, ok := c.word(m.B, "on")
	std, okStd := circlipFor(on, place)
	if !ok || !okStd {
		return
	}
	standard, where := "DIN 471", "for a "+mm(place)+" shaft"
	if on == "bore" {
		standard, where = "DIN 472", "for a "+mm(place)+" bore"
	}
	o := c.order("circlip", "circlip "+where+", "+standard, Field{"size", where}, Field{"standard", standard},
		Field{"thickness", mm(std.thickness)}, Field{"groove at the bottom", mm(std.groove)})
	makes(o, m.A, "nominal", mm(place))
	makes(o, m.A, "thickness", mm(std.thickness))
	makes(o, m.A, "on", on)
}

// ringSideways: a groove is 0.1 mm wider than its ring (DIN 471, DIN 472, from
// memory); up to 0.4 mm it is worn or made for a thicker one.
func ringSideways(c *check, m Meeting, thick, width span) {
	play := width.minus(thick)
	switch where := play.against(0, 0.4); {
	case where == inside || same(play.nominal, 0):
		c.fits("%s thick in a groove %s wide", mm(thick.nominal), mm(width.nominal))
	case where == astride:
		askTwo(c, m, "thickness", "width")
		c.unknown("at the limits of the sizes the ring may not go into the groove")
	case where == below:
		c.no("a ring %s thick does not go into a groove %s wide", mm(thick.nominal), mm(width.nominal))
	default:
		c.no("a ring %s thick rattles in a groove %s wide: it is made for a thicker one", mm(thick.nominal),
			mm(width.nominal))
	}
}

func grooveBottom(c *check, groove Side, on string, size, bottom span) {
	std, ok := circlipFor(on, size.nominal)
	if !ok {
		c.settle(Ask{Dim: "groove", What: "groove a ring for " + mm(size.nominal) + " wants",
			Where: "the ring maker's table", Gauge: "by eye", Accuracy: "book"})
		c.unknown("no standard ring for %s here to compare the groove with", mm(size.nominal))
		return
	}
	off := bottom.minus(exact(std.groove))
	switch where := off.against(-grooveOff, grooveOff); {
	case where == inside || same(off.nominal, 0):
		c.fits("the groove's bottom, %s, is that of the standard, %s", mm(bottom.nominal), mm(std.groove))
	case where == astride:
		c.settle(askFor(groove, "diameter"))
		c.unknown("at the limits of its size the groove may not be the standard one")
	default:
		c.no("the groove's bottom is %s, the ring wants %s", mm(bottom.nominal), mm(std.groove))
	}
}
