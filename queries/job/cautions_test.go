package job

import (
	"strings"
	"testing"

	"matewell/queries"
)

// What hurts is said where it can, and only there.
func TestCautions(t *testing.T) {
	fluid := queries.Touched{Fluid: true}
	tests := []struct {
		name      string
		work      work
		has, lack []string
	}{
		{"a caliper", work{Touched: fluid, Kinds: []string{"caliper", "pistons"}},
			[]string{"paint", "Pistons come out suddenly", "petrol"}, []string{"fork cap", "chain"}},
		{"a master cylinder has no pistons that air drives out", work{Touched: fluid, Kinds: []string{"master-cylinder"}},
			[]string{"paint"}, []string{"Pistons come out"}},
		{"a caliper on the bench, no line opened", work{Kinds: []string{"caliper", "pistons"}}, nil,
			[]string{"Pistons", "paint"}},
		{"a fork", work{Kinds: []string{"fork-leg"}}, []string{"load of its spring"}, []string{"paint"}},
		{"bearings", work{Kinds: []string{"bearing"}}, []string{"splinter"}, []string{"paint", "spring"}},
		{"a chain", work{Touched: queries.Touched{Chain: true}}, []string{"Engine off"}, []string{"paint"}},
		{"a seat", work{Kinds: []string{"seat"}}, nil, []string{"paint", "spring", "Engine"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Join(cautionsOf(tt.work), "\n")
			for _, want := range tt.has {
				if !strings.Contains(text, want) {
					t.Errorf("nothing of %q in:\n%s", want, text)
				}
			}
			for _, not := range tt.lack {
				if strings.Contains(text, not) {
					t.Errorf("%q in:\n%s", not, text)
				}
			}
		})
	}
}
