package conflicts_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/conflicts"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
)

// Sources contradict one another on a machine for which both speak: a manual for the
// years before is no voice against one for the years since.
func TestOnlySourcesOfOneMachineDisagree(t *testing.T) {
	const about = "torque of skerry-620:caliper-left-on-leg"
	for name, tt := range map[string]struct {
		years  measure.Years
		covers string
	}{
		"other years": {measure.Years{From: 2001, To: 2003}, ""},
		"all years":   {measure.Years{}, "skerry-620 2004-2006 eu, uk"},
		"one year":    {measure.Years{From: 2001, To: 2004}, "skerry-620 2004 eu, uk"},
	} {
		facts := demotest.Facts(t)
		facts.Sources = slices.Clone(facts.Sources)
		for i, s := range facts.Sources {
			if s.ID == "workshop-manual-2001" {
				facts.Sources[i].Scope = graph.Scope{Years: tt.years}
			}
		}
		a, err := conflicts.Conflicts(t.Context(), readertest.New(facts), conflicts.ConflictsQuestion{On: "skerry-620"})
		if err != nil {
			t.Fatal(err)
		}
		covers := ""
		for _, row := range a.Rows {
			if row.About == about {
				covers = row.Covers
			}
		}
		if covers != tt.covers {
			t.Errorf("%s: told of %q, want %q", name, covers, tt.covers)
		}
	}
}
