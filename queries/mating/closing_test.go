package mating

import (
	"testing"

	"matewell/graph"
)

// What closes a hole is judged by how far it goes in, not by 1 d of thread, and no
// bolt is ordered in its place. Common practice, no source.
func TestClosing(t *testing.T) {
	of := func(kind graph.KindID, thread, length string) Side {
		s := made("male-thread", "thread", thread, "length", length)
		s.PartKind = kind
		return s
	}
	hole := func(thread, depth, bottom string) Side {
		return made("female-thread", "thread", thread, "depth", depth, "hole", bottom, "material", "aluminium", "grip",
			"0 mm",
			"duty", "cap")
	}
	head := hole("M10x1", "19 mm", "through")
	nipple := hole("M8x1.25", "22 mm", "blind")
	sump := hole("M12x1.5", "14 mm", "through")
	stem := made("female-thread", "thread", "M22x1.5", "depth", "18 mm", "hole", "blind", "material", "aluminium", "grip",
		"5 mm", "duty", "ring")
	built := func(m Meeting, was Side) Meeting {
		m.Built = &Meeting{A: was, B: m.B}
		return m
	}
	plug := func(length string) Meeting {
		return built(Meeting{A: of("spark-plug", "M10x1", length), B: head}, of("spark-plug", "M10x1", "19 mm"))
	}
	bleed := func(length string) Meeting {
		return built(Meeting{A: of("bleed-screw", "M8x1.25", length), B: nipple}, of("bleed-screw", "M8x1.25", "12 mm"))
	}
	drain := func(length string) Meeting {
		return built(Meeting{A: of("drain-plug", "M12x1.5", length), B: sump}, of("drain-plug", "M12x1.5", "12 mm"))
	}
	bolt := func(depth string) Meeting {
		return Meeting{A: of("bolt", "M22x1.5", "25 mm"), B: stem.with("depth", depth)}
	}
	shallow := func(m Meeting, depth string) Meeting {
		m.B = m.B.with("depth", depth)
		return m
	}
	inHead := func(depth string) Meeting {
		m := plug("19 mm")
		m.B = head.with("depth", depth)
		return m
	}
	perch := func(depth string) Side {
		return hole("M10x1.25", depth, "blind").with("duty", "")
	}
	for _, test := range []struct {
		name string
		m    Meeting
		want graph.Verdict
		says string
	}{
		{"the reach of the one built in", plug("19 mm"), yes, "as the one built in"},
		{"near miss: half a millimetre", plug("19.5 mm"), yes, "as the one built in"},
		{"a plug that reaches too far", plug("26.5 mm"), no, "7.5 mm further in"},
		{"a plug that reaches too little", plug("12.7 mm"), no, "6.3 mm less far in"},
		{"a plug nobody measured", plug(""), open, "length"},
		{"a plug that fills its head, nobody knows the old one", Meeting{A: of("spark-plug", "M10x1", "19 mm"), B: head}, yes,
			"fills"},
		{"one that stands out of it", Meeting{A: of("spark-plug", "M10x1", "26.5 mm"), B: head}, no, "stands 7.5 mm out"},
		{"one that leaves thread bare", Meeting{A: of("spark-plug", "M10x1", "12.7 mm"), B: head}, no, "bare"},
		{"in a head tapped deeper than it reaches", inHead("25.3 mm"), open, "6.3 mm of the thread of the head lie bare"},
		{"near miss: in a head half a millimetre deeper", inHead("19.5 mm"), yes, "as the one built in"},
		{"a mirror's stem in a perch", Meeting{A: of("mirror", "M10x1.25", "15 mm"), B: perch("15 mm")}, yes, "mirror"},
		{"near miss: one in 12 mm of thread", Meeting{A: of("mirror", "M10x1.25", "25 mm"), B: perch("12 mm")}, yes, "12 mm"},
		{"one that finds 6 mm of thread", Meeting{A: of("mirror", "M10x1.25", "15 mm"), B: perch("6 mm")}, no,
			"too short by 4 mm"},
		{"one whose perch nobody measured", Meeting{A: of("mirror", "M10x1.25", "15 mm"), B: perch("")}, open, "depth"},
		{"a bleed screw as built", bleed("12 mm"), yes, "as the one built in"},
		{"one that may not reach its seat", bleed("8 mm"), open, "may not reach the seat"},
		{"a longer one", bleed("16 mm"), open, "longer"},
		{"in a hole with a third of the thread", shallow(bleed("12 mm"), "4 mm"), open, "4 mm of its thread are engaged"},
		{"near miss: in a shallower one that it does not fill", shallow(bleed("12 mm"), "12 mm"), yes, "as the one built in"},
		{"a bleed screw, nobody knows the old one", Meeting{A: of("bleed-screw", "M8x1.25", "12 mm"), B: nipple}, open,
			"nobody can tell"},
		{"a drain plug as built, less than 2 d long", drain("12 mm"), yes, "as the one built in"},
		{"a shorter one", drain("8 mm"), open, "4 mm shorter"},
		{"a longer one", drain("30 mm"), open, "meet inside"},
		{"a drain plug that meets a bottom", Meeting{A: of("drain-plug", "M12x1.5", "16 mm"),
			B: sump.with("hole", "blind")}, no, "too long by 2 mm"},
		{"one of five turns, nobody knows the old one", Meeting{A: of("drain-plug", "M12x1.5", "12 mm"), B: sump}, yes,
			"8 turns"},
		{"one of three turns", Meeting{A: of("drain-plug", "M12x1.5", "5 mm"), B: sump}, open, "3.3 turns"},
		{"a stem bolt in a blind stem", bolt("20 mm"), yes, "all 20 mm"},
		{"near miss: half a millimetre too shallow", bolt("19.5 mm"), no, "too long by 0.5 mm"},
		{"a stem bolt that bottoms before it clamps", bolt("12 mm"), no, "meets the bottom"},
		{"a stem nobody measured", bolt(""), open, "depth"},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := the(t, Judge(test.m), "thread engagement")
			if c.Verdict != test.want || !contains(c.Why, test.says) {
				t.Errorf("%s: %s, want %s saying %q", c.Verdict, c.Why, test.want, test.says)
			}
			if len(c.Orders) > 0 {
				t.Errorf("ordered %+v: nothing made to length takes its place", c.Orders)
			}
		})
	}
}

// A washer under a plug takes as much of its thread as it is thick; what is clamped was
// measured with the one built in. Geometry.
func TestWasherUnderAPlug(t *testing.T) {
	plug := made("male-thread", "thread", "M14x1.5", "length", "14 mm")
	plug.PartKind = "drain-plug"
	sump := made("female-thread", "thread", "M14x1.5", "depth", "15 mm", "hole", "through", "material", "aluminium",
		"grip", "1.5 mm", "duty", "cap")
	washer := func(part graph.PartID, thick string) []Side {
		s := made("washer").with("thickness", thick)
		s.Part = part
		return []Side{s}
	}
	tests := []struct {
		name    string
		is, was []Side
		want    graph.Verdict
		says    string
	}{
		{"as thick under another number", washer("new", "1.5 mm"), washer("old", "1.5 mm"), yes, "12.5 mm"},
		{"near: 0.3 mm thicker", washer("new", "1.8 mm"), washer("old", "1.5 mm"), yes, ""},
		{"near miss: 1 mm thicker", washer("new", "2.5 mm"), washer("old", "1.5 mm"), open, "1 mm shorter"},
		{"5 mm thick", washer("new", "5 mm"), washer("old", "1.5 mm"), open, "3.5 mm shorter"},
		{"so thick that it does not hold", washer("new", "13 mm"), washer("old", "1.5 mm"), no, "a full turn"},
		{"nobody measured the new one", washer("new", ""), washer("old", "1.5 mm"), open, "thickness"},
		{"the very one built in, not measured", washer("old", ""), washer("old", ""), yes, "12.5 mm"},
		{"nobody measured the old one", washer("new", "5 mm"), washer("old", ""), open, "shorter"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := Meeting{A: plug, B: sump, Sealing: tt.is, Built: &Meeting{A: plug, B: sump, Sealing: tt.was}}
			if c := the(t, Judge(m), "thread engagement"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// A bolt in aluminium needs 1 d of thread and more, whatever lies under its head.
// Source: handbooks of machine elements, from memory.
func TestThickWasherUnderABolt(t *testing.T) {
	bolt := made("male-thread", "thread", "M8x1.25", "length", "30 mm", "class", "8.8")
	hole := made("female-thread", "thread", "M8x1.25", "depth", "30 mm", "hole", "through", "material", "aluminium",
		"grip", "10 mm")
	for thick, want := range map[string]graph.Verdict{"1.5 mm": yes, "3 mm": yes, "5.8 mm": open, "14 mm": no} {
		is, was := made("washer", "thickness", thick), made("washer", "thickness", "1.5 mm")
		is.Part, was.Part = "new", "old"
		m := Meeting{A: bolt, B: hole, Sealing: []Side{is}, Built: &Meeting{A: bolt, B: hole, Sealing: []Side{was}}}
		if c := the(t, Judge(m), "thread engagement"); c.Verdict != want {
			t.Errorf("%s: %s (%s), want %s", thick, c.Verdict, c.Why, want)
		}
	}
}
