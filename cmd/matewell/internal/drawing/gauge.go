package drawing

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"matewell/queries/gauge"
)

// A gauge page is A4 upright; everything on it is in mm, at full size.
const (
	gaugeWide, gaugeHigh = 210, 297
	gaugeMargin          = 12.0
	gaugeTop             = 44.0 // below the head and the ruler
	gaugeLetter          = 2.9  // high: 8 points
	gaugeGap             = 3.0
	titleHigh            = 7.0 // of a section, above its first row
)

// gaugeCell is one thing drawn, with its room on the page.
type gaugeCell struct {
	title      string // of a section, before its first cell; empty for the others
	wide, high float64
	draw       func(b *strings.Builder, x, y float64)
}

// gaugePage is the cells of one page, each at its place.
type gaugePage struct {
	cells []gaugeCell
	x, y  []float64
}

// Gauge draws the sizes of hardware at full size, one SVG a page; none where there is no
// size to draw.
func Gauge(s gauge.Sheet) []string {
	pages := gaugePages(s)
	var texts []string
	for i, p := range pages {
		texts = append(texts, p.text(i+1, len(pages)))
	}
	return texts
}

// gaugePages lays the sizes out, row by row and page by page.
func gaugePages(s gauge.Sheet) []gaugePage {
	cells := slices.Concat(boltCells(s), combCells(s), spannerCells(s), lengthCells(s), ringCells("Washers and seals",
		s.Rings),
		ringCells("Bearings", s.Bearings), centreCells(s), circleCells(s))
	var pages []gaugePage
	x, y, row := gaugeMargin, gaugeTop, 0.0
	for _, c := range cells {
		head := 0.0
		if c.title != "" {
			head = titleHigh
		}
		if c.title != "" || x+c.wide > gaugeWide-gaugeMargin {
			x, y, row = gaugeMargin, y+row+gaugeGap, 0
		}
		if len(pages) == 0 || y+head+c.high > gaugeHigh-gaugeMargin {
			pages = append(pages, gaugePage{})
			x, y, row = gaugeMargin, gaugeTop, 0
		}
		y += head
		p := &pages[len(pages)-1]
		p.cells, p.x, p.y = append(p.cells, c), append(p.x, x), append(p.y, y)
		x += c.wide + gaugeGap
		row = max(row, c.high)
	}
	return pages
}

// text is the page as an SVG whose user unit is a millimetre.
func (p gaugePage) text(page, of int) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%dmm" height="%dmm" viewBox="0 0 %d %d" `,
		gaugeWide, gaugeHigh, gaugeWide, gaugeHigh)
	fmt.Fprintf(&b, `font-family="Helvetica, Arial, sans-serif" font-size="%g" stroke-linecap="butt">`+"\n", gaugeLetter)
	fmt.Fprintf(&b, "<!-- %s -->\n", Mark)
	fmt.Fprintf(&b, "<title>Sizes of hardware at full size, page %d of %d</title>\n", page, of)
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="#ffffff"/>`+"\n", gaugeWide, gaugeHigh)
	write(&b, gaugeMargin, 14, "Sizes of hardware at full size", 5)
	write(&b, gaugeMargin, 20, fmt.Sprintf("Page %d of %d. Print at 100 %%, not \"fit to page\". Measure the ruler "+
		"first: if its 150 mm are not 150 mm, trust nothing here.", page, of), gaugeLetter)
	writeRuler(&b, gaugeMargin, 26)
	for i, c := range p.cells {
		if c.title != "" {
			write(&b, p.x[i], p.y[i]-titleHigh+4, c.title, 3.8)
		}
		c.draw(&b, p.x[i], p.y[i])
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func write(b *strings.Builder, x, y float64, text string, size float64) {
	fmt.Fprintf(b, `<text x="%.2f" y="%.2f" font-size="%g">%s</text>`+"\n", x, y, size, escape(text))
}

func line(b *strings.Builder, x1, y1, x2, y2, wide float64) {
	fmt.Fprintf(b, `<line x1="%.3f" y1="%.3f" x2="%.3f" y2="%.3f" stroke="#000" stroke-width="%g"/>`+"\n", x1, y1, x2, y2,
		wide)
}

func circle(b *strings.Builder, x, y, diameter float64) {
	fmt.Fprintf(b, `<circle cx="%.3f" cy="%.3f" r="%.3f" fill="none" stroke="#000" stroke-width="0.15"/>`+"\n", x, y,
		diameter/2)
}

// half draws the upper half of a circle.
func half(b *strings.Builder, x, y, diameter float64) {
	r := diameter / 2
	fmt.Fprintf(b, `<path d="M%.3f %.3f A%.3f %.3f 0 0 1 %.3f %.3f" fill="none" stroke="#000" stroke-width="0.15"/>`+"\n",
		x-r, y, r, r, x+r, y)
}

// writeRuler draws 150 mm, and how long a bank card is: 85.60 mm by ISO/IEC
// 7810, size ID-1 (value from memory).
func writeRuler(b *strings.Builder, x, y float64) {
	line(b, x, y, x+150, y, 0.2)
	for mm := 0; mm <= 150; mm++ {
		high := 2.0
		switch {
		case mm%10 == 0:
			high = 5
			write(b, x+float64(mm)-1, y+high+gaugeLetter, fmt.Sprint(mm), 2.4)
		case mm%5 == 0:
			high = 3.5
		}
		line(b, x+float64(mm), y, x+float64(mm), y+high, 0.15)
	}
	line(b, x, y+13, x+85.60, y+13, 0.2)
	line(b, x, y+11.5, x, y+14.5, 0.2)
	line(b, x+85.60, y+11.5, x+85.60, y+14.5, 0.2)
	write(b, x+88, y+14, "as long as a bank card (85.6 mm)", gaugeLetter)
}

// titled puts the title of a section before its first cell.
func titled(title string, cells []gaugeCell) []gaugeCell {
	if len(cells) > 0 {
		cells[0].title = title
	}
	return cells
}

// cellFor is a cell with a label of some lines below what is drawn.
func cellFor(wide, high float64, label []string, draw func(b *strings.Builder, x, y float64)) gaugeCell {
	letters := 0
	for _, l := range label {
		letters = max(letters, len([]rune(l)))
	}
	room := max(wide, float64(letters)*gaugeLetter*0.56)
	return gaugeCell{wide: room, high: high + float64(len(label))*(gaugeLetter+0.6) + 1, draw: func(b *strings.Builder, x,
		y float64) {
		draw(b, x+(room-wide)/2, y)
		for i, l := range label {
			write(b, x, y+high+1+float64(i+1)*(gaugeLetter+0.3), l, gaugeLetter)
		}
	}}
}

// boltCells are circles of the diameters: a bolt stood on its end covers its
// own.
func boltCells(s gauge.Sheet) []gaugeCell {
	var cells []gaugeCell
	last := 0.0
	for _, t := range s.Threads {
		if t.Nominal == last || t.Nominal > 60 {
			continue
		}
		last = t.Nominal
		name, _, _ := strings.Cut(t.Name, "x")
		cells = append(cells, cellFor(t.Nominal, t.Nominal, []string{cmp.Or(name, fmt.Sprintf("%g mm", t.Nominal))},
			func(b *strings.Builder, x, y float64) {
				circle(b, x+t.Nominal/2, y+t.Nominal/2, t.Nominal)
			}))
	}
	return titled("Diameter over the thread", cells)
}

// A comb is a row of thread grooves: the depth of an external metric thread is
// 0.61343 times its pitch (ISO 724: half of d - d3 there).
const (
	combLong   = 40.0
	grooveDeep = 0.61343
)

// combCells are the pitches: the threads of a bolt laid on its own comb stay in
// its teeth from end to end.
func combCells(s gauge.Sheet) []gaugeCell {
	on := map[float64][]string{}
	for _, t := range s.Threads {
		on[t.Pitch] = append(on[t.Pitch], t.Name)
	}
	var cells []gaugeCell
	for _, pitch := range slices.Sorted(maps.Keys(on)) {
		label := append([]string{fmt.Sprintf("pitch %.4g mm", pitch)}, wrapped(on[pitch], 26)...)
		cells = append(cells, cellFor(combLong, 3+grooveDeep*pitch, label, func(b *strings.Builder, x, y float64) {
			var path strings.Builder
			fmt.Fprintf(&path, "M%.3f %.3f", x, y+grooveDeep*pitch)
			for at := 0.0; at+pitch <= combLong+1e-9; at += pitch {
				fmt.Fprintf(&path, " L%.3f %.3f L%.3f %.3f", x+at+pitch/2, y, x+at+pitch, y+grooveDeep*pitch)
			}
			fmt.Fprintf(b, `<path d="%s" fill="none" stroke="#000" stroke-width="0.12"/>`+"\n", path.String())
		}))
	}
	return titled("Pitch: lay the thread along the teeth", cells)
}

// spannerCells are hexagons, flats upright on the left and right.
func spannerCells(s gauge.Sheet) []gaugeCell {
	var cells []gaugeCell
	for _, one := range s.Spanners {
		corner := one.AcrossFlats / math.Cos(math.Pi/6)
		if corner > 60 {
			continue
		}
		label := append([]string{fmt.Sprintf("%.4g mm", one.AcrossFlats)}, wrapped(one.On, 16)...)
		cells = append(cells, cellFor(one.AcrossFlats, corner, label, func(b *strings.Builder, x, y float64) {
			var points []string
			for i := range 6 {
				angle := math.Pi/6 + float64(i)*math.Pi/3
				points = append(points, fmt.Sprintf("%.3f,%.3f", x+one.AcrossFlats/2+corner/2*math.Cos(angle),
					y+corner/2+corner/2*math.Sin(angle)))
			}
			fmt.Fprintf(b, `<polygon points="%s" fill="none" stroke="#000" stroke-width="0.15"/>`+"\n", strings.Join(points,
				" "))
		}))
	}
	return titled("Across flats: head or nut, face down", cells)
}

// lengthCells are one line a thread with a mark at each length of its bolts.
func lengthCells(s gauge.Sheet) []gaugeCell {
	var cells []gaugeCell
	for _, t := range s.Threads {
		if lengths := slices.DeleteFunc(slices.Clone(t.Lengths), func(l float64) bool { return l > 160 }); len(lengths) > 0 {
			cells = append(cells, markLine(t.Name, lengths))
		}
	}
	return titled("Length under the head: head against the thick line", cells)
}

// markLine is a line across the page with a mark at each distance from its thick
// end; distances in rising order.
func markLine(name string, at []float64) gaugeCell {
	return gaugeCell{wide: gaugeWide - 2*gaugeMargin, high: 9.5, draw: func(b *strings.Builder, x, y float64) {
		write(b, x, y+5, name, gaugeLetter)
		from := x + 24
		line(b, from, y, from, y+6, 0.5)
		line(b, from, y+3, from+at[len(at)-1], y+3, 0.15)
		last := -10.0
		for i, l := range at {
			line(b, from+l, y+1, from+l, y+5, 0.15)
			if l-last >= 5 || i == len(at)-1 {
				write(b, from+l-1.5, y+8.4, fmt.Sprintf("%.4g", l), 2.4)
				last = l
			}
		}
	}}
}

// halfFrom is the diameter from which a ring is drawn as its upper half.
const halfFrom = 26.0

// ringCells are rings, face down; of large ones the upper half.
func ringCells(title string, rings []gauge.Ring) []gaugeCell {
	var cells []gaugeCell
	for _, r := range rings {
		if r.Outside > 90 {
			continue
		}
		label := append([]string{fmt.Sprintf("%.4g x %.4g", r.Inside, r.Outside)}, wrapped(r.Names, 18)...)
		if r.Outside < halfFrom {
			cells = append(cells, cellFor(r.Outside, r.Outside, label, func(b *strings.Builder, x, y float64) {
				circle(b, x+r.Outside/2, y+r.Outside/2, r.Outside)
				circle(b, x+r.Outside/2, y+r.Outside/2, r.Inside)
			}))
			continue
		}
		cells = append(cells, cellFor(r.Outside, r.Outside/2, label, func(b *strings.Builder, x, y float64) {
			half(b, x+r.Outside/2, y+r.Outside/2, r.Outside)
			half(b, x+r.Outside/2, y+r.Outside/2, r.Inside)
			line(b, x, y+r.Outside/2, x+r.Outside, y+r.Outside/2, 0.1)
		}))
	}
	return titled(title, cells)
}

// centreCells are one line with a mark for each distance of two holes.
func centreCells(s gauge.Sheet) []gaugeCell {
	var at []float64
	for _, c := range s.Circles {
		if c.Count == 2 && c.Spacing <= 160 && !slices.Contains(at, c.Spacing) {
			at = append(at, c.Spacing)
		}
	}
	if len(at) == 0 {
		return nil
	}
	return titled("Two holes: centre of the first on the thick line", []gaugeCell{markLine("", at)})
}

// circleCells are hole circles as quarter arcs about one centre, each with how
// many holes lie on it.
func circleCells(s gauge.Sheet) []gaugeCell {
	counts := map[float64][]string{}
	for _, c := range s.Circles {
		if word := fmt.Sprint(c.Count); c.Count > 2 && c.Spacing <= 240 && !slices.Contains(counts[c.Spacing], word) {
			counts[c.Spacing] = append(counts[c.Spacing], word)
		}
	}
	if len(counts) == 0 {
		return nil
	}
	sizes := slices.Sorted(maps.Keys(counts))
	radius := sizes[len(sizes)-1] / 2
	return titled("Hole circles: centre in the corner", []gaugeCell{{wide: radius + 60, high: radius + 4,
		draw: func(b *strings.Builder, x, y float64) {
			line(b, x, y+radius, x+radius, y+radius, 0.15)
			line(b, x, y, x, y+radius, 0.15)
			last := -10.0
			for _, size := range slices.Backward(sizes) {
				r := size / 2
				fmt.Fprintf(b, `<path d="M%.3f %.3f A%.3f %.3f 0 0 1 %.3f %.3f" fill="none" stroke="#000" stroke-width="0.15"/>`+"\n",
					x, y+radius-r, r, r, x+r, y+radius)
				at := max(y+gaugeLetter, last+gaugeLetter+0.4, y+radius-r)
				line(b, x, y+radius-r, x+radius+14, at-1, 0.05)
				write(b, x+radius+15, at, fmt.Sprintf("%s holes on %.4g mm", strings.Join(counts[size], " or "), size), gaugeLetter)
				last = at
			}
		}}})
}

// wrapped joins words into lines of so many letters at most; at most three, the
// rest is counted.
func wrapped(words []string, most int) []string {
	var lines []string
	for i, w := range words {
		switch {
		case len(lines) > 0 && len(lines[len(lines)-1])+2+len(w) <= most:
			lines[len(lines)-1] += ", " + w
		case len(lines) == 3:
			return append(lines[:2], fmt.Sprintf("and %d more", len(words)-i+strings.Count(lines[2], ",")+1))
		default:
			lines = append(lines, w)
		}
	}
	return lines
}
