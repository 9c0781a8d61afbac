package swap_test

import (
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// What closes the gap of a pair closes nothing of the disc that has the same place
// for its name: nothing has that go in.
func TestClosersKeepOutcomesApart(t *testing.T) {
	const at = graph.PositionID("skerry-620:front-brake/disc-left")
	ends := []examine.End{{Position: at}}
	pair := examine.Outcome{What: examine.OfPair, ID: string(at), Ends: ends, After: graph.DoesNotFit,
		Why: "other than its neighbour"}
	disc := examine.Outcome{What: examine.OfDisc, ID: string(at), Ends: ends, After: graph.DoesNotFit, Why: "too thin"}
	neighbour := swap.Get{What: swap.GetPart, Text: "the other disc"}.Closing(pair)
	for _, test := range []struct {
		name    string
		open    []examine.Outcome
		closing swap.Get
		refused string
		gets    int
	}{
		{"the pair alone", []examine.Outcome{pair}, neighbour, "", 1},
		{"the disc as well", []examine.Outcome{pair, disc}, neighbour, "too thin", 0},
		{"both closed", []examine.Outcome{pair, disc}, neighbour.Closing(disc), "", 1},
		{"nothing open", nil, neighbour, "", 0},
	} {
		gets, refused := swap.Closers(swap.SwapAnswer{DoesNotMate: test.open, Get: []swap.Get{test.closing}}, at)
		if refused != test.refused || len(gets) != test.gets {
			t.Errorf("%s: %d gets, refused %q, want %d and %q", test.name, len(gets), refused, test.gets, test.refused)
		}
	}
	if ids := neighbour.Closing(disc).For; len(ids) != 1 {
		t.Errorf("for %v, want the one identity", ids)
	}
}
