package swap_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/readertest"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// TestOneDoorForNumbers: whether a newer number may take the place of an older one on a machine is answered
// alike by what fits, by a swap and by what is ordered. A "no" of one step is not undone by two that go round
// it, and holds for the frame numbers that it names.
func TestOneDoorForNumbers(t *testing.T) {
	const old, middle, last = graph.PartID("Tarnholt 205.4042"), graph.PartID("Tarnholt 205.8142"),
		graph.PartID("Tarnholt 205.8242")
	const on = "skerry-620/2003/eu/late"
	frames := func(text string) graph.Scope {
		f, err := measure.ParseFrames(text)
		if err != nil {
			t.Fatal(err)
		}
		return graph.Scope{Frames: f}
	}
	tests := []struct {
		name  string
		no    graph.Scope
		frame string
		want  bool // refused
	}{
		{"a no for all", graph.Scope{}, "", true},
		{"a no for this frame", frames("TK6A-011000 on"), "TK6A-011377", true},
		{"a no for later frames", frames("TK6A-012000 on"), "TK6A-011377", false},
		{"a no for some frames, and the frame is not known", frames("TK6A-011000 on"), "", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			facts.Parts = slices.Clone(facts.Parts)
			at := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == old })
			for _, id := range []graph.PartID{middle, last} {
				p := facts.Parts[at]
				p.ID, p.Number = id, graph.Number{Text: id.Number(), Core: id.Number()}
				facts.Parts = append(facts.Parts, p)
			}
			cite := facts.Supersessions[0].Said
			edge := func(from, to graph.PartID, may graph.Usable) graph.Supersession {
				return graph.Supersession{ID: graph.SupersessionID(from + " " + to), Old: from, New: to, NewOnOld: may,
					OldOnNew: may, Said: cite}
			}
			no := edge(old, last, graph.No)
			no.Scope, no.Reason = tt.no, "runs dry and leaks"
			facts.Supersessions = append(slices.Clone(facts.Supersessions), edge(old, middle, graph.Yes),
				edge(middle, last, graph.Yes), no)
			r := readertest.New(facts)

			said, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: string(last), On: on, Frame: tt.frame,
				Position: "front-wheel/seal-left"})
			if err != nil {
				t.Fatal(err)
			}
			verdicts := lists.Mapped(said.Rows, func(row fits.FitsRow) graph.Verdict { return row.Verdict })
			if refused := slices.Contains(verdicts, graph.DoesNotFit); refused != tt.want {
				t.Errorf("fits says %v", verdicts)
			}
			put, err := swap.Swap(t.Context(), r, swap.SwapQuestion{On: on, Frame: tt.frame,
				Swaps: []swap.Replacement{{Position: "front-wheel/seal-left", Part: string(last)}}})
			if err != nil {
				t.Fatal(err)
			}
			if refused := put.Verdict == graph.DoesNotFit; refused != tt.want {
				t.Errorf("a swap says %s", put.Verdict)
			}
			v := variantNamed(t, facts, on)
			sold, err := shop.SoldAs(t.Context(), r, v, tt.frame, old)
			if err != nil {
				t.Fatal(err)
			}
			if refused := sold[old].Part != last; refused != tt.want {
				t.Errorf("%s is ordered for %s", sold[old].Part, old)
			}
		})
	}
}
