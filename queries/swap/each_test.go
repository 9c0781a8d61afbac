package swap_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestSwapEach: an answer for a model year splits into its variants where they
// differ, joins those that don't, and names the fact that settles it.
func TestSwapEach(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	tests := []struct {
		name   string
		q      swap.SwapQuestion
		covers string // of each answer
		settle string
		lacks  int // variants without the position
	}{
		{"one variant", swap.SwapQuestion{On: "skerry-620/2004/eu",
			Swaps: []swap.Replacement{{"front-wheel/spacer-right", "205.4037"}}},
			"2004 eu", "", 0},
		{"four variants alike", swap.SwapQuestion{On: "skerry-620/2003",
			Swaps: []swap.Replacement{{"front-brake/master-cylinder", "207.7003"}}},
			"2003 eu, uk", "", 0},
		{"a change within the year", swap.SwapQuestion{On: "skerry-620/2003",
			Swaps: []swap.Replacement{{"front-wheel/spacer-right", "205.4037"}}},
			"2003 eu, uk early | 2003 eu, uk late", "frame number", 0},
		{"two markets", swap.SwapQuestion{On: "skerry-620/2004",
			Swaps: []swap.Replacement{{"lamps/headlamp", "Tarnholt 402.4014"}}},
			"2004 eu | 2004 uk", "market", 0},
		{"narrowed by market", swap.SwapQuestion{On: "skerry-620/2004", Market: "uk",
			Swaps: []swap.Replacement{{"lamps/headlamp", "Tarnholt 402.4014"}}},
			"2004 uk", "", 0},
		{"a position of the later ones", swap.SwapQuestion{On: "skerry-620/2003",
			Swaps: []swap.Replacement{{"front-wheel/spacer-left", "205.4028"}}},
			"2003 eu, uk late", "frame number", 2},
		{"two years", swap.SwapQuestion{On: "skerry-620/2003-2004", Market: "eu",
			Swaps: []swap.Replacement{{"front-wheel/spacer-right", "205.4037"}}},
			"2003 eu early | 2003 eu late | 2004 eu", "frame number, model year", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := swap.SwapEach(context.Background(), r, tt.q)
			if err != nil {
				t.Fatal(err)
			}
			var covers []string
			for _, a := range got.Answers {
				var each []string
				for _, c := range a.Covers {
					each = append(each, c.String())
				}
				covers = append(covers, strings.Join(each, "; "))
			}
			if text := strings.Join(covers, " | "); text != tt.covers {
				t.Errorf("answers for %s, want %s", text, tt.covers)
			}
			if text := strings.Join(got.SettledBy, ", "); text != tt.settle || (tt.settle == "") != (len(got.Split) == 0) {
				t.Errorf("settled by %q with %d variants listed, want %q", text, len(got.Split), tt.settle)
			}
			if len(got.Without) != tt.lacks {
				t.Errorf("without the position: %+v, want %d", got.Without, tt.lacks)
			}
		})
	}
}

// TestSwapEachAgreesWithSwap: the answer for a year is, for each of its
// variants, the answer for that variant.
func TestSwapEachAgreesWithSwap(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	q := swap.SwapQuestion{On: "skerry-620/2003", Swaps: []swap.Replacement{{"front-wheel/spacer-right", "205.4037"}}}
	year, err := swap.SwapEach(context.Background(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, a := range year.Answers {
		for _, c := range a.Covers {
			for _, on := range c.On {
				q.On = string(on)
				one, err := swap.Swap(context.Background(), r, q)
				if err != nil {
					t.Fatal(err)
				}
				seen++
				if one.Verdict != a.Verdict || len(one.DoesNotMate) != len(a.DoesNotMate) || len(one.Unknown) != len(a.Unknown) ||
					len(one.Get) != len(a.Get) {
					t.Errorf("on %s %s, for the year %s", on, one.Verdict, a.Verdict)
				}
			}
		}
	}
	if seen != 4 {
		t.Errorf("%d variants, want 4", seen)
	}
}

// TestSwapEachFaults: a whole model is too much for one answer, and a position
// that no variant has is no answer.
func TestSwapEachFaults(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	var ambiguous *queries.AmbiguousError
	_, err := swap.SwapEach(context.Background(), r, swap.SwapQuestion{On: "skerry-620",
		Swaps: []swap.Replacement{{"front-wheel/spacer-right", "205.4037"}}})
	if !errors.As(err, &ambiguous) || strings.Join(ambiguous.SettledBy, ", ") != "model year, market, frame number" {
		t.Errorf("a whole model: %v, want an *AmbiguousError that says what settles it", err)
	}
	var missing *queries.NotFoundError
	_, err = swap.SwapEach(context.Background(), r, swap.SwapQuestion{On: "skerry-620/2004",
		Swaps: []swap.Replacement{{"front-wheel/speedo-drive", "205.4024"}}})
	if !errors.As(err, &missing) || missing.What != "position" {
		t.Errorf("a position of other years: %v, want a *NotFoundError", err)
	}
	report, err := swap.SwapEach(context.Background(), r,
		swap.SwapQuestion{On: "winter-project", Swaps: []swap.Replacement{{"front-brake/master-cylinder", "207.7003"}}})
	if err != nil || len(report.Answers) != 1 || report.Answers[0].Bike != graph.BikeID("winter-project") {
		t.Errorf("a bike: %d answers, %v, want one", len(report.Answers), err)
	}
}
