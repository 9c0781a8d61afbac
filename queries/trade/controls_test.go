package trade

import (
	"math"
	"testing"

	"matewell/testdata/published"
)

// Source: ASTM B258; testdata/published/wire_awg.csv, printed to 0.01 mm2.
func TestWireGaugesPublished(t *testing.T) {
	for _, row := range published.Rows(t, "wire_awg.csv") {
		near(t, row["size"], must[float64](t)(WireArea(row["size"])), published.Number(t, row["mm2"]), 0.006)
	}
	near(t, "metric", must[float64](t)(WireArea("0.75 mm²")), 0.75, 0)
	for _, text := range []string{"", "thick", "AWG", "18.5 AWG", "41 AWG", "0 mm2", "NaN", "1e9"} {
		if got, err := WireArea(text); err == nil {
			t.Errorf("WireArea(%q) = %g, want an error", text, got)
		}
	}
}

// Source: testdata/published/wire_rating.csv, two tables that differ.
func TestWireRatingsPublished(t *testing.T) {
	for _, row := range published.Rows(t, "wire_rating.csv") {
		low, high, err := WireRating(published.Number(t, row["mm2"]))
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]float64{"loom": low, "free air": high}[row["laid"]]
		near(t, row["mm2"]+" "+row["laid"], got, published.Number(t, row["A"]), 1e-9)
	}
	for area := 0.32; area < 5.3; area += 0.01 {
		if low, high, err := WireRating(area); err != nil || low >= high {
			t.Fatalf("%g mm2: %g A in a loom, %g A in free air, error %v", area, low, high, err)
		}
	}
	for _, area := range []float64{0, 0.31, 5.4, math.NaN()} {
		if low, _, err := WireRating(area); err == nil || low != 0 {
			t.Errorf("WireRating(%g) = %g, want an error", area, low)
		}
	}
}

// Source: pages on hose clamps, recomputed (a 6/12 hose on 7 mm is
// 12.53 mm outside).
func TestStretchedOutside(t *testing.T) {
	near(t, "6/12 on 7", must[float64](t)(StretchedOutside(7, 12, 6)), 12.53, 0.005)
	near(t, "not stretched", must[float64](t)(StretchedOutside(6, 12, 6)), 12, 1e-12)
	if got, err := StretchedOutside(7, 6, 6); err == nil {
		t.Errorf("a hose without a wall is %g mm outside", got)
	}
}

// Source: arithmetic; testdata/published/sprocket_ratio.csv.
func TestSprocketRatiosPublished(t *testing.T) {
	for _, row := range published.Rows(t, "sprocket_ratio.csv") {
		front, rear := whole(t, row["z_front"]), whole(t, row["z_rear"])
		near(t, "ratio", must[float64](t)(SprocketRatio(front, rear)), published.Number(t, row["ratio"]), 0.00006)
		near(t, "front", must[float64](t)(pitchDiameter(front, 15.875)), published.Number(t, row["pcd_front"]), 0.0006)
	}
	// 15/45 against 15/42 is 7.1 percent (arithmetic).
	near(t, "3.000 against 2.800", must[float64](t)(RatioChange(2.8, 3)), 7.1, 0.05)
}

// Source: geometry, by hand.
func TestStandsPedalsAndLock(t *testing.T) {
	near(t, "pedal", must[float64](t)(PedalRatio(180, 45)), 4, 1e-12)
	// A leg held straight down, 50 mm shorter than its pivot is high, 283.6 mm
	// out: atan(50/283.6) = 10 degrees.
	near(t, "lean", must[float64](t)(SideStand{Height: 350, Side: 283.564, Length: 300}.Lean()), 10, 0.001)
	upright := must[float64](t)(SideStand{Height: 300, Side: 150, Length: 300}.Lean())
	near(t, "as long as its pivot is high", upright, 0, 1e-9)
	// 10 degrees on a 360 mm circle: pi/180 x 10 x 360 = 62.83 mm.
	near(t, "room at lock", must[float64](t)(SwingGap(360, 60, 35, 15)), 62.83, 0.005)
	if got := must[float64](t)(SwingGap(360, 50, 40, 15)); got >= 0 {
		t.Errorf("a bar that strikes has %g mm to spare", got)
	}
	near(t, "current", must[float64](t)(CurrentOf(55, 12)), 4.5833, 0.0001)
	// 1000 turns a km of a 1 m wheel are 1000 turns of the wheel: true.
	near(t, "reading", must[float64](t)(ReadingFactor(1, 1, 1000, 1000)), 1, 1e-12)
	near(t, "half the pulses", must[float64](t)(ReadingFactor(2, 1, 2000, 2000)), 0.5, 1e-12)
}
