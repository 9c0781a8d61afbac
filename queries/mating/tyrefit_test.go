package mating

import (
	"testing"

	"matewell/graph"
)

// Sources: UN R75 for load and speed (index and symbol both); one country's
// motorcycle inspection manual, 4.1, for place and service; 10 mm of room is
// common practice, no source.
func TestTyreOnMachine(t *testing.T) {
	tyre := made("tyre", "size", "120/70 ZR 17", "load", "58", "speed", "W", "place", "front", "service", "road", "arrow",
		"one way")
	need := made("tyre-need", "load", "58", "speed", "W", "wheel", "front")
	room := made("tyre-room", "width", "140 mm", "radius", "310 mm", "chain", "70 mm")
	runCases(t, []ruleCase{
		{"as asked", tyre, need, "", yes},
		{"load index one below", tyre.with("load", "57"), need, "tyre load", no},
		{"more load, less speed", tyre.with("load", "73").with("speed", "H"), need, "tyre speed", no},
		{"more load, less speed: the load", tyre.with("load", "73").with("speed", "H"), need, "tyre load", yes},
		{"near miss: H lies below V", tyre.with("speed", "H"), need.with("speed", "V"), "tyre speed", no},
		{"H for U", tyre.with("speed", "H"), need.with("speed", "U"), "tyre speed", yes},
		{"a symbol no table has", tyre.with("speed", "Z"), need, "tyre speed", open},
		{"as the wall carries them", tyre.with("load", "").with("speed", "").with("size", "120/70ZR17 M/C (58W)"), need, "",
			yes},
		{"an old size with its symbol inside", tyre.with("speed", "").with("size", "3.25 H 18"), need.with("speed", "H"),
			"tyre speed", yes},
		{"an old size with a lower one inside", tyre.with("speed", "").with("size", "120/90 S 18"), need.with("speed", "H"),
			"tyre speed", no},
		{"near miss: ZR says no more than over 240 km/h", tyre.with("speed", "").with("size", "120/70 ZR 17"), need,
			"tyre speed", open},
		{"load missing", tyre.with("load", ""), need, "tyre load", open},
		{"speed missing", tyre.with("speed", ""), need, "tyre speed", open},
		{"need missing", tyre, need.with("load", ""), "tyre load", open},
		{"front-only on the rear", tyre, need.with("wheel", "rear"), "tyre place", no},
		{"rear on the front", tyre.with("place", "rear"), need, "tyre place", open},
		{"race tyre", tyre.with("service", "race"), need, "tyre place", no},
		{"wheel not known", tyre, need.with("wheel", ""), "tyre place", open},

		{"room all round", tyre, room, "", yes},
		{"near miss: 9.5 mm to the arm", tyre, room.with("width", "139 mm"), "tyre to arm", open},
		{"wider than the arm", tyre, room.with("width", "118 mm"), "tyre to arm", no},
		{"measured wider than its size", tyre.with("section", "128 mm"), room, "tyre to arm", open},
		{"measured nothing like its size", tyre.with("section", "80 mm"), room, "tyre to arm", open},
		{"too tall", tyre, room.with("radius", "295 mm"), "tyre to mudguard", no},
		{"close to the chain", tyre, room.with("chain", "65 mm"), "tyre to chain", open},
		{"an inch size has no height", tyre.with("size", "3.00-18"), room, "tyre to mudguard", open},
		{"letter size by the table", tyre.with("size", "MT90-16"), room.with("width", "160 mm").with("radius",
			"340 mm").with("chain", "80 mm"), "", yes},
		{"size missing", tyre.with("size", ""), room, "tyre to arm", open},
		{"room missing", tyre, room.with("width", ""), "tyre to arm", open},

		{"120/90 on a permitted rim", tyre.with("size", "120/90-18"), made("rim", "diameter", "18 in", "width", "2.15 in"),
			"", yes},
		{"near miss: beyond the list", tyre.with("size", "120/90-18"), made("rim", "diameter", "18 in", "width", "3.50 in"),
			"", open},
		{"usual, but a row from memory says no", tyre.with("size", "180/55-17"), made("rim", "diameter", "17 in", "width",
			"5.00 in"), "", open},
	})
}

// Source: one country's motorcycle inspection manual, 4.1; makers' and safety
// bodies' guides for mixes that pass it.
func TestTyrePair(t *testing.T) {
	size := map[string]string{"radial": "120/70 ZR 17", "bias-belted": "130/90 B 16", "diagonal": "100/90-18",
		"inch": "3.00-18", "": ""}
	for _, tt := range []struct {
		front, rear, mix string
		want             graph.Verdict
	}{
		{"radial", "radial", "", yes}, {"diagonal", "inch", "", yes}, {"radial", "diagonal", "", no}, {"radial",
			"bias-belted", "", no},
		{"bias-belted", "diagonal", "", no}, {"diagonal", "radial", "", open}, {"bias-belted", "radial", "", open},
		{"diagonal", "radial", "diagonal front and radial rear", mod}, {"", "radial", "", open},
	} {
		t.Run(tt.front+" and "+tt.rear+tt.mix, func(t *testing.T) {
			in := TyrePairCase{Front: made("tyre").with("size", size[tt.front]), Rear: made("tyre").with("size", size[tt.rear]),
				Need: made("tyre-need").with("mix", tt.mix)}
			if c := the(t, JudgeTyrePair(in), "tyre construction"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
	said := TyrePairCase{Front: made("tyre", "size", "3.00-18", "construction", "radial"), Rear: made("tyre", "size",
		"3.00-18")}
	if c := the(t, JudgeTyrePair(said), "tyre construction"); c.Verdict != no {
		t.Errorf("what is said counts before the size: %s (%s)", c.Verdict, c.Why)
	}
}

// Against the tyre built in, as much or more fits and less is unknown, each mark for
// itself. Load 47 is 175 kg and 42 is 150 kg, S is 180 km/h and P 150. Source: UN R75.
func TestTyreMarks(t *testing.T) {
	tyre := func(load, speed string) Side {
		dims := map[string][]graph.Reading{"size": {{Text: "2.75-18"}}}
		for dim, text := range map[string]string{"load": load, "speed": speed} {
			if text != "" {
				dims[dim] = []graph.Reading{{Text: text}}
			}
		}
		return Side{Position: "m:front-wheel/tyre", Feature: graph.Feature{Name: "size", Kind: "tyre", Dims: dims}}
	}
	tests := []struct {
		name              string
		load, speed       string
		wasLoad, wasSpeed string
		want              graph.Verdict
		checks            int
	}{
		{"the same", "42", "P", "42", "P", graph.Fits, 2},
		{"more of both", "47", "S", "42", "P", graph.Fits, 2},
		{"one less to carry", "41", "S", "42", "P", graph.Unknown, 2},
		{"slower", "47", "N", "42", "P", graph.Unknown, 2},
		{"a mark that is missing", "", "P", "42", "P", graph.Unknown, 2},
		{"nobody gave either", "", "", "", "", graph.NoVerdict, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeTyreMarks(TyreMarksCase{Tyre: tyre(tt.load, tt.speed), Was: tyre(tt.wasLoad, tt.wasSpeed)})
			if Worst(got) != tt.want || len(got) != tt.checks {
				t.Errorf("%s in %d checks, want %s in %d: %+v", Worst(got), len(got), tt.want, tt.checks, got)
			}
		})
	}
}

// A tyre that says which wheel it is made for is judged by it also where nobody
// recorded what the machine asks. Source: one country's motorcycle inspection manual.
func TestTyreMarksPlace(t *testing.T) {
	was := made("tyre", "size", "120/70 ZR 17", "load", "58", "speed", "W")
	tests := []struct {
		name  string
		tyre  Side
		wheel string
		want  graph.Verdict
	}{
		{"for the front, on it", was.with("place", "front").with("service", "road"), "front", yes},
		{"near miss: for either", was.with("place", "either"), "front", yes},
		{"for the rear, on the front", was.with("place", "rear"), "front", open},
		{"for the front, on the rear", was.with("place", "front"), "rear", no},
		{"for races", was.with("place", "front").with("service", "race"), "front", no},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeTyreMarks(TyreMarksCase{Tyre: tt.tyre, Was: was, Wheel: tt.wheel})
			if v := the(t, got, "tyre place").Verdict; v != tt.want {
				t.Errorf("%s, want %s: %+v", v, tt.want, got)
			}
		})
	}
}
