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
		{"a bleed screw as built", bleed("12 mm"), yes, "as the one built in"},
		{"one that may not reach its seat", bleed("8 mm"), open, "may not reach the seat"},
		{"a longer one", bleed("16 mm"), open, "longer"},
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
