package conflicts_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/conflicts"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
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

// A copy is no second voice: what a club letter took from the forum, and what somebody
// read there, is one report.
func TestCopiesAreOneReport(t *testing.T) {
	a, err := conflicts.Conflicts(t.Context(), readertest.New(demotest.Facts(t)),
		conflicts.ConflictsQuestion{Part: "207.7003"})
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, row := range a.Rows {
		for _, side := range row.Sides {
			if slices.ContainsFunc(side.Sources, func(s evidence.Source) bool { return s.ID == "f-0003" }) {
				seen++
				if side.Rank != evidence.RankReport {
					t.Errorf("%s: %s ranks as %s, want one report", row.About, side.Says, side.Rank)
				}
			}
		}
	}
	if seen < 2 {
		t.Fatalf("f-0003 stands on %d sides, want two at least", seen)
	}
}

// Measurements of one size on one master cylinder: what is asked for settles it, once it
// is there.
func TestMeasuringSettles(t *testing.T) {
	const part = "Tarnholt 207.4006"
	measured := func(by, value string) graph.Finding {
		return graph.Finding{ID: graph.FindingID("m-" + by), Part: part, By: by, Method: graph.MethodMeasured,
			Date: "2026-11-20", Measured: []graph.Measured{{Feature: "bore", Dim: "lever-ratio", Text: value,
				With: "vernier caliper"}}}
	}
	row := func(findings ...graph.Finding) conflicts.ConflictRow {
		facts := demotest.Facts(t)
		facts.Findings = append(slices.Clone(facts.Findings), findings...)
		a, err := conflicts.Conflicts(t.Context(), readertest.New(facts), conflicts.ConflictsQuestion{Part: part})
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(a.Rows,
			func(r conflicts.ConflictRow) bool { return r.About == "lever-ratio of bore of "+part })
		if at < 0 {
			t.Fatal("no conflict about the lever ratio")
		}
		return a.Rows[at]
	}
	skua, gull, tern := measured("skua", "88/20"), measured("gull", "90/20"), measured("tern", "90/20")
	for name, tt := range map[string]struct {
		row  conflicts.ConflictRow
		open bool
		says string // in what settles it
	}{
		"one against one and the sheet": {row(skua, gull), true,
			"2 say 90/20 and 1 says 88/20; 1 more by others who find 90/20"},
		"two and the sheet against one": {row(skua, gull, tern), false, "3 say 90/20 and 1 says 88/20; let who misread"},
		"one against the sheet":         {row(skua), false, "measure lever-ratio"},
	} {
		if tt.row.Open != tt.open || !strings.Contains(tt.row.Settle, tt.says) {
			t.Errorf("%s: open %v, to settle it %q", name, tt.row.Open, tt.row.Settle)
		}
	}
}

// A disc is gauged on its wheel, and a chain counted where it runs; how a disc is dished
// shows only once it is off. Common practice, no source.
func TestMeasuredInPlace(t *testing.T) {
	for _, tt := range []struct {
		name, part, feature, dim, other string
		want                            graph.Effort
		says                            string
	}{
		{"thickness of a disc", "Tarnholt 207.4053", "rim", "thickness", "3.9 mm", graph.EffortNone, "beside its caliper"},
		{"links of a chain", "Tarnholt 209.4005", "links", "links", "106", graph.EffortNone, "turn the wheel"},
		{"offset of a disc", "Tarnholt 207.4053", "rim", "offset", "9 mm", graph.EffortHandTools, "first take off"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			facts.Findings = append(slices.Clone(facts.Findings), graph.Finding{ID: "m-1", Part: graph.PartID(tt.part),
				By: "skua", Method: graph.MethodMeasured, Date: "2026-11-20",
				Measured: []graph.Measured{{Feature: tt.feature, Dim: tt.dim, Text: tt.other}}})
			a, err := conflicts.Conflicts(t.Context(), readertest.New(facts), conflicts.ConflictsQuestion{Part: tt.part})
			if err != nil {
				t.Fatal(err)
			}
			about := fmt.Sprintf("%s of %s of %s", tt.dim, tt.feature, tt.part)
			i := slices.IndexFunc(a.Rows, func(r conflicts.ConflictRow) bool { return r.About == about })
			if i < 0 || a.Rows[i].Cost == nil {
				t.Fatalf("no conflict, or no cost, about %s", about)
			}
			if got := a.Rows[i].Cost; got.Effort != tt.want || !strings.Contains(got.Why, tt.says) {
				t.Errorf("%s: %s, want %s with %q", got.Effort, got.Why, tt.want, tt.says)
			}
		})
	}
}
