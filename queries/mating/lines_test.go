package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
)

func needs(lengths ...string) []graph.RunNeed {
	var all []graph.RunNeed
	for i, lock := range []string{"left", "centre", "right"} {
		for j, fork := range []string{"extended", "compressed"} {
			if text := lengths[2*i+j]; text != "" {
				all = append(all, graph.RunNeed{Lock: lock, Fork: fork, Length: []graph.Reading{{Text: text}}})
			}
		}
	}
	return all
}

// Source for 20-30 mm: common practice, no source. Source for the bound of a moved
// end: the triangle inequality.
func TestRunLength(t *testing.T) {
	full := needs("610 mm", "600 mm", "590 mm", "570 mm", "640 mm", "615 mm")
	at := func(x, y, z string) Side { return made("place", "x", x, "y", y, "z", z) }
	moved := []Move{{at("0 mm", "0 mm", "0 mm"), at("20 mm", "-30 mm", "60 mm")}} // sqrt(400+900+3600) = 70
	longer := []Move{{made("fork-length", "length", "760 mm"), made("fork-length", "length", "780 mm")}}
	tests := []struct {
		name   string
		length string
		in     RunCase
		want   graph.Verdict
		gap    string
	}{
		{"least spare", "660 mm", RunCase{Needs: full}, yes, ""},
		{"most spare", "670 mm", RunCase{Needs: full}, yes, ""},
		{"1 mm too little spare", "659 mm", RunCase{Needs: full}, mod, "1 mm"},
		{"just reaches", "640 mm", RunCase{Needs: full}, mod, "20 mm"},
		{"1 mm short", "639 mm", RunCase{Needs: full}, no, "1 mm"},
		{"a tape's reading over", "675 mm", RunCase{Needs: full}, yes, ""},
		{"a loop to clip up", "690 mm", RunCase{Needs: full}, mod, "20 mm"},
		{"a loop too long to clip up", "701 mm", RunCase{Needs: full}, no, "31 mm"},
		{"own spare asked for", "645 mm", RunCase{Needs: full, Spare: []graph.Reading{{Text: "5-10 mm"}}}, yes, ""},
		{"moved, may be short", "665 mm", RunCase{Needs: full, Moves: moved}, open, "45 mm"},
		{"moved, taut even so", "565 mm", RunCase{Needs: full, Moves: moved}, no, "5 mm"},
		{"moved, long enough at any rate", "730 mm", RunCase{Needs: full, Moves: moved}, mod, ""},
		{"moved, too long at any rate", "780 mm", RunCase{Needs: full, Moves: moved}, no, "40 mm"},
		{"longer fork", "680 mm", RunCase{Needs: full, Lengthens: longer}, mod, ""},
		{"longer fork, may be short", "655 mm", RunCase{Needs: full, Lengthens: longer}, open, "5 mm"},
		{"place not measured", "665 mm", RunCase{Needs: full, Moves: []Move{{at("0 mm", "0 mm", ""), moved[0].Now}}}, open,
			""},
		{"guide moved", "730 mm", RunCase{Needs: full, GuidesMoved: true}, open, ""},
		{"one lock missing", "665 mm", RunCase{Needs: needs("610 mm", "", "590 mm", "", "", "")}, open, ""},
		{"one lock missing, taut anyway", "605 mm", RunCase{Needs: needs("610 mm", "", "590 mm", "", "", "")}, no, "5 mm"},
		{"one lock missing, long", "790 mm", RunCase{Needs: needs("610 mm", "", "590 mm", "", "", "")}, open, ""},
		{"does not turn", "615 mm", RunCase{Needs: needs("", "", "590 mm", "", "", "")}, yes, ""},
		{"turns, straight ahead only", "615 mm", RunCase{Needs: needs("", "", "590 mm", "", "", ""), Turns: true}, open, ""},
		{"goes with the wheel, one end of the travel only", "615 mm", RunCase{Needs: needs("", "", "590 mm", "", "", ""),
			Travels: true}, open, ""},
		{"goes with the wheel, both ends", "615 mm", RunCase{Needs: needs("", "", "590 mm", "500 mm", "", ""),
			Travels: true}, yes, ""},
		{"does both, near miss: one of six missing", "665 mm", RunCase{Needs: needs("610 mm", "600 mm", "590 mm", "570 mm",
			"640 mm", ""), Turns: true, Travels: true}, open, ""},
		{"does both, all six", "665 mm", RunCase{Needs: full, Turns: true, Travels: true}, yes, ""},
		{"does both, taut at the one known", "589 mm", RunCase{Needs: needs("", "", "590 mm", "", "", ""), Turns: true,
			Travels: true}, no, "1 mm"},
		{"no need measured", "615 mm", RunCase{}, open, ""},
		{"length missing", "", RunCase{Needs: full}, open, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.in.Line = made("hose").with("length", tt.length)
			c := the(t, JudgeRun(tt.in), "run length")
			if c.Verdict != tt.want || tt.gap != "" && c.Gap != tt.gap {
				t.Errorf("%s, gap %s (%s), want %s, gap %s", c.Verdict, c.Gap, c.Why, tt.want, tt.gap)
			}
			if c.Verdict == open && len(c.Measure) == 0 {
				t.Errorf("unknown without a measurement: %s", c.Why)
			}
		})
	}
}

// A line behind is asked for with the suspension out and in, and never at a lock, whatever
// moved; where its path is the same however the machine stands, none of that is said.
func TestRunBehind(t *testing.T) {
	at := func(x string) Side { return made("place", "x", x, "y", "0 mm", "z", "0 mm") }
	moved := []Move{{at("0 mm"), at("40 mm")}}
	tests := []struct {
		name   string
		behind bool
		needs  []graph.RunNeed
		locks  bool // asked for, or named
		says   string
	}{
		{"behind, straight ahead measured", true, needs("", "", "590 mm", "570 mm", "", ""), false,
			" at suspension extended"},
		{"behind, the same everywhere", true,
			needs("590 mm", "590 mm", "590 mm", "590 mm", "590 mm", "590 mm"), false, "too short: measure"},
		{"near miss: in front", false, needs("", "", "590 mm", "570 mm", "", ""), true, " at lock centre, fork extended"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeRun(RunCase{Line: made("hose", "length", "620 mm"), Needs: tt.needs, Moves: moved,
				Behind: tt.behind}), "run length")
			text := c.Why
			for _, ask := range c.Measure {
				text += "; " + ask.What
			}
			if c.Verdict != open || !strings.Contains(text, tt.says) || strings.Contains(text, "lock ") != tt.locks {
				t.Errorf("%s: %s; want %q in it, locks named: %t", c.Verdict, text, tt.says, tt.locks)
			}
		})
	}
}

// Common practice, no source: the adjuster takes up half its travel each way.
func TestFreeInner(t *testing.T) {
	for _, tt := range []struct {
		name, inner, adjust, wants string
		want                       graph.Verdict
	}{
		{"as built", "92 mm", "12 mm", "92 mm", yes},
		{"at the adjuster's end", "98 mm", "12 mm", "92 mm", yes},
		{"1 mm beyond it", "99 mm", "12 mm", "92 mm", no},
		{"too short", "85 mm", "12 mm", "92 mm", no},
		{"as built, adjuster not measured", "92 mm", "", "92 mm", yes},
		{"off, adjuster not measured", "96 mm", "", "92 mm", open},
		{"inner not measured", "", "12 mm", "92 mm", open},
		{"need not measured", "92 mm", "12 mm", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := RunCase{Line: made("cable", "outer", "1000 mm").with("inner", tt.inner).with("adjust", tt.adjust)}
			if tt.wants != "" {
				in.Inner = []graph.Reading{{Text: tt.wants}}
			}
			if c := the(t, JudgeRun(in), "free inner"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Source: geometry. A half circle over its diameter is pi/2 as long.
func TestBowRadius(t *testing.T) {
	for _, tt := range []struct {
		name          string
		length, chord float64
		want          float64
	}{
		{"half circle", math.Pi * 50, 100, 50},
		{"quarter circle", math.Pi * 50, 100 * math.Sqrt2, 100},
		{"no slack", 100, 100, 0},
		{"pulled taut", 90, 100, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := bowRadius(tt.length, tt.chord); math.Abs(got-tt.want) > 1e-6 {
				t.Errorf("got %g, want %g", got, tt.want)
			}
		})
	}
	in := RunCase{Line: made("hose", "length", "665 mm", "bend", "150 mm"), Needs: needs("", "", "640 mm", "200 mm", "",
		"")}
	if c := the(t, JudgeRun(in), "bend"); c.Verdict != mod {
		t.Errorf("a 665 mm hose over 200 mm: %s (%s), want a change", c.Verdict, c.Why)
	}
}

// Its path was led for the line built in. Common practice, no source.
func TestBendAgainstBuilt(t *testing.T) {
	hose := func(bend string) Side { return made("hose", "length", "665 mm").with("bend", bend) }
	for _, tt := range []struct {
		name, bend, built string
		want              graph.Verdict
	}{
		{"as built", "40 mm", "40 mm", yes},
		{"bends tighter", "30 mm", "40 mm", yes},
		{"near miss: a tenth more", "44 mm", "40 mm", yes},
		{"ten times as much", "400 mm", "40 mm", open},
		{"a third more", "53 mm", "40 mm", open},
		{"nobody gave that of the one built in", "53 mm", "", yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := RunCase{Line: hose(tt.bend), Built: hose(tt.built), Needs: needs("", "", "640 mm", "635 mm", "", "")}
			if c := the(t, JudgeRun(in), "bend"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// The lugs of a frame give less than legs and arms do. Common practice, no source.
func TestRowInRigidGap(t *testing.T) {
	for _, tt := range []struct {
		name, row string
		kind      graph.KindID
		want      graph.Verdict
	}{
		{"as built", "222 mm", "frame", yes},
		{"near miss: what two calipers misread", "222.2 mm", "frame", yes},
		{"half a millimetre too wide", "222.5 mm", "frame", no},
		{"half a millimetre short", "221.5 mm", "frame", yes},
		{"half too wide between legs", "222.5 mm", "fork-leg", yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			within := made("gap", "width", "222 mm")
			within.PartKind = tt.kind
			c := the(t, JudgeStack(StackCase{Within: within, Row: []Member{{made("row-width", "width", tt.row), false}}}),
				"row width")
			if c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Source: geometry: left + hub + right = inner width; rim central when left -
// right = 2 offset.
func TestStacks(t *testing.T) {
	for _, tt := range []struct {
		name, left, hub, right, offset string
		width, centre                  graph.Verdict
		orders                         string
	}{
		{"as built", "20 mm", "110 mm", "20 mm", "0 mm", yes, yes, ""},
		{"half a millimetre short", "20 mm", "109.5 mm", "20 mm", "0 mm", yes, yes, ""},
		{"0.6 mm short", "20 mm", "109.4 mm", "20 mm", "0 mm", mod, yes, "left spacer 20.3 mm, right spacer 20.3 mm"},
		{"offset to the left", "22 mm", "110 mm", "18 mm", "2 mm", yes, yes, ""},
		{"offset, spacers the wrong way round", "18 mm", "110 mm", "22 mm", "2 mm", yes, mod, "left spacer 22 mm, right " +
			"spacer 18 mm"},
		{"donor hub", "20 mm", "101.5 mm", "20 mm", "2.2 mm", mod, mod, "left spacer 26.5 mm, right spacer 22.1 mm"},
		{"hub too wide", "20 mm", "154 mm", "20 mm", "0 mm", no, no, ""},
		{"hub not measured", "20 mm", "", "20 mm", "0 mm", open, open, ""},
		{"offset not measured", "20 mm", "110 mm", "20 mm", "", yes, open, ""},
		{"short, offset not measured", "20 mm", "100 mm", "20 mm", "", open, open, ""},
		{"spacer left out on one side", "", "110 mm", "40 mm", "-20 mm", open, open, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			checks := JudgeStack(StackCase{Within: made("gap", "width", "150 mm"), Centre: 2, Row: []Member{
				{made("row-width").with("width", tt.left), true},
				{made("row-width").with("width", tt.hub).with("offset", tt.offset), false},
				{made("row-width").with("width", tt.right), true}}})
			width, centre := the(t, checks, "row width"), the(t, checks, "row centre")
			if width.Verdict != tt.width || centre.Verdict != tt.centre {
				t.Errorf("width %s (%s), centre %s (%s), want %s, %s", width.Verdict, width.Why, centre.Verdict, centre.Why,
					tt.width, tt.centre)
			}
			got := ""
			for _, o := range append(width.Orders, centre.Orders...) {
				if got += fmt.Sprintf("%s %s", o.Spec[0].Value, o.Spec[1].Value); len(got) < 30 {
					got += ", "
				}
			}
			if got != tt.orders {
				t.Errorf("orders %q, want %q", got, tt.orders)
			}
		})
	}
}

// What is bolted to the arm stays where it is: a box 2 mm narrower is not drawn off its
// face by a spacer, unless one stands between it and the wheel. Geometry.
func TestBoltedMemberIsNotMoved(t *testing.T) {
	at := func(name string, s Side) Side { s.Position = graph.PositionID(name); return s }
	box := func(width, spacer string, held, centred bool) StackCase {
		in := StackCase{Within: made("gap", "width", "190 mm"), Row: []Member{
			{at("box", made("row-width").with("width", width)), false}}}
		if spacer != "" {
			in.Row = append(in.Row, Member{made("row-width", "width", spacer), true})
		}
		in.Row = append(in.Row, Member{made("row-width", "width", "100 mm", "offset", "0 mm"), false},
			Member{made("row-width", "width", "45 mm"), true})
		if centred {
			in.Centre = len(in.Row) - 1
		}
		in.Held = map[graph.PositionID]Hold{}
		if held {
			in.Held["box"] = Hold{}
		}
		return in
	}
	tests := []struct {
		name string
		in   StackCase
		want graph.Verdict
		says string
	}{
		{"as built", box("45 mm", "", true, true), yes, ""},
		{"a narrower box", box("43 mm", "", true, true), no, "bolted in its place"},
		{"the same, loose on the axle", box("43 mm", "", false, true), mod, "short"},
		{"with a spacer at the wheel", box("33 mm", "10 mm", true, true), mod, "short"},
		{"near miss: 0.5 mm narrower", box("44.5 mm", "", true, true), yes, ""},
		{"no wheel to bring to the middle, the other spacer gives", box("43 mm", "", true, false), mod, "short"},
		{"nobody measured the box", box("", "", true, true), open, "width"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if c := the(t, JudgeStack(tt.in), "row width"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// A hub whose left end stands further out takes the carrier, and the sprocket on
// it, along: half its width less its offset. Geometry; 1 mm is common practice.
func TestSprocketLine(t *testing.T) {
	rear := func(hub, offset, spacer string) StackCase {
		return StackCase{Within: made("gap", "width", "188 mm"), Centre: 3, Row: []Member{
			{made("row-width").with("width", spacer), true}, {made("row-width", "width", "34 mm"), false},
			{made("row-width").with("width", hub).with("offset", offset), false}, {made("row-width", "width", "34 mm"), true}}}
	}
	tests := []struct {
		name, hub, offset, spacer string
		want                      graph.Verdict
		says                      string
	}{
		{"as built", "96 mm", "8 mm", "20 mm", yes, "within 0 mm"},
		{"another spacer, made good", "96 mm", "8 mm", "18 mm", yes, "within 0 mm"},
		{"near: 1 mm out", "98 mm", "8 mm", "20 mm", yes, "within 1 mm"},
		{"near miss: 1.1 mm out", "98.2 mm", "8 mm", "20 mm", mod, "1.1 mm left of where it was"},
		{"a donor hub", "104 mm", "7 mm", "20 mm", mod, "5 mm left of where it was"},
		{"a narrower one", "92 mm", "8 mm", "20 mm", mod, "2 mm right of where it was"},
		{"hub missing", "", "8 mm", "20 mm", open, "width"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := rear(tt.hub, tt.offset, tt.spacer)
			in.Keep = &Keep{Name: "rear sprocket", Member: 2, Was: rear("96 mm", "8 mm", "20 mm")}
			if c := the(t, JudgeStack(in), "sprocket line"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
			in = seenFromBehind(in)
			in.Keep = &Keep{Name: "rear sprocket", Member: 3, Was: seenFromBehind(rear("96 mm", "8 mm", "20 mm"))}
			if c := the(t, JudgeStack(in), "sprocket line"); c.Verdict != tt.want || !contains(c.Why, otherSide(tt.says)) {
				t.Errorf("on the right: %s (%s), want %s with %q", c.Verdict, c.Why, tt.want, otherSide(tt.says))
			}
		})
	}
}

// seenFromBehind is a row with left for right.
func seenFromBehind(in StackCase) StackCase {
	in.Row = slices.Clone(in.Row)
	slices.Reverse(in.Row)
	in.Centre = len(in.Row) + 1 - in.Centre
	for i, m := range in.Row {
		if offset := m.Side.Feature.Dims["offset"]; len(offset) > 0 && offset[0].Text != "" {
			in.Row[i].Side = m.Side.with("offset", strings.TrimPrefix("-"+offset[0].Text, "--"))
		}
	}
	return in
}

func otherSide(says string) string {
	return strings.NewReplacer("left", "right", "right", "left").Replace(says)
}

// Another carrier with a spacer of its own: as wide and with its face as far from the middle
// as the one built in, it stands where the row puts it; any other face was measured in a row
// of its own. Geometry; 1 mm is common practice.
func TestSprocketLineOfAnotherCarrier(t *testing.T) {
	rear := func(spacer, carrier string) StackCase {
		return StackCase{Within: made("gap", "width", "190 mm"), Centre: 3, Row: []Member{
			{made("row-width", "width", spacer), true}, {made("row-width", "width", carrier), false},
			{made("row-width", "width", "75 mm", "offset", "7.5 mm"), false}, {made("row-width", "width", "50 mm"), true}}}
	}
	tests := []struct {
		name, spacer, carrier, plane string
		offset                       string // of the wheel
		want                         graph.Verdict
		says                         string
	}{
		{"alike", "20 mm", "45 mm", "50 mm", "7.5 mm", yes, "within 0 mm"},
		{"alike, the wheel 5 mm over", "25 mm", "45 mm", "50 mm", "12.5 mm", mod, "5 mm right of where it was"},
		{"near: alike, 1 mm over", "21 mm", "45 mm", "50 mm", "8.5 mm", yes, "within 1 mm"},
		{"near miss: alike, 1.2 mm over", "21.2 mm", "45 mm", "50 mm", "8.7 mm", mod, "1.2 mm right"},
		{"narrower, its outer end in place", "20 mm", "40 mm", "50 mm", "2.5 mm", yes, "within 0 mm"},
		{"narrower, a longer spacer, its face as before", "25 mm", "40 mm", "50 mm", "7.5 mm", open, "in this one"},
		{"narrower, its face as much further in", "25 mm", "40 mm", "45 mm", "7.5 mm", yes, "as its outer end does"},
		{"nobody measured its face", "25 mm", "40 mm", "", "7.5 mm", open, "plane"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := rear(tt.spacer, tt.carrier)
			in.Row[2].Side = made("row-width", "width", "75 mm", "offset", tt.offset)
			in.Keep = &Keep{Name: "rear sprocket", Member: 2, Was: rear("20 mm", "45 mm"),
				Plane: made("sprocket-plane").with("plane", tt.plane), WasPlane: made("sprocket-plane", "plane", "50 mm")}
			if c := the(t, JudgeStack(in), "sprocket line"); c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
			keep := *in.Keep
			in = seenFromBehind(in)
			keep.Member, keep.Was, keep.WasPlane = 3, seenFromBehind(keep.Was), keep.WasPlane.with("plane", "-50 mm")
			if tt.plane != "" {
				keep.Plane = keep.Plane.with("plane", "-"+tt.plane)
			}
			in.Keep = &keep
			if c := the(t, JudgeStack(in), "sprocket line"); c.Verdict != tt.want || !contains(c.Why, otherSide(tt.says)) {
				t.Errorf("on the right: %s (%s), want %s with %q", c.Verdict, c.Why, tt.want, otherSide(tt.says))
			}
		})
	}
}

// Source for 1 mm: common practice, no source.
func TestChainLine(t *testing.T) {
	for line, want := range map[string]graph.Verdict{"4 mm": yes, "3 mm": yes, "5 mm": yes, "2.9 mm": mod, "8 mm": mod,
		"9 mm": mod, "9.2 mm": open, "-1.2 mm": open, "": open} { // 5 mm is the thickest packing
		in := ChainCase{Chain: made("chain", "pitch", "15.875 mm", "links", "110"),
			Front: made("sprocket", "teeth", "15", "line", "2 mm"), Rear: made("sprocket", "teeth", "45").with("line", line),
			FrontPlane: made("sprocket-plane", "plane", "52 mm"), RearPlane: made("sprocket-plane", "plane", "50 mm")}
		if c := the(t, JudgeChain(in), "chain line"); c.Verdict != want {
			t.Errorf("rear line %q: %s (%s), want %s", line, c.Verdict, c.Why, want)
		}
		in.FrontPlane, in.RearPlane = in.FrontPlane.with("plane", "-52 mm"), in.RearPlane.with("plane", "-50 mm")
		if c := the(t, JudgeChain(in), "chain line"); c.Verdict != want || contains(c.Why, "further left") {
			t.Errorf("rear line %q, chain on the right: %s (%s), want %s", line, c.Verdict, c.Why, want)
		}
		in.FrontPlane = in.FrontPlane.with("plane", "52 mm")
		if c := the(t, JudgeChain(in), "chain line"); line != "" && c.Verdict != no {
			t.Errorf("rear line %q, one sprocket on each side: %s (%s)", line, c.Verdict, c.Why)
		}
	}
}

// Source: design section 2: a conflict is shown with both sides and the one
// measurement that would settle it; nothing is averaged.
func TestReadingsThatDisagree(t *testing.T) {
	hose := made("hose", "length", "665 mm", "length", "600 mm")
	c := the(t, JudgeRun(RunCase{Line: hose, Needs: needs("", "", "640 mm", "", "", "")}), "run length")
	if c.Verdict != open || len(c.Measure) != 1 || c.Measure[0].Dim != "length" || !contains(c.Why, "665 mm or 600 mm") {
		t.Errorf("%s, measure %+v (%s), want unknown and the length", c.Verdict, c.Measure, c.Why)
	}
	hose = made("hose", "length", "665 mm", "length", "668 mm", "length", "66.5 cm")
	c = the(t, JudgeRun(RunCase{Line: hose, Needs: needs("", "", "640 mm", "", "", "")}), "run length")
	if c.Verdict != yes || len(c.Measure) != 0 {
		t.Errorf("%s, measure %+v, want fits: no reading changes it", c.Verdict, c.Measure)
	}
	// Two readings on both sides: neither alone decides, together they do.
	m := Meeting{A: made("shaft", "diameter", "17 mm", "diameter", "17.2 mm"), B: made("bore", "diameter", "17.3 mm",
		"diameter", "17.1 mm")}
	c = the(t, Judge(m), "shaft in bore")
	if c.Verdict != open || len(c.Measure) != 2 {
		t.Errorf("%s, measure %+v (%s), want unknown and both diameters", c.Verdict, c.Measure, c.Why)
	}
	// The same verdict, but another spacer to make.
	stack := StackCase{Within: made("gap", "width", "150 mm"), Row: []Member{
		{made("row-width", "width", "100 mm", "width", "104 mm"), false}, {made("row-width", "width", "20 mm"), true}}}
	c = the(t, JudgeStack(stack), "row width")
	if c.Verdict != mod || len(c.Measure) != 1 || !contains(c.Why, "before anything is made") {
		t.Errorf("%s, measure %+v (%s), want a change with a warning", c.Verdict, c.Measure, c.Why)
	}
}

// Sealing washers that nobody measured are 1 to 1.5 mm thick: a bolt that suits both
// fits, one between them is unknown with the washer to measure. Copper and aluminium
// seal alike. Common practice, no source.
func TestSealingWashers(t *testing.T) {
	banjo := made("banjo", "eye", "10.2 mm", "thickness", "8 mm")
	port := made("port", "thread", "M10x1", "seat", "flat washer", "depth", "14 mm")
	bolt := func(long string) []Side {
		return []Side{made("male-thread", "thread", "M10x1", "length", long)}
	}
	two := func(s Side) []Side { return []Side{s, s} }
	bare := made("washer", "inside", "10.2 mm", "outside", "14 mm")
	tests := []struct {
		name    string
		long    string
		washers Side
		rule    string
		want    graph.Verdict
	}{
		{"nobody measured them, and the bolt suits both", "20 mm", bare, "banjo bolt", yes},
		{"near miss: 18.5 mm suits thin ones only", "18.5 mm", bare, "banjo bolt", open},
		{"18.5 mm with thin ones", "18.5 mm", bare.with("thickness", "1 mm"), "banjo bolt", yes},
		{"too short for any", "16 mm", bare, "banjo bolt", no},
		{"copper", "20 mm", bare.with("material", "copper"), "seal material", yes},
		{"aluminium", "20 mm", bare.with("material", "aluminium"), "seal material", yes},
		{"near miss: bonded rubber", "20 mm", bare.with("material", "steel with rubber"), "seal material", open},
		{"hole too wide", "20 mm", bare.with("inside", "12.2 mm"), "sealing washers", no},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Judge(Meeting{A: banjo, B: port, Bolts: bolt(tt.long), Washers: two(tt.washers)})
			if v := the(t, got, tt.rule).Verdict; v != tt.want {
				t.Errorf("%s, want %s: %+v", v, tt.want, got)
			}
		})
	}
}

// What is made for one side of a row goes where its spacer stands in the row, whatever that
// place is called.
func TestSpacerGoesWhereItStands(t *testing.T) {
	at := func(name string, s Side) Side { s.Position = graph.PositionID(name); return s }
	in := StackCase{Within: made("gap", "width", "160 mm"), Centre: 2, Row: []Member{
		{at("wheel/spacer-right", made("row-width", "width", "20 mm")), true},
		{made("row-width", "width", "110 mm", "offset", "0 mm"), false},
		{at("wheel/collar", made("row-width", "width", "20 mm")), true}}}
	c := the(t, JudgeStack(in), "row width") // (160 - 110) / 2 is 25 on each side
	if len(c.Orders) != 2 || c.Orders[0].Place != "wheel/spacer-right" || c.Orders[1].Place != "wheel/collar" ||
		!contains(c.Orders[0].Text, "left spacer 25 mm") || !contains(c.Orders[1].Text, "right spacer 25 mm") {
		t.Errorf("%+v", c.Orders)
	}
}

// Another riser moves the bar and all that ends on it: up by what it is longer, back by what
// it sets it back, and both risers carry one bar.
func TestRunOverARiser(t *testing.T) {
	riser := func(length, back string) Riser {
		return Riser{Length: made("fork-length").with("length", length), Set: made("riser-set").with("back", back)}
	}
	built := riser("90 mm", "40 mm")
	tests := []struct {
		name, hose string
		now        []Riser
		want       graph.Verdict
		gap        string
	}{
		{"as built", "665 mm", nil, yes, ""},
		{"2 mm higher, what is spare does", "667 mm", []Riser{riser("92 mm", "40 mm")}, yes, ""},
		{"40 mm higher, a hose with as much to spare", "705 mm", []Riser{riser("130 mm", "40 mm")}, mod, ""},
		{"near miss: a millimetre less to spare", "699 mm", []Riser{riser("130 mm", "40 mm")}, open, ""},
		{"50 mm higher, the hose as built", "665 mm", []Riser{riser("140 mm", "40 mm")}, open, "25 mm"},
		{"both alike: one bar, moved once", "705 mm", []Riser{riser("130 mm", "40 mm"), riser("130 mm", "40 mm")}, mod, ""},
		{"30 mm higher and 40 mm further back are 50 mm", "665 mm", []Riser{riser("120 mm", "80 mm")}, open, "25 mm"},
		{"so short that it pulls taut however the path turns out", "560 mm", []Riser{riser("130 mm", "40 mm")}, no, "40 mm"},
		{"nobody measured the new one", "705 mm", []Riser{riser("", "40 mm")}, open, ""},
		{"nor how far back it sets the bar", "705 mm", []Riser{riser("130 mm", "")}, open, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := RunCase{Line: made("hose", "length", tt.hose), Turns: true, Travels: true,
				Needs: needs("640 mm", "600 mm", "590 mm", "570 mm", "640 mm", "600 mm")}
			for _, now := range tt.now {
				in.Raises = append(in.Raises, Raise{Was: built, Now: now})
			}
			c := the(t, JudgeRun(in), "run length")
			if c.Verdict != tt.want || tt.gap != "" && c.Gap != tt.gap {
				t.Errorf("%s, gap %s (%s), want %s, gap %s", c.Verdict, c.Gap, c.Why, tt.want, tt.gap)
			}
			if c.Verdict == open && len(c.Measure) == 0 {
				t.Errorf("unknown without a measurement: %s", c.Why)
			}
		})
	}
}
