package mating

import (
	"strings"
	"testing"
)

// A sleeve is ordered with one bore: the size under "inside" lies within the limits of its bore,
// and the wall is what is left of it. A shaft of 14.98 mm in a bore of 17.5 mm that wants 0.1 mm of play at
// least: 14.98 + 0.1 = 15.08 mm inside, (17.5 - 15.08) / 2 = 1.21 mm of wall; F8 at 10 to 18 mm
// is 27 micrometres wide, so 15.080 to 15.107 mm. Source of the width: ISO 286-2.
func TestSleeveHasOneBore(t *testing.T) {
	m := Meeting{A: made("shaft", "diameter", "14.98 mm"), B: made("bore", "diameter", "17.5 mm", "length", "88 mm"),
		Allow: "0.1-0.3 mm"}
	fields := map[string]string{}
	for _, c := range Judge(m) {
		for _, o := range c.Orders {
			for _, f := range o.Spec {
				fields[f.Name] = f.Value
			}
		}
	}
	if fields["inside"] != "15.08 mm" || fields["wall"] != "1.21 mm" ||
		!strings.HasPrefix(fields["bore, by ISO 286"], "15.080-15.107 mm") {
		t.Errorf("%v", fields)
	}
}
