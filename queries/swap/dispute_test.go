package swap_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/conflicts"
	"matewell/queries/demotest"
	"matewell/queries/differ"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/machine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// TestRefusedByHandIsDisputed: what somebody with the part in hand calls unfit at a place
// with a safety class, while by all that was worked out it fits, is unknown to whoever
// asks: swap, differ, fits, why and conflicts. Hearsay changes nothing against a list, and
// where the measures say no as well it does not fit.
func TestRefusedByHandIsDisputed(t *testing.T) {
	demotest.Alone(t)
	const from, on = graph.VariantID("skerry-620/2003/eu/late"), graph.VariantID("skerry-620/2003/uk/late")
	const local = "front-brake/disc-left"
	at := graph.PositionID("skerry-620:" + local)
	facts, twins := renumbered(demotest.Facts(t), from)
	var twin graph.PartID
	for _, f := range facts.Fitments {
		if f.Position == at && slices.Contains(f.On, from) && twins[f.Part] != "" {
			twin = f.Part
		}
	}
	for _, test := range []struct {
		name    string
		method  graph.Method
		other   graph.PartID // found instead of the twin
		verdict graph.Verdict
	}{
		{"photographed", graph.MethodPhoto, "", graph.Unknown},
		{"measured", graph.MethodMeasured, "", graph.Unknown},
		{"fitted", graph.MethodFitted, "", graph.Unknown},
		{"by its measures too", graph.MethodPhoto, "Varnhegg 35-296.1", graph.DoesNotFit},
	} {
		t.Run(test.name, func(t *testing.T) {
			part := twin
			if test.other != "" {
				part = test.other
			}
			facts := facts
			facts.Findings = append(slices.Clone(facts.Findings), graph.Finding{ID: "no-go", Part: part, Position: at,
				On: []graph.VariantID{on}, Verdict: graph.DoesNotFit, Method: test.method, By: "wren", Note: "it rubs"})
			r := readertest.New(facts)
			a, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: string(on),
				Swaps: []swap.Replacement{{Position: local, Part: string(part)}}})
			if err != nil {
				t.Fatal(err)
			}
			if a.Verdict != test.verdict || a.Ready || !a.SafetyOpen() {
				t.Errorf("swap: %s, ready %v: %v", a.Verdict, a.Ready, a.NotReady)
			}
			said, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: string(part), On: string(on), Position: local})
			if err != nil {
				t.Fatal(err)
			}
			i := slices.IndexFunc(said.Rows, func(row fits.FitsRow) bool { return row.Part == part && row.Position == at })
			if i < 0 || said.Rows[i].Verdict != test.verdict || !said.SafetyOpen() {
				t.Errorf("fits: %+v", said.Rows)
			}
			saysWhy(t, r, a, at, test.verdict)
			if test.other != "" {
				return
			}
			if !slices.ContainsFunc(a.Conflicts, func(c swap.Conflict) bool { return strings.Contains(c.Settle, local) }) {
				t.Errorf("swap tells no conflict: %+v", a.Conflicts)
			}
			differs(t, r, from, on, local, test.verdict)
			all, err := conflicts.Conflicts(t.Context(), r, conflicts.ConflictsQuestion{On: string(on)})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.ContainsFunc(all.Rows, func(c conflicts.ConflictRow) bool {
				return c.Part == part && len(c.Safety) > 0 && c.Sort == conflicts.ConflictComputed
			}) || !all.SafetyOpen() {
				t.Errorf("conflicts has none of it")
			}
		})
	}
}

// saysWhy has the trail of what is said of the place say the same.
func saysWhy(t *testing.T, r graph.Reader, a swap.SwapAnswer, at graph.PositionID, want graph.Verdict) {
	t.Helper()
	for _, o := range slices.Concat(a.Unknown, a.DoesNotMate) {
		if o.What != examine.OfWord || o.ID != string(at) {
			continue
		}
		trail, err := why.Why(t.Context(), r, why.WhyQuestion{ID: o.AnswerID})
		if err != nil {
			t.Fatal(err)
		}
		if !trail.SafetyOpen() || len(trail.Trails) == 0 || trail.Trails[0].Verdict != want {
			t.Errorf("why: %+v", trail.Trails)
		}
		return
	}
	t.Errorf("swap says nothing of the finding")
}

// differs has the comparison of two machines say the same of a place.
func differs(t *testing.T, r graph.Reader, from, on graph.VariantID, local string, want graph.Verdict) {
	t.Helper()
	a, err := differ.Differ(t.Context(), r, differ.DifferQuestion{A: string(from), B: string(on), Position: local})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range a.Rows {
		if row.Position == local && (row.AOnB == nil || row.AOnB.Verdict != want) {
			t.Errorf("differ: %+v", row.AOnB)
		}
	}
	if len(a.Rows) == 0 || !a.SafetyOpen() {
		t.Errorf("differ: %d rows, open %v", len(a.Rows), a.SafetyOpen())
	}
}

// TestMeasuresAnswerNoFit: whoever fitted a part, and however well that is shown, nothing
// calls it fitting where its measures say no.
func TestMeasuresAnswerNoFit(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	const on = graph.VariantID("skerry-620/2003/uk/late")
	at := graph.PositionID("skerry-620:front-brake/disc-left")
	for _, method := range []graph.Method{graph.MethodPhoto, graph.MethodMeasured} {
		facts := facts
		facts.Findings = append(slices.Clone(facts.Findings), graph.Finding{ID: "yes", Part: "Varnhegg 35-296.1",
			Position: at, On: []graph.VariantID{on}, Verdict: graph.Fits, Method: method, By: "wren"})
		r := readertest.New(facts)
		before := machine.StartIn(machine.NewLibrary(r), variantNamed(t, facts, on), "")
		if err := before.Load(t.Context(), at); err != nil {
			t.Fatal(err)
		}
		swapped := swapOne(t, before, at, "Varnhegg 35-296.1")
		said, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: "Varnhegg 35-296.1", On: string(on),
			Position: at.Local()})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range said.Rows {
			if swapped.Verdict != graph.DoesNotFit || row.Verdict != swapped.Verdict {
				t.Errorf("%s: fits says %s (%s), swap %s", method, row.Verdict, row.Why, swapped.Verdict)
			}
		}
	}
}
