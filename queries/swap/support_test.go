package swap_test

import (
	"slices"
	"testing"

	"matewell/queries/examine"
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
