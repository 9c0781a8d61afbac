package swap_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestOffersTheNearest: of what closes a gap equally well, that comes first which is
// nearest to the part built in, and never one that gave way to another for good; and no
// place is given two parts.
func TestOffersTheNearest(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: "fjeld-750/2004/eu",
		Swaps: []swap.Replacement{{Position: "final-drive/chain", Part: "Thrumley 520-110C"}}})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, g := range a.Get {
		if g.What != swap.GetPart {
			continue
		}
		if had := got[g.Position.Local()]; had != "" {
			t.Errorf("%s is to get %s and %s", g.Position.Local(), had, g.Part)
		}
		got[g.Position.Local()] = string(g.Part)
		if slices.Contains(g.Also, "Tarnholt 209.3006") {
			t.Errorf("%s may be the sprocket for a clip plate", g.Position.Local())
		}
	}
	if got["final-drive/sprocket-front"] != "Thrumley 520-017F" { // 17 teeth, as built
		t.Errorf("front sprocket to get: %q", got["final-drive/sprocket-front"])
	}
	if !slices.ContainsFunc(a.Get, func(g swap.Get) bool { return strings.Contains(g.Text, "spacer 1.5 mm") }) {
		t.Errorf("no spacer for the chain line, which f-0030 asks for: %v", a.Get)
	}
}

// TestSprocketIsHeldEndwise: what a front sprocket is made to be held by decides. One for
// a plate does not go under a nut, and what nobody recorded is unknown.
func TestSprocketIsHeldEndwise(t *testing.T) {
	demotest.Alone(t)
	for name, test := range map[string]struct {
		part    string
		unknown bool // nobody recorded how the part is held
		want    graph.Verdict
	}{
		"for a plate":        {"209.3006", false, graph.DoesNotFit},
		"for a nut":          {"Thrumley 530-017F", false, graph.Fits},
		"hold not recorded":  {"Thrumley 530-017F", true, graph.Unknown},
		"plate not recorded": {"209.3006", true, graph.Unknown},
	} {
		facts := demotest.Facts(t)
		if test.unknown {
			facts.Parts = slices.Clone(facts.Parts)
			for i, p := range facts.Parts {
				if strings.HasSuffix(string(p.ID), strings.TrimPrefix(test.part, "Thrumley ")) {
					facts.Parts[i].Features = slices.DeleteFunc(slices.Clone(p.Features),
						func(f graph.Feature) bool { return f.Name == "boss" })
				}
			}
		}
		a, err := swap.Swap(t.Context(), readertest.New(facts), swap.SwapQuestion{On: "fjeld-750/2004/eu",
			Swaps: []swap.Replacement{{Position: "final-drive/sprocket-front", Part: test.part}}})
		if err != nil {
			t.Fatal(err)
		}
		got := graph.Fits
		for _, o := range slices.Concat(a.DoesNotMate, a.Unknown) {
			if o.What == examine.OfJoint && strings.HasSuffix(o.ID, "sprocket-front-held") {
				got = o.After
			}
		}
		if got != test.want || a.SafetyOpen() != (got != graph.Fits || strings.HasPrefix(test.part, "209")) {
			t.Errorf("%s: %s, open %v, want %s", name, got, a.SafetyOpen(), test.want)
		}
	}
}
