package cell_test

import (
	"testing"

	"matewell/graph/cell"
)

func TestHarmless(t *testing.T) {
	for text, want := range map[string]string{"=1+1": "'=1+1", "@home": "'@home", "+1 thing, @home": "'+1 thing, @home",
		"plain": "plain", "": "", "-5.5 mm": "-5.5 mm", "-": "-"} {
		if got := cell.Harmless(text); got != want {
			t.Errorf("Harmless(%q) = %q, want %q", text, got, want)
		}
	}
}
