package main

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"matewell/graph"
)

// style is how a verdict is drawn. Each differs in shape, edge and word, so
// that the picture reads in grey and by those who tell no colours apart.
type style struct {
	fill, edge string
	width      float64
	dash       string
	mark       string // in front of the word
	cut        int    // how far the corners are cut off
	round      int    // how far they are rounded
}

func styleOf(b sketchBox) style {
	switch {
	case b.part && b.changed:
		return style{fill: "#ffffff", edge: "#000000", width: 3.2}
	case b.part && b.get:
		return style{fill: "#ffffff", edge: "#000000", width: 1.6, dash: "7 3"}
	case b.part:
		return style{fill: "#ffffff", edge: "#444444", width: 1}
	}
	switch b.verdict {
	case graph.Fits:
		return style{fill: "#e2f2e4", edge: "#2d7d3a", width: 1, mark: "=", round: 24}
	case graph.FitsWithChanges:
		return style{fill: "#dcebf7", edge: "#1f5f99", width: 1.4, mark: "~", round: 8}
	case graph.Unknown:
		return style{fill: "#fff0c4", edge: "#8a6100", width: 1.8, dash: "3 3", mark: "?", round: 8}
	}
	return style{fill: "#f8d2cc", edge: "#a01c10", width: 2.6, mark: "x", cut: 12}
}

// The page: A4 with a margin, in CSS pixels; whichever way up the picture fits
// better.
const (
	pageLong, pageShort = 1123, 794
	pageMargin          = 28
	headHigh            = 64
	legendHigh          = 70  // two rows
	legendWide          = 460 // the wider of the rows
	legendLevel         = 800 // both rows in one
)

// letterHigh is the size of the letters before they are scaled, in CSS pixels of
// 1/96 in; legible is the least scale at which they can be read on paper: 6
// points, which are 8 pixels. Common practice, no source.
const (
	letterHigh = 10.5
	legible    = 8 / letterHigh
)

// sheet is the way up an A4 page lies, and how much a picture is scaled to it.
type sheet struct {
	wide, high int
	scale      float64
}

// sheet is the way up that leaves the letters bigger.
func (l laidOut) sheet() sheet {
	across, upright := l.sheetOf(pageLong, pageShort), l.sheetOf(pageShort, pageLong)
	if upright.scale > across.scale {
		return upright
	}
	return across
}

func (l laidOut) sheetOf(wide, high int) sheet {
	return sheet{wide, high, min(1.3, float64(wide-2*pageMargin)/float64(max(l.wide, legendWide)),
		float64(high-2*pageMargin)/float64(l.high+headHigh+legendHigh))}
}

// How much text a box holds.
const (
	headLetters = 27 // bold
	bodyLetters = 29
	mostLines   = 3
)

// writePicture writes a sketch as an SVG of the size of an A4 page.
func writePicture(w io.Writer, s *sketch, l laidOut) error {
	page := l.sheet()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%dpx" height="%dpx" viewBox="0 0 %d %d" `,
		page.wide, page.high, page.wide, page.high)
	b.WriteString(`font-family="Helvetica, Arial, sans-serif" font-size="10.5">` + "\n")
	fmt.Fprintf(&b, "<!-- %s -->\n<title>%s</title>\n", ownMark, escape(s.title))
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="#ffffff"/>`+"\n", page.wide, page.high)
	fmt.Fprintf(&b, `<g transform="translate(%d %d) scale(%.4f)">`+"\n", pageMargin, pageMargin, page.scale)
	s.writeHead(&b)
	fmt.Fprintf(&b, `<g transform="translate(0 %d)">`+"\n", headHigh)
	for i, path := range l.paths {
		writeLine(&b, s, s.lines[i], path, l)
	}
	for i, box := range s.boxes {
		writeBox(&b, box, l.at[i])
	}
	b.WriteString("</g>\n")
	writeLegend(&b, l.high+headHigh+16, max(l.wide, legendWide))
	b.WriteString("</g>\n</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (s *sketch) writeHead(b *strings.Builder) {
	fmt.Fprintf(b, `<text x="0" y="16" font-size="16" font-weight="bold">%s</text>`+"\n", escape(s.title))
	words := "In all: " + s.verdict
	if s.left > 0 {
		words += fmt.Sprintf(" %d more that fit are not drawn.", s.left)
	}
	fmt.Fprintf(b, `<text x="0" y="36">%s</text>`+"\n", escape(words))
}

// route is the way of a line from the right edge of one box to the left edge of
// another. Past a column it runs level, in the room the layout kept for it there,
// and it bends only between columns, so that it runs behind no box.
func (l laidOut) route(line [2]int, path []point) []point {
	from, to := l.at[line[0]], l.at[line[1]]
	points := []point{{from.x + boxWide, from.y + boxHigh/2}}
	if len(path) > 2 {
		for _, p := range path[1 : len(path)-1] {
			points = append(points, point{p.x - boxWide/2, p.y}, point{p.x + boxWide/2, p.y})
		}
	}
	return append(points, point{to.x, to.y + boxHigh/2})
}

// writeLine draws a line between two boxes.
func writeLine(b *strings.Builder, s *sketch, line [2]int, path []point, l laidOut) {
	points := l.route(line, path)
	st := styleOf(s.boxes[line[1]])
	if s.boxes[line[1]].part {
		st = styleOf(s.boxes[line[0]])
	}
	fmt.Fprintf(b, `<path d="M%d %d`, points[0].x, points[0].y)
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		mid := (p.x + q.x) / 2
		fmt.Fprintf(b, " C%d %d %d %d %d %d", mid, p.y, mid, q.y, q.x, q.y)
	}
	fmt.Fprintf(b, `" fill="none" stroke="%s" stroke-width="%.1f"`, st.edge, min(st.width, 2))
	if st.dash != "" {
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, st.dash)
	}
	b.WriteString("/>\n")
}

func writeBox(b *strings.Builder, box sketchBox, at point) {
	st := styleOf(box)
	fmt.Fprintf(b, `<g transform="translate(%d %d)">`, at.x, at.y)
	writeShape(b, st, boxWide, boxHigh)
	head := box.head
	if st.mark != "" {
		head = st.mark + " " + head
	}
	if box.more > 0 {
		head += fmt.Sprintf(" (worst of %d)", box.more+1)
	}
	lines := fitLines(head, headLetters, 1)
	for i, text := range box.text {
		room := mostLines - len(lines) - (len(box.text) - 1 - i)
		lines = append(lines, fitLines(text, bodyLetters, max(1, room))...)
	}
	lines = lines[:min(len(lines), mostLines)]
	y := boxHigh/2 - (len(lines)-1)*13/2 + 4
	for i, line := range lines {
		weight := ""
		if i == 0 {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(b, `<text x="%d" y="%d" text-anchor="middle"%s>%s</text>`, boxWide/2, y+13*i, weight, escape(line))
	}
	b.WriteString("</g>\n")
}

// writeShape draws the outline: rounded, or with its corners cut off.
func writeShape(b *strings.Builder, st style, wide, high int) {
	look := fmt.Sprintf(`fill="%s" stroke="%s" stroke-width="%.1f"`, st.fill, st.edge, st.width)
	if st.dash != "" {
		look += fmt.Sprintf(` stroke-dasharray="%s"`, st.dash)
	}
	if st.cut == 0 {
		fmt.Fprintf(b, `<rect width="%d" height="%d" rx="%d" %s/>`, wide, high, st.round, look)
		return
	}
	c := st.cut
	fmt.Fprintf(b, `<polygon points="%d,0 %d,0 %d,%d %d,%d %d,%d %d,%d 0,%d 0,%d" %s/>`,
		c, wide-c, wide, c, wide, high-c, wide-c, high, c, high, high-c, c, look)
}

// writeLegend explains the shapes: parts and verdicts in a row, or in one each
// where there is no room for that.
func writeLegend(b *strings.Builder, y, wide int) {
	x, broken := 0, false
	for _, item := range []struct {
		box  sketchBox
		word string
	}{
		{sketchBox{part: true, changed: true}, "changed"}, {sketchBox{part: true}, "stays"}, {sketchBox{part: true, get: true}, "to get or make"},
		{sketchBox{verdict: graph.Fits}, "fits"}, {sketchBox{verdict: graph.FitsWithChanges}, "fits with changes"},
		{sketchBox{verdict: graph.Unknown}, "unknown"}, {sketchBox{verdict: graph.DoesNotFit}, "does not fit"},
	} {
		st := styleOf(item.box)
		st.cut, st.round = min(st.cut, 5), min(st.round, 9)
		word := item.word
		if !item.box.part && wide < legendLevel && x > 0 && !broken {
			x, y, broken = 0, y+24, true
		}
		fmt.Fprintf(b, `<g transform="translate(%d %d)">`, x, y)
		writeShape(b, st, 26, 18)
		if st.mark != "" {
			fmt.Fprintf(b, `<text x="13" y="13" text-anchor="middle" font-weight="bold">%s</text>`, st.mark)
		}
		fmt.Fprintf(b, `<text x="32" y="13">%s</text></g>`+"\n", word)
		x += 32 + 7*len(word) + 18
	}
}

// fitLines breaks a text into lines of so many letters, the last one cut short.
func fitLines(text string, letters, most int) []string {
	lines := wrap(text, letters, "")
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] += " …"
	}
	for i, line := range lines {
		if r := []rune(line); len(r) > letters+2 {
			lines[i] = string(r[:letters]) + "…"
		}
	}
	return lines
}

func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(soft(text))) // a strings.Builder never fails
	return b.String()
}
