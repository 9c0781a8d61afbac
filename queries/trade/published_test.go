package trade

import (
	"math"
	"testing"

	"matewell/testdata/published"
)

func whole(t *testing.T, text string) int { return int(published.Number(t, text)) }

// near fails unless got is within tolerance of want; it never passes NaN.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

// must gives the value of a formula that has to accept its input.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
