package mating

import (
	"fmt"
	"strings"

	"matewell/graph/measure"
)

// spanner is the size across flats that one form of head has on one thread.
type spanner struct {
	Form  string  // "hexagon", "small flange" ...
	Size  float64 // mm; the key size for a socket head
	Under string  // the standard, or the practice
}

// spanners are the sizes that heads on a metric thread of d mm come with, by
// form; none for a diameter that is not in the table. The size alone never
// tells the thread: on M8 it is 13, 12 or 10 mm.
//
// Source: the standards named, as open parts libraries and hand tables reprint
// them; "older Japanese practice" is a maker's sheet. Of the standards' sizes,
// those not in testdata/published are from memory.
func spanners(d float64) []spanner {
	var sizes []spanner
	for _, form := range spannerForms {
		if size, ok := form.sizes[d]; ok {
			sizes = append(sizes, spanner{form.name, size, form.under})
		}
	}
	return sizes
}

type bySize = map[float64]float64

// spannerForms are read only.
var spannerForms = [...]struct {
	name, under string
	sizes       bySize
}{
	{"hexagon", "ISO 4014, ISO 4017, ISO 4032", bySize{3: 5.5, 4: 7, 5: 8, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24,
		18: 27, 20: 30, 22: 34, 24: 36, 27: 41, 30: 46}},
	{"old hexagon", "DIN 931, DIN 933, DIN 934; JIS B 1180, JIS B 1181 for M10 to M14", bySize{10: 17, 12: 19, 14: 22,
		22: 32}},
	{"small hexagon", "JIS B 1180 and JIS B 1181, annex; older Japanese practice", bySize{8: 12, 10: 14, 12: 17, 14: 19,
		16: 22, 18: 24, 20: 27, 22: 30, 24: 32}},
	{"small flange", "ISO 4162, ISO 15071, JIS B 1189", bySize{5: 7, 6: 8, 8: 10, 10: 13, 12: 15, 14: 18, 16: 21}},
	{"heavy flange", "EN 1665", bySize{5: 8, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24, 20: 30}},
	{"flange nut", "ISO 4161", bySize{5: 8, 6: 10, 8: 13, 10: 15, 12: 18, 14: 21, 16: 24, 20: 30}},
	{"socket", "ISO 4762", bySize{3: 2.5, 4: 3, 5: 4, 6: 5, 8: 6, 10: 8, 12: 10, 14: 12, 16: 14, 20: 17, 24: 19}},
	{"button socket", "ISO 7380-1", bySize{3: 2, 4: 2.5, 5: 3, 6: 4, 8: 5, 10: 6, 12: 8, 16: 10}},
	{"countersunk socket", "ISO 10642", bySize{3: 2, 4: 2.5, 5: 3, 6: 4, 8: 5, 10: 6, 12: 8, 16: 10, 20: 12}},
}

// spannerField is the line of an order that says which heads there are, so that
// the right one is asked for.
func spannerField(t measure.ThreadSize) (Field, bool) {
	if t.Standard != "metric" {
		return Field{}, false
	}
	var words []string
	for _, s := range spanners(t.Nominal) {
		if strings.Contains(s.Form, "nut") || strings.Contains(s.Form, " socket") {
			continue // no head one would take instead
		}
		words = append(words, fmt.Sprintf("%s %s", s.Form, plain(s.Size)))
	}
	return Field{"heads, mm across flats", strings.Join(words, ", ")}, len(words) > 0
}
