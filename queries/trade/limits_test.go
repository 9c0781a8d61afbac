package trade

import (
	"testing"

	"matewell/testdata/published"
)

// Source: iso286_limits.csv, ISO 286-2.
func TestFitLimitsPublished(t *testing.T) {
	for _, row := range published.Rows(t, "iso286_limits.csv") {
		size := published.Number(t, row["incl_mm"])
		got := must[Limits](t)(FitLimits(row["class"], size))
		near(t, row["class"]+" upper", got.Upper, published.Number(t, row["upper"]), 0.01)
		near(t, row["class"]+" lower", got.Lower, published.Number(t, row["lower"]), 0.01)
		inside := must[Limits](t)(FitLimits(row["class"], size-0.01))
		if inside != got {
			t.Errorf("%s just inside %g mm: %+v, want %+v", row["class"], size, inside, got)
		}
	}
}

// Source: bearing_seat_fits.csv, computed from ISO 492 and ISO 286-2 and in agreement with a published fit table: a
// 42 mm ring in N7 has 33 um of interference to 3 um of clearance, in P7 6 to 42 of
// interference, in H7 0 to 36 of clearance.
func TestSeatFitsPublished(t *testing.T) {
	for _, row := range published.Rows(t, "bearing_seat_fits.csv") {
		got := must[SeatFit](t)(OuterRingFit(row["class"], published.Number(t, row["incl_mm"])))
		near(t, row["seat"]+" "+row["class"], got.Least, published.Number(t, row["min_clearance(neg=interference)"]), 0.01)
		near(t, row["seat"]+" "+row["class"], got.Most, published.Number(t, row["max_clearance"]), 0.01)
	}
	for class, want := range map[string]SeatFit{"N7": {-33, 3}, "P7": {-42, -6}, "H7": {0, 36}} {
		if got := must[SeatFit](t)(OuterRingFit(class, 42)); got != want {
			t.Errorf("42 mm ring in %s: %+v, want %+v", class, got, want)
		}
	}
}

func TestFitLimitsRefuse(t *testing.T) {
	for _, tt := range []struct {
		name, class string
		size        float64
	}{
		{"no class", "", 20}, {"a class nobody uses", "Q7", 20}, {"grade of a bearing's hole alone", "N8", 20}, {"too big",
			"H7", 121}, {"too small", "H7", 2.9},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got, err := FitLimits(tt.class, tt.size); err == nil || got != (Limits{}) {
				t.Errorf("got %+v, want an error", got)
			}
		})
	}
}

// Source: radial_clearance.csv, ISO 5753.
func TestRadialPlayPublished(t *testing.T) {
	for _, row := range published.Rows(t, "radial_clearance.csv") {
		got := must[Play](t)(RadialPlay(published.Number(t, row["bore_incl"]), row["group"]))
		near(t, row["group"], got.Least, published.Number(t, row["min"]), 0)
		near(t, row["group"], got.Most, published.Number(t, row["max"]), 0)
	}
	if got := must[Play](t)(RadialPlay(17, "")); got != (Play{3, 18}) {
		t.Errorf("no marking is CN: %+v", got)
	}
	if got, err := RadialPlay(17, "C9"); err == nil {
		t.Errorf("C9 gave %+v, want an error", got)
	}
}
