package othervalue_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/othervalue"
)

// What is tried in the place of a value differs from it in one aspect alone, and can
// be read: a thread of another pitch proves nothing by being thicker as well.
func TestOf(t *testing.T) {
	spec := func(kind, dim string) graph.DimSpec {
		k, _ := graph.FeatureKindNamed(kind)
		d, ok := k.Dim(dim)
		if !ok {
			t.Fatalf("no %s of %s", dim, kind)
		}
		return d
	}
	for _, test := range []struct {
		name, kind, dim, was, now string
		aspects                   int
		has, hasNot               string
	}{
		{"another pitch", "male-thread", "thread", "M4x0.7", "M4x0.5", 1, "M4x0.25", "LH"},
		{"another hand", "male-thread", "thread", "M4x0.7", "M4x0.7 LH", 1, "M4x0.7", "M8"},
		{"size, pitch and hand", "male-thread", "thread", "M4x0.7", "M5x0.8 LH", 3, "M10x0.8 LH", "M10x0.8;"},
		{"nothing to compare with", "male-thread", "thread", "", "M5x0.8", 3, "M5x0.8 LH", "?"},
		{"a depth", "bearing-seat", "depth", "12 mm", "8 mm", 1, "240 mm", "-"},
		{"an offset of nothing", "row-width", "offset", "1 mm", "0 mm", 1, "-50 mm", "?"},
		{"yes and no", "bearing-seat", "turns", "yes", "no", 1, "yes", "no"},
		{"a word of few", "female-thread", "hole", "blind", "through", 1, "blind", "through"},
		{"a speed symbol, higher and lower ones", "tyre", "speed", "P", "S", 1, "B; C", "another"},
		{"a size of a tyre", "tyre", "size", "4.00-18", "110/80-18", 1, "119/89-27", "another"},
		{"a value that can't be read", "bearing-seat", "depth", "12 mm", "deep", 0, "", "?"},
	} {
		got := othervalue.Of(spec(test.kind, test.dim), test.was, test.now)
		all := strings.Join(slices.Concat(got...), "; ")
		if len(got) != test.aspects || !strings.Contains(all, test.has) || strings.Contains(all, test.hasNot) {
			t.Errorf("%s: %q, want %d aspects, with %q and without %q", test.name, got, test.aspects, test.has, test.hasNot)
		}
		for _, text := range slices.Concat(got...) {
			if _, err := measure.Parse(text, spec(test.kind, test.dim).Type); err != nil || text == test.now {
				t.Errorf("%s: tried %q in the place of %q: %v", test.name, text, test.now, err)
			}
		}
	}
}
