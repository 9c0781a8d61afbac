package mating

import (
	"fmt"
	"strings"

	"matewell/graph/measure"
)

// Spanner is the size across flats that one form of head has on one thread.
type Spanner struct {
	Form  string  // "hexagon", "small flange" ...
	Size  float64 // mm; the key size for a socket head
	Under string  // the standard, or the practice
}

// Spanners are the sizes that heads on a metric thread of d mm come with, by
// form; none for a diameter that is not in the table. The size alone never
// tells the thread: on M8 it is 13, 12 or 10 mm.
//
// Source: the standards named, as open parts libraries reprint them; "older
// Japanese practice" is a maker's sheet.
func Spanners(d float64) []Spanner {
	var sizes []Spanner
	for _, row := range spannerRows {
		if same(row.d, d) {
			sizes = append(sizes, row.Spanner)
		}
	}
	return sizes
}

var spannerRows = [...]struct {
	d float64
	Spanner
}{
	{5, Spanner{"hexagon", 8, "ISO 4014, ISO 4017"}},
	{5, Spanner{"small flange", 7, "ISO 4162, ISO 15071, JIS B 1189"}},
	{5, Spanner{"socket", 4, "ISO 4762"}},
	{6, Spanner{"hexagon", 10, "ISO 4014, ISO 4017; also older Japanese practice"}},
	{6, Spanner{"small flange", 8, "ISO 4162, ISO 15071, JIS B 1189"}},
	{6, Spanner{"socket", 5, "ISO 4762"}},
	{8, Spanner{"hexagon", 13, "ISO 4014, ISO 4017"}},
	{8, Spanner{"small hexagon", 12, "older Japanese practice"}},
	{8, Spanner{"small flange", 10, "ISO 4162, ISO 15071, JIS B 1189"}},
	{8, Spanner{"heavy flange", 13, "EN 1665"}},
	{8, Spanner{"flange nut", 13, "ISO 4161"}},
	{8, Spanner{"socket", 6, "ISO 4762"}},
	{10, Spanner{"hexagon", 16, "ISO 4014, ISO 4017"}},
	{10, Spanner{"old hexagon", 17, "DIN 931, DIN 933"}},
	{10, Spanner{"flange nut", 15, "ISO 4161"}},
}

// spannerField is the line of an order that says which heads there are, so that
// the right one is asked for.
func spannerField(t measure.ThreadSize) (Field, bool) {
	if t.Standard != "metric" {
		return Field{}, false
	}
	var words []string
	for _, s := range Spanners(t.Nominal) {
		words = append(words, fmt.Sprintf("%s %s", s.Form, plain(s.Size)))
	}
	return Field{"heads, mm across flats", strings.Join(words, ", ")}, len(words) > 0
}
