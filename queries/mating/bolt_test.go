package mating

import (
	"testing"

	"matewell/graph"
)

// Sources: ISO 273 for clear holes, AC 43.13-1B 7-37 for the thread out of a nut,
// ISO 4014 for shanks; play of a pivot is common practice, no source.
func TestBoltThroughAll(t *testing.T) {
	bolt := made("male-thread", "thread", "M8", "length", "46 mm", "grip", "34 mm", "class", "8.8")
	cheek := made("clevis", "gap", "24 mm", "bolt", "8 mm", "cheek", "5 mm")
	eye := made("eye", "bore", "8.1 mm", "width", "24 mm")
	washer := made("washer", "inside", "8.4 mm", "outside", "16 mm", "thickness", "1.5 mm")
	nut := made("female-thread", "thread", "M8", "depth", "6.8 mm", "hole", "through", "material", "steel", "class", "8")
	through := func(sides ...Side) []Layer {
		var layers []Layer
		for i, s := range sides {
			s.Position = graph.PositionID("bench/" + s.Feature.Kind + string(rune('a'+i)))
			layers = append(layers, Layer{Side: s})
		}
		return layers
	}
	as := func(change func(*BoltCase)) BoltCase {
		in := BoltCase{Bolt: bolt, Through: through(washer, cheek, eye, cheek, washer), Into: nut}
		change(&in)
		return in
	}
	lug := made("caliper-mount", "style", "axial", "thread", "M8", "tapped-depth", "20 mm", "bottom", "blind", "material",
		"steel", "bolt-class", "10.9")
	caliper := made("caliper-mount", "style", "axial", "hole", "8.5 mm", "thickness", "12 mm")
	shim := made("plate", "thickness", "5 mm")
	onLug := func(bolt Side, layers ...Side) BoltCase {
		return BoltCase{Bolt: bolt, Through: through(layers...), Into: lug}
	}
	long := bolt.with("class", "10.9").with("length", "25 mm").with("grip", "10 mm")
	tests := []struct {
		name string
		in   BoltCase
		rule string
		want graph.Verdict
		says string
	}{
		{"as built", as(func(in *BoltCase) {}), "", yes, ""},
		{"a spacer more than the bolt reaches", as(func(in *BoltCase) {
			in.Through = through(washer, cheek, eye, shim, shim,
				cheek, washer)
		}), "thread engagement", no, "too short"},
		{"near miss: flush with the nut, less out than built",
			as(func(in *BoltCase) { b := *in; in.Built = &b; in.Bolt = bolt.with("length", "44 mm") }), "thread engagement",
			mod, "less than one full thread"},
		{"far too long, nobody knows how it was built", as(func(in *BoltCase) { in.Bolt = bolt.with("length", "120 mm") }),
			"thread engagement", open, "stands 76.2 mm out, one to three threads"},
		{"as long in the joint as built", as(func(in *BoltCase) {
			in.Bolt, in.AsBuilt = bolt.with("length", "120 mm"), true
		}), "", yes, ""},
		{"far longer than the one built in", as(func(in *BoltCase) {
			b := *in
			in.Built, in.Bolt = &b, bolt.with("length", "60 mm")
		}), "thread engagement", open, "stands 16.2 mm out, 2.2 mm as built"},
		{"near miss: 3 mm longer than the one built in", as(func(in *BoltCase) {
			b := *in
			in.Built, in.Bolt = &b, bolt.with("length", "49 mm")
		}), "", yes, ""},
		{"thinner parts, the same bolt", as(func(in *BoltCase) {
			b := *in
			in.Built, in.Bolt = &b, bolt.with("grip", "28 mm")
			in.Through = through(washer, cheek.with("cheek", "1 mm"), eye.with("width", "20 mm"), cheek, washer)
		}), "thread engagement", open, "as built"},
		{"a nut three times as deep takes all that stood out", as(func(in *BoltCase) {
			b := *in
			in.Built, in.Into = &b, nut.with("depth", "8.5 mm")
		}), "thread engagement", mod, "less than one full thread"},
		{"a cheek nobody measured", as(func(in *BoltCase) {
			in.Through = through(washer, cheek.with("cheek", ""), eye, cheek,
				washer)
		}), "thread engagement", open, "cheek"},
		{"a layer nobody described", as(func(in *BoltCase) {
			in.Through = append(in.Through,
				Layer{Side: Side{Position: "bench/bracket"}})
		}), "thread engagement", open, "thickness"},
		{"eye too small", as(func(in *BoltCase) { in.Through[2].Side = eye.with("bore", "7.9 mm") }), "bolt through", no,
			"does not enter"},
		{"eye loose, shank not measured", as(func(in *BoltCase) { in.Through[2].Side = eye.with("bore", "8.4 mm") }),
			"bolt through", open, "shank"},
		{"eye loose, shank measured", as(func(in *BoltCase) {
			in.Bolt = bolt.with("shank", "8 mm")
			in.Through[2].Side = eye.with("bore", "8.4 mm")
		}), "bolt through", no, "knocks"},
		{"eye loose, room for a bush", as(func(in *BoltCase) {
			in.Bolt = bolt.with("shank", "8 mm")
			in.Through[2].Side = eye.with("bore", "10 mm")
		}), "bolt through", mod, "loose"},
		{"eye's bore missing", as(func(in *BoltCase) { in.Through[2].Side = eye.with("bore", "") }), "bolt through", open,
			"bore"},
		{"thread in the eye", as(func(in *BoltCase) { in.Bolt = bolt.with("grip", "20 mm") }), "shank in shear", mod,
			"10.5 mm before the last joint"},
		{"near miss: 0.5 mm before the joint", as(func(in *BoltCase) { in.Bolt = bolt.with("grip", "30 mm") }),
			"shank in shear", yes, ""},
		{"plain length missing", as(func(in *BoltCase) { in.Bolt = bolt.with("grip", "") }), "shank in shear", open, "grip"},
		{"caliper on its lug", onLug(long, caliper), "", yes, ""},
		{"a shim of 5 mm leaves no 1.25 d", onLug(long, caliper, shim), "thread engagement", no, "too short by 2 mm"},
		{"longer bolt, as ordered", onLug(long.with("length", "30 mm"), caliper, shim), "", yes, ""},
		{"near miss: bottoms", onLug(long.with("length", "30 mm"), caliper), "thread engagement", no, "too long"},
		{"weaker than the lug's list", onLug(long.with("class", "8.8"), caliper), "bolt class", no, "weaker"},
		{"class missing", onLug(long.with("class", ""), caliper), "bolt class", open, "property class"},
		{"other thread", onLug(long.with("thread", "M6"), caliper), "thread", no, "M6"},
		{"thread missing", onLug(long.with("thread", ""), caliper), "thread", open, "thread"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			checks := JudgeBolt(tt.in)
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
}

// The thickness measured at the thread counts with the parts as built; of others it
// counts how much thicker they are, and what lies under them. Sums are arithmetic;
// 2 d in aluminium: a fastener handbook's trials.
func TestBoltByGrip(t *testing.T) {
	caliper := made("caliper-mount", "style", "axial", "hole", "8.5 mm", "thickness", "17 mm")
	caliper.Position, caliper.Part = "front/caliper", "C-1"
	lug := made("female-thread", "thread", "M8", "depth", "20 mm", "hole", "blind", "material", "aluminium", "grip",
		"17 mm", "bolt-class", "10.9")
	lug.Part = "L-1"
	bolt := made("male-thread", "thread", "M8", "length", "33 mm", "class", "10.9")
	other := func(thick string) Side {
		s := caliper.with("thickness", thick)
		s.Part = "C-2"
		return s
	}
	shim := made("plate", "thickness", "5 mm")
	otherLug := lug.with("grip", "20 mm")
	otherLug.Part = "L-2"
	bare := caliper.with("thickness", "")
	for _, tt := range []struct {
		name          string
		was, now, pad Side
		into          Side
		length        string
		want          graph.Verdict
		says          string
	}{
		{"as built", caliper, caliper, Side{}, lug, "33 mm", yes, "16 mm"},
		{"as built, thickness not recorded", bare, bare, Side{}, lug, "33 mm", yes, "16 mm"},
		{"a thicker lug", caliper, other("24 mm"), Side{}, lug, "33 mm", no, "too short by 7 mm"},
		{"a thicker lug, longer bolt", caliper, other("24 mm"), Side{}, lug, "40 mm", yes, "16 mm"},
		{"near miss: a thinner lug, it bottoms", caliper, other("15 mm"), Side{}, lug, "33 mm", no, "too long by 0.5 mm"},
		{"shims under the same one", bare, bare, shim, lug, "33 mm", no, "too short by 5 mm"},
		{"thickness missing", caliper, other(""), Side{}, lug, "33 mm", open, "thickness"},
		{"was not recorded, is: all layers together", bare, other("17 mm"), Side{}, lug, "33 mm", yes, "16 mm"},
		{"another leg: the layers tell more than its grip", caliper, caliper, Side{}, otherLug, "33 mm", yes, "16 mm"},
		{"another leg, thickness not recorded: its grip", bare, bare, Side{}, otherLug, "33 mm", open, "3 mm less than it " +
			"was built with"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			built := BoltCase{Bolt: bolt, Into: lug, Through: []Layer{{Side: tt.was}, {}}}
			in := BoltCase{Bolt: bolt.with("length", tt.length), Into: tt.into, Through: []Layer{{Side: tt.now},
				{Side: tt.pad}}, Built: &built}
			c := the(t, JudgeBolt(in), "thread engagement")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// An axle is a bolt through legs, spacers, hub and nut. The sums are arithmetic;
// 1.5 mm of thread out of the nut: AC 43.13-1B 7-37.
func TestAxleLength(t *testing.T) {
	axle := func(length string) Side {
		return made("male-thread", "thread", "M16x1.5", "length", length, "grip", "200 mm", "class", "8.8")
	}
	layer := func(name, width string) Layer {
		s := made("row-width", "width", width)
		s.Position = graph.PositionID("bench/" + name)
		return Layer{Side: s}
	}
	leg := made("gap", "width", "160 mm").with("width", "25 mm")
	row := []Layer{{Side: leg, Dim: "width"}, layer("spacer-left", "20 mm"), layer("hub", "120 mm"), layer("spacer-right",
		"20 mm"), {Side: leg, Dim: "width"}}
	row[4].Position = "bench/other-leg"
	nut := made("female-thread", "thread", "M16x1.5", "depth", "13 mm", "hole", "through", "material", "steel", "class",
		"8")
	for _, tt := range []struct {
		name, length string
		row          []Layer
		want         graph.Verdict
	}{
		{"as built", "225 mm", row, yes},
		{"a spacer 3 mm wider", "225 mm", append([]Layer{layer("spacer-left", "23 mm")}, append([]Layer{row[0]},
			row[2:]...)...), no},
		{"near miss: just through", "223 mm", row, yes},
		{"hub missing", "225 mm", append([]Layer{layer("hub", "")}, append(row[:2:2], row[3:]...)...), open},
		{"length missing", "", row, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if c := the(t, JudgeBolt(BoltCase{Bolt: axle(tt.length), Through: tt.row, Into: nut}),
				"thread engagement"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// A bolt in one thing it passes: lever pivots, forks. Common practice, no source.
func TestBoltInOneHole(t *testing.T) {
	pivot := made("male-thread", "thread", "M6", "length", "25 mm", "shank", "8 mm")
	runCases(t, []ruleCase{
		{"lever on its pivot", pivot, made("bore", "diameter", "8.1 mm"), "bolt through", yes},
		{"near miss: 0.1 mm too thick", pivot, made("bore", "diameter", "7.9 mm"), "bolt through", no},
		{"pivot of another lever", pivot, made("bore", "diameter", "10 mm"), "bolt through", mod},
		{"in a fork", pivot, made("clevis", "bolt", "8 mm", "gap", "12 mm"), "bolt through", yes},
		{"in an eye, loose", pivot, made("eye", "bore", "9 mm", "width", "12 mm"), "bolt through", no},
		{"shank not measured", pivot.with("shank", ""), made("bore", "diameter", "8.1 mm"), "bolt through", open},
		{"bore missing", pivot, made("bore"), "bolt through", open},
	})
}

// Every bolt of a pattern by the class its tapped side lists, else by the one
// built in. Source: ISO 898-1.
func TestBoltsOfAPattern(t *testing.T) {
	hub := made("bolt-pattern", "count", "6", "spacing", "80 mm", "thread", "M8", "bolt-class", "10.9")
	disc := made("bolt-pattern", "count", "6", "spacing", "80 mm", "hole", "8.4 mm")
	bolt := made("male-thread", "thread", "M8", "length", "20 mm", "class", "10.9")
	lug := made("caliper-mount", "style", "axial", "spacing", "84 mm", "thread", "M8", "disc", "300 mm")
	caliper := made("caliper-mount", "style", "axial", "spacing", "84 mm", "hole", "8.4 mm", "disc", "300 mm")
	for _, tt := range []struct {
		name string
		m    Meeting
		want graph.Verdict
	}{
		{"as listed", Meeting{A: disc, B: hub, Bolts: []Side{bolt}}, yes},
		{"near miss: 8.8", Meeting{A: disc, B: hub, Bolts: []Side{bolt, bolt.with("class", "8.8")}}, no},
		{"both list, the other asks for more", Meeting{A: disc.with("bolt-class", "10.9"), B: hub.with("bolt-class", "8.8"),
			Bolts: []Side{bolt.with("class", "8.8")}}, no},
		{"both list the same", Meeting{A: disc.with("bolt-class", "10.9"), B: hub, Bolts: []Side{bolt}}, yes},
		{"class missing", Meeting{A: disc, B: hub, Bolts: []Side{bolt.with("class", "")}}, open},
		{"stainless where 10.9 was built in", Meeting{A: caliper, B: lug, Bolts: []Side{bolt.with("class", "A2-70")},
			Built: &Meeting{A: caliper, B: lug, Bolts: []Side{bolt}}}, no},
		{"as built in", Meeting{A: caliper, B: lug, Bolts: []Side{bolt}, Built: &Meeting{A: caliper, B: lug,
			Bolts: []Side{bolt}}}, yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if c := the(t, Judge(tt.m), "bolt class"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
	if _, ok := named(Judge(Meeting{A: disc, B: hub.with("bolt-class", ""), Bolts: []Side{bolt}}), "bolt class"); ok {
		t.Error("a class is judged that nobody lists")
	}
}
