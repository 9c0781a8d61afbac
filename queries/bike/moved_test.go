package bike_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

const movedOn = graph.VariantID("skerry-620/2004/eu")

// movedRow is what is said of one part that hangs elsewhere.
func movedRow(t *testing.T, r *readertest.Reader, m graph.Moved) bike.MovedRow {
	t.Helper()
	own := graph.Bike{ID: "mine", Variant: movedOn, Moved: []graph.Moved{m}}
	a, err := bike.BikeFound(t.Context(), r.WithBikes(own), bike.BikeFoundQuestion{Name: "mine"})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Moved) != 1 {
		t.Fatalf("%s: %d rows, want 1", m.Position, len(a.Moved))
	}
	return a.Moved[0]
}

// TestMovedLinesAreNotAsBuilt: whatever carries the end of a line and hangs a foot
// higher leaves that line unknown or worse: that its part is the one built in says
// nothing any more. Neither does it where another part is put in the same place.
func TestMovedLinesAreNotAsBuilt(t *testing.T) {
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	tried := map[graph.PositionID]bool{}
	for _, run := range facts.Runs {
		if !slices.Contains(run.On, movedOn) || run.Line.Local() == "final-drive/chain" {
			continue // a chain is judged by its sprockets
		}
		for _, ref := range slices.Concat([]graph.FeatureRef{run.From, run.To}, run.MovedBy) {
			if ref.Position == "" || tried[ref.Position] {
				continue
			}
			tried[ref.Position] = true
			row := movedRow(t, r, graph.Moved{Position: ref.Position, Up: "300 mm"})
			if row.Verdict != graph.Unknown && row.Verdict != graph.DoesNotFit {
				t.Errorf("%s 300 mm higher: %s %v", ref.Position, row.Verdict, row.Says)
			}
			if !slices.ContainsFunc(row.Says, func(l bike.AgainstLine) bool { return l.What == "line "+run.Line.Local() }) {
				t.Errorf("%s moved: nothing is said of %s", ref.Position, run.Line)
			}
		}
	}
	if len(tried) < 10 {
		t.Errorf("only %d places tried", len(tried))
	}
	own := graph.Bike{ID: "mine", Variant: movedOn, Moved: []graph.Moved{
		{Position: "skerry-620:front-brake/master-cylinder", Forward: "200 mm"}}}
	a, err := swap.Swap(t.Context(), r.WithBikes(own), swap.SwapQuestion{On: "mine",
		Swaps: []swap.Replacement{{Position: "front-brake/master-cylinder", Part: "Tarnholt 207.7003"}}})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(a.Unknown, func(o examine.Outcome) bool {
		return o.What == examine.OfRun && o.Run.Line.Local() == "front-brake/hose-upper"
	}) {
		t.Error("a master put where the moved one hung: its hose is not unknown")
	}
	if len(a.Conflicts) > 0 && slices.ContainsFunc(a.Conflicts, func(c swap.Conflict) bool {
		return len(c.Sides) == 2 &&
			c.Sides[0].Says == "0 mm"
	}) {
		t.Errorf("where it hung and where it hangs are taken for two readings: %v", a.Conflicts)
	}
}

// TestMovedReservoir: a reservoir must stand above what it feeds: as measured, else by
// how far it was moved where that alone decides.
func TestMovedReservoir(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	const at = graph.PositionID("skerry-620:rear-brake/reservoir")
	tests := []struct {
		name  string
		moved graph.Moved
		want  graph.Verdict
	}{
		{"measured above", graph.Moved{Up: "-100 mm", Above: "12 mm"}, graph.Fits},
		{"measured level", graph.Moved{Up: "-100 mm", Above: "0 mm"}, graph.DoesNotFit},
		{"measured below", graph.Moved{Up: "20 mm", Above: "-5 mm"}, graph.DoesNotFit},
		{"higher", graph.Moved{Up: "40 mm"}, graph.Fits},
		{"a little lower", graph.Moved{Up: "-30 mm"}, graph.Unknown},
		{"lower than its hose is long", graph.Moved{Up: "-300 mm"}, graph.DoesNotFit},
		{"elsewhere, nobody says how high", graph.Moved{On: "skerry-620:frame/subframe"}, graph.Unknown},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.moved.Position = at
			for _, line := range movedRow(t, r, tt.moved).Says {
				if line.What == "height over rear-brake/master-cylinder" {
					if line.Verdict != tt.want {
						t.Errorf("%s (%s), want %s", line.Verdict, line.Why, tt.want)
					}
					return
				}
			}
			t.Error("nothing is said of its height")
		})
	}
}

// TestMovedWithoutSupport: that nothing holds a moved part is said where what held it as
// built is not there; where nobody recorded what that was, it is unknown.
func TestMovedWithoutSupport(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	const reservoir, splitter = graph.PositionID("skerry-620:rear-brake/reservoir"),
		graph.PositionID("skerry-620:front-brake/splitter")
	row := movedRow(t, r, graph.Moved{Position: reservoir, Up: "-120 mm"})
	support := func(r bike.MovedRow) bike.AgainstLine {
		return r.Says[slices.IndexFunc(r.Says, func(l bike.AgainstLine) bool { return l.What == "support" })]
	}
	nobody := "nobody recorded what carries it"
	if got := support(row); got.Verdict != graph.Unknown || !strings.HasPrefix(got.Why, nobody) {
		t.Errorf("a reservoir that no joint holds: %s (%s)", got.Verdict, got.Why)
	}
	row = movedRow(t, r, graph.Moved{Position: splitter, Forward: "30 mm"})
	if got := support(row); got.Verdict != graph.Unknown || !strings.HasPrefix(got.Why, "what it was bolted to is there") {
		t.Errorf("a splitter whose yoke is there: %s (%s)", got.Verdict, got.Why)
	}
	own := graph.Bike{ID: "mine", Variant: movedOn, Moved: []graph.Moved{{Position: splitter, Forward: "30 mm"}},
		Found: []graph.Fitted{{Position: "skerry-620:yokes/lower"}}}
	a, err := bike.BikeFound(t.Context(), r.WithBikes(own), bike.BikeFoundQuestion{Name: "mine"})
	if err != nil {
		t.Fatal(err)
	}
	if got := support(a.Moved[0]); got.Verdict != graph.DoesNotFit {
		t.Errorf("a splitter whose yoke is missing: %s (%s)", got.Verdict, got.Why)
	}
}
