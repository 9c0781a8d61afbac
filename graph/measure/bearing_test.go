package measure_test

import (
	"strings"
	"testing"

	"matewell/graph/measure"
	"matewell/testdata/published"
)

// Source: ISO 15 and ISO 355, as testdata/published names them.
func TestDesignatedBore(t *testing.T) {
	rows := append(published.Rows(t, "bearings.csv"), published.Rows(t, "bearings_thin_and_heavy.csv")...)
	for _, row := range rows {
		name := row["designation"]
		t.Run(strings.ReplaceAll(name, "/", "-"), func(t *testing.T) {
			if got, ok := measure.DesignatedBore(name); !ok || got != published.Number(t, row["d"]) {
				t.Errorf("DesignatedBore(%q) = %g, %v, want %s", name, got, ok, row["d"])
			}
		})
	}
	for _, text := range []string{"", "needle", "620", "99", "6297", "123456"} {
		if got, ok := measure.DesignatedBore(text); ok {
			t.Errorf("DesignatedBore(%q) = %g", text, got)
		}
	}
}

// Numbers of each sort, and next to each one that is of another. Source: the table of
// bearing series in testdata/published/bearing_series.csv.
func TestBearingForm(t *testing.T) {
	for _, row := range published.Rows(t, "bearing_series.csv") {
		number := row["series"] + "05"
		if got, ok := measure.BearingForm(number); !ok || got != row["form"] {
			t.Errorf("BearingForm(%q) = %q, %v, want %s", number, got, ok, row["form"])
		}
	}
	for text, want := range map[string]string{"nu 205 E": "roller", "N205": "roller", "NA4905": "needle",
		"RNA 4905": "needle", "HK1612": "needle", "NK 24/16": "needle", "K16x20x10": "needle", "T2EE040": "taper",
		"320/22X": "taper", "608": "ball", "60/22-2RS": "ball", "2205-2RS": "self-aligning", "22205": "spherical",
		"3205": "angular", "32005X": "taper", "5205": "angular", "52205": "thrust", "NB-24-30-25": "", "205": "",
		"620": "", "": "", "99999": ""} {
		if got, _ := measure.BearingForm(text); got != want {
			t.Errorf("BearingForm(%q) = %q, want %q", text, got, want)
		}
	}
	for b := range measure.Bearings() {
		if got, _ := measure.BearingForm(b.Designation); got != b.Form {
			t.Errorf("BearingForm(%q) = %q, in the table %s", b.Designation, got, b.Form)
		}
	}
}

// Source: suffixes of makers' catalogues, from memory.
func TestBearingSeals(t *testing.T) {
	for text, want := range map[string]int{"6302": 0, "6302 C3": 0, "6302-RS": 3, "6302-2RS": 6, "6302 2RS1/C3": 6,
		"6302-DDU": 6, "6302LLU": 6, "6302-Z": 1, "6302Z": 1, "6302-2Z": 2, "6302ZZ": 2, "6302RS": 3,
		"63022RS": 6, "62302-2RS": 6, "16004-2RS": 6} {
		if got := measure.BearingSeals(text); got != want {
			t.Errorf("%s: %d, want %d", text, got, want)
		}
	}
}
