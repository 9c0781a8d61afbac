package trade

import (
	"testing"

	"matewell/testdata/published"
)

// Source: rim_width.csv; what is from memory there is marked so here.
func TestRimWidthsPublished(t *testing.T) {
	for _, row := range published.Rows(t, "rim_width.csv") {
		got, ok := RimWidthsFor(row["tyre"])
		if !ok {
			t.Errorf("%s is not in the table", row["tyre"])
			continue
		}
		near(t, row["tyre"]+" standard", got.Standard, published.Number(t, row["measuring_or_standard"]), 0)
		near(t, row["tyre"]+" least", got.Least, published.Number(t, row["permitted_min"]), 0)
		near(t, row["tyre"]+" most", got.Most, published.Number(t, row["permitted_max"]), 0)
		if got.FromMemory != (row["memory"] == "yes") {
			t.Errorf("%s: from memory %v, want %s", row["tyre"], got.FromMemory, row["memory"])
		}
	}
	if got, ok := RimWidthsFor("77/90-18"); ok {
		t.Errorf("a size no table has gave %+v", got)
	}
	if got, ok := RimWidthsFor("MR90-18"); !ok || got.Standard != 2.75 {
		t.Errorf("MR90 is 120/90: %+v", got)
	}
}

// Source: tyre_alpha.csv.
func TestLetterSizesPublished(t *testing.T) {
	for _, row := range published.Rows(t, "tyre_alpha.csv") {
		letter, metric := must[Tyre](t)(ParseTyre(row["alphanumeric"]+"-16")), must[Tyre](t)(ParseTyre(row["metric"]+"-16"))
		if letter != metric {
			t.Errorf("%s-16 is %+v, want %+v", row["alphanumeric"], letter, metric)
		}
	}
	if got := must[Tyre](t)(ParseTyre("MT90 B 16 74H")); got != (Tyre{130, 90, 16, "", "bias-belted", 74, "H"}) {
		t.Errorf("got %+v", got)
	}
}

func TestInchTyre(t *testing.T) {
	for text, want := range map[string]struct {
		width string
		rim   float64
	}{"3.00-18": {"3.00", 18}, "4.10 H 18": {"4.10", 18}, "3.25/3.50-19": {"3.25", 19}, "3.00S-18": {"3.00", 18}} {
		width, rim, ok := InchTyre(text)
		if !ok || width != want.width || rim != want.rim {
			t.Errorf("%q: %q %g %v, want %q %g", text, width, rim, ok, want.width, want.rim)
		}
	}
	if _, _, ok := InchTyre("120/70-17"); ok {
		t.Error("a metric size was read as an inch one")
	}
}
