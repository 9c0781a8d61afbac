package drawing

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
	if b.lapsed {
		return style{fill: "#f2f2f2", edge: "#666666", width: 1, dash: "1 3", mark: "-", round: 2}
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

// The page: A4 upright with a margin, in CSS pixels; a page that is not full is not so
// high. The lanes fill its width, whatever is drawn.
const (
	pageWide, pageMost = 794, 1123
	pageMargin         = 28
	headHigh           = 66
	headLetters        = 155 // in a line of the head
	legendHigh         = 40
	pageScale          = float64(pageWide-2*pageMargin) / lanesWide
)

// letterHigh is the size of the letters before they are scaled, in CSS pixels of
// 1/96 in; legible is the least scale at which they can be read on paper: 6
// points, which are 8 pixels. Common practice, no source.
const (
	letterHigh = 10.5
	legible    = 8 / letterHigh
)

// roomHigh is how much of a page the lanes may take, before it is scaled.
func roomHigh() int {
	return (pageMost-2*pageMargin)*lanesWide/(pageWide-2*pageMargin) - headHigh - legendHigh
}

// writePicture writes one page of a sketch as an SVG.
func writePicture(w io.Writer, s *sketch, l laidPage, page, of int) error {
	high := int(float64(l.high+headHigh+legendHigh)*pageScale) + 2*pageMargin
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%dpx" height="%dpx" viewBox="0 0 %d %d" `, pageWide,
		high, pageWide, high)
	b.WriteString(`font-family="Helvetica, Arial, sans-serif" font-size="10.5">` + "\n")
	fmt.Fprintf(&b, "<!-- %s -->\n<title>%s</title>\n", Mark, escape(s.title))
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="#ffffff"/>`+"\n", pageWide, high)
	fmt.Fprintf(&b, `<g transform="translate(%d %d) scale(%.4f)">`+"\n", pageMargin, pageMargin, pageScale)
	writeHead(s, &b, page, of)
	fmt.Fprintf(&b, `<g transform="translate(0 %d)">`+"\n", headHigh)
	for _, link := range l.links {
		writeLink(&b, link)
	}
	for _, box := range l.boxes {
		writeBox(&b, box)
	}
	b.WriteString("</g>\n")
	writeLegend(&b, l.high+headHigh+16)
	b.WriteString("</g>\n</svg>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func writeHead(s *sketch, b *strings.Builder, page, of int) {
	title := s.title
	if of > 1 {
		title += fmt.Sprintf(", page %d of %d", page, of)
	}
	fmt.Fprintf(b, `<text x="0" y="16" font-size="16" font-weight="bold">%s</text>`+"\n", escape(title))
	words := s.verdict
	if s.before {
		words += " Boxes say how it stands before that is on."
	}
	if s.left > 0 {
		words += fmt.Sprintf(" %d more that fit are not drawn.", s.left)
	}
	for i, line := range broken(words, headLetters) {
		fmt.Fprintf(b, `<text x="0" y="%d">%s</text>`+"\n", 31+lineHigh*i, escape(line))
	}
}

func writeLink(b *strings.Builder, link []point) {
	fmt.Fprintf(b, `<polyline points="`)
	for i, p := range link {
		if i > 0 {
			b.WriteString(" ")
		}
		fmt.Fprintf(b, "%d,%d", p.x, p.y)
	}
	b.WriteString(`" fill="none" stroke="#000" stroke-width="1.2"/>` + "\n")
}

func writeBox(b *strings.Builder, box placedBox) {
	fmt.Fprintf(b, `<g transform="translate(%d %d)">`, box.x, box.y)
	writeShape(b, styleOf(box.sketchBox), box.wide, box.high)
	y := box.high/2 - (len(box.lines)-1)*lineHigh/2 + 4
	for i, line := range box.lines {
		weight := ""
		if i == 0 {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(b, `<text x="%d" y="%d" text-anchor="middle"%s>%s</text>`, box.wide/2, y+lineHigh*i, weight, escape(line))
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

// writeLegend explains the shapes of parts and verdicts.
func writeLegend(b *strings.Builder, y int) {
	x := 0
	for _, item := range []struct {
		box  sketchBox
		word string
	}{
		{sketchBox{part: true, changed: true}, "changed"}, {sketchBox{part: true}, "stays"}, {sketchBox{part: true,
			get: true}, "to get or make"},
		{sketchBox{verdict: graph.Fits}, "fits"}, {sketchBox{verdict: graph.FitsWithChanges}, "fits with changes"},
		{sketchBox{verdict: graph.Unknown}, "unknown"}, {sketchBox{verdict: graph.DoesNotFit}, "does not fit"},
		{sketchBox{lapsed: true}, "holds no longer"},
	} {
		st := styleOf(item.box)
		st.cut, st.round = min(st.cut, 5), min(st.round, 9)
		fmt.Fprintf(b, `<g transform="translate(%d %d)">`, x, y)
		writeShape(b, st, 26, 18)
		if st.mark != "" {
			fmt.Fprintf(b, `<text x="13" y="13" text-anchor="middle" font-weight="bold">%s</text>`, st.mark)
		}
		fmt.Fprintf(b, `<text x="32" y="13">%s</text></g>`+"\n", item.word)
		x += 32 + 6*len(item.word) + 16
	}
}

func escape(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a strings.Builder never fails
	return b.String()
}
