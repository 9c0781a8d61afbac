package trade

import (
	"strings"
	"testing"

	"matewell/testdata/published"
)

// Sources: ISO 898-1, ISO 3506-1; old head numbers: the units of tensile strength.
func TestMayServe(t *testing.T) {
	tests := []struct {
		name, had, listed string
		want              Serve
	}{
		{"the same", "8.8", "8.8", Serves},
		{"stronger", "10.9", "8.8", Serves},
		{"weaker", "8.8", "10.9", ServesNot},
		{"stainless never replaces 8.8", "A2-70", "8.8", ServesNot},
		{"near miss: as much tensile, less yield", "A4-80", "8.8", ServesNot},
		{"stainless for a soft bolt", "A2-70", "5.8", Serves},
		{"7T is less than 8.8", "7T", "8.8", ServesNot},
		{"9T has the tensile of 8.8 and no yield", "9T", "8.8", ServesOpen},
		{"9T for 9T", "9T", "9T", Serves},
		{"8.8 for 7T", "8.8", "7T", ServesOpen},
		{"as people write it", "8,8", "class 8.8", Serves},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			had, listed := must[Grade](t)(ParseGrade(tt.had)), must[Grade](t)(ParseGrade(tt.listed))
			if got := MayServe(had, listed); got != tt.want {
				t.Errorf("%s for %s: %d, want %d", tt.had, tt.listed, got, tt.want)
			}
		})
	}
	for _, text := range []string{"", "8", "88", "A2", "99T", "hard"} {
		if got, err := ParseGrade(text); err == nil {
			t.Errorf("ParseGrade(%q) = %+v, want an error", text, got)
		}
	}
}

// Sources: a hand table for the old head numbers, computed from kgf/mm2 (7T is 70, 686 MPa; 9T 883, 11T 1079); ISO
// 898-1 (8.8 yields at 640, 10.9 at 940 MPa) and ISO 3506-1 (A2-70 at 450 MPa), read in excerpts.
func TestGradeStrengths(t *testing.T) {
	for text, want := range map[string]float64{"7T": 686, "9T": 883, "11T": 1079} {
		near(t, text, must[Grade](t)(ParseGrade(text)).Tensile, want, 0.7)
	}
	for text, want := range map[string]float64{"4.6": 240, "5.8": 400, "8.8": 640, "10.9": 940, "12.9": 1100,
		"A2-70": 450, "A2-50": 210} {
		near(t, text, must[Grade](t)(ParseGrade(text)).Yield, want, 0)
	}
}

// Source: ISO 898-2.
func TestNutMates(t *testing.T) {
	tests := []struct {
		nut, bolt          string
		mates, thin, known bool
	}{
		{"8", "8.8", true, false, true}, {"10", "8.8", true, false, true}, {"8", "10.9", false, false, true}, {"5", "5.8",
			true, false, true},
		{"5", "6.8", false, false, true}, {"04", "4.6", false, true, true}, {"05", "8.8", false, true, true}, {"A2-70",
			"A2-70", true, false, true},
		{"A2-50", "A2-70", false, false, true}, {"8", "7T", true, false, true}, {"6", "7T", false, false, true}, {"blue",
			"8.8", false, false, false},
	}
	for _, tt := range tests {
		mates, thin, known := NutMates(tt.nut, must[Grade](t)(ParseGrade(tt.bolt)))
		if mates != tt.mates || thin != tt.thin || known != tt.known {
			t.Errorf("nut %s on %s: %v %v %v, want %v %v %v", tt.nut, tt.bolt, mates, thin, known, tt.mates, tt.thin, tt.known)
		}
	}
}

// Source: thread_engagement.csv, and handbooks' 1.5 d in aluminium: the larger of two sources comes first.
func TestEngagement(t *testing.T) {
	rows := map[string]string{"steel, Rm > 360": "steel", "grey iron, Rm > 220": "cast iron",
		"pure aluminium, Rm > 180": "aluminium"}
	compared := 0
	for _, row := range published.Rows(t, "thread_engagement.csv") {
		material, ok := rows[row["tapped material"]]
		if !ok {
			continue
		}
		want, found := published.Number(t, row["min engagement / d"]), false
		for _, c := range must[[]EngagementClaim](t)(Engagement(material, row["bolt class"], 8)) {
			found = found || c.Diameters == want && strings.HasPrefix(c.Source, "fastener handbook")
		}
		compared++
		if !found {
			t.Errorf("%s, %s: no claim of %g d", material, row["bolt class"], want)
		}
	}
	alloy := must[[]EngagementClaim](t)(Engagement("aluminium", "8.8", 8))
	if compared < 4 || len(alloy) != 2 || alloy[0].Diameters != 2 || alloy[1].Diameters != 1.5 {
		t.Errorf("%d compared; aluminium %+v, want 2 d, then 1.5 d", compared, alloy)
	}
	if axle := must[[]EngagementClaim](t)(Engagement("aluminium", "8.8", 18)); len(axle) != 1 || axle[0].Diameters != 1.5 {
		t.Errorf("the trials went up to M16: %+v for an axle", axle)
	}
	// Rule of thumb from memory; height of an exhaust nut: common practice, no source.
	if nut := must[[]EngagementClaim](t)(Engagement("brass", "", 8)); len(nut) != 2 || nut[0].Diameters != 1.5 ||
		nut[1].Diameters != 1 {
		t.Errorf("brass: %+v, want 1.5 d and 1 d", nut)
	}
	if got, err := Engagement("wood", "8.8", 8); err == nil {
		t.Errorf("wood gave %+v", got)
	}
}

// Common practice, no source: axles end at M24x1.5, stems and caps start at M20x1.
func TestRingThread(t *testing.T) {
	for _, tt := range []struct {
		d, p float64
		want bool
	}{{32, 1, true}, {25, 1, true}, {20, 1, true}, {24, 1.5, false}, {20, 1.5, false}, {10, 0.5, false}, {16, 1.5, false},
		{0, 0, false}} {
		if got := RingThread(tt.d, tt.p); got != tt.want {
			t.Errorf("M%gx%g: %v, want %v", tt.d, tt.p, got, tt.want)
		}
	}
}

// Source: fastener_dims.csv, ISO 4014.
func TestStandardThreadPublished(t *testing.T) {
	compared := 0
	for _, row := range published.Rows(t, "fastener_dims.csv") {
		if row["standard"] != "ISO 4014 bolt" || row["dimension"] != "thread length L<=125" {
			continue
		}
		compared++
		d := published.Number(t, strings.TrimPrefix(row["thread"], "M"))
		near(t, row["thread"], must[float64](t)(StandardThread(d, 125)), published.Number(t, row["value"]), 0)
	}
	near(t, "a short bolt is all thread", must[float64](t)(StandardThread(8, 16)), 16, 0)
	if compared < 5 {
		t.Errorf("only %d thread lengths compared", compared)
	}
}
