package trade

import (
	"strings"
	"testing"

	"matewell/testdata/published"
)

// Source: edge_distance.csv; a rule of the table that is not among ours (GB 50017) is passed over.
func TestEdgeRulesPublished(t *testing.T) {
	names := map[string]string{"EN 1993-1-8 minimum": edgeLeast,
		"EN 1993-1-8 full bearing (building guide)": "full bearing", "workshop 1.5 d": "workshop",
		"student race-car rule e/D>=1.5 on the hole": edgeBracket, "aircraft aluminium 2 D": edgeAlloy}
	compared := 0
	for _, row := range published.Rows(t, "edge_distance.csv") {
		name := names[row["rule"]]
		if strings.HasPrefix(row["rule"], "AISC") {
			name = "sheared edge"
		}
		if name == "" {
			continue
		}
		bolt := published.Number(t, strings.TrimPrefix(row["bolt"], "M"))
		for _, r := range must[[]edgeRule](t)(edgeRules(bolt, published.Number(t, row["hole"]))) {
			if r.Name != name {
				continue
			}
			compared++
			near(t, row["bolt"]+" "+name, r.Edge, published.Number(t, row["centre_to_edge_min"]), 0.051)
			if row["centre_to_centre_min"] != "" {
				near(t, row["bolt"]+" pitch "+name, r.Pitch, published.Number(t, row["centre_to_centre_min"]), 0.051)
			}
		}
	}
	if compared != 12 {
		t.Errorf("%d rows compared, want 12", compared)
	}
}

// M8 in a 9.0 mm hole, computed from the rules of edge_distance.csv: 10.8 least (EN 1993-1-8, 1.2 d0), 13.5 bracket (a
// student race-car rule, 1.5 holes), 16 aluminium (AC 43.13-1B, 2 D).
func TestEdgeNeeded(t *testing.T) {
	steel := must[EdgeNeed](t)(EdgeNeeded(8, 9, "steel"))
	alloy := must[EdgeNeed](t)(EdgeNeeded(8, 9, "aluminium"))
	near(t, "least", steel.Least, 10.8, 1e-9)
	near(t, "bracket", steel.Enough, 13.5, 1e-9)
	near(t, "aluminium", alloy.Enough, 16, 1e-9)
	near(t, "pitch, aluminium", alloy.EnoughPitch, 24, 1e-9)
	for _, bad := range []struct {
		name       string
		bolt, hole float64
		material   string
	}{{"no material", 8, 9, ""}, {"hole smaller than its bolt", 8, 7.9, "steel"}, {"hole for another bolt", 8, 13,
		"steel"}, {"no bolt", 0, 9, "steel"}} {
		if got, err := EdgeNeeded(bad.bolt, bad.hole, bad.material); err == nil {
			t.Errorf("%s: %+v, want an error", bad.name, got)
		}
	}
}

// Source: ISO 3547, from memory: it decides nothing alone.
func TestSleeveWall(t *testing.T) {
	for bore, want := range map[float64]float64{12: 1, 18: 1, 20: 1.5, 28: 1.5, 30: 2, 44: 2} {
		near(t, "wall", must[float64](t)(SleeveWall(bore)), want, 0)
	}
	if got, err := SleeveWall(0); err == nil {
		t.Errorf("no bore gave %g", got)
	}
}
