package page

import (
	"reflect"
	"testing"
)

func TestMirrored(t *testing.T) {
	for _, tt := range []struct{ in, want string }{
		{"fork/leg-left", "fork/leg-right"},
		{"leg-right-in-lower-yoke, left", "leg-left-in-lower-yoke, right"},
		{"what is left over", "what is right over"},
		{"leftover brightness", "leftover brightness"},
		{"", ""},
		{"left", "right"},
	} {
		if got := mirrored(tt.in); got != tt.want {
			t.Errorf("mirrored(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// A row of the left and one of the right are one when they say the same; both
// numbers stand in it. A row that says anything else of its side stays alone.
func TestBothSides(t *testing.T) {
	in := Table{Columns: []string{"where", "part", "why"}}
	in.Add("fork/leg-left", "P 1\nleg, left", "18 mm")
	in.Add("fork/seal-left", "P 3", "wide")
	in.Add("fork/leg-right", "P 2\nleg, right", "18 mm")
	in.Add("fork/seal-right", "P 3", "narrow") // a near miss
	in.Add("wheel", "P 4", "on the left")
	got := BothSides(in, "where", "part").Rows
	want := [][]string{
		{"fork/leg-left, and" + HardSpace + "right", "P 1\nP 2\nleg, left/right", "18 mm"},
		{"fork/seal-left", "P 3", "wide"},
		{"fork/seal-right", "P 3", "narrow"},
		{"wheel", "P 4", "on the left"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%q, want\n%q", got, want)
	}
	if len(in.Rows) != 5 {
		t.Errorf("the rows that came in were changed: %q", in.Rows)
	}
}

// Reasons that name their side mirrored are alike; a part number that differs in
// a column where it may not is not.
func TestBothSidesMirrorsReasons(t *testing.T) {
	in := Table{Columns: []string{"where", "why"}}
	in.Add("hose-right", "made for the right")
	in.Add("hose-left", "made for the left")
	in.Add("pad-left", "P 1")
	in.Add("pad-right", "P 2")
	got := BothSides(in, "where").Rows
	want := [][]string{{"hose-right, and" + HardSpace + "left", "made for the left/right"}, {"pad-left", "P 1"},
		{"pad-right", "P 2"}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%q, want\n%q", got, want)
	}
}
