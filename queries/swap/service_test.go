package swap_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// demoSwap puts a swap to the built-in data; changes are "position=part".
func demoSwap(t *testing.T, on string, changes ...string) swap.SwapAnswer {
	t.Helper()
	return swapIn(t, demotest.Facts(t), on, changes...)
}

func swapIn(t *testing.T, facts graph.Facts, on string, changes ...string) swap.SwapAnswer {
	t.Helper()
	q := swap.SwapQuestion{On: on}
	for _, text := range changes {
		r, err := swap.ParseSwap(text)
		if err != nil {
			t.Fatal(err)
		}
		q.Swaps = append(q.Swaps, r)
	}
	a, err := swap.Swap(context.Background(), readertest.New(facts), q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestServices: what a change asks for besides parts stands where it is done, and
// nowhere else. Common practice, no source.
func TestServices(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	texts := []string{"new fluid", "new fork oil", "new pads with the new disc", "pump the lever"}
	for _, tt := range []struct {
		name    string
		changes []string
		want    []string // "position: text"
	}{
		{"caliper", []string{"front-brake/caliper-left=Tarnholt 207.7412"},
			[]string{"front-brake/caliper-left: new fluid", "front-brake/pads-left: pump the lever"}},
		{"disc", []string{"front-brake/disc-left=Varnhegg 35-296.1"},
			[]string{"front-brake/pads-left: new pads with the new disc", "front-brake/pads-left: pump the lever"}},
		{"pads", []string{"front-brake/pads-left=Tarnholt 207.4047"}, []string{"front-brake/pads-left: pump the lever"}},
		{"leg", []string{"fork/leg-left=Tarnholt 203.7004"}, []string{"fork/leg-left: new fork oil, 7.5 W, 105 mm of air"}},
		{"spring", []string{"fork/spring-left=Tarnholt 203.4025"},
			[]string{"fork/leg-left: new fork oil, 10 W, 128 mm of air"}},
		{"dust seal", []string{"fork/dust-seal-left=Tarnholt 203.4019"}, nil},
		{"lever blade", []string{"front-brake/lever=Tarnholt 207.7008"}, nil},
		{"headlamp", []string{"lamps/headlamp=Tarnholt 402.4011"}, nil},
	} {
		a := demoSwap(t, on, tt.changes...)
		var got []string
		for _, r := range a.Renew {
			for _, text := range texts {
				if strings.HasPrefix(r.Text, text) {
					got = append(got, r.Position.Local()+": "+r.Text)
				}
			}
			if r.For == nil {
				t.Errorf("%s: %q names no joints, not even none", tt.name, r.Text)
			}
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
			continue
		}
		for _, want := range tt.want {
			if !slices.ContainsFunc(got, func(text string) bool { return strings.HasPrefix(text, want) }) {
				t.Errorf("%s: %q, want %q", tt.name, got, want)
			}
		}
	}
}

// TestAlikeIsNotJudged: where nobody says what a spring works in, two new ones that
// are alike have not been judged by that; springs as built have.
func TestAlikeIsNotJudged(t *testing.T) {
	facts := demotest.Facts(t)
	facts.Joints = slices.DeleteFunc(slices.Clone(facts.Joints), func(j graph.Joint) bool {
		return strings.Contains(string(j.ID), ":spring-")
	})
	const on = "skerry-620/2003/eu/late"
	a := swapIn(t, facts, on, "fork/spring-left=Tarnholt 203.4025", "fork/spring-right=Tarnholt 203.4025")
	if a.Verdict != graph.Unknown || a.Ready {
		t.Errorf("springs of another fork: %s, ready %v", a.Verdict, a.Ready)
	}
	a = swapIn(t, facts, on, "fork/spring-left=Tarnholt 203.4021", "fork/spring-right=Tarnholt 203.4021")
	if a.Verdict != graph.Fits {
		t.Errorf("the springs as built: %s", a.Verdict)
	}
}

// TestTorquesOfTheYear: an axle and the bolts that pinch it have a torque each, and
// another year's manual is no voice against this one's. The values are invented.
func TestTorquesOfTheYear(t *testing.T) {
	for _, tt := range []struct{ on, built, axle string }{
		{"skerry-620/2003/eu/late", "Tarnholt 205.4006", "59 N m"},
		{"skerry-620/2005/eu", "Tarnholt 205.4009", "71 N m"},
	} {
		a := demoSwap(t, tt.on, "front-wheel/axle="+tt.built)
		got := map[string]swap.TorqueRow{}
		for _, r := range a.Torques {
			_, local, _ := strings.Cut(string(r.Joint), ":")
			got[local] = r
		}
		for joint, want := range map[string]string{"axle-in-right-leg": tt.axle, "pinch-bolt-right-thread": "20 N m",
			"axle-in-left-leg": "20 N m"} {
			if got[joint].Torque != want || got[joint].Conflict {
				t.Errorf("%s: %s %+v, want %s", tt.on, joint, got[joint], want)
			}
		}
	}
}
