package mating

import (
	"testing"

	"matewell/graph"
)

// What a part does that no size of it tells is held against the one built in. Common practice, no source, but for the
// marks: UN R75 (TT) and suffixes of bearing catalogues, both from memory.
func TestAgainstWhatWasBuilt(t *testing.T) {
	outlet := made("tank-outlet", "form", "flange", "opening", "18 mm", "spacing", "34 mm")
	tap := made("tap-inlet", "form", "flange", "body", "17 mm", "spacing", "34 mm")
	seat := made("bearing-seat", "diameter", "42 mm", "depth", "13 mm", "form", "ball")
	ball := func(mark string) Side {
		return made("bearing", "inside", "15 mm", "outside", "42 mm", "width", "13 mm", "form", "ball", "designation", mark)
	}
	rim := made("rim", "diameter", "457.2 mm", "width", "54 mm")
	tyre := func(size string) Side { return made("tyre", "size", size) }
	bolt := made("male-thread", "thread", "M14x1.5", "length", "34 mm", "class", "8.8")
	leg := made("female-thread", "thread", "M14x1.5", "depth", "30 mm", "hole", "through", "material", "steel", "grip",
		"10 mm")
	cap := made("male-thread", "thread", "M33x1.5", "length", "13 mm")
	cap.PartKind = "fork-cap"
	tube := made("female-thread", "thread", "M33x1.5", "depth", "14 mm", "hole", "through", "material", "steel", "grip",
		"0 mm", "duty", "cap")
	for _, tt := range []struct {
		name     string
		now, was Meeting
		rule     string
		want     graph.Verdict
	}{
		{"a tap as built", Meeting{A: tap, B: outlet}, Meeting{A: tap, B: outlet}, "tap in tank", yes},
		{"near miss: 3 mm smaller", Meeting{A: tap.with("body", "15 mm"), B: outlet}, Meeting{A: tap, B: outlet},
			"tap in tank", yes},
		{"far too thin", Meeting{A: tap.with("body", "10 mm"), B: outlet}, Meeting{A: tap, B: outlet}, "tap in tank", open},
		{"an opening far too wide", Meeting{A: tap, B: outlet.with("opening", "24 mm")}, Meeting{A: tap, B: outlet},
			"tap in tank", open},
		{"an open bearing for a sealed one", Meeting{A: ball("6302"), B: seat}, Meeting{A: ball("6302-2RS"), B: seat},
			"bearing seals", open},
		{"a shielded one", Meeting{A: ball("6302-2Z"), B: seat}, Meeting{A: ball("6302-2RS"), B: seat}, "bearing seals",
			open},
		{"one sealed on one side", Meeting{A: ball("6302-RS"), B: seat}, Meeting{A: ball("6302-2RS"), B: seat},
			"bearing seals", open},
		{"a tyre that wants a tube", Meeting{A: tyre("100/90-18 57H TT"), B: rim}, Meeting{A: tyre("100/90-18 57H"), B: rim},
			"tyre on rim", open},
		{"as one was built in", Meeting{A: tyre("100/90-18 57H TT"), B: rim}, Meeting{A: tyre("100/90-18 56P TT"), B: rim},
			"tyre on rim", yes},
		{"near miss: without the mark", Meeting{A: tyre("100/90-18 57H TL"), B: rim}, Meeting{A: tyre("100/90-18 57H"),
			B: rim}, "tyre on rim", yes},
		{"a thread in steel", Meeting{A: bolt, B: leg}, Meeting{A: bolt, B: leg}, "thread engagement", yes},
		{"as much in aluminium", Meeting{A: bolt, B: leg.with("material", "aluminium")}, Meeting{A: bolt, B: leg},
			"thread engagement", open},
		{"a cap as built", Meeting{A: cap, B: tube}, Meeting{A: cap, B: tube}, "thread engagement", yes},
		{"near miss: 3 mm more", Meeting{A: cap.with("length", "16 mm"), B: tube}, Meeting{A: cap, B: tube},
			"thread engagement", yes},
		{"three times the thread", Meeting{A: cap.with("length", "39 mm"), B: tube}, Meeting{A: cap, B: tube},
			"thread engagement", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.now.Built, tt.now.WasBuilt = &tt.was, []Side{tt.was.A, tt.was.B}
			if c := the(t, Judge(tt.now), tt.rule); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
	m := Meeting{A: ball("6302 2RS1"), B: seat, Built: &Meeting{A: ball("6302-2RS"), B: seat}}
	for _, c := range Judge(m) {
		if c.Rule == "bearing seals" {
			t.Errorf("sealed as well, and asked about: %s", c.Why)
		}
	}
}

// Tyres of one build on a machine built with another; calipers with pistons on both sides where sliding ones were.
// Common practice, no source.
func TestOtherBuild(t *testing.T) {
	tyre := func(build string) Side { return made("tyre", "size", "100/90-18", "construction", build) }
	pair := func(now, was string) TyrePairCase {
		return TyrePairCase{Front: tyre(now), Rear: tyre(now), Built: []Side{tyre(was), tyre(was)}}
	}
	for name, tt := range map[string]struct {
		in   TyrePairCase
		want graph.Verdict
	}{
		"as built": {pair("diagonal", "diagonal"), yes}, "both to radial": {pair("radial", "diagonal"), open},
		"nobody knows what was on": {TyrePairCase{Front: tyre("radial"), Rear: tyre("radial")}, yes},
	} {
		if c := the(t, JudgeTyrePair(tt.in), "tyre construction"); c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", name, c.Verdict, c.Why, tt.want)
		}
	}
	brake := func(layout, sizes string) Leverage {
		return Leverage{Master: made("master-bore", "bore", "14 mm", "lever-ratio", "5"),
			Pistons: []Side{made("pistons", "layout", layout, "sizes", sizes)}}
	}
	sliding := brake("sliding", "2x 30 mm")
	if c := the(t, JudgeLeverage(LeverageCase{Before: sliding, After: brake("opposed", "4x 30 mm")}),
		"caliper to wheel"); c.Verdict != open {
		t.Errorf("opposed for sliding: %s", c.Verdict)
	}
	for _, c := range JudgeLeverage(LeverageCase{Before: sliding, After: sliding}) {
		if c.Rule == "caliper to wheel" {
			t.Errorf("as built, and asked about: %s", c.Why)
		}
	}
}

// A rim of tube type holds air with an inner tube alone; a tubeless one with or without.
// Common practice, no source.
func TestRimOfTubeType(t *testing.T) {
	tube := made("tyre", "size", "100/90-18")
	tube.PartKind = tubeKind
	for _, tt := range []struct {
		name, size, of string
		tube           Side
		want           graph.Verdict
	}{
		{"tube type with a tube", "100/90-18 57H", "tube type", tube, yes},
		{"with a tyre marked TL over it", "100/90-18 57H TL", "tube type", tube, yes},
		{"near miss: without a tube", "100/90-18 57H TL", "tube type", Side{}, open},
		{"tubeless without one", "100/90-18 57H TL", "tubeless", Side{}, yes},
		{"tubeless with one", "100/90-18 57H", "tubeless", tube, yes},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rim := made("rim", "diameter", "457.2 mm", "width", "54 mm", "type", tt.of)
			in := Meeting{A: made("tyre", "size", tt.size), B: rim, Tube: tt.tube}
			if c := the(t, Judge(in), "tube on its rim"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
	rim := made("rim", "diameter", "457.2 mm", "width", "54 mm")
	if checks := Judge(Meeting{A: made("tyre", "size", "100/90-18 57H"), B: rim}); len(checks) != 1 {
		t.Errorf("nobody said of which type the rim is, and it was judged: %v", checks)
	}
}
