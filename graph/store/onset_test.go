package store_test

import (
	"context"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/store"
)

// fittedOn is one fitment, on some variants.
func fittedOn(id graph.FitmentID, on ...graph.VariantID) graph.Facts {
	return graph.Facts{Fitments: []graph.Fitment{{ID: id, Part: "Tarnholt 207.4418b", Position: "skerry-620:front-brake/caliper-left", On: on}}}
}

// A store keeps a set of variants once, however many records hold on it. What
// is asked for by one of the variants is found whether it was named alone or in
// a set, in every layer, and an export names each.
func TestSetsOfVariants(t *testing.T) {
	ctx := context.Background()
	shipped := fittedOn("alone", "m/2001")
	for _, more := range []graph.Facts{fittedOn("two", "m/2001", "m/2002"), fittedOn("three", "m/2003", "m/2001", "m/2002"), fittedOn("other", "m/2004", "m/2005", "m/2006")} {
		shipped.Fitments = append(shipped.Fitments, more.Fitments...)
	}
	own := fittedOn("three", "m/2004", "m/2005", "m/2006")
	s := memory(t, shipped).Over(memory(t, own))
	tests := []struct {
		on   graph.VariantID
		want string
	}{
		{"m/2001", "alone three two"},
		{"m/2003", "three"},
		{"m/2004", "other three"},
		{"m/2007", ""},
	}
	for _, tt := range tests {
		got, err := s.FitmentsOn(ctx, tt.on)
		if err != nil {
			t.Fatal(err)
		}
		var ids []string
		for _, f := range got {
			ids = append(ids, string(f.ID))
		}
		if strings.Join(ids, " ") != tt.want {
			t.Errorf("on %s: %v, want %s", tt.on, ids, tt.want)
		}
	}
	if got, err := s.FitmentsOn(ctx); err != nil || len(got) > 0 {
		t.Errorf("on nothing: %v, %v", got, err)
	}
	three, err := s.FitmentsOn(ctx, "m/2003")
	if err != nil || len(three[0].On) != 6 {
		t.Errorf("both layers' variants: %v, %v; want six", three, err)
	}
	line := "fitment/three> <https://matewell.example/terms#on> <https://matewell.example/id/variant/m/2003>"
	if text := nquadsOf(t, s); !strings.Contains(text, line) || strings.Contains(text, "on-set") {
		t.Errorf("the export does not name each variant:\n%s", text)
	}
}

// Of two records that hold on the same variants, the second costs a link.
func TestSetsAreKeptOnce(t *testing.T) {
	quads := func(f graph.Facts) (n int) {
		s, err := store.Memory()
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Put(context.Background(), f, func(_, total int) { n = total }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	second := func(on ...graph.VariantID) int {
		one := fittedOn("a", on...)
		two := graph.Facts{Fitments: append(fittedOn("b", on...).Fitments, one.Fitments...)}
		return quads(two) - quads(one)
	}
	if got, want := second("m/2001", "m/2002", "m/2003", "m/2004"), second()+1; got != want {
		t.Errorf("the second record takes %d quads, want %d", got, want)
	}
}
