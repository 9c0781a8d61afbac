package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// TestWhatServesSafetyIsOpen: a seal of fuel, a spring by which a brake or a stand comes
// back, the seal behind a carburettor, and the speed that the clocks show, are of a class:
// what is unknown of them leaves the machine not ready. What none of them hangs on does not.
func TestWhatServesSafetyIsOpen(t *testing.T) {
	demotest.Alone(t)
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, test := range []struct {
		on, swap string
		open     bool
	}{
		{"skerry-620/2005/eu", "tank/tap-o-ring=103.4027", true},
		{"skerry-620/2005/eu", "rear-brake/return-spring=212.4018", true},
		{"skerry-620/2005/eu", "stands/side-stand-spring=208.4014", true},
		{"skerry-620/2005/eu", "carburettors/manifold-seal-1=301.4024", true},
		{"fjeld-750/2004/eu", "rear-wheel/wheel=Varnhegg 44-044.1", true},
		{"skerry-620/2005/eu", "tank/tap-o-ring=301.4024", false}, // its own
		{"skerry-620/2005/eu", "rear-brake/return-spring=208.4014", false},
	} {
		if a := swapped(t, r, test.on, []string{test.swap}); a.SafetyOpen() != test.open {
			t.Errorf("%s on %s: open %v, want %v", test.swap, test.on, a.SafetyOpen(), test.open)
		}
	}
}

// classless are the places of the demo at which something seals, springs back, clips or
// leads a fluid, and no class says so, each with why not. Common practice, no source.
var classless = map[string]string{
	"intake/lid-gasket": "air", "intake/boot-clamp-1": "air", "intake/boot-clamp-2": "air",
	"intake/breather-hose": "air", "exhaust/air-hose": "air",
	"cooling/fan-switch-washer": "as the radiator", "cooling/hose-bottom": "as the radiator",
	"cooling/hose-clip": "as the radiator", "cooling/hose-top": "as the radiator",
	"cooling/hose-middle": "as the radiator", "electrics/battery-strap": "the battery lies in its box",
}

func TestSealsAndSpringsHaveAClass(t *testing.T) {
	demotest.Alone(t)
	kinds := []graph.KindID{"o-ring", "gasket", "seal-washer", "spring", "rubber-hose", "hose-clamp", "clip", "circlip"}
	n := 0
	for _, p := range demotest.Facts(t).Positions {
		if !slices.Contains(kinds, p.Kind) {
			continue
		}
		n++
		if p.Safety == graph.SafetyNone && classless[p.ID.Local()] == "" {
			t.Errorf("%s, a %s, has no safety class, and nothing says why", p.ID, p.Kind)
		}
	}
	enough(t, n, 85)
}
