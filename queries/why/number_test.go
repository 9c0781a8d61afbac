package why_test

import (
	"context"
	"slices"
	"testing"

	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/mating"
	"matewell/queries/readertest"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// TestWhyOfNumbers asks why of every figure of the demonstration's swaps: each
// reading it was worked out from is a step with its source, and each figure
// comes from its formula.
func TestWhyOfNumbers(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	asked, left, share := 0, 0, sampletest.OneIn(t, 6)
	for _, tt := range demotest.Swaps() {
		t.Run(tt.Name, func(t *testing.T) {
			a, err := swap.Swap(context.Background(), r, swap.SwapQuestion{On: tt.On, Swaps: tt.Swaps})
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range a.Numbers {
				if !share(n.AnswerID) {
					continue
				}
				asked++
				checkNumberTrail(t, n, trailOf(t, r, n.AnswerID))
			}
			if a.Then == nil {
				return
			}
			for _, o := range a.Then.Left {
				if o.AnswerID == "" && a.Then.OnceMade {
					continue // it has a made part in it, which no question names
				}
				if !share(o.AnswerID) {
					continue
				}
				left++
				if trail := trailOf(t, r, o.AnswerID); o.What != examine.OfWord && trail.Verdict != o.After {
					t.Errorf("%s: %s, left as %s", o.AnswerID, trail.Verdict, o.After)
				}
			}
		})
	}
	if asked < 15 && sampletest.All() {
		t.Errorf("only %d figures were asked about", asked)
	}
	if left < 10 && sampletest.All() {
		t.Errorf("only %d outcomes that are left were asked about", left)
	}
}

func trailOf(t *testing.T, r *readertest.Reader, id string) why.WhyTrail {
	t.Helper()
	why, err := why.Why(context.Background(), r, why.WhyQuestion{ID: id})
	if err != nil || len(why.Trails) != 1 || why.Trails[0].ID != id {
		t.Fatalf("why %s: %d trails, %v", id, len(why.Trails), err)
	}
	return why.Trails[0]
}

func checkNumberTrail(t *testing.T, n examine.Number, trail why.WhyTrail) {
	t.Helper()
	if n.Formula == "" || n.Source == "" {
		t.Errorf("%s: formula %q, source %q", n.Name, n.Formula, n.Source)
	}
	said := func(u mating.Use) bool {
		return slices.ContainsFunc(trail.Steps, func(s why.WhyStep) bool {
			return s.Kind == evidence.StepDimension && len(s.Sources) > 0 &&
				slices.ContainsFunc(s.Sources, func(v evidence.Source) bool { return v.At == u.Reading.Pos.String() })
		})
	}
	for _, u := range append(slices.Clone(n.Uses), n.WasUses...) {
		if !said(u) {
			t.Errorf("%s: no step tells %s %s of %s (%s)", n.Name, u.Dim, u.Feature, u.Part, u.Reading.Pos)
		}
	}
	figures := 0
	for _, s := range trail.Steps {
		if s.Kind == evidence.StepComputed && len(s.From) > 0 {
			figures++
		}
	}
	if n.After != nil && (figures == 0 || len(n.Uses) == 0) {
		t.Errorf("%s: %d figures from %d readings", n.Name, figures, len(n.Uses))
	}
	if n.After == nil && len(trail.Settle) == 0 {
		t.Errorf("%s is unknown, and nothing would settle it", n.Name)
	}
}
