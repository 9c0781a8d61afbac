package mating

import (
	"testing"

	"matewell/graph"
)

// TestDecidingNamesTheReadingInTheReason: what to measure again is what the verdict hangs
// on, not what was read first.
func TestDecidingNamesTheReadingInTheReason(t *testing.T) {
	use := func(dim, text string) Use {
		return Use{Part: "Ostrand D", Feature: "rim", Dim: dim, Reading: graph.Reading{Text: text}}
	}
	for _, c := range []struct {
		name string
		Check
		want string
	}{
		{"reason", Check{Why: "the disc is worn out: 3 mm, least 4.5 mm", Uses: []Use{
			use("disc-thickness", "5.6 mm"), use("minimum", "4.5 mm"), use("thickness", "3.0 mm +0/-0.1")}}, "thickness"},
		{"sizes", Check{Why: "the linings are 3 mm wider than the track", Gap: "3 mm", Had: "33 mm",
			Wanted: "30 mm", Uses: []Use{use("minimum", "3 mm"), use("track", "30 mm"),
				use("width", "33.0 mm")}}, "width"},
		{"not part of a number", Check{Why: "13 mm does not go", Uses: []Use{use("small", "3 mm"),
			use("large", "13 mm")}}, "large"},
		{"count", Check{Why: "6 holes do not meet 5", Uses: []Use{use("five", "5"), use("six", "6")}}, "six"},
		{"nothing named", Check{Why: "they foul", Uses: []Use{use("first", "1 mm"), use("then", "2 mm")}},
			"first"},
	} {
		if got, ok := c.deciding(); !ok || got.Dim != c.want {
			t.Errorf("%s: %q, %t, want %q", c.name, got.Dim, ok, c.want)
		}
	}
	if _, ok := (Check{Why: "no"}).deciding(); ok {
		t.Error("a check that read nothing names a reading")
	}
}

// TestSettleTextNamesTheGauge: a check that asks for the deciding reading itself names the
// gauge; a "no" is not settled by what it asks besides.
func TestSettleTextNamesTheGauge(t *testing.T) {
	worn := Use{Part: "Ostrand D", Feature: "rim", Dim: "thickness", Reading: graph.Reading{Text: "3 mm"}}
	ask := Ask{Part: "Ostrand D", Feature: "rim", Dim: "thickness", What: "thickness", Gauge: "micrometer"}
	other := Ask{Part: "Ostrand D", Feature: "rim", Dim: "band", What: "band"}
	check := Check{Why: "worn: 3 mm", Uses: []Use{worn}, Measure: []Ask{other, ask}}
	if got := check.SettleText(false); got != ask.Text() {
		t.Errorf("a no: %q", got)
	}
	if got := check.SettleText(true); got != other.Text() {
		t.Errorf("an unknown: %q", got)
	}
	check.Measure = nil
	if got := check.SettleText(false); got != "measure thickness of rim on Ostrand D" {
		t.Errorf("without a gauge: %q", got)
	}
}
