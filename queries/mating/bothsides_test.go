package mating

import "testing"

// What lies alike as far as it can be read is told with the number of each side, not with one
// for both.
func TestBothSidesAreToldWithTheirOwnNumbers(t *testing.T) {
	stop := made("steering-stop", "radius", "44 mm", "height", "9 mm", "angle", "58 deg")
	for name, tt := range map[string]struct{ rule, says string }{
		"9 mm":  {"stop faces", "both faces 9 mm above"},
		"12 mm": {"stop faces", "the faces 12 mm and 9 mm above"},
	} {
		yoke := made("steering-stop", "radius", "44 mm", "height", name, "angle", "22 deg")
		found := false
		for _, c := range Judge(Meeting{A: yoke, B: stop}) {
			found = found || contains(c.Why, tt.says)
		}
		if !found {
			t.Errorf("with %s nothing says %q", name, tt.says)
		}
	}
}
