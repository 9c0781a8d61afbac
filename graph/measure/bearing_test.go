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
