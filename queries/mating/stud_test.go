package mating

import (
	"testing"

	"matewell/graph"
)

// What of a stud sits in its hole its nut does not have. Sums are arithmetic; one to
// three threads out of a nut are common practice, no source; 1.5 to 2 d in aluminium are
// a fastener handbook's.
func TestStud(t *testing.T) {
	stud := made("male-thread", "thread", "M10x1.25", "length", "38 mm", "grip", "0 mm", "class", "8.8")
	root := made("female-thread", "thread", "M10x1.25", "depth", "22 mm", "hole", "blind", "material", "aluminium",
		"grip", "20 mm")
	plate := made("bolt-pattern", "count", "5", "spacing", "100 mm", "hole", "10.5 mm", "thickness", "10 mm")
	nut := made("female-thread", "thread", "M10x1.25", "depth", "8 mm", "hole", "through", "material", "steel", "class",
		"8")
	built := BoltCase{Bolt: stud, Root: root, Into: nut, Through: []Layer{{Side: plate}}}
	as := func(length, thick string, root Side) BoltCase {
		return BoltCase{Bolt: stud.with("length", length), Root: root, Into: nut, Built: &built,
			Through: []Layer{{Side: plate.with("thickness", thick)}}}
	}
	with := func(in BoltCase, dim, text string) BoltCase {
		in.Bolt = in.Bolt.with(dim, text)
		return in
	}
	for _, tt := range []struct {
		name string
		in   BoltCase
		want graph.Verdict
		says string
	}{
		{"as built", as("38 mm", "10 mm", root), yes, "2 mm out of it"},
		{"a thicker plate", as("38 mm", "16 mm", root), no, "too short by 4 mm"},
		{"a thicker plate, a longer stud", as("44 mm", "16 mm", root), yes, "2 mm out of it"},
		{"near miss: 3 mm longer", as("41 mm", "10 mm", root), yes, "5 mm out of it"},
		{"far longer", as("60 mm", "10 mm", root), open, "stands 24 mm out"},
		{"a plain shank longer than the plate", with(as("44 mm", "10 mm", root), "grip", "24 mm"), no, "runs out of thread"},
		{"near miss: as long as the plate", with(as("38 mm", "10 mm", root), "grip", "10 mm"), yes, "2 mm out of it"},
		{"how far it stood out missing", as("38 mm", "10 mm", root.with("grip", "")), open, "grip"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeBolt(tt.in), "thread engagement")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
			isOne := len(c.Orders) == 1 && c.Orders[0].Text == "stud M10x1.25, at least 43.25 mm over all"
			if contains(tt.says, "too short") && !isOne {
				t.Errorf("orders %+v, want one stud by its whole length", c.Orders)
			}
		})
	}
	// Where more of it would be buried than its hole has thread, what was measured is what
	// lies between hole and nut.
	clamped := BoltCase{Bolt: stud.with("length", "65 mm").with("grip", "9 mm"), Root: root.with("grip", "10 mm"),
		Into: nut, Through: []Layer{{Side: plate}}}
	in := clamped
	in.Built = &clamped
	if c := the(t, JudgeBolt(in), "thread engagement"); c.Verdict != yes {
		t.Errorf("what it clamps recorded: %s (%s)", c.Verdict, c.Why)
	}
	m := Meeting{A: in.Bolt, B: in.Root, Built: &Meeting{A: in.Bolt, B: in.Root}, WasBuilt: []Side{}, Nutted: true}
	if c := the(t, Judge(m), "thread engagement"); c.Verdict != yes {
		t.Errorf("in its hole, what it clamps recorded: %s (%s)", c.Verdict, c.Why)
	}
	for _, tt := range []struct {
		length string
		nutted bool
		want   graph.Verdict
	}{
		{"38 mm", true, yes}, {"44 mm", true, yes}, {"44 mm", false, no}, {"30 mm", true, no}, {"", true, open},
	} {
		m := Meeting{A: stud.with("length", tt.length), B: root, Built: &Meeting{A: stud, B: root}, WasBuilt: []Side{},
			Nutted: tt.nutted}
		c := the(t, Judge(m), "thread engagement")
		if c.Verdict != tt.want || tt.nutted && len(c.Orders) > 0 {
			t.Errorf("%q in its hole, its nut judged %v: %s (%s), %d orders, want %s", tt.length, tt.nutted, c.Verdict, c.Why,
				len(c.Orders), tt.want)
		}
	}
}
