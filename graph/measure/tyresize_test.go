package measure_test

import (
	"testing"

	"matewell/graph/measure"
)

// Source of the forms: UN R75, ISO 5751, ISO 4249; the sizes are from memory.
func TestCheckTyreSize(t *testing.T) {
	tests := []struct {
		text string
		ok   bool
	}{
		{"120/70-17", true}, {"120/70 ZR 17", true}, {"180/55ZR17 M/C (73W)", true}, {"130/90-16 67H", true},
		{"100/90 - 19 M/C 57H TL", true}, {"3.25-18 H", true}, {"110/90-18 61H REINF", true}, {"3.50-18 4PR", true},
		{"3.00-18", true}, {"3.25 S 18", true}, {"2.75-21 45P", true}, {"4.60/4.25-18", true}, {"5.00-16", true},
		{"2 3/4-19", true},
		{"MT90-16", true}, {"MU85B16", true}, {"80/100-21 51M", true},
		{"", false}, {"large", false}, {"17", false}, {"120/70", false}, {"12/70-17", false}, {"120/70-71", false},
		{"120/7-17", false},
		{"1200/70-17", false}, {"120x70x17", false}, {"120-70-17", false}, {"120/150-17", false}, {"33.00-18", false},
		{"3.25-18H x", false}, {"120/70-17 58H 55", false},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			if err := measure.CheckTyreSize(tt.text); (err == nil) != tt.ok {
				t.Errorf("CheckTyreSize(%q) = %v", tt.text, err)
			}
		})
	}
}

// Source of the marks: UN R75; the sizes are from memory.
func TestTyreMarks(t *testing.T) {
	for _, test := range []struct {
		size  string
		load  int
		speed string
	}{
		{"100/90 - 19 M/C 57H TL", 57, "H"}, {"180/55ZR17 M/C (73W)", 73, "W"}, {"3.25 H 18", 0, "H"}, {"3.25-18 P", 0, "P"},
		{"120/70 ZR 17", 0, ""}, {"120/70 R 17", 0, ""}, {"MT90B16", 0, ""}, {"3.25-18", 0, ""}, {"about 17", 0, ""},
	} {
		if load, speed := measure.TyreMarks(test.size); load != test.load || speed != test.speed {
			t.Errorf("%s: %d, %q; want %d, %q", test.size, load, speed, test.load, test.speed)
		}
	}
}

// Source of the symbols: UN R75, B to E from memory.
func TestCheckSpeedSymbol(t *testing.T) {
	for text, ok := range map[string]bool{
		"H": true, "(W)": true, "b": true, "Z": true, "ZZZ": false, "X": false, "": false,
		"I": false, "(W": false, "H55": false} {
		if err := measure.CheckSpeedSymbol(text); (err == nil) != ok {
			t.Errorf("CheckSpeedSymbol(%q) = %v", text, err)
		}
	}
}

// Radii printed for the sizes: UN R75, Annex 5, overall diameters of the design rim
// (from memory: 120/70 17 600 mm, 180/55 17 630 mm), halved.
func TestTyreRadius(t *testing.T) {
	for _, test := range []struct {
		size  string
		want  float64
		known bool
	}{
		{"120/70 ZR 17", 300, true},
		{"180/55 ZR 17 M/C (73W)", 315, true},
		{"3.25-18", 0, false},
		{"MT90B16", 0, false},
		{"about 17", 0, false},
	} {
		got, known := measure.TyreRadius(test.size)
		if known != test.known || got < test.want-0.5 || got > test.want+0.5 {
			t.Errorf("%s: %g, %t; want %g, %t", test.size, got, known, test.want, test.known)
		}
	}
}
