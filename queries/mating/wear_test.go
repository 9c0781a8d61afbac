package mating

import (
	"testing"

	"matewell/graph"
)

// A part beyond its own limit is worn out, whichever dimension it is. The limits are
// invented; that a maker's limit decides is common practice, no source.
func TestJudgeWear(t *testing.T) {
	shoes := made("shoes", "lining", "3 mm", "minimum", "2 mm")
	rim := made("rim", "sway", "1 mm", "most-sway", "2 mm")
	for _, tt := range []struct {
		name   string
		part   Side
		wanted graph.Verdict
		says   string
	}{
		{"enough lining", shoes, yes, "lining of shoes 3 mm, at least 2 mm"},
		{"too little", shoes.with("lining", "1.5 mm"), no, "worn out: lining of shoes 1.5 mm, at least 2 mm"},
		{"a little more than that", shoes.with("lining", "2.1 mm"), yes, ""},
		{"near miss: at its limit", shoes.with("lining", "2 mm"), open, "with nothing left to wear"},
		{"just below it", shoes.with("lining", "1.99 mm"), no, "worn out"},
		{"perhaps below it", shoes.with("lining", "2 mm +0.2/-0.2"), open, "at the limits of the sizes"},
		{"in inches", shoes.with("lining", "0.0591 in"), no, "worn out"}, // 1.5 mm
		{"nobody measured it", shoes.with("lining", ""), graph.NoVerdict, ""},
		{"no limit recorded", shoes.with("minimum", ""), graph.NoVerdict, ""},
		{"a true rim", rim, yes, ""}, {"near miss: as far out as it may", rim.with("sway", "2 mm"), yes, ""},
		{"a bent rim", rim.with("sway", "7 mm"), no, "out of true: sway of rim 7 mm, at most 2 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			checks := JudgeWear(tt.part)
			if Worst(checks) != tt.wanted || len(checks) > 0 && !contains(checks[0].Why, tt.says) {
				t.Errorf("%+v, want %s with %q", checks, tt.wanted, tt.says)
			}
		})
	}
}

// Two who measured differently leave it open, and every limit that is declared is judged.
func TestJudgeWearOfEach(t *testing.T) {
	for _, l := range graph.WearLimits() {
		within, beyond := "5 mm", "3 mm"
		if l.Most {
			within, beyond = beyond, within
		}
		part := made(l.Kind, l.By, "4 mm")
		if c := JudgeWear(part.with(l.Dim, within)); len(c) != 1 || c[0].Verdict != yes || c[0].Basis == "" {
			t.Errorf("%s.%s within: %+v", l.Kind, l.Dim, c)
		}
		if c := JudgeWear(part.with(l.Dim, beyond)); len(c) != 1 || c[0].Verdict != no {
			t.Errorf("%s.%s beyond: %+v", l.Kind, l.Dim, c)
		}
		both := part.with(l.Dim, within)
		both.Feature.Dims[l.Dim] = append(both.Feature.Dims[l.Dim], graph.Reading{Text: beyond})
		if c := JudgeWear(both); len(c) != 1 || c[0].Verdict == yes {
			t.Errorf("%s.%s measured both ways: %+v", l.Kind, l.Dim, c)
		}
	}
}
