package drawing

import (
	"fmt"
	"strings"

	"matewell/cmd/matewell/internal/wording"
	"matewell/graph"
	"matewell/queries/differ"
)

// The sizes of a picture of the years, in CSS pixels.
const (
	yearsWide   = 794.0 // A4 upright
	yearsLeft   = 235.0 // of the first column
	yearsTop    = 96.0
	stripHigh   = 26.0
	stripsAPage = 36
	yearsBottom = 96.0 // for the legend
)

// Years draws the places of a model over its years, a strip each: a bar as long as
// the same part is used, and between two bars what kind of change it is and which way
// the parts may still be used.
func Years(s differ.Strips) []string {
	var pages []string
	for from := 0; from == 0 || from < len(s.Places); from += stripsAPage {
		places := s.Places[min(from, len(s.Places)):min(from+stripsAPage, len(s.Places))]
		pages = append(pages, yearPage(s, places, len(pages)+1, max(1, (len(s.Places)+stripsAPage-1)/stripsAPage)))
	}
	return pages
}

func yearPage(s differ.Strips, places []differ.Strip, page, of int) string {
	var b strings.Builder
	high := yearsTop + stripHigh*float64(len(places)) + yearsBottom
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0fpx" height="%.0fpx" viewBox="0 0 %.0f %.0f" `,
		yearsWide, high, yearsWide, high)
	b.WriteString(`font-family="Helvetica, Arial, sans-serif" font-size="9.5">` + "\n")
	fmt.Fprintf(&b, "<!-- %s -->\n", Mark)
	title := fmt.Sprintf("%s over the years, market %s", s.Model, s.Market)
	if of > 1 {
		title += fmt.Sprintf(", page %d of %d", page, of)
	}
	fmt.Fprintf(&b, "<title>%s</title>\n"+`<rect width="%.0f" height="%.0f" fill="#fff"/>`+"\n", escape(title), yearsWide,
		high)
	fmt.Fprintf(&b, `<text x="28" y="40" font-size="15" font-weight="bold">%s</text>`+"\n", escape(title))
	if len(places) == 0 {
		label(&b, 28, 64, "start", "The same parts in all years.")
	}
	column := (yearsWide - yearsLeft - 28) / float64(max(1, len(s.On)))
	for i, v := range s.On {
		x := yearsLeft + (float64(i)+0.5)*column
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="12" font-weight="bold">%d</text>`+"\n", x,
			yearsTop-22, v.Year)
		label(&b, x, yearsTop-10, "middle", v.Mark)
	}
	for i, p := range places {
		drawStrip(&b, p, yearsTop+stripHigh*float64(i), column)
	}
	yearLegend(&b, yearsTop+stripHigh*float64(len(places))+24)
	b.WriteString("</svg>\n")
	return b.String()
}

// drawStrip draws one place.
func drawStrip(b *strings.Builder, p differ.Strip, y, column float64) {
	stroke(b, 28, y, yearsWide-28, y, 0.4, "")
	label(b, 28, y+11, "start", wording.Shortened(p.Position, 40))
	if p.Safety != graph.SafetyNone {
		fmt.Fprintf(b, `<text x="28" y="%.1f" font-size="8.5" font-weight="bold">%s</text>`+"\n", y+21,
			escape(string(p.Safety)))
	}
	shaded := false
	for i := 0; i < len(p.Parts); {
		to := i + 1
		for to < len(p.Parts) && p.Parts[i] != "" && p.Parts[to] != "" && !isMarked(p.Steps[to-1]) {
			to++
		}
		if p.Parts[i] != "" {
			x, wide, fill := yearsLeft+float64(i)*column, float64(to-i)*column, "#fff"
			if shaded { // neighbours are told apart
				fill = "#ddd"
			}
			fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="%.1f" height="17" rx="3" fill="%s" stroke="#000" stroke-width="0.8"/>`+"\n",
				x+9, y+4.5, wide-18, fill)
			label(b, x+wide/2, y+16.5, "middle", wording.Shortened(numberOf(p.Parts[i:to]), max(2, int((wide-20)/5))))
			shaded = !shaded
		}
		i = to
	}
	for i, step := range p.Steps {
		drawStep(b, step, yearsLeft+float64(i+1)*column, y+13)
	}
}

// isMarked reports whether something is drawn between two years: a bar ends there, also
// where the same number stands on both sides, as in fewer colours or in another place.
func isMarked(s differ.Step) bool { return s.Class != differ.ClassSame && s.Class != "" }

// drawStep draws what lies between two years: nothing for the same part; a mark for
// the kind of change, and a head for each way in which a part may still be used. Where
// neither may, a wall stands.
func drawStep(b *strings.Builder, s differ.Step, x, y float64) {
	if !isMarked(s) {
		return
	}
	if s.Known && !s.Onward && !s.Back {
		stroke(b, x, y-12, x, y+12, 4.5, "")
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="6.2" fill="#fff" stroke="#000" stroke-width="1"/>`+"\n", x, y)
	}
	if s.Onward {
		fmt.Fprintf(b, `<polygon points="%.1f,%.1f %.1f,%.1f %.1f,%.1f" fill="#000"/>`+"\n", x+6, y-10, x+11, y-7, x+6, y-4)
		stroke(b, x-9, y-7, x+7, y-7, 1.2, "")
	}
	if s.Back {
		fmt.Fprintf(b, `<polygon points="%.1f,%.1f %.1f,%.1f %.1f,%.1f" fill="#000"/>`+"\n", x-6, y+4, x-11, y+7, x-6, y+10)
		stroke(b, x-7, y+7, x+9, y+7, 1.2, "")
	}
	word := classMark(s.Class)
	if !s.Known {
		word += "?"
	}
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="9" font-weight="bold" stroke="#fff" stroke-width="2.4" paint-order="stroke">%s</text>`+"\n", x, y+3.2, word)
}

// classMark is a letter for a kind of change.
func classMark(c differ.Class) string {
	switch c {
	case differ.ClassCosmetic:
		return "c"
	case differ.ClassDimensional:
		return "D"
	case differ.ClassFunctional:
		return "F"
	case differ.ClassOneSide:
		return "+"
	}
	return "?"
}

func yearLegend(b *strings.Builder, y float64) {
	items := []struct {
		step differ.Step
		word string
	}{
		{differ.Step{Class: differ.ClassCosmetic, Known: true, Onward: true, Back: true}, "only looks (c); either part " +
			"goes on both"},
		{differ.Step{Class: differ.ClassFunctional, Known: true, Onward: true}, "a feature more or less (F); the older " +
			"part also goes on the newer machine"},
		{differ.Step{Class: differ.ClassDimensional, Known: true, Back: true}, "other dimensions (D); the newer part also " +
			"goes on the older machine"},
		{differ.Step{Class: differ.ClassDimensional, Known: true}, "a wall: neither goes on the other without more"},
		{differ.Step{Class: differ.ClassDimensional}, "nobody knows whether they interchange"},
	}
	for i, item := range items {
		x, at := 40+float64(i%2)*370, y+float64(i/2)*26
		drawStep(b, item.step, x, at)
		label(b, x+18, at+3.5, "start", item.word)
	}
	label(b, 410+18, y+2*26+3.5, "start", "+: the place is on one side only. With changes counts as it goes.")
}

// numberOf is the number of parts that count as one, without its brand, where many
// stand below one another: where they differ in their colour, without that.
func numberOf(parts []graph.PartID) string {
	text := string(parts[0])
	for _, id := range parts {
		if id != parts[0] {
			text, _, _ = strings.Cut(text, "/")
		}
	}
	if _, number, ok := strings.Cut(text, " "); ok {
		return number
	}
	return text
}
