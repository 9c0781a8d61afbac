package shop_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/mating"
	"matewell/queries/readertest"
	"matewell/queries/shop"
)

// A bolt that is ordered by its sizes is named by the numbers sold in just that size: of the
// thread and a length that the order allows, of no lower a class; another pitch, a length beside
// it, a lower class and what is sold no more are none. Common practice, no source.
func TestBoltsInSize(t *testing.T) {
	bolt := func(id graph.PartID, thread, length, class string) graph.Part {
		dims := map[string][]graph.Reading{}
		for name, text := range map[string]string{"thread": thread, "length": length, "class": class} {
			dims[name] = []graph.Reading{{Text: text}}
		}
		return graph.Part{ID: id, Kind: "bolt", Features: []graph.Feature{{Name: "thread", Kind: "male-thread", Dims: dims}}}
	}
	bolts := []graph.Part{bolt("A 40", "M10x1.25", "40 mm", "10.9"), bolt("A 45", "M10x1.25", "45 mm", "10.9"),
		bolt("A coarse", "M10x1.5", "40 mm", "10.9"), bolt("A soft", "M10x1.25", "40 mm", "8.8"),
		bolt("A gone", "M10x1.25", "40 mm", "10.9"), bolt("A 35", "M10x1.25", "35 mm", "10.9")}
	bolts[4].Gone = true
	onSale := func(spec ...mating.Field) string {
		l, err := shop.Make(t.Context(), readertest.New(graph.Facts{Parts: bolts}),
			shop.Question{Made: []shop.Made{{What: "bolt", Quantity: 2, Spec: spec}}})
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(l.Made[0].Spec, func(f mating.Field) bool { return f.Name == "on sale in this size" })
		if at < 0 {
			return ""
		}
		return l.Made[0].Spec[at].Value
	}
	thread, class := mating.Field{Name: "thread", Value: "M10x1.25"}, mating.Field{Name: "class", Value: "10.9, as listed"}
	for length, want := range map[string]string{"40 mm under the head": "A 40", "at least 38 mm under the head": "A 40",
		"38-44 mm under the head": "A 40", "36 to 39 mm under the head": "", "41 mm under the head": "",
		"as deep in the thread as the old ones went": "", "at least 41 mm under the head": "A 45"} {
		got := onSale(thread, mating.Field{Name: "length", Value: length}, class)
		if (got == "") != (want == "") || !strings.HasPrefix(got, want) || strings.Count(got, "A ") > 1 {
			t.Errorf("%s: %q, want %q", length, got, want)
		}
	}
	long := mating.Field{Name: "length", Value: "40 mm under the head"}
	bolts = append(bolts, bolt("B rustless", "M10x1.25", "40 mm", "A2-70"), bolt("B weak", "M10x1.25", "40 mm", "4.8"))
	got := onSale(thread, long, mating.Field{Name: "class", Value: "A2-70, as listed"})
	if !strings.Contains(got, "B rustless") || strings.Contains(got, "B weak") {
		t.Errorf("for a stainless one: %q", got)
	}
	if got := onSale(thread, long, class); strings.Contains(got, "B ") {
		t.Errorf("in the place of 10.9: %q", got)
	}
	bolts = bolts[:6]
	if got := onSale(thread, long); !strings.HasPrefix(got,
		"A 40 (40 mm, 10.9), A soft (40 mm, 8.8)") {
		t.Errorf("no class asked for: %q", got)
	}
}
