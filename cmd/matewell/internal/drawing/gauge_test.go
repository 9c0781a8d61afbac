package drawing

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"matewell/queries/gauge"
)

func drawn(t *testing.T, s gauge.Sheet) string {
	t.Helper()
	var b strings.Builder
	for _, page := range Gauge(s) {
		b.WriteString(page)
	}
	dec := xml.NewDecoder(strings.NewReader(b.String()))
	for {
		if _, err := dec.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
	}
	return b.String()
}

// A page is A4 with a millimetre as its unit, so that what is drawn has the size
// that is written below it: a bearing 6203 is 17 x 40 mm (ISO 15).
func TestGaugeIsAtFullSize(t *testing.T) {
	text := drawn(t, gauge.Sheet{Bearings: []gauge.Ring{{Inside: 17, Outside: 20, Names: []string{"<made> & up"}},
		{Inside: 17, Outside: 40, Names: []string{"6203"}}}})
	for _, want := range []string{`width="210mm" height="297mm" viewBox="0 0 210 297"`, `r="10.000"`, `r="8.500"`,
		"A20.000 20.000", "A8.500 8.500", "&lt;made&gt; &amp; up"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in the page", want)
		}
	}
	// Across the corners a hexagon is 1/cos 30 deg of what it is across the flats:
	// 15.011 mm for 13.
	hexagon := drawn(t, gauge.Sheet{Spanners: []gauge.Spanner{{AcrossFlats: 13, On: []string{"M8"}}}})
	for _, want := range []float64{gaugeTop + titleHigh, gaugeTop + titleHigh + 15.011} {
		if !strings.Contains(hexagon, fmt.Sprintf(",%.3f", want)) {
			t.Errorf("no corner %.3f mm down the page", want)
		}
	}
}

// Nothing is drawn past the edge of a page, and nothing is lost when a page is
// full.
func TestGaugeFillsPages(t *testing.T) {
	var s gauge.Sheet
	for i := range 300 {
		s.Rings = append(s.Rings, gauge.Ring{Inside: 6, Outside: 8 + float64(i)/10, Names: []string{"washer"}})
	}
	cells := 0
	for _, p := range gaugePages(s) {
		for i, c := range p.cells {
			cells++
			if p.x[i]+c.wide > gaugeWide-gaugeMargin+0.01 || p.y[i]+c.high > gaugeHigh-gaugeMargin+0.01 {
				t.Fatalf("a cell ends at %.1f, %.1f", p.x[i]+c.wide, p.y[i]+c.high)
			}
		}
	}
	if cells != 300 {
		t.Errorf("%d of 300 rings are drawn", cells)
	}
}
