package donor_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/swap"
)

// A hose is pushed on what has an end for it, and left off what is recorded without one, or
// where nothing is; bolts and a gasket that hold nothing any more don't go in, and nothing is
// bought for them. Common practice, no source.
func TestNothingGoesOnNothing(t *testing.T) {
	const header, hose = "skerry-620:exhaust/header-1", "skerry-620:exhaust/air-hose"
	b := benchOf(t, demotest.Facts(t), "skerry-620/2005/eu")
	for _, tt := range []struct {
		part graph.PartID
		do   string
		nuts bool
	}{
		{b.before.Seat(header).Part.ID, donor.DoHook, true},
		{"Tarnholt 105.4004", donor.DoLeave, true}, // the header without secondary air
		{"", donor.DoLeave, false},
	} {
		steps, a := b.workFor(t, map[graph.PositionID]graph.PartID{header: tt.part})
		does := func(do string, id graph.PositionID) bool {
			return slices.ContainsFunc(steps, func(s donor.WorkStep) bool { return s.Do == do && s.Position == id })
		}
		for _, do := range []string{donor.DoHook, donor.DoLeave} {
			if does(do, hose) != (do == tt.do) {
				t.Errorf("%q: %s of the hose is %v", tt.part, do, do != tt.do)
			}
		}
		n := turnsOf(steps)
		if n.off["exhaust/nut-1"] == 0 || (n.on["exhaust/nut-1"] > 0) != tt.nuts ||
			(n.on["exhaust/gasket-1"] > 0) != tt.nuts || (n.joint["header-1-on-engine"] > 0) != tt.nuts {
			t.Errorf("%q: nuts and gasket go on: %v; want %v", tt.part, n.on, tt.nuts)
		}
		if renewed := slices.ContainsFunc(a.Renew, func(r swap.RenewRow) bool {
			return r.Position == "skerry-620:exhaust/gasket-1"
		}); renewed != tt.nuts {
			t.Errorf("%q: the gasket is renewed: %v", tt.part, renewed)
		}
	}
}

// Fuel is shut off and looked at once, whatever of it is opened. Common practice, no source.
func TestFuelIsToldOnce(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	for _, place := range []string{"tank/tank", "tank/tap", "carburettors/rack", "carburettors/fuel-hose"} {
		steps := b.judged(t, graph.PositionID("skerry-620:"+place))
		var said []string
		for _, s := range steps {
			if strings.HasPrefix(s.Text, "fuel: ") || strings.HasPrefix(s.Text, "fuel, ") ||
				s.Part == "" && strings.Contains(s.Text, "fuel tap") {
				said = append(said, s.Do)
			}
		}
		if !slices.Equal(said, []string{donor.DoDrain, donor.DoFill}) {
			t.Errorf("%s: fuel is told at %v", place, said)
		}
	}
	n := turnsOf(b.judged(t, "skerry-620:carburettors/rack"))
	if n.off["tank/tank"] == 0 || n.off["tank/tap-bolt"]+n.off["tank/tap"]+n.off["tank/tap-o-ring"] > 0 {
		t.Errorf("for the carburettors the tap comes off its tank: %v", n.off)
	}
}

// What is put together off the machine is said to be, and with what: bearings and discs in a wheel,
// the carrier's bearing in the carrier, what goes into a fork leg; what goes on the machine is not.
// Common practice, no source.
func TestBenchIsTold(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	for replace, want := range map[string]map[string]string{
		"front-wheel/bearing-left": {"front-wheel/bearing-left": "front-wheel/wheel", "front-wheel/wheel": "",
			"front-wheel/distance-tube": "front-wheel/wheel", "front-brake/caliper-left": "", "front-wheel/axle": ""},
		"final-drive/carrier-bearing": {"final-drive/carrier-bearing": "final-drive/carrier",
			"final-drive/carrier": "rear-wheel/wheel", "rear-brake/caliper": ""},
		"fork/seal-left": {"fork/seal-left": "fork/leg-left", "fork/spring-left": "fork/leg-left", "fork/leg-left": "",
			"bodywork/front-mudguard": ""},
		"yokes/lower": {"yokes/bearing-upper": "", "yokes/upper": "", "controls/handlebar": ""},
	} {
		got := map[string]string{}
		for _, s := range b.judged(t, graph.PositionID("skerry-620:"+replace)) {
			if s.Do == donor.DoFit || s.Do == donor.DoBack {
				got[s.Position.Local()] = ""
				if s.Bench != "" {
					got[s.Position.Local()] = s.Bench.Local()
				}
			}
		}
		for id, on := range want {
			if with, known := got[id]; with != on || !known && on != "" {
				t.Errorf("%s: %s is put together with %q, want %q", replace, id, got[id], on)
			}
		}
	}
}
