package plan

import (
	"strconv"
	"strings"
	"testing"

	"matewell/graph/sampletest"
	"matewell/testdata/published"
)

// garden reads the published instance as a problem: each variable a slot that
// takes nothing or something, each constraint a demand that not all of its
// slots take nothing.
func garden(t *testing.T) Problem {
	t.Helper()
	text := published.Text(t, "garden9x9.opb")
	var p Problem
	for range 81 {
		p.Slots = append(p.Slots, Slot{Options: []Option{{Name: "empty"}, {Name: "taken", Cost: Cost{Parts: 1}}}})
	}
	for _, line := range strings.Split(string(text), "\n") {
		if !strings.HasSuffix(line, ">= +1;") {
			continue
		}
		var d Demand
		for _, word := range strings.Fields(line) {
			if v, found := strings.CutPrefix(word, "x"); found {
				n, err := strconv.Atoi(v)
				if err != nil {
					t.Fatal(err)
				}
				d.Slots = append(d.Slots, n-1)
			}
		}
		for bits := 1; bits < 1<<len(d.Slots); bits++ {
			var c Combination
			for k := range d.Slots {
				c.Options = append(c.Options, bits>>k&1)
			}
			d.Allowed = append(d.Allowed, c)
		}
		p.Demands = append(p.Demands, d)
	}
	if len(p.Demands) != 81 {
		t.Fatalf("garden9x9 has %d constraints, want 81", len(p.Demands))
	}
	return p
}

// The published pseudo-Boolean instance garden9x9 has the optimum 20.
func TestGardenIsTwenty(t *testing.T) {
	if !sampletest.All() {
		t.Skip("one long proof: it runs where all is to be tried")
	}
	p := garden(t)
	if got := prove(t, p, Options{}); got.Plans[0].Cost != (Cost{Parts: 20}) {
		t.Errorf("smallest garden costs %v, want 20 parts", got.Plans[0].Cost)
	}
	r := newRoom(&p, PreferEffort)
	if ok, err := r.reduce(t.Context()); !ok || err != nil {
		t.Fatalf("reduction says the garden is impossible, error %v", err)
	}
	for _, m := range newSearch(r, mostSteps).methods {
		if _, isDense := m.(*dense); !isDense {
			t.Errorf("a piece of the garden went to %T: this test is about the solver", m)
		}
	}
}
