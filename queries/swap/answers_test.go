package swap_test

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// TestKnownAnswers puts swaps whose answers are known beforehand, from the sizes in the
// data: parts of other makers in the same size go on, those of another size do not, and
// some of these drag in another part.
func TestKnownAnswers(t *testing.T) {
	demotest.Alone(t)
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, tt := range []struct {
		on    string
		want  string // "fits", "does not" or "drags": does not, and another part does
		swaps []string
	}{
		{"skerry-620/2003/eu/late", "fits", []string{
			"front-wheel/bearing-left=Ostrabeck 6302-2RS",
			"front-wheel/bearing-right=Ostrabeck 6302-2RS",
			"front-wheel/seal-left=Ostrabeck BS-28-42-7",
			"front-wheel/seal-right=Ostrabeck BS-28-42-7",
			"rear-wheel/bearing-left=Ostrabeck 6203-2RS",
			"rear-wheel/seal-right=Ostrabeck BS-28-40-7",
			"fork/seal-left=Ostrabeck BS-41-54-11",
			"final-drive/chain=Thrumley 520-108C",
			"final-drive/sprocket-front=Thrumley 520-015F",
			"final-drive/sprocket-rear=Thrumley 520-043R",
			"lamps/headlamp-bulb=Pellumbra P.402.01",
			"lamps/position-bulb=Pellumbra P.402.02",
			"lamps/tail-bulb=Pellumbra P.402.04",
			"lamps/indicator-bulb-front-left=Pellumbra P.402.03",
			"yokes/bearing-upper=Ostrabeck 32005X",
			"yokes/bearing-lower=Ostrabeck 302/28",
			"front-wheel/spacer-left=Varnhegg 32-240.1",
			"front-brake/hose-upper=Drosskell DK-1665",
			"front-brake/splitter=Drosskell DK-7001",
			"front-brake/lever=Tarnholt 207.4007a",
			"front-brake/master-cylinder=Tarnholt 207.4006b",
			"final-drive/guard=Tarnholt 209.4034b",
		}},
		{"skerry-620/2005/eu", "fits", []string{
			"front-wheel/bearing-left=Ostrabeck 6203-2RS",
			"fork/seal-left=Ostrabeck BS-43-55-11",
			"front-wheel/seal-left=Ostrabeck BS-28-40-7",
			"rear-suspension/bearing-left=Ostrabeck NB-24-30-25",
		}},
		{"fjeld-750/2004/eu", "fits", []string{
			"front-wheel/bearing-left=Ostrabeck 6004-2RS",
			"rear-wheel/bearing-left=Ostrabeck 6204-2RS",
			"final-drive/chain=Thrumley 530-110C",
		}},
		{"skerry-620/2003/eu/late", "does not", []string{
			"front-wheel/bearing-left=Ostrabeck 6203-2RS",
			"fork/seal-left=Ostrabeck BS-43-55-11",
			"lamps/headlamp-bulb=Pellumbra P.402.05",
			"final-drive/chain=Thrumley 530-108C",
			"final-drive/sprocket-rear=Thrumley 520-942R",
			"mirrors/mirror-left=Kellowick KW 6104",
			"mirrors/mirror-right=Kellowick KW 6103",
			"front-wheel/seal-left=Ostrabeck BS-30-47-7",
			"yokes/bearing-upper=Ostrabeck 32004X",
			"front-brake/splitter=Drosskell DK-7002",
			"controls/handlebar=Kellowick KW 2220-bk",
			"final-drive/chain=Thrumley 520-106C",
			"front-brake/master-cylinder=Kellowick KW 5003",
		}},
		{"skerry-620/2005/eu", "does not", []string{
			"front-brake/pads-left=Tarnholt 207.4042",
		}},
		{"skerry-620/2003/eu/late", "drags", []string{
			"front-brake/caliper-left=Tarnholt 207.4452",
			"front-wheel/wheel=Tarnholt 205.7006",
			"front-brake/disc-left=Tarnholt 207.4060",
			"fork/leg-left=Tarnholt 203.4009",
			"rear-wheel/wheel=Tarnholt 206.7001",
			"final-drive/carrier=Tarnholt 209.7023",
			"engine/engine=Tarnholt 101.7005",
			"carburettors/rack=Tarnholt 103.7002",
			"frame/frame=Tarnholt 201.7003",
			"lamps/headlamp=Tarnholt 402.7001",
			"rear-wheel/axle=Tarnholt 206.7011",
			"rear-suspension/swingarm=Tarnholt 204.7003",
			"clutch/lever=Tarnholt 107.7004",
		}},
	} {
		for _, one := range tt.swaps {
			a := swapped(t, r, tt.on, []string{one})
			fits := a.Verdict == graph.Fits || a.Verdict == graph.FitsWithChanges
			if fits != (tt.want == "fits") || !fits && a.Verdict != graph.DoesNotFit {
				t.Errorf("%s on %s: %s, want %s", one, tt.on, a.Verdict, tt.want)
			}
			if tt.want == "drags" && len(a.Get) == 0 {
				t.Errorf("%s on %s drags in nothing", one, tt.on)
			}
		}
	}
}

// The same on the single: nothing of its front wheel goes into the rear one, or the other
// way round, but a spacer of another width, in whose place one is made. An arm that lacks what the cable hangs in is
// left to who knows; an axle that is thinner than the one built in is not sleeved.
func TestKnownAnswersOnTheSingle(t *testing.T) {
	r := once.New(readertest.New(demotest.Single(t)))
	for _, one := range []string{
		"front-wheel/bearing-left=Brunmark 4145",
		"rear-wheel/bearing-left=Brunmark 4115",
		"front-brake/shoes=Brunmark 4135",
		"rear-brake/shoes=Brunmark 4107",
		"front-wheel/axle=Brunmark 4148",
		"rear-wheel/axle=Brunmark 4118",
		"rear-wheel/spokes=Brunmark 4113",
		"front-brake/cam-arm=Brunmark 4137",
		"lamps/bulb=Brunmark 4178",
		"front-wheel/tube=Brunmark 4147",
		"front-wheel/hub=Brunmark 4141",
		"rear-wheel/spacer-left=Brunmark 4150",
	} {
		a := swapped(t, r, "tern-125/1974/any", []string{one})
		want := graph.DoesNotFit
		switch {
		case strings.HasPrefix(one, "front-brake/cam-arm"):
			want = graph.Unknown
		case strings.HasPrefix(one, "rear-wheel/spacer-left"):
			want = graph.FitsWithChanges // the row says how wide it must be
		}
		if a.Verdict != want {
			t.Errorf("%s: %s, want %s", one, a.Verdict, want)
		}
	}
}
