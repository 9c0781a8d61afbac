package differ_test

import (
	"errors"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/differ"
	"matewell/queries/readertest"
)

// The caliper is one part up to 2003 and another from 2004, neither of which goes on
// the other's machine; a lever blade that only looks otherwise goes on both.
func TestStrips(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	s, err := differ.StripsOf(t.Context(), r, differ.DifferQuestion{A: "skerry-620/2001/eu", B: "skerry-620/2006/eu",
		Position: "front-brake/caliper-left"})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Places) != 1 || s.Market != "eu" {
		t.Fatalf("%d places in market %q", len(s.Places), s.Market)
	}
	p := s.Places[0]
	for i, v := range s.On {
		want := graph.PartID("Tarnholt 207.4418b")
		if v.Year > 2003 {
			want = "Tarnholt 207.4452"
		}
		if p.Parts[i] != want {
			t.Errorf("%s has %s, want %s", v.ID, p.Parts[i], want)
		}
		if i == 0 {
			continue
		}
		step, wall := p.Steps[i-1], s.On[i-1].Year == 2003 && v.Year == 2004
		if wall && (step.Class != differ.ClassFunctional || !step.Known || step.Onward || step.Back) {
			t.Errorf("into 2004: %+v", step)
		}
		if !wall && step.Class != differ.ClassSame {
			t.Errorf("into %s: %+v", v.ID, step)
		}
	}
	var wrong *queries.QuestionError
	_, err = differ.StripsOf(t.Context(), r, differ.DifferQuestion{A: "skerry-620/2001/eu", B: "fjeld-750/2003/eu"})
	if !errors.As(err, &wrong) {
		t.Errorf("two models: %v", err)
	}
}
