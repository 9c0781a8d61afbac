package mating

import "testing"

// The machine's own directions; left and right are the rider's. Geometry.
func TestPointOffSaysWhichWay(t *testing.T) {
	panel := "A: 6.5 mm at 0,0; B: 6.5 mm at 100,0; C: 6.5 mm at 0,50; D: 6.5 mm at 60,60"
	frame := "A: M6 at 0,0; B: M6 at 100,0; C: M6 at 0,50; D: M6 at "
	tests := []struct{ name, view, at, says string }{
		{"lower, from the side", "side", "60,66", "bench/points D: 6 mm lower than the M6 opposite"},
		{"higher and further back", "side", "75,52", "15 mm further back and 8 mm higher than"},
		{"further forward", "side", "50,60", "10 mm further forward than"},
		{"a hair beside a long way is not told", "side", "50,59.7", "10 mm further forward than"},
		{"from above, y is left", "top", "60,54", "6 mm further left than"},
		{"from above, right", "top", "60,66", "6 mm further right than"},
		{"from the front, x is left", "front", "50,60", "10 mm further left than"},
		{"from the front, right and lower", "front", "70,66", "10 mm further right and 6 mm lower than"},
		{"nobody said how", "", "60,66", "6 mm off the M6 opposite, nobody said which way"},
		{"near miss: within the hole's play", "side", "60,61.4", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := made("points", "points", panel).with("seen-from", tt.view)
			b := made("points", "points", frame+tt.at).with("seen-from", tt.view)
			a.Position, b.Position = "bench/points", "frame/points"
			c := the(t, Judge(Meeting{A: a, B: b, New: a.Position}), "mounting points")
			switch {
			case tt.says == "" && c.Verdict != yes:
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, yes)
			case tt.says != "" && (len(c.Orders) != 1 || !contains(c.Orders[0].Text, tt.says)):
				t.Errorf("orders %+v, want %q", c.Orders, tt.says)
			}
		})
	}
}

// What stands alone is placed from the nearest point that meets, wherever the
// parts have their origins.
func TestPointAloneSaysWhere(t *testing.T) {
	panel := made("points", "points", "A: 6.5 mm at 10,10; B: 6.5 mm at 110,10; R: 6.5 mm at -50,-20", "seen-from", "side")
	frame := made("points", "points", "A: M6 at 0,0; B: M6 at 100,0", "seen-from", "side")
	panel.Position, frame.Position = "body/panel", "frame/frame"
	c := the(t, Judge(Meeting{A: panel, B: frame, New: "body/panel"}), "mounting points")
	want := "body/panel R: 6.5 mm with nothing opposite, 60 mm further back and 30 mm lower than A"
	if len(c.Orders) != 1 || !contains(c.Orders[0].Text, want) {
		t.Errorf("orders %+v, want %q", c.Orders, want)
	}
}
