package trade

import (
	"strconv"
	"strings"
	"testing"

	"matewell/testdata/published"
)

// parsePistons reads "4x30.15+4x27" of hydraulic_ratio.csv.
func parsePistons(t *testing.T, text string) []Piston {
	t.Helper()
	var out []Piston
	for _, one := range strings.Split(text, "+") {
		n, d, _ := strings.Cut(one, "x")
		count, err := strconv.Atoi(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Piston{count, published.Number(t, d)})
	}
	return out
}

// Source: hydraulic_ratio.csv, published workshop notes recomputed.
func TestHydraulicRatioPublished(t *testing.T) {
	for _, row := range published.Rows(t, "hydraulic_ratio.csv") {
		t.Run(row["pistons"], func(t *testing.T) {
			layout := must[Layout](t)(ParseLayout(row["layout"]))
			got := must[float64](t)(HydraulicRatio(published.Number(t, row["bore_mm"]), Caliper{layout, parsePistons(t,
				row["pistons"])}))
			near(t, "ratio", got, published.Number(t, row["ratio"]), 0.006)
		})
	}
}

func TestTotalLeverage(t *testing.T) {
	// 33.43 by a 90/25 lever is 120.3: published workshop notes, recomputed.
	near(t, "total leverage", must[float64](t)(TotalLeverage(33.43, 90.0/25)), 120.3, 0.06)
}

// Source: brake_physics.csv, OpenStax College Physics.
func TestPascalPublished(t *testing.T) {
	v := map[string]float64{}
	for _, row := range published.Rows(t, "brake_physics.csv") {
		v[row["quantity"]] = published.Number(t, row["value"])
	}
	p := must[float64](t)(LinePressure(v["pedal force"], v["lever ratio"], v["master bore"]))
	near(t, "pressure in Pa", p*1e5, v["pressure"], 0.005e7)
	// A sliding caliper of one piston presses on each face what that piston pushes.
	wheel := Caliper{Sliding, []Piston{{1, v["wheel piston"]}}}
	near(t, "force", must[float64](t)(ClampForce(p, wheel)), v["wheel piston force"], 0.005e4)
}

func TestClampForce(t *testing.T) {
	// One piston of 25 mm a side at 10 bar (1 N/mm2): pi/4 625 = 490.87 N on each face, computed by Pascal.
	one := must[float64](t)(ClampForce(10, Caliper{Opposed, []Piston{{2, 25}}}))
	near(t, "opposed pair", one, 490.874, 0.001)
	// A sliding caliper with one such piston squeezes just as hard.
	near(t, "sliding single", must[float64](t)(ClampForce(10, Caliper{Sliding, []Piston{{1, 25}}})), one, 1e-9)
	if _, err := ClampForce(10, Caliper{Slave, []Piston{{1, 25}}}); err == nil {
		t.Error("a slave cylinder clamped")
	}
}

func TestLeverTravelAndReserve(t *testing.T) {
	// 0.2 mm of clearance through a ratio of 20 and a lever of 4: 4 mm and 16 mm, by the same fluid in and out.
	stroke := must[float64](t)(PistonStroke(20, 0.2))
	near(t, "stroke", stroke, 4, 1e-12)
	travel := must[float64](t)(LeverTravel(stroke, 4))
	near(t, "travel", travel, 16, 1e-12)
	tests := []struct {
		name   string
		reach  float64
		gap    float64
		enough bool
	}{
		{"plenty", 60, 44, true},
		{"exactly the 13 mm of the guide", 29, 13, true},
		{"a hair less", 28.9, 12.9, false},
		{"to the grip and past it", 10, -6, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := must[Reserve](t)(ReserveToGrip(tt.reach, travel))
			near(t, "gap", r.Gap, tt.gap, 1e-9)
			if r.Enough != tt.enough || r.Source == "" {
				t.Errorf("got %+v, want enough %v and a source", r, tt.enough)
			}
		})
	}
}

func TestChangeBore(t *testing.T) {
	// 15.875 to 14: +28.6 %, Pascal's principle, computed.
	smaller := must[BoreChange](t)(ChangeBore(15.875, 14))
	near(t, "force", smaller.Force, 28.6, 0.05)
	near(t, "travel", smaller.Travel, 28.6, 0.05)
	if !strings.Contains(smaller.Words, "harder") || !strings.Contains(smaller.Words, "further") {
		t.Errorf("words %q do not say harder and further", smaller.Words)
	}
	bigger := must[BoreChange](t)(ChangeBore(14, 15.875))
	if !strings.Contains(bigger.Words, "does not brake harder") {
		t.Errorf("words %q do not say that the bigger bore does not brake harder", bigger.Words)
	}
}

func TestFluidDisplaced(t *testing.T) {
	// One sliding piston of 48 mm, 0.15 mm each side: 2 pi/4 48^2 0.15 = 542.9 mm3, volume of a cylinder.
	near(t, "fluid", must[float64](t)(FluidDisplaced(0.15, Caliper{Sliding, []Piston{{1, 48}}})), 0.5429, 0.0001)
}

func TestSlaveTravel(t *testing.T) {
	// 12 mm stroke, 14 mm bore on a 35 mm slave: 12 (14/35)^2 = 1.92 mm, the same fluid in and out.
	near(t, "travel", must[float64](t)(SlaveTravel(12, 14, 35)), 1.92, 1e-9)
}

// Source: one published note, much reprinted. Common practice.
func TestFeelOf(t *testing.T) {
	tests := []struct {
		name  string
		ratio float64
		want  string
	}{
		{"the note's 27", 27, "soft and powerful"},
		{"the note's 23", 23, "firm"},
		{"under the note's 20", 19.9, "wooden"},
		{"past all the note says", 33.4, "softer than the note speaks of: expect long lever travel"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := must[Feel](t)(FeelOf(tt.ratio))
			if got.Words != tt.want || !strings.Contains(got.Source, "one origin") {
				t.Errorf("got %+v, want %q from one origin", got, tt.want)
			}
		})
	}
}
