package mating

import "testing"

// Values: ISO 7089, from memory. A thread that the standard has no washer for takes the next
// larger one, and none is without.
func TestPlainWashers(t *testing.T) {
	for nominal, want := range map[float64]float64{6: 1.6, 8: 1.6, 10: 2, 12: 2.5, 20: 3, 7: 1.6, 7.94: 1.6, 9.53: 2,
		42: 5} {
		if got := plainWasher(nominal); got != want {
			t.Errorf("%g mm: %g mm, want %g", nominal, got, want)
		}
	}
}
