package mating

import (
	"testing"

	"matewell/graph"
)

// Geometry, worked out by hand: legs 122 apart, so that the leg's face stands 61 from the
// middle; a hub 96 over its ends, so that its end face stands 48; a disc's face 2 inside that,
// the disc 3 out of it: 61 - 48 + 2 - 3 = 12 from the leg's face, whatever the row of inner
// rings, 82 wide, touches.
func TestDiscLineFromTheHubsEnd(t *testing.T) {
	line := func(hub HubEnds, offset string, left bool) DiscLineCase {
		return DiscLineCase{Member: 2, Left: left, Hub: hub,
			Mount: made("bolt-pattern", "count", "5", "spacing", "64 mm", "inset", "2 mm"),
			Disc:  made("disc-rim").with("offset", offset), Lug: made("caliper-mount", "slot-line", "12 mm"),
			Stack: StackCase{Within: made("gap", "width", "122 mm"), Centre: 2, Row: []Member{
				{made("row-width", "width", "20 mm"), true}, {made("row-width", "width", "82 mm", "offset", "0 mm"), false},
				{made("row-width", "width", "20 mm"), true}}}}
	}
	seats := func(width, left, right string) HubEnds {
		return HubEnds{Hub: made("hub-row", "between", "60 mm").with("width", width),
			Left: made("bearing-seat").with("depth", left), Right: made("bearing-seat").with("depth", right)}
	}
	for _, tt := range []struct {
		name   string
		hub    HubEnds
		offset string
		left   bool
		want   graph.Verdict
		says   string
	}{
		{"96 over its ends", seats("96 mm", "", ""), "3 mm", true, yes, "in the middle"},
		{"a disc 7 mm further out", seats("96 mm", "", ""), "10 mm", true, no, "7 mm further"},
		{"near miss: 0.5 mm further out", seats("96 mm", "", ""), "3.5 mm", true, yes, "0.5 mm"},
		{"82 over its ends, as its row", seats("82 mm", "", ""), "10 mm", true, yes, "in the middle"},
		{"told by its seats", seats("", "18 mm", "18 mm"), "3 mm", true, yes, "in the middle"},
		{"nobody measured either", seats("", "", ""), "10 mm", true, yes, "in the middle"},
		// seats of 20 and 16: 9 mm out on the left, 5 on the right
		{"a deeper seat on the left", seats("96 mm", "20 mm", "16 mm"), "1 mm", true, yes, "in the middle"},
		{"and the other side of it", seats("96 mm", "20 mm", "16 mm"), "5 mm", false, yes, "in the middle"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if c := the(t, JudgeDiscLine(line(tt.hub, tt.offset, tt.left)), "disc line"); c.Verdict != tt.want ||
				!contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}
