package donor_test

import (
	"slices"
	"testing"

	"matewell/queries/donor"
	"matewell/queries/examine"
)

// A hose beside an exhaust that nobody measured counts as an unknown, however well the
// exhaust itself goes on; it does not where neither is touched, nor where the hose stays
// beside the exhaust that it was measured with.
func TestHeatIsWeighed(t *testing.T) {
	for _, tt := range []struct {
		name, take string
		want       int  // safety-relevant unknowns, whatever they are
		heat       bool // one of them is the hose beside the exhaust
	}{
		{"another silencer beside the hose", "exhaust/silencer", 1, true},
		{"nothing near the exhaust", "front-brake/lever", 0, false},
		{"near miss: the pedal that works the hose's master cylinder, itself unknown by its pad", "rear-brake/pedal", 1,
			false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu",
				Take: []string{tt.take}})
			if len(a.Plans) == 0 {
				t.Fatalf("no plan: %s", a.Outcome)
			}
			p := a.Plans[0]
			hot := slices.ContainsFunc(p.Swap.Unknown, func(o examine.Outcome) bool { return o.What == examine.OfHeat })
			if p.Cost.SafetyUnknowns != tt.want || hot != tt.heat {
				t.Errorf("%d safety-relevant unknowns, heat among them %v; want %d, %v", p.Cost.SafetyUnknowns, hot, tt.want,
					tt.heat)
			}
		})
	}
}
