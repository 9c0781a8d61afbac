package trade

import (
	"errors"
	"math"
	"strings"
	"testing"

	"matewell/testdata/published"
)

// Source: tyre_od.csv, UN R75 and ISO 5751.
func TestTyreDiameterPublished(t *testing.T) {
	for _, row := range published.Rows(t, "tyre_od.csv") {
		t.Run(row["size"], func(t *testing.T) {
			tyre := must[Tyre](t)(ParseTyre(row["size"]))
			near(t, "diameter", must[float64](t)(tyre.Diameter()), published.Number(t, row["OD_inch_exact"]), 0.05)
			near(t, "rounded", must[float64](t)(tyre.Diameter()), published.Number(t, row["OD_UN_R75_rounded"]), 0.51)
			near(t, "circumference", must[float64](t)(tyre.Circumference()), published.Number(t, row["circumference_mm"]), 0.51)
		})
	}
}

func TestParseTyre(t *testing.T) {
	tests := []struct {
		name string
		text string
		want Tyre
	}{
		{"plain", "120/70-17", Tyre{120, 70, 17, "", "diagonal", 0, ""}},
		{"blanks round the letters", "120/70 ZR 17", Tyre{120, 70, 17, "Z", "radial", 0, ""}},
		{"all that a wall carries", "180/55ZR17 M/C (73W)", Tyre{180, 55, 17, "Z", "radial", 73, "W"}},
		{"radial without category", "110/80R19 59V TL", Tyre{110, 80, 19, "", "radial", 59, "V"}},
		{"bias-belted", "130/90 B 16 67H", Tyre{130, 90, 16, "", "bias-belted", 67, "H"}},
		{"category alone", "130/90H16", Tyre{130, 90, 16, "H", "diagonal", 0, ""}},
		{"small letters", "90/90-18 51p", Tyre{90, 90, 18, "", "diagonal", 51, "P"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := must[Tyre](t)(ParseTyre(tt.text)); got != tt.want {
				t.Errorf("ParseTyre(%q) = %+v, want %+v", tt.text, got, tt.want)
			}
		})
	}
}

func TestParseTyreRefuses(t *testing.T) {
	tests := []struct {
		name, text, say string
		inch            bool
	}{
		{"inch size", "3.00-18", "no aspect ratio", true},
		{"inch size with letter", "4.10 H 18", "no aspect ratio", true},
		{"double inch size", "3.25/3.50-19", "no aspect ratio", true},
		{"letter size no table has", "MQ90-16", "in no table", false},
		{"nothing", "", "not like", false},
		{"an aspect no tyre has", "120/10-17", "aspect ratio", false},
		{"a rim no tyre has", "120/70-55", "rim diameter", false},
		{"something behind it", "120/70-17 blue", "BLUE", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ParseTyre(tt.text)
			var noAspect *NoAspectError
			if err == nil || !strings.Contains(err.Error(), tt.say) || errors.As(err, &noAspect) != tt.inch {
				t.Errorf("ParseTyre(%q) = %+v, error %v, want one that says %q", tt.text, got, err, tt.say)
			}
		})
	}
}

// Source: load_index.csv and speed_symbol.csv, UN R75.
func TestTyreIndexPublished(t *testing.T) {
	for _, row := range published.Rows(t, "load_index.csv") {
		near(t, "load "+row["load_index"], must[float64](t)(LoadCapacity(whole(t, row["load_index"]))), published.Number(t,
			row["kg"]), 0)
	}
	for _, row := range published.Rows(t, "speed_symbol.csv") {
		near(t, "speed "+row["symbol"], must[float64](t)(SpeedLimit(row["symbol"])), published.Number(t, row["km_h"]), 0)
	}
	for _, row := range published.Rows(t, "load_index_low.csv") { // from memory
		near(t, "load "+row["load_index"], must[float64](t)(LoadCapacity(whole(t, row["load_index"]))), published.Number(t,
			row["kg"]), 0)
	}
	for _, symbol := range []string{"Z", "I", "", "HH"} {
		if got, err := SpeedLimit(symbol); err == nil {
			t.Errorf("SpeedLimit(%q) = %g, want an error", symbol, got)
		}
	}
	for _, index := range []int{19, 91, -1} {
		if got, err := LoadCapacity(index); err == nil {
			t.Errorf("LoadCapacity(%d) = %g, want an error", index, got)
		}
	}
}

// Source: UN R39, 5.3.
func TestSpeedometerFault(t *testing.T) {
	tests := []struct {
		name        string
		shown, true float64
		say         string
	}{
		{"exact", 80, 80, ""},
		{"a hair below", 79.9, 80, "below the true speed"},
		{"just as much more as allowed", 92, 80, ""},
		{"a hair more", 92.1, 80, "more than the 92.0"},
		{"standing still", 4, 0, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := SpeedometerFault(tt.shown, tt.true)
			if err != nil || (tt.say == "") != (got == "") || !strings.Contains(got, tt.say) {
				t.Errorf("got %q, error %v, want %q", got, err, tt.say)
			}
		})
	}
}

func TestSpeedFactors(t *testing.T) {
	// Common practice; all computed by hand from turns of the wheel.
	small, big := SpeedTake{Circumference: 1900, Ratio: 2.5, RingTeeth: 38}, SpeedTake{Circumference: 2000,
		Ratio: 2.75, RingTeeth: 40}
	near(t, "bigger tyre shows less", must[float64](t)(WheelFactor(small, big)), 0.95, 1e-12)
	near(t, "shorter gearing shows more", must[float64](t)(GearboxFactor(small, big)), 0.95*1.1, 1e-12)
	near(t, "ring with the same pulses a metre", must[float64](t)(RingFactor(small, big)), 1, 1e-12)
	near(t, "pulses", must[float64](t)(PulsesPerMetre(40, 2000)), 20, 1e-12)
}

func TestGearing(t *testing.T) {
	before := must[float64](t)(SprocketRatio(18, 43))
	after := must[float64](t)(SprocketRatio(17, 45))
	// 18/43 to 17/45 = +10.81 % (arithmetic).
	near(t, "ratio change", must[float64](t)(RatioChange(before, after)), 10.81, 0.005)
	was, is := must[float64](t)(Revs(100, before, 1979)), must[float64](t)(Revs(100, after, 1979))
	near(t, "with the same tyre the revs change as much", must[float64](t)(RatioChange(was, is)), 10.81, 0.005)
	// 120 km/h is 2000 m/min; a 2 m wheel turns 1000 times, 5 engine turns each.
	near(t, "revs", must[float64](t)(Revs(120, 5, 2000)), 5000, 1e-9)
}

// Source: chain_length.csv, the handbooks' formula and ISO 606.
func TestChainPublished(t *testing.T) {
	for _, row := range published.Rows(t, "chain_length.csv") {
		t.Run(row["z1"]+"/"+row["z2"], func(t *testing.T) {
			z1, z2, pitch := whole(t, row["z1"]), whole(t, row["z2"]), published.Number(t, row["pitch"])
			links := must[float64](t)(ChainLinks(z1, z2, published.Number(t, row["C_mm"]), pitch))
			near(t, "links", links, published.Number(t, row["links_exact"]), 0.0006)
			even := must[int](t)(EvenLinks(links))
			near(t, "even", float64(even), published.Number(t, row["links_even_up"]), 0)
			near(t, "centre", must[float64](t)(ChainCentre(z1, z2, even, pitch)), published.Number(t, row["C_at_even_mm"]),
				0.006)
			near(t, "front", must[float64](t)(pitchDiameter(z1, pitch)), published.Number(t, row["pcd1"]), 0.0006)
			near(t, "rear", must[float64](t)(pitchDiameter(z2, pitch)), published.Number(t, row["pcd2"]), 0.0006)
		})
	}
}

func TestChainEdges(t *testing.T) {
	if got := must[int](t)(EvenLinks(110.0000000001)); got != 110 {
		t.Errorf("rounding noise bought %d links, want 110", got)
	}
	if got := must[int](t)(EvenLinks(110.01)); got != 112 {
		t.Errorf("110.01 links gave %d, want 112", got)
	}
	// Two teeth more move the axle forward by half a pitch, about 8 mm (common practice).
	was, is := must[float64](t)(ChainCentre(15, 45, 110, 15.875)), must[float64](t)(ChainCentre(15, 47, 110, 15.875))
	near(t, "axle shift", is-was, -8, 1.5)
	if got, err := ChainCentre(15, 45, 30, 15.875); err == nil {
		t.Errorf("a chain too short to go round gave %g mm", got)
	}
	if got, err := ChainLinks(15, 45, 100, 15.875); err == nil {
		t.Errorf("sprockets that touch gave %g links", got)
	}
}

// Source: geometry, (R sin e - o) / cos e, computed by hand.
func TestTrail(t *testing.T) {
	near(t, "24 deg, 30 mm", must[float64](t)(Steering{Radius: 300, Rake: 24, Offset: 30}.Trail()), 100.7, 0.05)
	near(t, "27 deg, 60 mm", must[float64](t)(Steering{Radius: 300, Rake: 27, Offset: 60}.Trail()), 85.5, 0.05)
}

func TestSteeringAfter(t *testing.T) {
	s := Steering{Radius: 300, Rake: 24, Offset: 30, Wheelbase: 1400}
	same := must[Steering](t)(s.After(Change{}))
	if same != s {
		t.Errorf("no change gave %+v, want %+v", same, s)
	}
	longer := must[Steering](t)(s.After(Change{ForkLength: 20}))
	// atan(20 cos 24 / 1400) = 0.748 deg, by hand.
	near(t, "rake", longer.Rake, 24.748, 0.001)
	higher := must[Steering](t)(s.After(Change{RearHeight: 20}))
	near(t, "rear up takes rake away", higher.Rake, 24-0.8185, 0.001)
	level := must[Steering](t)(s.After(Change{FrontRadius: 10, RearRadius: 10}))
	near(t, "both tyres bigger", level.Rake, 24, 1e-12)
	near(t, "but the radius counts", level.Radius, 310, 1e-12)
	yokes := must[Steering](t)(s.After(Change{Offset: 5}))
	near(t, "yokes with more offset", yokes.Offset, 35, 1e-12)
	near(t, "take trail away", must[float64](t)(s.Trail())-must[float64](t)(yokes.Trail()), 5/math.Cos(24*math.Pi/180),
		1e-9)
	if _, err := s.After(Change{ForkLength: 400}); err == nil {
		t.Error("a fork longer by 400 mm was taken as a small change")
	}
}

func TestShockAndCable(t *testing.T) {
	near(t, "ride height", must[float64](t)(RideHeightChange(5, 2.8)), 14, 1e-12)
	// A quarter turn on a 20 mm drum is 10 pi mm.
	near(t, "pull", must[float64](t)(CablePull(20, 90)), 10*math.Pi, 1e-9)
	near(t, "grip", must[float64](t)(GripTurn(80, 15, 20)), 60, 1e-9)
	tests := []struct {
		name               string
		have, want, adjust float64
		gap                float64
	}{
		{"just right", 90, 90, 0, 0},
		{"the adjuster takes it up", 94, 90, 10, 0},
		{"too long for it", 98, 90, 10, 3},
		{"too short for it", 80, 90, 10, -5},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := must[float64](t)(FreeInnerGap(tt.have, tt.want, tt.adjust))
			if near(t, "gap", got, tt.gap, 1e-9); math.Signbit(got) && got == 0 {
				t.Error("a gap of minus nothing")
			}
		})
	}
}
