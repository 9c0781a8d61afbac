package mating

import (
	"testing"

	"matewell/graph"
)

// What is marked on each; that three wires are three phases is from trade pages.
func TestSupply(t *testing.T) {
	fuse, holder := made("fuse", "rating", "10 A", "form", "blade"), made("fuse-holder", "rating", "10 A", "form",
		"blade")
	stator := made("stator", "phases", "3", "voltage", "12 V", "power", "300 W")
	rectifier := made("rectifier", "phases", "3", "power", "300 W")
	feeds := made("field-control", "voltage", "12 V", "ceiling", "14.4 V", "switches", "earth")
	regulator := made("regulator", "phases", "3", "voltage", "12 V", "ceiling", "14.5 V", "power", "350 W")
	battery := made("battery", "voltage", "12 V", "length", "150 mm", "width", "87 mm", "height", "105 mm", "plus",
		"left", "ceiling", "14.2-14.8 V")
	box := made("battery-box", "length", "152 mm", "width", "90 mm", "height", "110 mm", "plus", "left")
	coil := made("ignition-coil", "voltage", "12 V", "primary", "3 ohm", "leads", "1")
	points := made("ignition-output", "voltage", "12 V", "primary", "2.5-4.5 ohm", "leads", "1")
	runCases(t, []ruleCase{
		{"fuse of its place", fuse, holder, "", yes},
		{"a stronger fuse", fuse.with("rating", "15 A"), holder, "", no},
		{"a weaker fuse", fuse.with("rating", "5 A"), holder, "", no},
		{"glass in a blade holder", fuse.with("form", "glass"), holder, "", no},
		{"rating not marked", fuse.with("rating", ""), holder, "", open},
		{"stator as built", stator, regulator, "", yes},
		{"magnets on a regulator for magnets", stator.with("field", "magnets"), regulator.with("field", "magnets"), "", yes},
		{"a winding on a regulator for magnets", stator.with("field", "winding"), regulator.with("field", "magnets"), "", no},
		{"near miss: nobody said what makes the field", stator, regulator.with("field", "winding"), "", open},
		{"a rectifier apart", stator, rectifier, "", yes},
		{"for one phase", stator, rectifier.with("phases", "1"), "", no},
		{"near miss: a weaker one", stator, rectifier.with("power", "290 W"), "", no},
		{"phases of the rectifier not known", stator, rectifier.with("phases", ""), "", open},
		{"a winding that is fed", stator.with("field", "winding"), feeds, "", yes},
		{"magnets that nothing feeds", stator.with("field", "magnets"), feeds, "", no},
		{"field not known", stator, feeds, "", open},
		{"fed to what the battery allows", feeds, battery, "", yes},
		{"fed too high", feeds.with("ceiling", "15 V"), battery, "", no},
		{"one phase on three", stator.with("phases", "1"), regulator, "", no},
		{"6 V on 12", stator.with("voltage", "6 V"), regulator, "", no},
		{"stronger than the regulator", stator.with("power", "400 W"), regulator, "", no},
		{"power known of one", stator, regulator.with("power", ""), "", open},
		{"power known of neither", stator.with("power", ""), regulator.with("power", ""), "", yes},
		{"phases not known", stator.with("phases", ""), regulator, "", open},
		{"charges as the battery allows", regulator, battery, "", yes},
		{"charges too high", regulator.with("ceiling", "15 V"), battery, "", no},
		{"never full", regulator.with("ceiling", "13.8 V"), battery, "", no},
		{"just at its limit", regulator.with("ceiling", "14.8 V"), battery, "", yes},
		{"charging voltage not measured", regulator.with("ceiling", ""), battery, "", open},
		{"6 V battery", regulator, battery.with("voltage", "6 V"), "", no},
		{"battery in its box", battery, box, "", yes},
		{"too long", battery.with("length", "160 mm"), box, "", no},
		{"too high under its strap", battery.with("height", "120 mm"), box, "", no},
		{"much smaller, packed", battery.with("length", "113 mm"), box, "", mod},
		{"poles the other way", battery.with("plus", "right"), box, "", no},
		{"height not measured", battery.with("height", ""), box, "", open},
		{"coil as built", coil, points, "", yes},
		{"primary too low", coil.with("primary", "1.5 ohm"), points, "", no},
		{"primary too high", coil.with("primary", "6 ohm"), points, "", no},
		{"just allowed", coil.with("primary", "2.5 ohm"), points, "", yes},
		{"6 V coil", coil.with("voltage", "6 V"), points, "", no},
		{"double-ended coil", coil.with("leads", "2"), points, "", no},
		{"primary not measured", coil.with("primary", ""), points, "", open},
	})
}

// Sources: ASTM B258 for sections; two published tables of ratings that differ
// (testdata/published/wire_rating.csv): 0.82 mm2 carries 7 A in a loom, 16 A
// alone in free air.
func TestWiresBehindAFuse(t *testing.T) {
	wire := func(size string) Side { return made("wire").with("size", size) }
	lamp := made("consumer", "power", "55 W", "voltage", "12 V")
	for _, tt := range []struct {
		name  string
		fuse  string
		wires []Side
		loads []Side
		rule  string
		want  graph.Verdict
	}{
		{"guards its wire", "7.5 A", []Side{wire("1 mm2")}, []Side{lamp}, "", yes},
		{"the thinnest wire decides", "15 A", []Side{wire("3 mm2"), wire("0.5 mm2")}, []Side{lamp}, "wire", no},
		{"between two tables", "10 A", []Side{wire("18 AWG")}, []Side{lamp}, "wire", open},
		{"above both tables", "20 A", []Side{wire("18 AWG")}, []Side{lamp}, "wire", no},
		{"the maker's rating decides", "10 A", []Side{wire("18 AWG").with("rating", "12 A")}, []Side{lamp}, "wire", yes},
		{"and decides against it", "15 A", []Side{wire("18 AWG").with("rating", "12 A")}, []Side{lamp}, "wire", no},
		{"size not readable", "10 A", []Side{wire("thin")}, []Side{lamp}, "wire", open},
		{"size not known", "10 A", []Side{wire("")}, []Side{lamp}, "wire", open},
		{"wires not said", "10 A", nil, []Side{lamp}, "wire", open},
		{"fuse not known", "", []Side{wire("1 mm2")}, []Side{lamp}, "", open},
		{"4.6 A through 7.5", "7.5 A", []Side{wire("1 mm2")}, []Side{lamp}, "load", yes},
		{"9.2 A through 7.5", "7.5 A", []Side{wire("1 mm2")}, []Side{lamp, lamp}, "load", no},
		{"4.6 A through 4.5 and a bit", "4.8 A", []Side{wire("1 mm2")}, []Side{lamp}, "load", open},
		{"a lamp not marked", "7.5 A", []Side{wire("1 mm2")}, []Side{lamp.with("power", "")}, "load", open},
		{"a lamp not marked, too much already", "4 A", []Side{wire("1 mm2")}, []Side{lamp, lamp.with("power", "")},
			"load", no},
		{"loads not said", "7.5 A", []Side{wire("1 mm2")}, nil, "load", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeWire(WireCase{Fuse: made("fuse").with("rating", tt.fuse), Wires: tt.wires, Loads: tt.loads})
			verdict := Worst(got)
			if tt.rule != "" {
				verdict = the(t, got, tt.rule).Verdict
			}
			if verdict != tt.want {
				t.Errorf("%s, want %s: %s", verdict, tt.want, brief(got))
			}
			for _, c := range got {
				if c.Verdict == open && len(c.Measure) == 0 {
					t.Errorf("unknown without a measurement: %s", c.Why)
				}
			}
		})
	}
}

// What is marked on each.
func TestOneVoltage(t *testing.T) {
	battery := made("battery", "voltage", "6 V")
	lamp, coil := made("lamp-cap", "voltage", "6 V"), made("ignition-coil", "voltage", "6 V")
	for _, tt := range []struct {
		name    string
		battery Side
		members []Side
		want    graph.Verdict
	}{
		{"all 6 V", battery, []Side{lamp, coil}, yes},
		{"a 12 V coil among them", battery, []Side{lamp, coil.with("voltage", "12 V")}, no},
		{"a 12 V battery", battery.with("voltage", "12 V"), []Side{lamp, coil}, no},
		{"a lamp not marked", battery, []Side{lamp.with("voltage", ""), coil}, open},
		{"a lamp not marked, a coil wrong", battery, []Side{lamp.with("voltage", ""), coil.with("voltage", "12 V")}, no},
		{"battery not known", battery.with("voltage", ""), []Side{lamp}, open},
		{"nothing said", battery, nil, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgeVoltage(VoltageCase{Battery: tt.battery, Members: tt.members}); Worst(got) != tt.want {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// No published figure: the machine's own book, else as built.
func TestClearOfTheExhaust(t *testing.T) {
	text := func(s string) []graph.Reading {
		if s == "" {
			return nil
		}
		return []graph.Reading{{Text: s}}
	}
	for _, tt := range []struct {
		name, gap, built, least string
		want                    graph.Verdict
	}{
		{"as built", "30 mm", "30 mm", "", yes},
		{"within the reading", "28 mm", "30 mm", "", yes},
		{"closer than as built", "20 mm", "30 mm", "", open},
		{"as the book wants", "25 mm", "", "20 mm", yes},
		{"closer than the book wants", "19 mm", "", "20 mm", no},
		{"the book goes before as built", "22 mm", "40 mm", "20 mm", yes},
		{"wide, and nothing says what is enough", "80 mm", "", "", open},
		{"touches", "0 mm", "30 mm", "", no},
		{"not measured", "", "30 mm", "20 mm", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeHeat(HeatCase{Line: made("hose"), Hot: made("points"), Clearance: text(tt.gap),
				Built: text(tt.built), Least: text(tt.least)})
			if Worst(got) != tt.want || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// Inspection manuals, as a list; local rules decide.
func TestFitForTheRoad(t *testing.T) {
	all := func(change ...RoadDuty) RoadCase {
		var in RoadCase
		for _, name := range graph.RoadDuties() {
			in.Duties = append(in.Duties, RoadDuty{Name: name, State: RoadWorks})
		}
		for _, c := range change {
			for i := range in.Duties {
				if in.Duties[i].Name == c.Name {
					in.Duties[i] = c
				}
			}
		}
		return in
	}
	missing := all()
	missing.Duties = missing.Duties[:len(missing.Duties)-1] // indicators
	old := missing
	old.Not = []string{"indicators"}
	for _, tt := range []struct {
		name string
		in   RoadCase
		want graph.Verdict
		says string
	}{
		{"all works", all(), yes, "local rules decide"},
		{"no horn", all(RoadDuty{Name: "horn", State: RoadAbsent}), no, "no horn"},
		{"lamp out", all(RoadDuty{Name: "tail lamp", State: RoadDead, Why: "bulb blown"}), no, "bulb blown"},
		{"beam to the wrong side", all(RoadDuty{Name: "beam side", State: RoadDead, Why: "kicks up to the right"}), no,
			"kicks up"},
		{"horn not known", all(RoadDuty{Name: "horn"}), open, "horn not known"},
		{"a duty nobody mentioned", missing, open, "indicators not known"},
		{"built without indicators", old, yes, ""},
		{"nothing known", RoadCase{}, open, "dipped beam"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeRoad(tt.in), "fit for the road")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) || c.Verdict == open && len(c.Measure) == 0 {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}
