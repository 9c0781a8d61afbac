package drawing

import (
	"fmt"
	"math"
	"strings"

	"matewell/cmd/matewell/internal/wording"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/figure"
	"matewell/queries/mating"
)

// The figures of a change are drawn one below the other; a figure is as wide as the
// text of a sheet, in CSS pixels.
const (
	figureWide   = 700.0
	figureGap    = 28.0 // above a figure, for its title
	figureMargin = 16.0
)

// drawing is one figure with its height.
type drawing struct {
	title string
	high  float64
	body  string
}

// Figures draws the figures of a change below one another, as one SVG.
func Figures(f figure.Figures) string {
	var b strings.Builder
	writeFigures(&b, drawFigures(f))
	return b.String()
}

// drawFigures draws each figure of a change.
func drawFigures(f figure.Figures) []drawing {
	var all []drawing
	for _, p := range f.Panels {
		all = append(all, drawPanel(p))
	}
	for _, l := range f.Lines {
		all = append(all, drawLine(l))
	}
	for _, r := range f.Rows {
		all = append(all, drawRow(r))
	}
	return all
}

// writeFigures writes figures below one another as one SVG.
func writeFigures(b *strings.Builder, all []drawing) {
	high := figureMargin
	for _, d := range all {
		high += d.high + figureGap + figureMargin
	}
	wide := figureWide + 2*figureMargin
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0fpx" height="%.0fpx" viewBox="0 0 %.0f %.0f" `,
		wide, high, wide, high)
	b.WriteString(`font-family="Helvetica, Arial, sans-serif" font-size="11">` + "\n")
	fmt.Fprintf(b, "<!-- %s -->\n", Mark)
	fmt.Fprintf(b, `<rect width="%.0f" height="%.0f" fill="#ffffff"/>`+"\n", wide, high)
	y := figureMargin
	for _, d := range all {
		fmt.Fprintf(b, `<g transform="translate(%.0f %.1f)"><text x="0" y="14" font-size="13" font-weight="bold">%s</text>`+"\n", figureMargin, y, escape(d.title))
		fmt.Fprintf(b, `<g transform="translate(0 %.1f)">%s</g></g>`+"\n", figureGap, d.body)
		y += d.high + figureGap + figureMargin
	}
	b.WriteString("</svg>\n")
}

// label writes a text; anchor is start, middle or end.
func label(b *strings.Builder, x, y float64, anchor, text string) {
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="%s">%s</text>`+"\n", x, y, anchor, escape(text))
}

func stroke(b *strings.Builder, x1, y1, x2, y2, wide float64, dash string) {
	if dash != "" {
		dash = ` stroke-dasharray="` + dash + `"`
	}
	fmt.Fprintf(b, `<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#000" stroke-width="%g"%s/>`+"\n", x1, y1, x2,
		y2, wide, dash)
}

// panelScale is where the points of a figure lie on it.
type panelScale struct{ left, low, high, scale float64 }

// The room for the points of a panel, in CSS pixels: margins, height, and what is kept
// free on the right for words.
const (
	panelMargin = 46.0
	panelHigh   = 430.0
	panelWords  = 180.0
)

func scaleOf(all []mating.Overlay) panelScale {
	s := panelScale{left: math.Inf(1), low: math.Inf(1), high: math.Inf(-1)}
	right := math.Inf(-1)
	grow := func(points []measure.Point, dx, dy float64) {
		for _, p := range points {
			if p.Placed {
				s.left, right = min(s.left, p.X-dx), max(right, p.X-dx)
				s.low, s.high = min(s.low, p.Y-dy), max(s.high, p.Y-dy)
			}
		}
	}
	for _, o := range all {
		grow(o.A, o.Dx, o.Dy)
		grow(o.B, 0, 0)
	}
	if right < s.left {
		return panelScale{scale: 1} // no point is placed
	}
	s.scale = min((figureWide-2*panelMargin-panelWords)/max(right-s.left, 1), (panelHigh-2*panelMargin)/max(s.high-s.low,
		1), 4)
	return s
}

func (s panelScale) x(mm float64) float64 { return panelMargin + (mm-s.left)*s.scale }
func (s panelScale) y(mm float64) float64 { return panelMargin + (s.high-mm)*s.scale }

// drawPanel draws the points of the new part and of the old one over those of what
// carries them: what is there as rings, the new as crosses, the old as dots; a line
// leads from a cross to the ring that it misses, with how far.
func drawPanel(p figure.Panel) drawing {
	d := drawing{title: fmt.Sprintf("Points of %s on %s", p.At.Local(), p.On.Local())}
	s := scaleOf(overlays(p))
	var b strings.Builder
	for _, at := range p.New.B {
		if at.Placed {
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="8" fill="none" stroke="#000" stroke-width="1.4"/>`+"\n", s.x(at.X),
				s.y(at.Y))
			label(&b, s.x(at.X)+11, s.y(at.Y)-9, "start", at.Place+" "+holeWords(at.Hole.String(), at.Insert))
		}
	}
	if p.HasOld {
		for _, a := range p.Old.A {
			if a.Placed {
				fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="2.6" fill="#555"/>`+"\n", s.x(a.X-p.Old.Dx), s.y(a.Y-p.Old.Dy))
			}
		}
	}
	for i, a := range p.New.A {
		if a.Placed {
			drawCross(&b, s, p.New, i)
		}
	}
	d.high = s.y(s.low) + panelMargin
	label(&b, 0, d.high, "start", fmt.Sprintf("ring: %s, which stays; cross: %s, new; dot: %s, old", p.Carrier, p.Now,
		wording.OrNobody(p.Was)))
	label(&b, 0, d.high+15, "start", directions(p.New)+"; drawn to one scale")
	d.high += 20
	d.body = b.String()
	return d
}

// drawCross draws a point of the new part, and how far it misses what it meets.
func drawCross(b *strings.Builder, s panelScale, o mating.Overlay, i int) {
	a := o.A[i]
	x, y := s.x(a.X-o.Dx), s.y(a.Y-o.Dy)
	stroke(b, x-6, y-6, x+6, y+6, 2.2, "")
	stroke(b, x-6, y+6, x+6, y-6, 2.2, "")
	switch j := o.Of[i]; {
	case j < 0:
		label(b, x+11, y+12, "start", a.Place+": nothing opposite")
	case o.Off[i] != "" && o.B[j].Placed:
		ringX, ringY := s.x(o.B[j].X), s.y(o.B[j].Y)
		stroke(b, x, y, ringX, ringY, 1, "4 2")
		// Below the cross and the ring, whichever is lower: the ring has its words above.
		label(b, min(x, ringX), max(y, ringY)+22, "start", offWords(a.Place, o.Off[i]))
	}
}

func overlays(p figure.Panel) []mating.Overlay {
	if p.HasOld {
		return []mating.Overlay{p.New, p.Old}
	}
	return []mating.Overlay{p.New}
}

// holeWords is a hole with what is in it.
func holeWords(hole, insert string) string {
	return strings.TrimSpace(hole + " " + insert)
}

// offWords shortens how a point misses to what a label holds.
func offWords(place, off string) string {
	off, _, _ = strings.Cut(off, " than the ")
	return place + ": " + off
}

func directions(o mating.Overlay) string {
	if o.Right == "" {
		return "nobody said from where the points are seen"
	}
	return "to the right " + o.Right + ", up " + o.Up
}

// drawLine draws what the path needs at each lock as bars, and the line's length and
// what is wanted beyond the longest need as marks across them.
func drawLine(l figure.Line) drawing {
	d := drawing{title: fmt.Sprintf("%s against its path", l.At.Local())}
	const names, right = 190.0, 70.0
	longest, from := l.Now.Line, math.Inf(1)
	for _, n := range l.Now.Needs {
		longest = max(longest, n.High+l.Now.MostMore)
		from = min(from, n.Low)
	}
	if l.HasWas {
		longest = max(longest, l.Was.Line)
	}
	from = max(0, math.Floor((from-(longest-from)*0.5)/50)*50)
	x := func(mm float64) float64 { return names + (mm-from)/(longest-from)*(figureWide-names-right) }
	var b strings.Builder
	b.WriteString(hatchPattern)
	y := 14.0
	for _, n := range l.Now.Needs {
		label(&b, 0, y+11, "start", fmt.Sprintf("lock %s, fork %s", n.Lock, n.Fork))
		fmt.Fprintf(&b, `<rect x="%.1f" y="%.1f" width="%.1f" height="14" fill="#ddd" stroke="#000" stroke-width="0.8"/>`+"\n", x(from), y, x(n.Built)-x(from))
		text := fmt.Sprintf("%.0f", n.Built)
		if n.High > n.Built+0.5 {
			fmt.Fprintf(&b, `<rect x="%.1f" y="%.1f" width="%.1f" height="14" fill="url(#moved)" stroke="#000" stroke-width="0.8"/>`+"\n", x(n.Built), y, x(n.High)-x(n.Built))
			text = fmt.Sprintf("%.0f, up to %.0f", n.Built, n.High)
		}
		label(&b, x(from)+5, y+11, "start", text)
		y += 22
	}
	least, greatest := longestNeed(l.Now)+l.Now.LeastMore, longestNeed(l.Now)+l.Now.MostMore
	fmt.Fprintf(&b, `<rect x="%.1f" y="4" width="%.1f" height="%.1f" fill="none" stroke="#000" stroke-width="1" stroke-dasharray="2 2"/>`+"\n",
		x(least), x(greatest)-x(least), y-4)
	stroke(&b, x(l.Now.Line), 4, x(l.Now.Line), y, 2.6, "")
	label(&b, x(l.Now.Line)+4, y+12, anchorAt(x(l.Now.Line)), fmt.Sprintf("%s is %.0f mm", wording.OrNobody(l.NowPart),
		l.Now.Line))
	if l.HasWas && math.Abs(l.Was.Line-l.Now.Line) > 0.5 {
		stroke(&b, x(l.Was.Line), 4, x(l.Was.Line), y+14, 1.4, "5 3")
		label(&b, x(l.Was.Line)+4, y+26, anchorAt(x(l.Was.Line)),
			fmt.Sprintf("before: %s, %.0f mm", wording.OrNobody(l.WasPart), l.Was.Line))
	}
	words := fmt.Sprintf("mm; grey: path as built; dotted: %.0f to %.0f mm more than the longest, as wanted",
		l.Now.LeastMore, l.Now.MostMore)
	if from > 0 {
		words += fmt.Sprintf("; bars begin at %.0f mm", from)
	}
	if hasMoved(l.Now) {
		words += "; hatched: how far the moved ends may add"
	}
	label(&b, 0, y+44, "start", words)
	d.high, d.body = y+52, b.String()
	return d
}

// longestNeed is the greatest need, with what the moved ends may add.
func longestNeed(l mating.RunLengths) (longest float64) {
	for _, n := range l.Needs {
		longest = max(longest, n.High)
	}
	return longest
}

func hasMoved(l mating.RunLengths) bool {
	for _, n := range l.Needs {
		if n.High > n.Built+0.5 {
			return true
		}
	}
	return false
}

// anchorAt keeps a label that stands far right within the figure.
func anchorAt(x float64) string {
	if x > figureWide*0.62 {
		return "end"
	}
	return "start"
}

const hatchPattern = `<defs><pattern id="moved" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
	`<rect width="5" height="5" fill="#fff"/><line x1="0" y1="0" x2="0" y2="5" stroke="#000" stroke-width="1.2"/></pattern></defs>` + "\n"

// drawRow draws a row along an axle to scale, before above after, with its gap.
func drawRow(r figure.Row) drawing {
	d := drawing{title: fmt.Sprintf("Row %s, to scale", queries.LocalName(string(r.Stack)))}
	total := func(row []mating.RowWidth) (sum float64) {
		for _, w := range row {
			sum += w.Width
		}
		return sum
	}
	widest := max(r.NowGap, total(r.Now), r.ThenGap, total(r.Then))
	if r.HasWas {
		widest = max(widest, r.WasGap, total(r.Was))
	}
	scale := (figureWide - 90) / widest
	var b strings.Builder
	y := 0.0
	if r.HasWas {
		drawOneRow(&b, y, scale, "before", r.Was, r.WasGap)
		y += 96
	}
	drawOneRow(&b, y, scale, "after", r.Now, r.NowGap)
	y += 96
	if len(r.Then) > 0 {
		drawOneRow(&b, y, scale, "all got", r.Then, r.ThenGap)
		y += 96
	}
	d.high, d.body = y, b.String()
	return d
}

// drawOneRow draws the members as boxes between the two faces of the gap.
func drawOneRow(b *strings.Builder, y, scale float64, name string, row []mating.RowWidth, gap float64) {
	const left, high = 60.0, 30.0
	label(b, 0, y+26, "start", name)
	stroke(b, left, y, left, y+high+12, 2.6, "")
	stroke(b, left+gap*scale, y, left+gap*scale, y+high+12, 2.6, "")
	x, sum := left, 0.0
	for i, w := range row {
		wide := w.Width * scale
		fill := "#fff"
		if w.Centre {
			fill = "#ddd"
		}
		fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s" stroke="#000" stroke-width="1"/>`+"\n",
			x, y+6, wide, high, fill)
		text := fmt.Sprintf("%.4g", w.Width)
		if wide > 22 {
			fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" stroke="%s" stroke-width="5" paint-order="stroke">%s</text>`+"\n",
				x+wide/4, y+25, fill, text)
		}
		// What is too narrow for its words has them below, in turns of two lines.
		local := w.Position.Local()
		_, local, _ = strings.Cut(local, "/")
		label(b, x+wide/2, y+high+18+float64(i%2)*12, "middle", rowWords(local, text, wide))
		if w.Centre {
			middle := left + gap*scale/2
			stroke(b, middle, y-2, middle, y+high+10, 1, "6 2 1 2")
			own := x + wide/2 - w.Offset*scale
			stroke(b, own, y+6, own, y+6+high, 1.8, "")
		}
		x, sum = x+wide, sum+w.Width
	}
	words := fmt.Sprintf("row %.4g mm in a gap of %.4g mm", sum, gap)
	switch over := sum - gap; {
	case mating.RowFills(sum, gap):
		words += ": it fills it"
	case over > 0:
		words += fmt.Sprintf(": %.4g mm more than it", over)
	default:
		words += fmt.Sprintf(": %.4g mm short", -over)
	}
	label(b, left, y+high+44, "start", words)
}

// rowWords is the name of a member, with its width where that has no room in its box.
func rowWords(name, width string, wide float64) string {
	if wide > 22 {
		return name
	}
	return name + " " + width
}
