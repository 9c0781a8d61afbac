package mating

import (
	"testing"

	"matewell/graph"
)

// The play of a pin in its hole: pinPlay, common practice, no source; a bolt's plain shank
// is as thick as its thread (ISO 4014).
func TestBoltFills(t *testing.T) {
	part := func(s Side, at, number string) Side {
		s.Position, s.Part = graph.PositionID(at), graph.PartID(number)
		return s
	}
	bolt := part(made("male-thread", "thread", "M6x1", "shank", "6 mm"), "brake/pivot", "B-1")
	lever := part(made("eye", "bore", "6.05 mm", "width", "12 mm"), "brake/lever", "L-1")
	master := part(made("clevis", "gap", "12.1 mm", "bolt", "6 mm"), "brake/master", "M-1")
	lever8 := part(lever.with("bore", "8.05 mm"), "brake/lever", "L-8")
	master8 := part(master.with("bolt", "8 mm"), "brake/master", "M-8")
	bolt8 := part(bolt.with("thread", "M8x1.25").with("shank", "8 mm"), "brake/pivot", "B-8")
	built := Meeting{A: lever, B: master, Bolts: []Side{bolt}}
	for _, tt := range []struct {
		name string
		in   Meeting
		want graph.Verdict // none where there is no check
	}{
		{"as built", built, graph.NoVerdict},
		{"the same lever under another number", Meeting{A: part(lever, "brake/lever", "L-2"), B: master,
			Bolts: []Side{bolt}}, yes},
		{"eye and fork for 8 mm, the old bolt: bushes", Meeting{A: lever8, B: master8, Bolts: []Side{bolt}}, mod},
		{"of a brake, where nothing is bushed", Meeting{A: lever8, B: master8, Bolts: []Side{bolt},
			Uncut: []graph.PositionID{"brake/lever", "brake/master"}}, no},
		{"lever, master and bolt for 8 mm", Meeting{A: lever8, B: master8, Bolts: []Side{bolt8}}, yes},
		{"a bolt for 8 mm in the old lever", Meeting{A: lever, B: master, Bolts: []Side{bolt8}}, no},
		{"near miss: 6.1 mm holes", Meeting{A: part(lever.with("bore", "6.1 mm"), "brake/lever", "L-3"),
			B: part(master.with("bolt", "6.1 mm"), "brake/master", "M-3"), Bolts: []Side{bolt}}, yes},
		{"the thread of the bolt is missing", Meeting{A: lever8, B: master8, Bolts: []Side{bolt.with("thread", "")}}, open},
		{"judged by a joint of its own", Meeting{A: lever8, B: master8, Bolts: []Side{bolt}, BoltsJudged: true},
			graph.NoVerdict},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.in.Built = &built
			got := graph.NoVerdict
			for _, c := range Judge(tt.in) {
				if c.Rule == "bolt through" {
					got = c.Verdict
				}
			}
			if got != tt.want {
				t.Errorf("%s, want %s", got, tt.want)
			}
		})
	}
}

// Geometry; that a bolt may stand 3 mm further out is common practice, no source.
func TestBoltReach(t *testing.T) {
	part := func(s Side, at, number string) Side {
		s.Position, s.Part = graph.PositionID(at), graph.PartID(number)
		return s
	}
	bolt := part(made("male-thread", "thread", "M12x1.25", "length", "75 mm", "grip", "57 mm"), "rear/bolt", "B-1")
	eye := part(made("eye", "bore", "12.1 mm", "width", "39.6 mm"), "rear/rod", "R-1")
	fork := part(made("clevis", "gap", "40 mm", "bolt", "12 mm"), "rear/arm", "S-1")
	washer := part(made("washer", "thickness", "2 mm"), "rear/washer", "W-1")
	other := func(s Side, dim, text string) Side {
		s = s.with(dim, text)
		s.Part += "x"
		return s
	}
	built := Meeting{A: eye, B: fork, Bolts: []Side{bolt}}
	long := other(bolt, "length", "88 mm").with("grip", "70 mm")
	wide, packed := other(fork, "gap", "53 mm"), other(eye, "width", "53 mm")
	tests := []struct {
		name string
		in   Meeting
		want graph.Verdict // none where there is no check
		says string
	}{
		{"as built", Meeting{A: eye, B: fork, Bolts: []Side{bolt}}, graph.NoVerdict, ""},
		{"the same under another number", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "length", "75 mm")}}, yes, ""},
		{"a fork 13 mm wider, packed, the same bolt", Meeting{A: packed, B: wide, Bolts: []Side{bolt}}, mod,
			"13 mm less far"},
		{"a fork 13 mm wider, packed, a longer bolt", Meeting{A: packed, B: wide, Bolts: []Side{long}}, yes, ""},
		{"the longer bolt in the fork as built", Meeting{A: eye, B: fork, Bolts: []Side{long}}, open, "13 mm further out"},
		{"near miss: 1 mm wider", Meeting{A: eye, B: other(fork, "gap", "41 mm"), Bolts: []Side{bolt}}, yes,
			""},
		{"near miss: 3 mm longer", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "length", "78 mm")}}, yes, "3 mm"},
		{"far longer", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "length", "200 mm")}}, open, "125 mm further out"},
		{"threaded where it was plain", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "grip", "20 mm")}}, open,
			"begins 37 mm sooner"},
		{"plain where it was threaded", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "grip", "70 mm")}}, open,
			"run out of thread"},
		{"one washer more", Meeting{A: eye, B: fork, Bolts: []Side{bolt}, Washers: []Side{washer}}, mod, "2 mm less far"},
		{"a washer nobody measured", Meeting{A: eye, B: fork, Bolts: []Side{bolt},
			Washers: []Side{washer.with("thickness", "")}}, open, "thickness"},
		{"length missing", Meeting{A: eye, B: fork, Bolts: []Side{other(bolt, "length", "")}}, open, "length"},
		{"gap missing", Meeting{A: eye, B: other(fork, "gap", ""), Bolts: []Side{bolt}}, open, "gap"},
		{"its thread is judged by a joint of its own", Meeting{A: packed, B: wide, Bolts: []Side{bolt}, BoltsJudged: true},
			graph.NoVerdict, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.in.Built = &built
			var got Check
			for _, c := range Judge(tt.in) {
				if c.Rule == "bolt reach" {
					got = c
				}
			}
			if got.Verdict != tt.want || !contains(got.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", got.Verdict, got.Why, tt.want, tt.says)
			}
		})
	}
}
