package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// TestTakenOffCarries: what hung on a part that is taken off is held by nothing, also where
// two such parts still hold each other, or a plug is still in; what another part holds as
// well, and what never hung on it, stays. Common practice, no source.
func TestTakenOffCarries(t *testing.T) {
	for _, tt := range []struct {
		off  string
		want []string
	}{
		{"footrests/hanger-right", []string{"footrests/rest-right", "rear-brake/master-cylinder", "rear-brake/pedal"}},
		{"lamps/headlamp-bracket", []string{"lamps/headlamp", "lamps/indicator-front-left", "lamps/indicator-front-right"}},
		{"fork/leg-left", []string{"front-brake/caliper-left"}}, // mudguard and axle: the other leg
		{"front-brake/hose-upper", nil},
		{"lamps/tail-lamp", nil},
	} {
		var loose []string
		for _, o := range demoSwap(t, "skerry-620/2002/eu", tt.off+"=none").DoesNotMate {
			if o.What == examine.OfSupport {
				loose = append(loose, o.Ends[0].Position.Local())
			}
		}
		slices.Sort(loose)
		if tt.off == "fork/leg-left" {
			loose = slices.DeleteFunc(loose, func(at string) bool { return at[:5] == "fork/" }) // what is inside it
		}
		if !slices.Equal(loose, tt.want) {
			t.Errorf("%s taken off: %v hold by nothing, want %v", tt.off, loose, tt.want)
		}
	}
}

// TestTakenOffHolds: whatever fastener a safety joint of the built-in machine names, with it
// taken off the machine is not ready to ride. Common practice, no source.
func TestTakenOffHolds(t *testing.T) {
	facts := demotest.Facts(t)
	const on = "skerry-620/2003/eu/late"
	r := once.New(readertest.New(facts))
	safe, carrier := map[graph.PositionID]bool{}, map[graph.PositionID]bool{}
	for _, p := range facts.Positions {
		safe[p.ID] = p.Safety != graph.SafetyNone && slices.Contains(p.On, on)
		carrier[p.ID] = p.Kind == "frame" || p.Kind == "subframe" // what hangs on it may be looks alone
	}
	tried := map[graph.PositionID]bool{}
	for _, j := range facts.Joints {
		isSafe := func(id graph.PositionID) bool { return safe[id] && !carrier[id] }
		if !isSafe(j.A.Position) && !isSafe(j.B.Position) || !slices.Contains(j.On, on) {
			continue
		}
		for _, id := range j.Fasteners {
			if tried[id] {
				continue
			}
			tried[id] = true
			if a := swapped(t, r, on, []string{id.Local() + "=none"}); a.Ready {
				t.Errorf("%s: ready to ride without %s", j.ID, id.Local())
			}
		}
	}
	enough(t, len(tried), 85)
}
