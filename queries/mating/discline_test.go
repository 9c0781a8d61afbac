package mating

import (
	"strings"
	"testing"

	"matewell/graph"
)

// The sum is geometry: 20 mm spacer, disc face 5 mm outside the hub's end, disc
// 12 mm out of its face: the disc runs 3 mm from the leg's face. Source for
// 0.5 mm: common practice, no source.
func TestDiscLine(t *testing.T) {
	line := func(width, inset, offset, wanted string) DiscLineCase {
		return DiscLineCase{Member: 2, Left: true, Mount: made("bolt-pattern", "count", "5", "spacing",
			"78 mm").with("inset", inset),
			Disc: made("disc-rim").with("offset", offset), Lug: made("caliper-mount").with("slot-line", wanted),
			Stack: StackCase{Within: made("gap", "width", "150 mm"), Centre: 2, Row: []Member{
				{made("row-width").with("width", width), true}, {made("row-width", "width", "110 mm", "offset", "0 mm"), false},
				{made("row-width", "width", "20 mm"), true}}}}
	}
	wide := line("20 mm", "-5 mm", "12 mm", "3 mm")
	wide.Stack.Row[1].Side = made("row-width", "width", "152 mm", "offset", "0 mm")
	tests := []struct {
		name string
		in   DiscLineCase
		want graph.Verdict
		says string
	}{
		{"in the middle", line("20 mm", "-5 mm", "12 mm", "3 mm"), yes, "in the middle"},
		{"0.5 mm beside", line("20 mm", "-5 mm", "12 mm", "3.5 mm"), yes, "0.5 mm from the middle"},
		{"near miss: 0.6 mm beside", line("20 mm", "-5 mm", "12 mm", "3.6 mm"), no, "0.6 mm further from the wheel"},
		{"disc too near the wheel", line("20 mm", "-5 mm", "9 mm", "3 mm"), mod, "3 mm nearer to the wheel"},
		{"disc too far out", line("20 mm", "-7 mm", "12 mm", "3 mm"), no, "nothing is machined off the hub's"},
		{"a spacer 2 mm short is made first", line("18 mm", "-5 mm", "12 mm", "3 mm"), yes, "in the middle"},
		{"astride by tolerance", line("20 mm", "-5 mm", "12 mm ±0.6", "3.1 mm"), open, "worst case 0.7 mm"},
		{"inset missing", line("20 mm", "", "12 mm", "3 mm"), open, "inset"},
		{"offset missing", line("20 mm", "-5 mm", "", "3 mm"), open, "offset"},
		{"line missing", line("20 mm", "-5 mm", "12 mm", ""), open, "slot-line"},
		{"row too wide for any spacer", wide, open, "settle that first"},
		{"spacer missing", line("", "-5 mm", "12 mm", "3 mm"), open, "width"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeDiscLine(tt.in), "disc line")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
	ring := the(t, JudgeDiscLine(line("20 mm", "-5 mm", "9 mm", "3 mm")), "disc line")
	if len(ring.Orders) != 1 || ring.Orders[0].Spec[0].Value != "3 mm" {
		t.Errorf("orders %+v, want a ring of 3 mm", ring.Orders)
	}
	// A ring with threads of its own would take the bolts, and clamp no disc.
	for words, mount := range map[string]Side{
		"5 holes on a 78 mm circle, 8.4 mm clear for M8x1.25, not tapped": made("bolt-pattern", "count", "5",
			"spacing", "78 mm", "thread", "M8x1.25", "inset", "-5 mm"),
		"5 holes on a 78 mm circle, 8.5 mm clear": made("bolt-pattern", "count", "5", "spacing", "78 mm", "hole", "8.5 mm",
			"inset", "-5 mm"),
	} {
		in := line("20 mm", "-5 mm", "9 mm", "3 mm")
		in.Mount = mount
		if c := the(t, JudgeDiscLine(in), "disc line"); len(c.Orders) != 1 || c.Orders[0].Spec[1].Value != words {
			t.Errorf("orders %+v, want a ring to suit %q", c.Orders, words)
		}
	}
	// A carrier that stands in the row beside the hub: nothing between them.
	rear := line("20 mm", "5 mm", "2 mm", "3 mm")
	rear.Stack.Row = append(rear.Stack.Row[:2:2], Member{made("row-width", "width", "14 mm"), false},
		Member{made("row-width", "width", "6 mm"), true})
	rear.Left, rear.Holder = false, 3
	if c := the(t, JudgeDiscLine(rear), "disc line"); c.Verdict != yes {
		t.Errorf("beside a carrier in the row: %s (%s), want %s", c.Verdict, c.Why, yes)
	}
}

// A caliper that slides on its pins follows its disc as far as it slides; an opposed one does
// not. Common practice, no source.
func TestDiscInASlidingCaliper(t *testing.T) {
	for _, tt := range []struct {
		name, layout, slide, wanted string
		want                        graph.Verdict
	}{
		{"slides far enough", "sliding", "3 mm", "4 mm", yes},
		{"near miss: not quite", "sliding", "0.9 mm", "4 mm", no},
		{"the other way", "sliding", "1 mm", "2 mm", yes},
		{"nobody knows how far", "sliding", "", "4 mm", open},
		{"nobody knows, and further than any need slide", "sliding", "", "4.6 mm", no},
		{"opposed pistons stand still", "opposed", "", "4 mm", no},
		{"nobody said which", "", "", "4 mm", no},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := DiscLineCase{Member: 2, Left: true, Mount: made("bolt-pattern", "count", "5", "spacing", "78 mm", "inset",
				"-5 mm"), Disc: made("disc-rim", "offset", "12 mm"), Lug: made("caliper-mount", "slot-line", tt.wanted),
				Pistons: made("pistons").with("layout", tt.layout).with("slide", tt.slide),
				Stack: StackCase{Within: made("gap", "width", "150 mm"), Centre: 2, Row: []Member{
					{made("row-width", "width", "20 mm"), true}, {made("row-width", "width", "110 mm", "offset", "0 mm"), false},
					{made("row-width", "width", "20 mm"), true}}}}
			c := the(t, JudgeDiscLine(in), "disc line")
			if c.Verdict != tt.want || c.Verdict < no && len(c.Orders) > 0 {
				t.Errorf("%s (%s), orders %v; want %s", c.Verdict, c.Why, c.Orders, tt.want)
			}
		})
	}
}

// What counts is the slot against the disc: both 2 mm further out are in line. The
// leg's own caliper stands at its slot-line; another one stands aside by the
// difference of the offsets. Geometry; half a millimetre is common practice, no
// source.
func TestDiscLineWithAnotherCaliper(t *testing.T) {
	lug := made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M8x1.25", "disc", "296 mm", "offset",
		"20 mm", "slot-line", "3 mm")
	caliper := made("caliper-mount", "style", "axial", "spacing", "84 mm", "hole", "8.5 mm", "disc", "296 mm", "offset",
		"20 mm")
	line := func(offset string, lug, caliper Side) DiscLineCase {
		return DiscLineCase{Member: 2, Left: true, Mount: made("bolt-pattern", "count", "5", "spacing", "78 mm", "inset",
			"-5 mm"),
			Disc: made("disc-rim").with("offset", offset), Lug: lug, Caliper: caliper,
			Stack: StackCase{Within: made("gap", "width", "150 mm"), Centre: 2, Row: []Member{
				{made("row-width", "width", "20 mm"), true}, {made("row-width", "width", "110 mm", "offset", "0 mm"), false},
				{made("row-width", "width", "20 mm"), true}}}}
	}
	out := caliper.with("offset", "22 mm")
	own := line("14 mm", lug.with("offset", ""), caliper.with("offset", ""))
	own.Own = true
	tests := []struct {
		name  string
		in    DiscLineCase
		want  graph.Verdict
		says  string
		order string // of the first order; empty for none
	}{
		{"as built", line("12 mm", lug, caliper), yes, "in the middle", ""},
		{"both 2 mm further out", line("14 mm", lug, out), yes, "in the middle", ""},
		{"both 2 mm further in", line("10 mm", lug, caliper.with("offset", "18 mm")), yes, "in the middle", ""},
		{"near: 0.5 mm left over", line("13.5 mm", lug, out), yes, "0.5 mm from the middle", ""},
		{"near miss: 0.6 mm left over", line("13.4 mm", lug, out), mod, "0.6 mm nearer to the wheel", "disc ring 0.6 mm " +
			"thick"},
		{"each to its own side", line("14 mm", lug, caliper.with("offset", "18 mm")), mod, "4 mm further from the wheel",
			"2 caliper spacers 4 mm thick"},
		{"the caliper alone", line("12 mm", lug, out), mod, "2 mm nearer to the wheel", "disc ring 2 mm thick"},
		{"as thick as a ring may be", line("9 mm", lug, out), mod, "5 mm nearer to the wheel", "disc ring 5 mm thick"},
		{"near miss: thicker than a ring", line("8.8 mm", lug, out), open, "a part of its own", ""},
		{"far too thick for a ring", line("-12 mm", lug, caliper), open, "a part of its own", ""},
		{"as thick as spacers may be", line("17 mm", lug, caliper), mod, "5 mm further", "2 caliper spacers 5 mm thick"},
		{"near miss: thicker than spacers", line("17.2 mm", lug, caliper), open, "a part of its own", ""},
		{"the disc alone", line("14 mm", lug, caliper), mod, "2 mm further from the wheel", "2 caliper spacers 2 mm thick"},
		{"radial takes no spacers sideways", line("14 mm", lug.with("style", "radial"), caliper.with("style", "radial")),
			no, "2 mm further", ""},
		{"bolt centres nobody measured", line("14 mm", lug.with("style", "radial"), caliper.with("style",
			"radial").with("spacing", "")), open, "whether it needs a bracket", ""},
		{"tolerances of both add up", line("14 mm ±0.3", lug, out.with("offset", "22.1 mm ±0.3")), open, "worst case 0.7 mm",
			""},
		{"caliper not measured", line("14 mm", lug, caliper.with("offset", "")), open, "offset", ""},
		{"leg not measured", line("14 mm", lug.with("offset", ""), out), open, "offset", ""},
		{"disc not measured", line("", lug, out), open, "offset", ""},
		{"the leg's own needs no offsets", own, mod, "2 mm further from the wheel", "2 caliper spacers 2 mm thick"},
		{"spacers already under it", func() DiscLineCase { in := own; in.Packed = 2; return in }(), yes, "in the middle", ""},
		{"spacers under another caliper", func() DiscLineCase {
			in := line("14 mm", lug,
				caliper)
			in.Packed = 2
			return in
		}(), yes, "in the middle", ""},
		{"a bracket in place judges it", func() DiscLineCase {
			in := line("14 mm", lug,
				caliper)
			in.Bracketed = true
			return in
		}(), yes, "its bracket", ""},
		{"an adapter under the disc", func() DiscLineCase {
			in := line("10 mm", lug, caliper)
			in.Under = []Side{made("plate", "thickness", "2 mm")}
			return in
		}(), yes, "in the middle", ""},
		{"an adapter nobody measured", func() DiscLineCase {
			in := line("10 mm", lug,
				caliper)
			in.Under = []Side{made("plate")}
			return in
		}(), open, "thickness", ""},
		{"on a bracket the slot is brought to the line", line("12 mm", lug, out.with("spacing", "104 mm")), yes,
			"in the middle of the caliper (once its bracket", ""},
		{"one that hangs on some bracket has the disc where it is, and no ring", line("12 mm", lug, out.with("spacing",
			"90 mm")), yes, "in the middle of the caliper (once its bracket", ""},
		{"the bracket allows for the disc", line("14 mm", lug, out.with("spacing", "104 mm")), mod, "2 mm further from " +
			"the wheel", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeDiscLine(tt.in), "disc line")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
			if got := len(c.Orders) > 0; got != (tt.order != "") || got && c.Orders[0].Text != tt.order {
				t.Errorf("orders %+v, want %q", c.Orders, tt.order)
			}
		})
	}
	// The bracket of that caliper is ordered to the disc as it runs: 2 mm of slot
	// less 2 mm of disc leave nothing, 2 mm of slot alone leave 2 mm.
	for offset, want := range map[string]string{"14 mm": "", "12 mm": "2 mm nearer to the lugs' face",
		"": "first find where the disc runs"} {
		m := Meeting{A: lug, B: out.with("spacing", "104 mm"), Line: func() DiscLineCase { return line(offset, lug, out) }}
		c := the(t, Judge(m), "caliper mount")
		spec := c.Orders[0].Spec
		got := ""
		for _, field := range spec {
			if strings.HasPrefix(field.Name, "carries the caliper") {
				got = field.Value
			}
		}
		if got != want {
			t.Errorf("disc %s out: bracket %+v, want sideways %q", offset, spec, want)
		}
	}
	for _, c := range Judge(Meeting{A: lug, B: out, Line: func() DiscLineCase { return line("14 mm", lug, out) }}) {
		if c.Rule == "caliper over disc" {
			t.Errorf("%s: %s: the joint judges the slot too", c.Rule, c.Why)
		}
	}
}
