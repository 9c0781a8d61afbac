package datademo_test

import (
	"maps"
	"slices"
	"testing"

	"matewell/graph"
)

// genericTorques keeps torques off whatever could hurt someone: only the two
// generic tables give any, and never for a safety joint.
func genericTorques(t *testing.T, f graph.Facts) {
	onlyGeneric(t, f)
	safe := map[graph.PositionID]graph.Safety{}
	for _, p := range f.Positions {
		safe[p.ID] = p.Safety
	}
	for _, j := range f.Joints {
		// Plain bolts go into the frame as well; it has its class for the
		// steering head, and none of its steering joints carries a torque.
		plain := safe[j.A.Position] == "" && (safe[j.B.Position] == "" || j.B.Position.Local() == "frame/frame")
		if len(j.Torque) > 0 && !plain {
			t.Errorf("%s: a torque on a joint with a safety class", j.ID)
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
}

// torques are all readings of a torque that a part carries.
func torques(p graph.Part) []graph.Reading {
	var all []graph.Reading
	for _, feature := range p.Features {
		all = append(all, feature.Dims["torque"]...)
	}
	return all
}

// onlyGeneric compares every torque of the set with the two generic tables.
// Source: a generic table of one maker's workshop manual, dry, and another
// table for M8, both read in an excerpt; see SOURCES.md.
func onlyGeneric(t *testing.T, f graph.Facts) {
	var all []graph.Reading
	for _, p := range f.Parts {
		all = append(all, torques(p)...)
	}
	for _, j := range f.Joints {
		all = append(all, j.Torque...)
	}
	given := map[string]bool{}
	for _, r := range all {
		given[string(r.Source)+" "+r.Text] = true
	}
	want := []string{"torque-table-one 14-19 N m", "torque-table-one 25-34 N m", "torque-table-one 5.9-7.8 N m", "torque-table-two 25.5 N m"}
	if have := slices.Sorted(maps.Keys(given)); !slices.Equal(have, want) {
		t.Errorf("torques %q, want %q", have, want)
	}
}
