package mating

import (
	"fmt"
	"testing"

	"matewell/graph"
)

// Geometry; what a nipple takes up is common practice, no source.
func TestJudgeSpokes(t *testing.T) {
	holes := func(count int, circle string) Side {
		return made("bolt-pattern", "count", fmt.Sprint(count), "spacing", circle)
	}
	wire := made("spokes", "count", "36", "length", "18x 172 mm + 18x 174 mm", "thickness", "4 mm")
	flanges := made("spoke-flanges", "left", "32 mm", "right", "32 mm")
	built := SpokesCase{Wire: wire, HubEnd: holes(36, "120 mm"), RimEnd: holes(36, "470 mm"), Hub: holes(36, "120 mm"),
		Rim: holes(36, "470 mm"), Flanges: flanges}
	for _, tt := range []struct {
		name   string
		change func(*SpokesCase)
		want   graph.Verdict
	}{
		{"as built", func(*SpokesCase) {}, yes},
		{"near miss: 1 mm longer", func(in *SpokesCase) { in.Wire = wire.with("length", "18x 173 mm + 18x 175 mm") }, yes},
		{"1 mm shorter", func(in *SpokesCase) { in.Wire = wire.with("length", "18x 171 mm + 18x 173 mm") }, yes},
		{"2 mm longer in the same circles", func(in *SpokesCase) {
			in.Wire = wire.with("length", "18x 174 mm + 18x 176 mm")
		}, open},
		{"1.5 mm shorter in the same circles", func(in *SpokesCase) {
			in.Wire = wire.with("length", "18x 170.5 mm + 18x 172.5 mm")
		}, open},
		{"3 mm longer", func(in *SpokesCase) { in.Wire = wire.with("length", "18x 175 mm + 18x 177 mm") }, no},
		{"10 mm longer", func(in *SpokesCase) { in.Wire = wire.with("length", "18x 182 mm + 18x 184 mm") }, no},
		{"10 mm shorter", func(in *SpokesCase) { in.Wire = wire.with("length", "18x 162 mm + 18x 164 mm") }, no},
		{"a hub of another circle", func(in *SpokesCase) { in.Hub = holes(36, "160 mm") }, no},
		{"with spokes as much shorter", func(in *SpokesCase) {
			in.Hub, in.Wire = holes(36, "160 mm"), wire.with("length", "18x 153.5 mm + 18x 155.5 mm")
		}, yes},
		{"a rim of another circle", func(in *SpokesCase) { in.Rim = holes(36, "626 mm") }, no},
		{"spokes of one length for two", func(in *SpokesCase) { in.Wire = wire.with("length", "36x 173 mm") }, open},
		{"48 holes in the hub", func(in *SpokesCase) { in.Hub, in.HubEnd = holes(48, "120 mm"), holes(48, "120 mm") }, no},
		{"length missing", func(in *SpokesCase) { in.Wire = wire.with("length", "") }, open},
		{"circle missing", func(in *SpokesCase) { in.Rim = in.Rim.with("spacing", "") }, open},
		{"flange missing", func(in *SpokesCase) { in.Flanges = flanges.with("left", "") }, open},
		{"flanges 15 mm further to one side", func(in *SpokesCase) {
			in.Flanges = made("spoke-flanges", "left", "17 mm", "right", "47 mm")
		}, open},
		{"near miss: 2 mm", func(in *SpokesCase) {
			in.Flanges = made("spoke-flanges", "left", "30 mm", "right", "34 mm")
		}, yes},
		{"12 of one length and 24 of the other", func(in *SpokesCase) {
			in.Wire = wire.with("length", "12x 172 mm + 24x 174 mm")
		}, open},
		{"wire thicker than the holes of the hub", func(in *SpokesCase) {
			in.Hub = holes(36, "120 mm").with("hole", "3.7 mm")
		}, no},
		{"thinner wire", func(in *SpokesCase) { in.Wire = wire.with("thickness", "3.5 mm") }, open},
		{"near miss: thinner by what a caliper misreads", func(in *SpokesCase) {
			in.Wire = wire.with("thickness", "3.9 mm")
		}, yes},
		{"thicker wire in holes that take it", func(in *SpokesCase) {
			in.Wire, in.Hub = wire.with("thickness", "4.5 mm"), holes(36, "120 mm").with("hole", "4.8 mm")
		}, yes},
		{"wire loose in the holes of the hub", func(in *SpokesCase) {
			in.Hub = holes(36, "120 mm").with("hole", "5 mm")
		}, open},
		{"near miss: filling them", func(in *SpokesCase) { in.Hub = holes(36, "120 mm").with("hole", "4.7 mm") }, yes},
		{"near miss: as thick", func(in *SpokesCase) { in.Hub = holes(36, "120 mm").with("hole", "4 mm") }, yes},
		{"heads thicker than the holes", func(in *SpokesCase) {
			in.HubEnd, in.Hub = in.HubEnd.with("hole", "4.5 mm"), in.Hub.with("hole", "4.3 mm")
		}, no},
		{"nipples thicker than the holes of the rim", func(in *SpokesCase) {
			in.RimEnd, in.Rim = in.RimEnd.with("hole", "6.5 mm"), in.Rim.with("hole", "6.2 mm")
		}, no},
		{"number missing", func(in *SpokesCase) { in.Wire = wire.with("count", "") }, open},
	} {
		in := built
		in.Built = &built
		if tt.change(&in); Worst(JudgeSpokes(in)) != tt.want {
			t.Errorf("%s: %+v, want %s", tt.name, JudgeSpokes(in), tt.want)
		}
	}
	odd := built
	odd.Wire = wire.with("length", "18x 300 mm + 18x 302 mm")
	odd.Built = &SpokesCase{Wire: odd.Wire, HubEnd: built.HubEnd, RimEnd: built.RimEnd, Hub: built.Hub, Rim: built.Rim,
		Flanges: flanges}
	if c := the(t, JudgeSpokes(odd), "spoke length"); c.Verdict != open {
		t.Errorf("a length that no lacing gives: %s (%s)", c.Verdict, c.Why)
	}
}
