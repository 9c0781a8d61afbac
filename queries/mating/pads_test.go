package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: what pads, shoes and rods may be off; that a rod's
// nut needs all of its own height of thread is geometry.
func TestPadsShoesAndRods(t *testing.T) {
	pad := made("pad", "outline", "P-17", "plate", "4 mm", "thickness", "9 mm", "pin", "5.2 mm")
	seat := made("pad-seat", "outline", "p-17", "plate", "4.1 mm", "thickness", "9 mm", "pin", "5 mm")
	shoes := made("shoes", "diameter", "159.5 mm", "width", "28 mm", "pivot", "12.1 mm", "cam", "10 mm")
	drum := made("drum", "diameter", "160 mm", "width", "30 mm", "most", "161 mm")
	carrier := made("shoe-carrier", "pivot", "12 mm", "cam", "12 mm")
	rod := made("brake-rod", "length", "420 mm", "thread-length", "45 mm", "pivot", "8 mm")
	room := made("rod-room", "length", "390 mm", "nut", "14 mm", "pivot", "8.1 mm")
	runCases(t, []ruleCase{
		{"pad in its caliper", pad, seat, "", yes},
		{"other outline", pad.with("outline", "P-18"), seat, "pad outline", no},
		{"outline missing", pad.with("outline", ""), seat, "pad outline", open},
		{"plate too thick", pad.with("plate", "5 mm"), seat, "pad plate", no},
		{"plate 0.2 mm too thick, as two readings may be off", pad.with("plate", "4.3 mm"), seat, "pad plate", open},
		{"near miss: plate 0.4 mm thinner", pad.with("plate", "3.7 mm"), seat, "pad plate", yes},
		{"plate too thin", pad.with("plate", "3 mm"), seat, "pad plate", no},
		{"plate missing", pad.with("plate", ""), seat, "pad plate", open},
		{"too thick for a new disc", pad.with("thickness", "9.4 mm"), seat, "pad thickness", no},
		{"near miss: as thick as the room", pad.with("thickness", "9 mm"), seat, "pad thickness", yes},
		{"0.2 mm too thick, as two readings may be off", pad.with("thickness", "9.2 mm"), seat, "pad thickness", open},
		{"0.3 mm too thick", pad.with("thickness", "9.3 mm"), seat, "pad thickness", no},
		{"a third thinner", pad.with("thickness", "6 mm"), seat, "pad thickness", open},
		{"thickness missing", pad.with("thickness", ""), seat, "pad thickness", open},
		{"pin does not enter", pad.with("pin", "4.9 mm"), seat, "pad pin", no},
		{"pin loose", pad.with("pin", "6 mm"), seat, "pad pin", no},
		{"pin missing", pad, seat.with("pin", ""), "pad pin", open},

		{"shoes in their drum", shoes, drum, "", yes},
		{"near miss: 0.5 mm to turn off", shoes.with("diameter", "160.5 mm"), drum, "shoes in drum", mod},
		{"as large as the drum: they drag", shoes.with("diameter", "160 mm"), drum, "shoes in drum", mod},
		{"0.1 mm of room", shoes.with("diameter", "159.9 mm"), drum, "shoes in drum", mod},
		{"near miss: 0.2 mm of room", shoes.with("diameter", "159.8 mm"), drum, "shoes in drum", yes},
		{"shoes of a larger drum", shoes.with("diameter", "180 mm"), drum, "shoes in drum", no},
		{"shoes of a smaller drum", shoes.with("diameter", "140 mm"), drum, "shoes in drum", no},
		{"drum worn out", shoes, drum.with("diameter", "161.2 mm"), "shoes in drum", no},
		{"diameter missing", shoes.with("diameter", ""), drum, "shoes in drum", open},
		{"wider than the track", shoes.with("width", "31 mm"), drum, "shoe width", no},
		{"as wide as the track: they rub", shoes.with("width", "30 mm"), drum, "shoe width", mod},
		{"near miss: 0.2 mm narrower", shoes.with("width", "29.8 mm"), drum, "shoe width", yes},
		{"much narrower", shoes.with("width", "20 mm"), drum, "shoe width", open},
		{"width missing", shoes, drum.with("width", ""), "shoe width", open},
		{"shoes on their carrier", shoes, carrier, "", yes},
		{"pivot too thick", shoes, carrier.with("pivot", "14 mm"), "shoe pivot", no},
		{"near miss: pivot 0.4 mm loose", shoes, carrier.with("pivot", "11.6 mm"), "shoe pivot", no},
		{"cam narrower than its faces", shoes, carrier.with("cam", "8 mm"), "shoe cam", no},
		{"cam missing", shoes.with("cam", ""), carrier, "shoe cam", open},

		{"rod as built", rod, room, "", yes},
		{"too short", rod.with("length", "400 mm"), room, "brake rod", no},
		{"too long", rod.with("length", "440 mm"), room, "brake rod", no},
		{"near miss: nut just on", rod.with("length", "404 mm"), room, "brake rod", yes},
		{"pivot too thick", rod.with("pivot", "9 mm"), room, "brake rod", no},
		{"length missing", rod.with("length", ""), room, "brake rod", open},
	})
}

func TestBleedScrew(t *testing.T) {
	for _, tt := range []struct {
		top, side string
		want      graph.Verdict
	}{{"left", "left", yes}, {"left", "right", no}, {"either", "right", yes}, {"", "left", open}, {"left", "", open}} {
		t.Run(tt.top+" on "+tt.side, func(t *testing.T) {
			in := BleedCase{Screw: made("bleed-screw").with("top", tt.top), Side: tt.side}
			if c := the(t, JudgeBleed(in), "bleed screw"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Common practice, no source: as for a hand lever.
func TestMasterReach(t *testing.T) {
	of := func(reach string) Leverage {
		return Leverage{Master: made("master-bore").with("reach", reach)}
	}
	for _, tt := range []struct {
		name, was, is string
		want          graph.Verdict
	}{
		{"as built", "72 mm", "72 mm", yes},
		{"near miss: 5 mm further", "72 mm", "77 mm", yes},
		{"out of reach", "72 mm", "96 mm", open},
		{"close to the grip", "72 mm", "40 mm", open},
		{"nobody says", "72 mm", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeLeverage(LeverageCase{Before: of(tt.was), After: of(tt.is)}), "lever to grip")
			if c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Source: hydraulic_ratio.csv (2x41 opposed on 15.875 is 13.34); bores by
// Pascal: 15.875 to 14 is 28.6 % more. The limit is common practice, no source.
func TestLeverage(t *testing.T) {
	brake := func(bore, lever string, pistons ...string) Leverage {
		l := Leverage{Master: made("master-bore").with("bore", bore).with("lever-ratio", lever)}
		for _, p := range pistons {
			l.Pistons = append(l.Pistons, made("pistons", "layout", "opposed").with("sizes", p))
		}
		return l
	}
	was := brake("15.875 mm", "6", "2x 41 mm")
	for _, tt := range []struct {
		name string
		is   Leverage
		want graph.Verdict
		says string
	}{
		{"the same", was, yes, ""},
		{"near miss: 14 mm bore", brake("14 mm", "6", "2x 41 mm"), open, "28.6 % more"},
		{"lever a little shorter", brake("15.875 mm", "5", "2x 41 mm"), yes, "16.7 %"},
		// (35/32)^2 is 1.196
		{"pistons of 35 for 32", brake("15.875 mm", "6", "2x 44.84 mm"), open, "19.6 % more"},
		{"one caliper of two", brake("15.875 mm", "6", "2x 25 mm"), open, "less leverage"},
		{"bore missing", brake("", "6", "2x 41 mm"), open, "bore"},
		{"pistons missing", brake("14 mm", "6", ""), open, "piston"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeLeverage(LeverageCase{Before: was, After: tt.is}), "brake leverage")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// withoutStroke is a clutch whose slave is another part, of unknown stroke.
func withoutStroke(l Leverage) Leverage {
	slave := l.Pistons[0].with("stroke", "")
	slave.Part = "other slave"
	l.Pistons = []Side{slave}
	return l
}

// Of a clutch the push rod must move as far as it did: 13 mm of a 12.7 mm bore move a
// 30 mm slave 2.33 mm. Source: the same fluid in and out; the limits are common
// practice, no source.
func TestClutchLeverage(t *testing.T) {
	clutch := func(bore, lever, stroke, slave string) Leverage {
		return Leverage{Master: made("master-bore").with("bore", bore).with("lever-ratio", lever).with("stroke", stroke),
			Pistons: []Side{made("pistons", "layout", "slave", "stroke", "9 mm").with("sizes", slave)}}
	}
	was := clutch("12.7 mm", "4.1", "13 mm", "30 mm")
	for _, tt := range []struct {
		name string
		is   Leverage
		rule string
		want graph.Verdict
	}{
		{"the same", was, "slave travel", yes},
		{"near miss: a slave 0.1 mm smaller", clutch("12.7 mm", "4.1", "13 mm", "29.9 mm"), "slave travel", yes},
		{"near miss: a slave 1 mm larger, 6 % less", clutch("12.7 mm", "4.1", "13 mm", "31 mm"), "slave travel", yes},
		{"a slave 2 mm larger, 12 % less", clutch("12.7 mm", "4.1", "13 mm", "32 mm"), "slave travel", open},
		{"two pistons for one", clutch("12.7 mm", "4.1", "13 mm", "2x 30 mm"), "slave travel", open},
		{"two that have its area", clutch("12.7 mm", "4.1", "13 mm", "2x 21.2132 mm"), "slave travel", yes},
		{"a slave 26 mm", clutch("12.7 mm", "4.1", "13 mm", "26 mm"), "slave travel", open},
		{"past the slave's own stroke", clutch("25 mm", "4.1", "13 mm", "30 mm"), "slave travel", no},
		{"near miss: a stroke as it is read twice", clutch("12.7 mm", "4.1", "12.7 mm", "30 mm"), "slave travel", yes},
		{"less stroke", clutch("12.7 mm", "4.1", "11.5 mm", "30 mm"), "slave travel", open},
		{"stroke missing", clutch("12.7 mm", "4.1", "", "30 mm"), "slave travel", open},
		{"another slave whose stroke is missing", withoutStroke(was), "slave travel", open},
		{"a harder lever", clutch("12.7 mm", "2.3", "13 mm", "30 mm"), "clutch leverage", open},
		{"a lighter lever", clutch("12.7 mm", "6", "13 mm", "30 mm"), "clutch leverage", yes},
		{"which moves less, nobody measured its way", clutch("12.7 mm", "6", "13 mm", "30 mm"), "slave travel", open},
		{"near miss: a little lighter", clutch("12.7 mm", "4.5", "13 mm", "30 mm"), "slave travel", yes},
		{"lever missing", clutch("12.7 mm", "", "13 mm", "30 mm"), "clutch leverage", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeLeverage(LeverageCase{Before: was, After: tt.is}), tt.rule)
			if c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Leverage gained is travel lost: 60 mm at the fingers are 13.9 mm at the piston by 95/22, enough for a stroke of 13;
// by 180/22 they are 7.3 mm. Source: levers.
func TestClutchLiftByItsLever(t *testing.T) {
	blade := made("lever-throw", "ratio", "95/22", "travel", "60 mm")
	clutch := func(bore, stroke, lever string, blade Side) Leverage {
		return Leverage{Master: made("master-bore").with("bore", bore).with("lever-ratio", lever).with("stroke", stroke),
			Pistons: []Side{made("pistons", "layout", "slave", "stroke", "9 mm", "sizes", "34 mm")}, Worked: blade}
	}
	was := clutch("14 mm", "13 mm", "95/22", blade)
	for _, tt := range []struct {
		name string
		is   Leverage
		want graph.Verdict
		says string
	}{
		{"the same", was, yes, "2.2 mm where it moved 2.2 mm"},
		{"a third more leverage", clutch("14 mm", "13 mm", "126.67/22", blade), open,
			"pulled all the way, the lever pushes the piston only 10.4 mm of its 13 mm: the push rod moves 1.77 mm"},
		{"twice the leverage", clutch("14 mm", "13 mm", "190/22", blade), open, "6.9 mm of its 13 mm"},
		{"near miss: a tenth more, of which the stroke has it to spare", clutch("14 mm", "13 mm", "105/22", blade), yes, ""},
		{"a thinner piston of more stroke", clutch("10 mm", "25.5 mm", "95/22", blade), open, "13.9 mm of its 25.5 mm"},
		{"a little more stroke", clutch("14 mm", "14 mm", "95/22", blade), yes, ""},
		{"the fingers go further", clutch("14 mm", "13 mm", "126.67/22", blade.with("travel", "75 mm")), yes, ""},
		{"more leverage by what the blade says", clutch("14 mm", "13 mm", "95/22", blade.with("ratio", "150/22")), open, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeLeverage(LeverageCase{Before: was, After: tt.is}), "slave travel")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) || c.Verdict == open && len(c.Measure) == 0 {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// The sum is geometry: gap 200, spacer 20, hub 160: its left face stands 80 left;
// 5 mm inset, 12 mm of sprocket line: 87 mm left. The limit of 1 mm is common
// practice, no source.
func TestHubSprocket(t *testing.T) {
	in := HubSprocketCase{Member: 2, Left: true, Mount: made("bolt-pattern", "count", "6", "spacing", "100 mm", "inset",
		"5 mm"),
		Rear: made("sprocket", "line", "12 mm"), Front: made("sprocket", "line", "7 mm"), Plane: made("sprocket-plane",
			"plane", "80 mm"),
		Stack: StackCase{Within: made("gap", "width", "200 mm"), Centre: 2, Row: []Member{
			{made("row-width", "width", "20 mm"), true}, {made("row-width", "width", "160 mm", "offset", "0 mm"), false},
			{made("row-width", "width", "20 mm"), true}}}}
	as := func(change func(*HubSprocketCase)) HubSprocketCase {
		other := in
		other.Stack.Row = append([]Member(nil), in.Stack.Row...)
		change(&other)
		return other
	}
	for _, tt := range []struct {
		name string
		in   HubSprocketCase
		want graph.Verdict
		says string
	}{
		{"in line", in, yes, "in line"},
		{"near miss: 1 mm", as(func(h *HubSprocketCase) { h.Plane = h.Plane.with("plane", "79 mm") }), yes, "1 mm apart"},
		{"3 mm too far in", as(func(h *HubSprocketCase) { h.Rear = h.Rear.with("line", "9 mm") }), mod, "3 mm too far in"},
		{"near miss: more than a ring takes up",
			as(func(h *HubSprocketCase) { h.Rear = h.Rear.with("line", "6.8 mm") }), open,
			"a part of its own"},
		{"a ring mends it", as(func(h *HubSprocketCase) {
			h.Rear, h.Under = h.Rear.with("line", "9 mm"), []Side{made("plate", "thickness", "3 mm")}
		}), yes, ""},
		{"too far out", as(func(h *HubSprocketCase) { h.Mount = h.Mount.with("inset", "2 mm") }), no,
			"too far out"},
		{"on the right", as(func(h *HubSprocketCase) {
			h.Left, h.Plane, h.Front = false, h.Plane.with("plane", "-80 mm"), h.Front.with("line", "7 mm")
		}), yes, ""},
		{"inset missing", as(func(h *HubSprocketCase) { h.Mount = h.Mount.with("inset", "") }), open, "inset"},
		{"plane missing", as(func(h *HubSprocketCase) { h.Plane = h.Plane.with("plane", "") }), open, "plane"},
		{"hub's width missing", as(func(h *HubSprocketCase) { h.Stack.Row[1].Side = h.Stack.Row[1].Side.with("width", "") }),
			open, "width"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeHubSprocket(tt.in), "chain line")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}
