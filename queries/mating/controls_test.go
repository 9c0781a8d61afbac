package mating

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// Common practice, no source, but for what an adjuster's range allows.
func TestBarsCablesAndRods(t *testing.T) {
	bar := made("bar-end", "diameter", "22.2 mm", "straight", "190 mm", "inside", "16 mm", "peg-hole", "yes")
	grip := made("bar-fitting", "bore", "22.2 mm", "width", "120 mm", "turns", "no", "peg", "no")
	tube := grip.with("bore", "22.6 mm").with("turns", "yes")
	pull, draw := made("cable-pull", "travel", "36 mm", "cables", "2"), made("cable-draw", "travel", "35 mm", "cables",
		"2")
	ferrule, stop := made("ferrule", "form", "plain", "diameter", "7 mm"), made("ferrule-seat", "form", "plain",
		"diameter", "7.2 mm")
	screw, hole := made("ferrule", "form", "threaded", "thread", "M8x1.25"), made("ferrule-seat", "form", "threaded",
		"thread", "M8x1.25")
	push := made("pushrod", "length", "92 mm", "diameter", "6 mm", "end", "ball")
	seat := made("pushrod-seat", "length", "90-94 mm", "bore", "6.2 mm", "end", "ball")
	rod := made("link-rod", "length", "180 mm", "thread-1", "M6", "thread-2", "M6 LH")
	end := made("rod-end", "thread", "M6", "depth", "14 mm", "reach", "22 mm")
	weight := made("bar-weight", "plug", "15-17 mm")
	row := made("throat-row", "count", "4", "spacing-1", "78 mm", "spacing-2", "84 mm", "spacing-3", "78 mm")
	runCases(t, []ruleCase{
		{"grip as built", grip, bar, "", yes},
		{"grip for an inch bar", grip.with("bore", "25.4 mm"), bar, "", no},
		{"bar too thick for it", grip, bar.with("diameter", "25.4 mm"), "", no},
		{"longer than the straight", grip.with("width", "200 mm"), bar, "", no},
		{"throttle tube runs", tube, bar, "", yes},
		{"throttle tube binds", tube.with("bore", "22.2 mm"), bar, "", no},
		{"throttle tube wobbles", tube.with("bore", "24 mm"), bar, "", no},
		{"nobody said whether it turns", grip.with("turns", ""), bar, "fitting on bar", open},
		{"suits neither way", grip.with("turns", "").with("bore", "25.4 mm"), bar, "fitting on bar", no},
		{"bore not measured", grip.with("bore", ""), bar, "", open},
		{"peg and hole", grip.with("peg", "yes"), bar, "", yes},
		{"peg and no hole", grip.with("peg", "yes"), bar.with("peg-hole", "no"), "peg of the switch", mod},
		{"peg, hole not known", grip.with("peg", "yes"), bar.with("peg-hole", ""), "peg of the switch", open},
		{"peg not known", grip.with("peg", ""), bar.with("peg-hole", "no"), "peg of the switch", open},
		{"weight holds", weight, bar, "", yes},
		{"bar too narrow inside", weight, bar.with("inside", "14 mm"), "", no},
		{"bar too wide inside", weight, bar.with("inside", "18 mm"), "", no},
		{"bar not measured inside", weight, bar.with("inside", ""), "", open},
		{"cables as built", pull, draw, "", yes},
		{"does not open all the way", pull.with("travel", "33 mm"), draw, "", no},
		{"just opens", pull.with("travel", "35 mm"), draw, "", yes},
		{"draws a third more", pull.with("travel", "47 mm"), draw, "", open},
		{"draws more, and may", pull.with("travel", "47 mm"), draw.with("most", "48 mm"), "", yes},
		{"one cable on two", pull.with("cables", "1"), draw, "", no},
		{"way not measured", pull, draw.with("travel", ""), "", open},
		{"outer in its stop", ferrule, stop, "", yes},
		{"too thick for its stop", ferrule.with("diameter", "8 mm"), stop, "", no},
		{"slips through", ferrule.with("diameter", "6 mm"), stop, "", no},
		{"threaded outer", screw, hole, "", yes},
		{"finer thread", screw.with("thread", "M8x1"), hole, "", no},
		{"plain in threaded", ferrule, hole, "", no},
		{"form not known", ferrule.with("form", ""), stop, "", open},
		{"pushrod as built", push, seat, "", yes},
		{"2 mm beyond the adjuster", push.with("length", "96 mm"), seat, "", no},
		{"too short", push.with("length", "88 mm"), seat, "", no},
		{"binds", push.with("diameter", "6.2 mm"), seat, "", no},
		{"other end", push.with("end", "flat"), seat, "", no},
		{"length not measured", push.with("length", ""), seat, "", open},
		{"right-hand end", end, rod, "", yes},
		{"left-hand end", end.with("thread", "M6 LH"), rod, "", yes},
		{"end of another size", end.with("thread", "M8"), rod, "", no},
		{"left-hand end on a right-hand rod", end.with("thread", "M6 LH"), rod.with("thread-2", "M6"), "", no},
		{"thread not known", end.with("thread", ""), rod, "", open},
		{"throats as built", row, row, "", yes},
		{"1 mm apart, rubbers take it", row, row.with("spacing-2", "85 mm"), "", yes},
		{"6 mm wider in the middle", row, row.with("spacing-2", "90 mm"), "", no},
		{"three throats", row, row.with("count", "3"), "", no},
		{"one spacing not measured", row, row.with("spacing-3", ""), "", open},
		{"single carburettor", made("throat-row", "count", "1"), made("throat-row", "count", "1"), "", yes},
	})
}

// Common practice, no source: the sum is arithmetic.
func TestRoomOnTheBar(t *testing.T) {
	bar := made("bar-end", "straight", "200 mm")
	fitting := func(width string) Side { return made("bar-fitting").with("width", width) }
	for _, tt := range []struct {
		name     string
		bar      Side
		fittings []Side
		want     graph.Verdict
	}{
		{"all go on", bar, []Side{fitting("120 mm"), fitting("45 mm"), fitting("35 mm")}, yes},
		{"1 mm too much", bar, []Side{fitting("120 mm"), fitting("45 mm"), fitting("36 mm")}, no},
		{"the throttle wants its gap", bar, []Side{fitting("120 mm").with("turns", "yes"), fitting("45 mm"),
			fitting("35 mm")}, no},
		{"one not measured", bar, []Side{fitting("120 mm"), fitting("")}, open},
		{"one not measured, too much already", bar, []Side{fitting("220 mm"), fitting("")}, no},
		{"straight not measured", bar.with("straight", ""), []Side{fitting("120 mm")}, open},
		{"nothing said", bar, nil, open},
		{"within by nominal sizes only", bar.with("straight", "200 mm ±2"), []Side{fitting("200 mm")}, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgeBarRoom(BarRoomCase{Bar: tt.bar, Fittings: tt.fittings}); Worst(got) != tt.want {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
	unseen := BarRoomCase{Bar: bar, Fittings: []Side{fitting("120 mm")}, Open: []graph.PositionID{"m:controls/switch"}}
	if got := JudgeBarRoom(unseen); Worst(got) != open || !contains(got[0].Why, "what sits at controls/switch") {
		t.Errorf("beside what nobody recorded: %s", brief(got))
	}
	unseen.Fittings = []Side{fitting("220 mm")}
	if got := JudgeBarRoom(unseen); Worst(got) != no {
		t.Errorf("too much without it: %s", brief(got))
	}
	lever := func(long string) []Side { return []Side{made("clamp").with("length", long)} }
	for _, tt := range []struct {
		name  string
		lever []Side
		want  graph.Verdict
	}{
		{"a choke lever that is too much", lever("12 mm"), no},
		{"near miss: one that just has room", lever("10 mm"), yes},
		{"one nobody measured", lever(""), yes},
	} {
		in := BarRoomCase{Bar: bar, Fittings: []Side{fitting("190 mm")}, Clamps: tt.lever}
		if got := JudgeBarRoom(in); Worst(got) != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, got, tt.want)
		}
	}
}

// Source: geometry; one diameter of thread as for a bolt in steel. 180 mm of rod
// and two ends of 22 mm reach at 204 mm leave 20 mm in the ends; 12 are needed,
// 28 there are.
func TestRods(t *testing.T) {
	rod := made("link-rod", "length", "180 mm", "thread-1", "M6", "thread-2", "M6 LH")
	right := made("rod-end", "thread", "M6", "depth", "14 mm", "reach", "22 mm")
	left := right.with("thread", "M6 LH")
	for _, tt := range []struct {
		name    string
		rod     Side
		ends    [2]Side
		between string
		rule    string
		want    graph.Verdict
	}{
		{"as built", rod, [2]Side{right, left}, "204 mm", "", yes},
		{"ends the other way round", rod, [2]Side{left, right}, "204 mm", "", yes},
		{"just enough thread", rod, [2]Side{right, left}, "212 mm", "rod length", yes},
		{"1 mm further apart", rod, [2]Side{right, left}, "213 mm", "rod length", no},
		{"ends bottom", rod, [2]Side{right, left}, "195 mm", "rod length", no},
		{"two right-hand ends", rod, [2]Side{right, right}, "204 mm", "rod threads", no},
		{"rod with one hand", rod.with("thread-2", "M6"), [2]Side{right, right}, "204 mm", "rod threads", yes},
		{"distance not measured", rod, [2]Side{right, left}, "", "rod length", open},
		{"reach not measured", rod, [2]Side{right.with("reach", ""), left}, "204 mm", "rod length", open},
		{"thread not known", rod.with("thread-1", ""), [2]Side{right, left}, "204 mm", "rod threads", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := RodCase{Rod: tt.rod, Ends: tt.ends}
			if tt.between != "" {
				in.Between = []graph.Reading{{Text: tt.between}}
			}
			got := JudgeRod(in)
			verdict := Worst(got)
			if tt.rule != "" {
				verdict = the(t, got, tt.rule).Verdict
			}
			if verdict != tt.want {
				t.Errorf("%s, want %s: %s", verdict, tt.want, brief(got))
			}
		})
	}
}

// Source: levers. 180 over 45 mm is 4:1.
func TestPedalLeverage(t *testing.T) {
	pedal := made("pedal", "foot", "180 mm", "rod", "45 mm")
	for _, tt := range []struct {
		name   string
		now    Side
		safety graph.Safety
		want   graph.Verdict
	}{
		{"as built", pedal, graph.SafetyBrake, yes},
		{"4 percent", pedal.with("foot", "187 mm"), graph.SafetyBrake, yes},
		{"a third more on a brake", pedal.with("foot", "240 mm"), graph.SafetyBrake, open},
		{"a third less on a brake", pedal.with("rod", "60 mm"), graph.SafetyBrake, open},
		{"a third more on the gears", pedal.with("foot", "240 mm"), graph.SafetyNone, mod},
		{"not measured", pedal.with("rod", ""), graph.SafetyNone, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgePedal(PedalCase{Was: pedal, Now: tt.now, Safety: tt.safety}); Worst(got) != tt.want {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// Source: levers; 13 mm to the grip from a rider-training guide, read in an
// excerpt.
func TestHandLevers(t *testing.T) {
	lever := made("lever-throw", "ratio", "4.8", "rod", "face", "reach", "70 mm", "travel", "50 mm")
	for _, tt := range []struct {
		name   string
		now    Side
		safety graph.Safety
		want   graph.Verdict
	}{
		{"as built", lever, graph.SafetyBrake, yes},
		{"4 mm closer", lever.with("reach", "66 mm"), graph.SafetyBrake, yes},
		{"10 mm further", lever.with("reach", "80 mm"), graph.SafetyBrake, open},
		{"leverage a third up", lever.with("ratio", "6.4"), graph.SafetyBrake, open},
		{"pushes another way", lever.with("rod", "bushed pin"), graph.SafetyBrake, no},
		{"leverage not measured", lever.with("ratio", ""), graph.SafetyBrake, open},
		{"leverage a fifth down on a clutch", lever.with("ratio", "3.85"), graph.SafetyNone, open},
		{"just 13 mm left", lever.with("travel", "57 mm"), graph.SafetyBrake, yes},
		{"12 mm left", lever.with("travel", "58 mm"), graph.SafetyBrake, no},
		{"a third of the way", lever.with("travel", "17 mm"), graph.SafetyBrake, open},
		{"a third of the way on a clutch", lever.with("travel", "17 mm"), graph.SafetyNone, open},
		{"near miss: 2 mm less", lever.with("travel", "48 mm"), graph.SafetyBrake, yes},
		{"a shorter way by less leverage", lever.with("travel", "47 mm").with("ratio", "4.6"), graph.SafetyBrake, yes},
		{"comes to the grip", lever.with("travel", "75 mm"), graph.SafetyBrake, no},
		{"way not measured", lever.with("travel", ""), graph.SafetyBrake, open},
		{"reach not measured", lever.with("reach", ""), graph.SafetyBrake, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgeLever(LeverCase{Was: lever, Now: tt.now,
				Safety: tt.safety}); Worst(got) != tt.want || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// A lever that comes with a master cylinder of its own is held against what that asks.
// Source: levers.
func TestHandLeverWithItsMaster(t *testing.T) {
	was, now := made("lever-throw", "ratio", "4.8"), made("lever-throw", "ratio", "6.2")
	for name, tt := range map[string]struct {
		master Side
		want   graph.Verdict
	}{
		"the master that was there":   {Side{}, open},
		"one made for that lever":     {made("master-bore", "lever-ratio", "6.2"), yes},
		"near miss: 5 % off":          {made("master-bore", "lever-ratio", "5.92"), yes},
		"one made for another lever":  {made("master-bore", "lever-ratio", "5.5"), open},
		"nobody said what it asks":    {made("master-bore"), open},
		"made for the lever that was": {made("master-bore", "lever-ratio", "4.8"), open},
	} {
		got := JudgeLever(LeverCase{Was: was, Now: now, Master: tt.master, Safety: graph.SafetyBrake})
		if Worst(got) != tt.want {
			t.Errorf("%s: %s, want %s", name, brief(got), tt.want)
		}
	}
}

// Common practice, no source: the two as marked.
func TestSignals(t *testing.T) {
	hall := made("signal-out", "tells", "speed", "form", "hall", "per-turn", "4", "voltage", "12 V")
	clocks := made("signal-in", "tells", "speed", "form", "hall", "per-turn", "4", "voltage", "12 V")
	sender := made("signal-out", "tells", "temperature", "form", "resistance", "resistance", "2.5 kohm")
	gauge := made("signal-in", "tells", "temperature", "form", "resistance", "resistance", "2500 ohm")
	cable := made("signal-out", "tells", "speed", "form", "cable", "per-turn", "0.4", "end", "square 2.6 mm")
	cableClocks := made("signal-in", "tells", "speed", "form", "cable", "per-turn", "0.4", "end", "square 2.6 mm")
	runCases(t, []ruleCase{
		{"sensor as built", hall, clocks, "", yes},
		{"inductive for hall", hall.with("form", "inductive"), clocks, "", no},
		{"twice the pulses", hall.with("per-turn", "8"), clocks, "", no},
		{"one pulse in four hundred", hall.with("per-turn", "4.01"), clocks, "", yes},
		{"revs for speed", hall.with("tells", "revs"), clocks, "", no},
		{"5 V feed", hall, clocks.with("voltage", "5 V"), "", no},
		{"pulses not known", hall.with("per-turn", ""), clocks, "", open},
		{"form not known", hall.with("form", ""), clocks, "", open},
		{"clocks by the kilometre", hall, clocks.with("per-km", "2000"), "", yes},
		{"clocks by the kilometre alone", hall, clocks.with("per-km", "2000").with("per-turn", ""), "", yes},
		{"revs are not counted by the kilometre", hall.with("tells", "revs"),
			clocks.with("tells", "revs").with("per-km", "2000").with("per-turn", ""), "", open},
		{"sender as built", sender, gauge, "", yes},
		{"graded sender", sender.with("resistance", "2.7 kohm"), gauge, "", yes},
		{"other sender", sender.with("resistance", "4 kohm"), gauge, "", no},
		{"sender not measured", sender.with("resistance", ""), gauge, "", open},
		{"cable as built", cable, cableClocks, "", yes},
		{"round end for square", cable.with("end", "tongue"), cableClocks, "", no},
		{"other drive", cable.with("per-turn", "0.5"), cableClocks, "", no},
		{"cable for a sensor", cable, clocks, "", no},
	})
}

// Source: UN R39, 5.3; a 120/70-17 is 1884 mm around (testdata/published/
// tyre_od.csv), so 4 pulses a turn are 2123 a kilometre.
func TestSpeedShown(t *testing.T) {
	source := made("signal-out", "per-turn", "4")
	tyre := made("tyre", "size", "120/70-17")
	clocks := func(perKm string) Side { return made("signal-in").with("per-km", perKm) }
	front, rear := made("sprocket", "teeth", "15"), made("sprocket", "teeth", "45")
	built := SpeedCase{Source: source, Clocks: clocks("2123"), Tyre: tyre}
	for _, tt := range []struct {
		name string
		in   SpeedCase
		want graph.Verdict
	}{
		{"4 percent over", SpeedCase{Source: source, Clocks: clocks("2040"), Tyre: tyre}, yes},
		{"true by its sizes", SpeedCase{Source: source, Clocks: clocks("2123"), Tyre: tyre}, open},
		{"true by its sizes, as built", SpeedCase{Source: source, Clocks: clocks("2123"), Tyre: tyre, Was: &built}, yes},
		{"5 percent under", SpeedCase{Source: source, Clocks: clocks("2240"), Tyre: tyre}, no},
		{"5 percent under, not as built", SpeedCase{Source: source, Clocks: clocks("2240"), Tyre: tyre, Was: &built}, no},
		{"a third over", SpeedCase{Source: source, Clocks: clocks("1600"), Tyre: tyre}, no},
		{"bigger tyre shows less", SpeedCase{Source: source, Clocks: clocks("2123"), Tyre: tyre.with("size",
			"130/90-18")}, no},
		{"at the gearbox", SpeedCase{Source: source, Clocks: clocks("6120"), Tyre: tyre, Front: front, Rear: rear}, yes},
		{"at the gearbox, other sprocket", SpeedCase{Source: source, Clocks: clocks("6120"), Tyre: tyre,
			Front: front.with("teeth", "17"), Rear: rear}, no},
		{"sprocket not counted", SpeedCase{Source: source, Clocks: clocks("6120"), Tyre: tyre, Front: front.with("teeth",
			""), Rear: rear}, open},
		{"inch tyre", SpeedCase{Source: source, Clocks: clocks("2040"), Tyre: tyre.with("size", "3.00-18")}, open},
		{"clocks not known", SpeedCase{Source: source, Clocks: clocks(""), Tyre: tyre}, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgeSpeedometer(tt.in); Worst(got) != tt.want || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// What a case needs of a value of another type than a length is read in it.
func TestUnitsOfOtherTypes(t *testing.T) {
	c := &check{bench: &bench{looked: &sights{}}}
	got, ok := amount(c, made("fuse", "rating", "7500 mA"), "rating", measure.Current)
	if !ok || got.nominal != 7.5 {
		t.Errorf("7500 mA are read as %v", got)
	}
}

// The grip of the throttle goes over the tube of the twist grip. Common practice, no source.
func TestGripOnTheThrottleTube(t *testing.T) {
	bar := made("bar-end", "diameter", "22.2 mm", "straight", "190 mm")
	grip := made("bar-fitting", "bore", "26 mm", "width", "120 mm", "turns", "yes")
	grip.PartKind = "grip"
	built := Meeting{A: grip, B: bar}
	for bore, want := range map[string]graph.Verdict{"26 mm": yes, "26.1 mm": yes, "26.3 mm": open, "22.2 mm": open,
		"": open} {
		c := the(t, Judge(Meeting{A: grip.with("bore", bore), B: bar, Built: &built}), "fitting on bar")
		if c.Verdict != want {
			t.Errorf("a bore of %q: %s (%s), want %s", bore, c.Verdict, c.Why, want)
		}
	}
	if c := the(t, Judge(built), "fitting on bar"); c.Verdict != open {
		t.Errorf("nobody knows the one built in: %s (%s), want %s", c.Verdict, c.Why, open)
	}
}

// A lamp is marked with its category, its holder with the cap. Source: UN R37, from memory.
func TestLampByItsCategory(t *testing.T) {
	holder := made("lamp-holder", "cap", "P43t", "power", "60 W", "voltage", "12 V")
	lamp := made("lamp-cap", "power", "60 W", "voltage", "12 V")
	for cap, want := range map[string]graph.Verdict{"H4": yes, "P43t": yes, "P43t-38": yes, "h4": yes, "H7": no,
		"HS1": no, "": open} {
		if c := the(t, Judge(Meeting{A: lamp.with("cap", cap), B: holder}), "bulb cap"); c.Verdict != want {
			t.Errorf("%q in P43t: %s (%s), want %s", cap, c.Verdict, c.Why, want)
		}
	}
}

// A stand that would not do if its hinge went with one end of the machine stands between
// both. Geometry.
func TestStandBetweenTheAxles(t *testing.T) {
	in := StandCase{Stand: made("stand", "form", "side")}
	checks := StandBetween([]Check{{Rule: "stand", Verdict: graph.DoesNotFit, Why: "it falls"},
		{Rule: "other", Verdict: graph.Fits}}, in)
	if checks[0].Verdict != graph.Unknown || len(checks[0].Measure) != 1 || !contains(checks[0].Why, "between both") ||
		checks[1].Verdict != graph.Fits {
		t.Errorf("%+v", checks)
	}
}

// What a lever draws against the one built in: 18 mm with 17 % either way are 14.9 to 21.1 mm.
// Common practice, no source.
func TestCableDrawnAsBuilt(t *testing.T) {
	pull, draw := made("cable-pull", "travel", "18 mm", "cables", "1"), made("cable-draw", "travel", "14 mm",
		"most", "30 mm",
		"cables", "1")
	built := Meeting{A: pull, B: draw}
	for travel, want := range map[string]graph.Verdict{"18 mm": yes, "21 mm": yes, "23.5 mm": open, "15 mm": yes,
		"14.5 mm": open, "": open} {
		if got := Worst(Judge(Meeting{A: pull.with("travel", travel), B: draw, Built: &built})); got != want {
			t.Errorf("%s: %s, want %s", travel, got, want)
		}
	}
	if got := Worst(Judge(Meeting{A: pull.with("travel", "23.5 mm"), B: draw})); got != yes {
		t.Errorf("with nothing built in to compare: %s", got)
	}
}
