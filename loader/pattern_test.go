package loader_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/sampletest"
	"matewell/loader"
)

// combinations are answers to all choices. Every answer of the choices named
// meets every other there is of those; the other choices take turns, so that
// each pair of answers comes up.
func combinations(full ...string) []map[string]string {
	all := []map[string]string{{}}
	turn := 0
	for _, c := range loader.Choices() {
		words := c.Words()
		if !slices.Contains(full, c.Name) {
			continue
		}
		var next []map[string]string
		for _, before := range all {
			for _, word := range words {
				one := map[string]string{c.Name: word}
				for name, w := range before {
					one[name] = w
				}
				next = append(next, one)
			}
		}
		all = next
	}
	for i, one := range all {
		turn = i*7 + i/13
		for k, c := range loader.Choices() {
			if one[c.Name] == "" {
				words := c.Words()
				one[c.Name] = words[turn%len(words)]
				turn = turn/len(words) + k*3 + i
			}
		}
	}
	return all
}

// machines loads a model for each combination, all at once.
func machines(t *testing.T, all []map[string]string) graph.Facts {
	t.Helper()
	var text strings.Builder
	text.WriteString("source: notes\nsources: {notes: {kind: measurement, title: Notes}}\nbrands: {Tarnholt: }\nmodels:\n")
	for i, answers := range all {
		like, err := loader.PatternsFor(answers)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&text, "  m%d: {maker: Tarnholt, name: M, variants: [{year: 2000, market: eu}], like: [%s]}\n", i,
			strings.Join(like, ", "))
	}
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{loader.Standard(),
		{Name: "mine", FS: fstest.MapFS{"m.yaml": {Data: []byte(text.String())}}}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range probs.Sorted() {
		if d.Code != "no-rule" { // a rule may come later than the pattern that wants it
			t.Errorf("%v, of %v", d, all[max(0, d.Pos.Line-5)])
		}
	}
	return facts
}

// Every machine that can be begun is without a fault, and without a warning.
func TestEveryPattern(t *testing.T) {
	all := combinations("fork", "front-brake", "drive", "shocks", "fuel", "fairing", "wheels")
	if !sampletest.All() {
		few := all[:0:0]
		// 17 divides no number of answers, so that each comes up
		for i := int(sampletest.Seed(t) % 17); i < len(all); i += 17 {
			few = append(few, all[i])
		}
		all = few
	}
	const batch = 48
	for len(all) > 0 {
		n := min(batch, len(all))
		judged(t, machines(t, all[:n]), all[:n])
		all = all[n:]
	}
}

// judged reports places with a safety class that nothing meets and whose kind
// has nothing that it could be compared by.
func judged(t *testing.T, f graph.Facts, all []map[string]string) {
	t.Helper()
	met := map[graph.PositionID]bool{}
	meet := func(ids ...graph.PositionID) {
		for _, id := range ids {
			met[id] = true
		}
	}
	for _, j := range f.Joints {
		meet(j.A.Position, j.B.Position)
		meet(j.Fasteners...)
		meet(j.Renew...)
	}
	for _, r := range f.Runs {
		meet(r.Line)
	}
	for _, c := range f.Circuits {
		meet(c.Members...)
	}
	for _, s := range f.Stacks {
		for _, m := range s.Row {
			meet(m.Position)
		}
	}
	compared := map[graph.KindID]bool{}
	for _, k := range f.Kinds {
		compared[k.ID] = slices.ContainsFunc(k.Features, func(f graph.KindFeature) bool { return f.Kind != "finish" })
	}
	seen := map[string]bool{}
	for _, p := range f.Positions {
		if local := p.ID.Local(); p.Safety != graph.SafetyNone && !met[p.ID] && !compared[p.Kind] && !seen[local] {
			seen[local] = true
			t.Errorf("nothing meets %s (%s, %s)", local, p.Kind, p.Safety)
		}
	}
}
