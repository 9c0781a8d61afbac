package trade

import (
	"strings"
	"testing"

	"matewell/testdata/published"
)

// Source: vin_vectors.json, 49 CFR 565 and public test suites.
func TestVINPublished(t *testing.T) {
	var file struct {
		Vectors []struct {
			VIN        string
			ValidCheck bool `json:"valid_check"`
			Sum        *int
			Expected   *string
			Note       string
		}
	}
	published.JSON(t, "vin_vectors.json", &file)
	if len(file.Vectors) < 7 {
		t.Fatalf("only %d vectors", len(file.Vectors))
	}
	for _, v := range file.Vectors {
		t.Run(v.VIN+" "+v.Note, func(t *testing.T) {
			got, err := ParseVIN(v.VIN)
			if v.Sum == nil {
				if err == nil {
					t.Errorf("got %+v, want an error", got)
				}
				return
			}
			if err != nil || got.Sum != *v.Sum || got.CheckDigit != *v.Expected || got.CheckHolds != v.ValidCheck {
				t.Errorf("got %+v, error %v, want sum %d, digit %s, holds %v", got, err, *v.Sum, *v.Expected, v.ValidCheck)
			}
		})
	}
}

// Source: vin_years.json, 49 CFR 565.15 Table VII.
func TestModelYearsPublished(t *testing.T) {
	var file struct {
		Codes map[string][]int
		Count int
	}
	published.JSON(t, "vin_years.json", &file)
	for code, want := range file.Codes {
		got := modelYears([]rune(code)[0])
		if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
			t.Errorf("ModelYears(%s) = %v, want %v", code, got, want)
		}
	}
	seen := map[int]bool{}
	for _, c := range "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789" {
		for _, year := range modelYears(c) {
			seen[year] = true
		}
	}
	if len(seen) != 2*file.Count || len(file.Codes) == 0 {
		t.Errorf("%d years have a code, want two cycles of %d", len(seen), file.Count)
	}
	for _, c := range "IOQUZ0" {
		if got := modelYears(c); got != nil {
			t.Errorf("ModelYears(%c) = %v, want none", c, got)
		}
	}
}

func TestVINInWords(t *testing.T) {
	tests := []struct{ name, text, say string }{
		{"old frame", "TK6A-000101", "11 characters"},
		{"old frame, what to do", "TK6A-000101", "frame ranges"},
		{"look-alike", "1G4AH59H45G11834O", "place 17: letter O"},
		{"not a letter", "1G4AH59H45G1183-1", "place 16"},
		{"foreign letter", "1G4AH59H45G11834é", "place 17"},
		{"nothing", "", "0 characters"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := ParseVIN(tt.text); err == nil || !strings.Contains(err.Error(), tt.say) {
				t.Errorf("error %v, want one that says %q", err, tt.say)
			}
		})
	}
	v := must[VIN](t)(ParseVIN(" 1g4ah59h4 5g118341 "))
	if !v.CheckHolds || len(v.Years) != 2 || v.Years[0] != 2005 || v.Years[1] != 2035 {
		t.Errorf("small letters and blanks gave %+v", v)
	}
}
