package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source, but for what a maker's book gives: preload, rate,
// pack.
func TestInnerParts(t *testing.T) {
	spring := made("spring", "outside", "34 mm", "length", "410 mm", "rate", "8.5 N/mm", "solid", "230 mm")
	leg := made("spring-room", "bore", "36 mm", "length", "395 mm", "preload", "12-18 mm", "travel", "140 mm", "rate",
		"8.5 N/mm")
	friction := made("friction-plate", "tabs", "12", "tab-width", "13.7 mm", "outside", "138 mm", "thickness", "3 mm",
		"bath", "wet")
	basket := made("clutch-basket", "slots", "12", "slot-width", "14 mm", "diameter", "139 mm", "bath", "wet")
	steel := made("steel-plate", "teeth", "42", "inside", "112 mm", "thickness", "2 mm")
	hub := made("clutch-hub", "teeth", "42", "root", "111.5 mm", "pack", "29-30 mm")
	rubber := made("cush-rubber", "pieces", "6", "width", "30 mm", "height", "32 mm", "length", "45 mm")
	bay := made("cush-bay", "pieces", "6", "width", "29 mm", "depth", "32 mm", "length", "45 mm")
	cap := made("cap", "form", "screwed", "thread", "M35x1", "length", "9 mm", "diameter", "36.4 mm")
	tube := made("cap-seat", "form", "screwed", "thread", "M35x1", "depth", "12 mm", "diameter", "36.5 mm")
	ring := made("cap", "form", "ringed", "diameter", "36.4 mm")
	ringed := made("cap-seat", "form", "ringed", "diameter", "36.5 mm")
	coil := spring
	coil.PartKind = "clutch-spring"
	runCases(t, []ruleCase{
		{"a spring of a clutch with too much preload: no spacer lies there", coil.with("length", "425 mm"), leg,
			"spring preload", no},
		{"one with too little", coil.with("length", "402 mm"), leg, "spring preload", no},
		{"near miss: one with what is wanted", coil, leg, "spring preload", yes},
		{"spring as built", spring, leg, "", yes},
		{"too thick for the tube", spring.with("outside", "36 mm"), leg, "spring in its bore", no},
		{"thin and loose", spring.with("outside", "28 mm"), leg, "spring in its bore", no},
		{"just free", spring.with("outside", "35.7 mm"), leg, "spring in its bore", yes},
		{"shorter than its room", spring.with("length", "390 mm"), leg, "spring preload", no},
		{"10 mm too long", spring.with("length", "425 mm"), leg, "spring preload", mod},
		{"5 mm too little preload", spring.with("length", "402 mm"), leg, "spring preload", mod},
		{"1 mm off the range", spring.with("length", "414 mm"), leg, "spring preload", yes},
		{"coils close", spring.with("solid", "260 mm"), leg, "spring preload", no},
		{"closed length not measured", spring.with("solid", ""), leg, "spring preload", open},
		{"neither closed length nor travel", spring.with("solid", ""), leg.with("travel", ""), "spring preload", yes},
		{"preload wanted not known", spring, leg.with("preload", ""), "spring preload", open},
		{"stiffer spring", spring.with("rate", "9.5 N/mm"), leg, "spring rate", open},
		{"graded spring", spring.with("rate", "8.8 N/mm"), leg, "spring rate", yes},
		{"rate not known", spring.with("rate", ""), leg, "spring rate", open},
		{"five springs for five", spring.with("pieces", "5"), leg.with("pieces", "5"), "springs of a set", yes},
		{"one spring for five", spring.with("pieces", "1"), leg.with("pieces", "5"), "springs of a set", no},
		{"four springs for five", spring.with("pieces", "4"), leg.with("pieces", "5"), "springs of a set", no},
		{"how many is not known", spring, leg.with("pieces", "5"), "springs of a set", open},
		{"how many it takes is not known", spring.with("pieces", "5"), leg, "springs of a set", open},
		{"friction plate as built", friction, basket, "", yes},
		{"six tabs in twelve slots", friction.with("tabs", "6"), basket, "", yes},
		{"ten tabs in twelve slots", friction.with("tabs", "10"), basket, "", no},
		{"tab wider than its slot", friction.with("tab-width", "14 mm"), basket, "", no},
		{"tab that hammers", friction.with("tab-width", "13 mm"), basket, "", no},
		{"too big for the basket", friction.with("outside", "140 mm"), basket, "", no},
		{"dry plate in oil", friction.with("bath", "dry"), basket, "", no},
		{"bath not known", friction.with("bath", ""), basket, "", open},
		{"steel plate as built", steel, hub, "", yes},
		{"one tooth less", steel.with("teeth", "41"), hub, "", no},
		{"too narrow inside", steel.with("inside", "111.5 mm"), hub, "", no},
		{"hangs loose", steel.with("inside", "114 mm"), hub, "", no},
		{"inside not measured", steel.with("inside", ""), hub, "", open},
		{"rubbers as built", rubber, bay, "", yes},
		{"five of six", rubber.with("pieces", "5"), bay, "", no},
		{"worn to looseness", rubber.with("width", "28 mm"), bay, "", no},
		{"just filling", rubber.with("width", "28.5 mm"), bay, "", yes},
		{"stand proud", rubber.with("height", "34 mm"), bay, "", no},
		{"height not measured", rubber.with("height", ""), bay, "", open},
		// A 35 mm fine thread never has 1 d of engagement, and needs none.
		{"cap as built", cap, tube, "", yes},
		{"five turns", cap.with("length", "5 mm"), tube, "", yes},
		{"four turns", cap.with("length", "4 mm"), tube, "", open},
		{"two turns", cap.with("length", "2 mm"), tube, "", no},
		{"two turns left in the tube", cap, tube.with("depth", "2 mm"), "", no},
		{"other pitch", cap.with("thread", "M35x1.5"), tube, "", no},
		{"seal does not reach", cap.with("diameter", "35 mm"), tube, "", no},
		{"thread not measured", cap.with("thread", ""), tube, "", open},
		{"pushed in and held by a ring", ring, ringed, "", yes},
		{"screwed into a ringed tube", cap, ringed, "", no},
		{"ringed, too thick", ring.with("diameter", "36.6 mm"), ringed, "", no},
		{"form not known", ring.with("form", ""), ringed, "", open},
	})
}

// The thickness of a pack is its hub's; that plates take turns is common
// practice, no source.
func TestClutchPack(t *testing.T) {
	friction := made("friction-plate", "thickness", "3 mm")
	steel := made("steel-plate", "thickness", "2 mm")
	spring := made("spring", "outside", "16 mm", "length", "40 mm", "rate", "20 N/mm")
	pack := []Side{friction, steel, friction, steel, friction}
	for _, tt := range []struct {
		name    string
		hub     string
		plates  []Side
		springs []Side
		want    graph.Verdict
	}{
		{"as built", "12.8-13.2 mm", pack, []Side{spring, spring}, yes},
		{"one plate thinner", "13.2-13.6 mm", pack, nil, no},
		{"too thick", "12-12.5 mm", pack, nil, no},
		{"two steel plates together", "12.8-13.2 mm", []Side{friction, steel, steel, friction, friction.with("thickness",
			"3 mm")}, nil, no},
		{"a plate not measured", "12.8-13.2 mm", []Side{friction, steel.with("thickness", ""), friction}, nil, open},
		{"pack not known", "", pack, nil, open},
		{"no plates said", "12.8-13.2 mm", nil, nil, open},
		{"a softer spring among them", "12.8-13.2 mm", pack, []Side{spring, spring.with("rate", "17 N/mm")}, no},
		{"a spring not measured", "12.8-13.2 mm", pack, []Side{spring, spring.with("rate", "")}, open},
		{"one spring known", "12.8-13.2 mm", pack, []Side{spring}, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgePack(PackCase{Hub: made("clutch-hub").with("pack", tt.hub), Plates: tt.plates, Springs: tt.springs})
			if Worst(got) != tt.want {
				t.Errorf("%s, want %s: %s", Worst(got), tt.want, brief(got))
			}
		})
	}
}

// Sources: ISO 606 and ISO 10190 for the sizes; a chain maker's guide for the
// strength of links; one make for riveted links is common practice, no source.
func TestLinksAndSprockets(t *testing.T) {
	chain := made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "6.35 mm", "links", "110",
		"make", "north 520 R")
	link := made("joining-link", "form", "riveted", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width",
		"6.35 mm", "make", "north 520 R")
	boss, seat := made("sprocket-boss", "form", "nut", "width", "12 mm"), made("sprocket-seat", "form", "nut", "width",
		"12.1 mm")
	tab := made("tab-washer", "inside", "20.5 mm", "key", "splines", "flat", "30 mm", "teeth", "13")
	nut := made("female-thread", "thread", "M20x1.5", "depth", "10 mm", "hole", "through", "material", "steel",
		"across-flats", "30 mm")
	shaft := made("spline", "teeth", "13", "major", "25 mm", "minor", "22 mm")
	runCases(t, []ruleCase{
		{"link of the chain's own make", link, chain, "", yes},
		{"riveted link of another make", link.with("make", "south 520"), chain, "", no},
		{"clip link of another make", link.with("form", "clip").with("make", "south 520"), chain, "", open},
		{"clip link, makes not said", link.with("form", "clip").with("make", ""), chain.with("make", ""), "", yes},
		{"riveted, make not said", link.with("make", ""), chain, "", open},
		{"cranked link", link.with("form", "cranked"), chain.with("links", "109"), "", open},
		{"link for 525", link.with("inner-width", "7.94 mm"), chain, "", no},
		{"pins 0.1 mm apart", link.with("pin", "5.2 mm"), chain.with("pin", "5.3 mm"), "", no},
		{"pins alike", link.with("pin", "5.2 mm"), chain.with("pin", "5.22 mm"), "", yes},
		{"form not known", link.with("form", ""), chain, "", open},
		{"sprocket held", boss, seat, "", yes},
		{"0.5 mm of play", boss.with("width", "11.6 mm"), seat, "", yes},
		{"0.6 mm of play", boss.with("width", "11.5 mm"), seat, "", no},
		{"too wide for its nut", boss.with("width", "13 mm"), seat, "", no},
		{"made for a circlip", boss.with("form", "circlip"), seat, "", no},
		{"width missing", boss.with("width", ""), seat, "", open},
		{"tab against its nut", tab, nut, "", yes},
		{"tab for the next nut", tab.with("flat", "32 mm"), nut, "", no},
		{"spanner size missing", tab, nut.with("across-flats", ""), "", open},
		{"tab washer on its splines", tab.with("inside", "22.2 mm"), shaft, "", yes},
		{"one spline more", tab.with("teeth", "14").with("inside", "22.2 mm"), shaft, "", no},
		{"too narrow for the roots", tab, shaft, "", no},
		{"nothing keeps it", tab.with("key", "none"), shaft, "", no},
		{"a tongue wants a slot", tab.with("key", "tongue").with("inside", "25.5 mm"), shaft, "", open},
		{"key not known", tab.with("key", ""), shaft, "", open},
	})
}

// Source: chain makers' guides: an even number; the axle by the formula of the
// chain handbooks (110 links on 15/45 put it at 630.44 mm).
func TestChainParity(t *testing.T) {
	in := func(links, room string) ChainCase {
		c := ChainCase{NoLine: true, Chain: made("chain", "pitch", "15.875 mm").with("links", links),
			Front: made("sprocket", "teeth", "15"), Rear: made("sprocket", "teeth", "45")}
		if room != "" {
			c.Centre = []graph.Reading{{Text: room}}
		}
		return c
	}
	for _, tt := range []struct {
		name, links, room string
		want              graph.Verdict
	}{
		{"even", "110", "620-640 mm", yes},
		{"odd, with one link out within", "111", "620-650 mm", mod},
		{"odd, with one link out too short", "111", "635-650 mm", no},
		{"odd, room not known", "111", "", no},
		{"links not counted", "", "620-640 mm", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := JudgeChain(in(tt.links, tt.room)); Worst(got) != tt.want {
				t.Errorf("%s, want %s: %s", Worst(got), tt.want, brief(got))
			}
		})
	}
}
