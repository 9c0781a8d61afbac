package datademo_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/loader"
)

// notWritten are the joints that the patterns have and models of this set have not, each with why.
var notWritten = map[string]string{
	"adjuster-nut-left-thread":    lockNut,
	"adjuster-nut-right-thread":   lockNut,
	"mirror-nut-left-thread":      lockNut,
	"mirror-nut-right-thread":     lockNut,
	"reservoir-hose-on-master":    reservoirHose,
	"reservoir-hose-on-reservoir": reservoirHose,
	"speed-sensor-in-engine":      "fjeld-750: its sensor sits at the rear wheel, beside the ring",
	"hose-right-on-splitter":      "fjeld-750: its right hose runs on from the left caliper",
}

const (
	lockNut       = "the nut runs along a thread and clamps nothing that could be measured"
	reservoirHose = "its run judges its ends, and its circuit what flows"
)

// Each model of the set has the joints that the patterns give the same places, or stands here with why not:
// what nobody joined is judged by nobody.
func usualJoints(t *testing.T, f graph.Facts) {
	why := maps.Clone(notWritten)
	for _, m := range f.Models {
		places := slices.DeleteFunc(slices.Clone(f.Positions), func(p graph.Position) bool { return p.ID.Model() != m.ID })
		joints := slices.DeleteFunc(slices.Clone(f.Joints), func(j graph.Joint) bool { return j.A.Position.Model() != m.ID })
		for _, j := range loader.Lacking(places, joints) {
			_, name, _ := strings.Cut(string(j.ID), ":")
			if notWritten[name] == "" {
				t.Errorf("%s lacks %s: %s.%s, %s.%s", m.ID, name, j.A.Position.Local(), j.A.Feature, j.B.Position.Local(),
					j.B.Feature)
			}
			delete(why, name)
		}
	}
	for name := range why {
		t.Errorf("no model lacks %s any more", name)
	}
}
