package mating

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// The sums are arithmetic; that a tube is never shorter than the room between
// the shoulders is common practice, no source.
func TestInnerRow(t *testing.T) {
	at := func(name string, s Side) Side { s.Position = graph.PositionID("bench/" + name); return s }
	ball := made("bearing", "designation", "6204-2RS")
	base := InnerRowCase{Hub: made("hub-row", "between", "80 mm"), Left: at("left", ball), Right: at("right", ball),
		Tube: at("tube", made("row-width", "width", "80.2 mm")), Row: at("hub", made("row-width", "width", "108.2 mm"))}
	as := func(change func(*InnerRowCase)) InnerRowCase { in := base; change(&in); return in }
	deep := as(func(in *InnerRowCase) {
		in.Hub = in.Hub.with("width", "112 mm")
		in.SeatLeft, in.SeatRight = at("seat-left", made("bearing-seat", "depth", "16 mm")), at("seat-right",
			made("bearing-seat", "depth", "16 mm"))
	})
	deeper := deep
	deeper.SeatLeft = deep.SeatLeft.with("depth", "17 mm")
	blank := deep
	blank.SeatLeft = deep.SeatLeft.with("depth", "")
	tests := []struct {
		name string
		in   InnerRowCase
		rule string
		want graph.Verdict
		says string
	}{
		{"as built", base, "", yes, ""},
		{"tube 1 mm too short", as(func(in *InnerRowCase) { in.Tube = in.Tube.with("width", "79 mm") }), "inner row", no,
			"presses the inner rings"},
		{"near miss: 0.1 mm short", as(func(in *InnerRowCase) { in.Tube = in.Tube.with("width", "79.9 mm") }), "inner row",
			yes, ""},
		{"tube 1 mm too long", as(func(in *InnerRowCase) { in.Tube = in.Tube.with("width", "81 mm") }), "inner row", no,
			"go home"},
		{"tube missing", as(func(in *InnerRowCase) { in.Tube = in.Tube.with("width", "") }), "inner row", open, "width"},
		{"shoulders missing", as(func(in *InnerRowCase) { in.Hub = in.Hub.with("between", "") }), "inner row", open,
			"shoulder"},
		{"a bearing 1 mm wider", as(func(in *InnerRowCase) {
			in.Left = in.Left.with("designation", "").with("width",
				"15 mm")
		}), "hub row", mod, "1 mm more"},
		{"near miss: 0.3 mm", as(func(in *InnerRowCase) { in.Row = in.Row.with("width", "108.5 mm") }), "hub row", yes, ""},
		{"a bearing 2 mm narrower", as(func(in *InnerRowCase) { in.Right = in.Right.with("designation", "6004") }),
			"hub row", mod, "2 mm less"},
		{"seats and hub add up", deep, "bearing depth", yes, "2 mm inside"},
		{"a seat 1 mm too deep", deeper, "bearing depth", open, "1 mm"},
		{"a seat not measured", blank, "bearing depth", open, "depth"},
		{"a bearing not known", as(func(in *InnerRowCase) { in.Left = at("left", made("bearing")) }), "hub row", open,
			"width"},
		{"nobody said what the hub adds", as(func(in *InnerRowCase) { in.Row = Side{} }), "hub row", yes, "108.2 mm"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			checks := JudgeInnerRow(tt.in)
			got, why := Worst(checks), brief(checks)
			if tt.rule != "" {
				c := the(t, checks, tt.rule)
				got, why = c.Verdict, c.Why
			}
			if got != tt.want || !contains(why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", got, why, tt.want, tt.says)
			}
		})
	}
	wheel := StackCase{Within: made("gap", "width", "148.2 mm"), Centre: 2,
		Inner: map[graph.PositionID]InnerRowCase{"bench/hub": base}, Row: []Member{
			{Side: at("spacer-left", made("row-width", "width", "20 mm")), Spacer: true},
			{Side: base.Row.with("offset", "0 mm")},
			{Side: at("spacer-right", made("row-width", "width", "20 mm")), Spacer: true}}}
	if c := the(t, JudgeStack(wheel), "row width"); c.Verdict != yes {
		t.Errorf("the wheel's row: %s (%s)", c.Verdict, c.Why)
	}
	wider := as(func(in *InnerRowCase) { in.Left = in.Left.with("designation", "").with("width", "15 mm") })
	wheel.Inner["bench/hub"] = wider
	if c := the(t, JudgeStack(wheel), "row width"); c.Verdict != mod || !contains(c.Why, "1 mm too wide") {
		t.Errorf("a bearing 1 mm wider in the wheel's row: %s (%s)", c.Verdict, c.Why)
	}
}

// Sources: ISO 286-2 and ISO 492 for seats (bearing_seat_fits.csv: a 42 mm ring
// in N7 has 33 um of interference to 3 um of clearance, in H7 it creeps), ISO
// 5753-1 for C3; that angular and taper bearings stand in for each other as pairs
// with their own races is common practice, no source; the sorts by number of DIN 623-1.
func TestBearingFitPlayAndPairs(t *testing.T) {
	ring := made("bearing", "inside", "15 mm", "outside", "42 mm", "width", "13 mm", "form", "ball")
	seat := made("bearing-seat", "diameter", "42 mm", "depth", "13 mm", "form", "ball", "turns", "yes")
	taper := made("bearing", "inside", "30 mm", "outside", "55 mm", "width", "17 mm", "form", "taper")
	head := made("bearing-seat", "diameter", "55 mm", "depth", "17 mm", "form", "taper")
	runCases(t, []ruleCase{
		{"N7 in a hub", ring, seat.with("fit", "N7"), "bearing fit", yes},
		{"H7 in a hub: creeps", ring, seat.with("fit", "H7"), "bearing fit", open},
		{"H7 in an arm that stands still", ring, seat.with("fit", "H7").with("turns", "no"), "bearing fit", yes},
		{"a wheel is written as standing still", ring, wheelsOwn(seat).with("fit", "N7").with("turns", "no"),
			"bearing fit", open},
		{"near miss: as turning", ring, wheelsOwn(seat).with("fit", "N7"), "bearing fit", yes},
		{"R7: tighter than P7", ring, seat.with("fit", "R7"), "bearing fit", open},
		{"no such class", ring, seat.with("fit", "Q9"), "bearing fit", open},
		{"measured, nominal", ring, seat, "bearing fit", yes},
		{"measured, near miss: 30 um loose", ring, seat.with("diameter", "42.03 mm"), "bearing fit", yes},
		{"measured, 50 um loose", ring, seat.with("diameter", "42.05 mm"), "bearing fit", no},
		{"measured, 50 um loose, stands still", ring, seat.with("diameter", "42.05 mm").with("turns", "no"), "bearing fit",
			yes},
		{"measured, 60 um tight", ring, seat.with("diameter", "41.94 mm"), "bearing fit", open},
		{"seat missing", ring, seat.with("diameter", ""), "bearing fit", open},
		{"turning not known", ring, seat.with("turns", "").with("fit", "N7"), "bearing fit", open},
		{"C3 is a note", made("bearing", "designation", "6302-2RS C3"), seat, "bearing play", yes},
		{"angular in place of tapers", taper.with("form", "angular"), head, "bearing kind", mod},
		{"tapers in place of angular", taper, head.with("form", "angular"), "bearing kind", mod},
		{"near miss: ball in place of tapers", taper.with("form", "ball"), head, "bearing kind", no},
		{"form missing", taper.with("form", ""), head, "bearing kind", open},
		{"a roller bearing by its number", ring.with("form", "").with("designation", "NU302"), seat, "bearing kind", no},
		{"a self-aligning one by its number", ring.with("form", "").with("designation", "1302"), seat, "bearing kind", no},
		{"a ball bearing by its number", ring.with("form", "").with("designation", "6302"), seat, "bearing kind", yes},
		{"said to be ball, marked as roller", ring.with("designation", "NJ302"), seat, "bearing kind", open},
		{"near miss: a roller bearing in its own seat", ring.with("form", "").with("designation", "NU302"),
			seat.with("form", "roller"), "bearing kind", yes},
		{"a number of no series", ring.with("form", "").with("designation", "WB-42"), seat, "bearing kind", open},
		{"angular of another size: the one that fits is named", taper.with("form", "angular").with("outside", "52 mm"), head,
			"bearing in seat", mod},
	})
	thin := Meeting{A: made("bearing", "designation", "16004"), B: made("bearing-seat", "diameter", "42 mm", "depth",
		"12 mm", "form", "ball")}
	thin.Built = &Meeting{A: thin.B, B: made("bearing", "designation", "6004")}
	if c := the(t, Judge(thin), "bearing width"); c.Verdict != mod || !contains(c.Why, "4 mm narrower") {
		t.Errorf("a thin bearing where a wide one was built in: %s (%s)", c.Verdict, c.Why)
	}
	// Another hub with a seat as much shallower: the bearing lies as it did. Geometry.
	for depth, want := range map[string]graph.Verdict{"8 mm": yes, "9 mm": mod} {
		other := thin
		other.B = thin.B.with("depth", depth)
		if c := the(t, Judge(other), "bearing width"); c.Verdict != want {
			t.Errorf("a thin bearing in a seat %s deep, of a hub whose own was 12 mm: %s (%s)", depth, c.Verdict, c.Why)
		}
	}
	if _, ok := named(Judge(Meeting{A: made("bearing", "designation", "6302-2RS"), B: seat}), "bearing play"); ok {
		t.Error("a bearing without a mark got a note about its play")
	}
	for text, want := range map[string]string{"6204-2RS C3": "C3", "6204 2RS/C3": "C3", "6204ZZC3": "C3",
		"6204-2RS": "CN", "6204 CN": "CN", "6302 C4/X": "C4"} {
		if got := measure.PlayGroup(text); got != want {
			t.Errorf("PlayGroup(%q) = %s, want %s", text, got, want)
		}
	}
}

// What the spacers beside a hub must give is told for each side where the sides are
// alike; else it is said where to measure it. The halves are arithmetic.
func TestSpacersBesideHubAreToldBySide(t *testing.T) {
	ball := made("bearing", "designation", "6204-2RS")
	wide := ball.with("designation", "").with("width", "15 mm").with("inside", "20 mm").with("outside", "47 mm")
	seat := func(depth string) Side { return made("bearing-seat", "depth", depth) }
	base := InnerRowCase{Hub: made("hub-row", "between", "80 mm"), Left: wide, Right: wide,
		Tube: made("row-width", "width", "80.2 mm"), Row: made("row-width", "width", "108.2 mm")}
	as := func(change func(*InnerRowCase)) InnerRowCase { in := base; change(&in); return in }
	tests := []struct {
		name string
		in   InnerRowCase
		want string
	}{
		{"both bearings alike", base, "2 mm shorter in all, 1 mm each side"},
		{"seats alike too", as(func(in *InnerRowCase) { in.SeatLeft, in.SeatRight = seat("16 mm"), seat("16 mm") }),
			"1 mm each side"},
		{"near miss: one seat deeper",
			as(func(in *InnerRowCase) { in.SeatLeft, in.SeatRight = seat("16 mm"), seat("17 mm") }),
			"by what its own bearing takes"},
		{"one bearing wider", as(func(in *InnerRowCase) { in.Right = ball }), "by what its own bearing takes"},
		{"one seat not measured", as(func(in *InnerRowCase) { in.SeatLeft = seat("16 mm") }),
			"by what its own bearing takes"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeInnerRow(tt.in), "hub row")
			if len(c.Do) != 1 || !contains(c.Do[0], tt.want) {
				t.Errorf("%v, want %q", c.Do, tt.want)
			}
		})
	}
}

// wheelsOwn is a seat as that of a wheel.
func wheelsOwn(seat Side) Side {
	seat.PartKind = "front-wheel"
	return seat
}
