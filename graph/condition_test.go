package graph_test

import (
	"testing"

	"matewell/graph"
)

// What wears and its limit are dimensions of the kind they are said of, and a limit
// decides nothing of whether a part fits.
func TestWearLimitsAreDimensions(t *testing.T) {
	for _, l := range graph.WearLimits() {
		k, known := graph.FeatureKindNamed(l.Kind)
		if !known || l.Past == "" {
			t.Errorf("%+v: no such kind, or no word for what is beyond", l)
			continue
		}
		for _, name := range []string{l.Dim, l.By} {
			switch d, has := k.Dim(name); {
			case !has:
				t.Errorf("%s has no %s", l.Kind, name)
			case name == l.By && d.Decides():
				t.Errorf("%s of %s decides", name, l.Kind)
			}
		}
	}
}
