package plan

import (
	"context"
	"slices"
	"testing"
)

// The clash of a brake swap settled by hand: with guesses it is a smallest one, without
// any a minimal one, and a problem with a plan has none.
func TestClashIn(t *testing.T) {
	free := swap()
	stuck := swap()
	stuck.Demands = append(stuck.Demands, Demand{"keep the leg", []int{1}, []Combination{{Options: []int{0}}}},
		Demand{"no bracket", []int{0, 1}, []Combination{{Options: []int{0, 0}}, {Options: []int{1, 1}}}},
		Demand{"84 mm", []int{0}, []Combination{{Options: []int{0}}}})
	for _, tt := range []struct {
		name     string
		p        Problem
		guesses  int
		smallest bool
		clash    []int
	}{
		{"a plan", free, 9, false, nil},
		{"a plan, no guess", free, 0, false, nil},
		{"a smallest clash", stuck, 9, true, []int{0, 5}},
		{"no guess: one by one from the first", stuck, 0, false, []int{0, 5}},
		{"near miss: without the last it takes three", Problem{stuck.Slots, stuck.Demands[:5]}, 9, true, []int{0, 3, 4}},
		{"without the bracket's it holds", Problem{stuck.Slots, stuck.Demands[:4]}, 9, false, nil},
	} {
		got, err := ClashIn(context.Background(), tt.p, tt.guesses)
		switch {
		case err != nil:
			t.Errorf("%s: %v", tt.name, err)
		case tt.clash == nil && got == nil:
		case tt.clash == nil || got == nil || !slices.Equal(got.Demands, tt.clash) || got.Smallest != tt.smallest ||
			!got.Minimal:
			t.Errorf("%s: %+v, want %v", tt.name, got, tt.clash)
		}
	}
	over, cancel := context.WithCancel(context.Background())
	cancel()
	if got, err := ClashIn(over, stuck, 9); err == nil {
		t.Errorf("it looked on once the question was over: %+v", got)
	}
}
