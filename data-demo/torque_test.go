package datademo_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
)

// genericTorques keeps the two generic tables off whatever could hurt someone:
// what has a safety class has a torque of the invented machines' own manuals, or
// none.
func genericTorques(t *testing.T, f graph.Facts) {
	onlyKnownSources(t, f)
	safe := map[graph.PositionID]graph.Safety{}
	for _, p := range f.Positions {
		safe[p.ID] = p.Safety
	}
	for _, j := range f.Joints {
		// Plain bolts go into the frame as well; it has its class for the
		// steering head, and the subframe for the seat.
		plain := safe[j.A.Position] == "" && (safe[j.B.Position] == "" ||
			slices.Contains([]string{"frame/frame", "frame/subframe"}, j.B.Position.Local()))
		if !plain && slices.ContainsFunc(j.Torque, func(r graph.Reading) bool { return isGeneric(r.Source) }) {
			t.Errorf("%s: a generic torque on a joint with a safety class", j.ID)
		}
	}
	parts := map[graph.PartID]graph.Part{}
	for _, p := range f.Parts {
		parts[p.ID] = p
	}
	for _, fit := range f.Fitments {
		if safe[fit.Position] != "" && len(torques(parts[fit.Part])) > 0 {
			t.Errorf("%s carries a generic torque and sits at %s (%s)", fit.Part, fit.Position, safe[fit.Position])
		}
	}
	torquesVary(t, f)
}

func isGeneric(source graph.SourceID) bool { return strings.HasPrefix(string(source), "torque-table-") }

// ownTable is the invented machine's own table of torques.
const ownTable graph.SourceID = "torque-sheet-skerry"

// torquesVary checks that the joints that people open have a torque, and that no
// value is copied from joint to joint: left and right and both sister models have
// the same, so each value may stand at four joints a side.
func torquesVary(t *testing.T, f graph.Facts) {
	given := map[graph.JointID][]graph.Reading{}
	times := map[string]int{}
	for _, j := range f.Joints {
		given[j.ID] = j.Torque
		if len(j.Torque) > 0 {
			times[j.Torque[0].Text]++
		}
	}
	for value, n := range times {
		if n > 12 {
			t.Errorf("%d joints have %s", n, value)
		}
	}
	for _, model := range []string{"skerry-620", "skerry-620s", "fjeld-750"} {
		for _, joint := range []string{"axle-in-left-leg", "axle-in-right-leg", "pinch-bolt-right-thread", "axle-nut-thread",
			"caliper-left-on-leg", "caliper-right-on-leg", "caliper-on-carrier", "disc-left-on-wheel", "disc-on-wheel",
			"sprocket-front-on-shaft", "sprocket-rear-on-carrier", "leg-left-in-upper-yoke", "leg-right-in-lower-yoke",
			"upper-on-stem", "hose-left-on-caliper", "hose-on-caliper", "hose-upper-on-master"} {
			if len(given[graph.JointID(model+":"+joint)]) == 0 {
				t.Errorf("%s:%s: no torque", model, joint)
			}
		}
	}
}

// torques are all readings of a torque that a part carries.
func torques(p graph.Part) []graph.Reading {
	var all []graph.Reading
	for _, feature := range p.Features {
		all = append(all, feature.Dims["torque"]...)
	}
	return all
}

// onlyKnownSources compares every generic torque of the set with the two tables,
// and lets no other source give one than the invented machines' own manuals.
// Source: a generic table of one maker's workshop manual, dry, and another
// table for M8, both read in an excerpt; see SOURCES.md.
func onlyKnownSources(t *testing.T, f graph.Facts) {
	var all []graph.Reading
	for _, p := range f.Parts {
		all = append(all, torques(p)...)
	}
	for _, j := range f.Joints {
		all = append(all, j.Torque...)
	}
	own := []graph.SourceID{ownTable, "workshop-manual-2001", "workshop-supplement-2004", "fjeld-workshop-manual"}
	given := map[string]bool{}
	for _, r := range all {
		switch {
		case isGeneric(r.Source):
			given[string(r.Source)+" "+r.Text] = true
		case !slices.Contains(own, r.Source):
			t.Errorf("%s gives a torque: %s", r.Source, r.Text)
		}
	}
	want := []string{"torque-table-one 14-19 N m", "torque-table-one 25-34 N m", "torque-table-one 5.9-7.8 N m",
		"torque-table-two 25.5 N m"}
	if have := slices.Sorted(maps.Keys(given)); !slices.Equal(have, want) {
		t.Errorf("generic torques %q, want %q", have, want)
	}
}
