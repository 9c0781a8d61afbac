package mating

import (
	"testing"

	"matewell/graph"
)

// Source: geometry; how much lean is right was found in no source.
func TestStands(t *testing.T) {
	side := made("stand", "form", "side", "length", "300 mm", "spread", "20 deg")
	centre := made("stand", "form", "centre", "length", "320 mm")
	pivot := made("stand-pivot", "height", "320 mm", "side", "120 mm")
	for _, tt := range []struct {
		name         string
		now, was     Side
		pivot        Side
		rise         float64
		want         graph.Verdict
		whatItSaysIs string
	}{
		{"as built", side, Side{}, pivot, 0, yes, "as built"},
		{"2 mm higher", side, Side{}, pivot, 2, yes, ""},
		{"20 mm higher leans more", side, Side{}, pivot, 20, open, "to be tried"},
		{"30 mm lower stands upright", side, Side{}, pivot, -34, no, "upright"},
		{"a stand 50 mm longer", side.with("length", "350 mm"), side, pivot, 0, no, ""},
		{"a stand 20 mm shorter", side.with("length", "280 mm"), side, pivot, 0, open, ""},
		{"spread not measured", side.with("spread", ""), Side{}, pivot, 0, open, ""},
		{"pivot not measured", side, Side{}, pivot.with("height", ""), 0, open, ""},
		{"a centre stand that lifts as high, for a side stand", centre, side.with("length", "320 mm"),
			pivot.with("height", "300 mm"), 0, no, "a centre stand where a side stand goes"},
		{"a side stand for a centre stand", side, centre, pivot, 0, no, "a side stand where a centre stand goes"},
		{"centre stand as built", centre, Side{}, pivot.with("height", "300 mm"), 0, yes, "lifts"},
		{"25 mm higher, no lift", centre, Side{}, pivot.with("height", "300 mm"), 25, no, "too short"},
		{"10 mm higher, less lift", centre, Side{}, pivot.with("height", "300 mm"), 10, open, ""},
		{"form not known", side.with("form", ""), Side{}, pivot, 0, open, ""},
		{"length not measured", centre.with("length", ""), Side{}, pivot, 0, open, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeStand(StandCase{Stand: tt.now, WasStand: tt.was, Pivot: tt.pivot, Rise: tt.rise})
			if Worst(got) != tt.want || !contains(got[0].Why,
				tt.whatItSaysIs) || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s with %q", brief(got), tt.want, tt.whatItSaysIs)
			}
		})
	}
}

// Source: geometry (R 300, 24 deg, 30 mm: trail 100.7; testdata of the formula in
// queries/trade); a 120/70-17 has a radius of 299.9 mm.
func TestRakeAndTrail(t *testing.T) {
	frame := made("frame-geometry", "head-angle", "24 deg", "wheelbase", "1400 mm")
	yoke, tyre := made("yoke-offset", "offset", "30 mm"), made("tyre", "size", "120/70-17")
	inch := made("tyre", "size", "3.25-19", "radius", "328 mm")
	leg, lead := made("fork-length", "length", "760 mm"), made("axle-lead", "lead", "10 mm")
	shock, link := made("fork-length", "length", "320 mm"), made("link-ratio", "ratio", "2.8")
	for _, tt := range []struct {
		name   string
		change func(*TrailCase)
		want   graph.Verdict
		says   string
	}{
		{"as built", func(*TrailCase) {}, yes, "trail 100.7 mm"},
		{"2 mm more offset", func(in *TrailCase) { in.Lower = yoke.with("offset", "32 mm") }, yes, ""},
		{"10 mm more offset", func(in *TrailCase) { in.Lower = yoke.with("offset", "40 mm") }, open, "trail 89.7 mm"},
		{"30 mm more offset", func(in *TrailCase) { in.Lower = yoke.with("offset", "60 mm") }, open,
			"outside what street machines have"},
		{"the wheel does not follow", func(in *TrailCase) { in.Lower = yoke.with("offset", "130 mm") }, no,
			"does not follow"},
		{"axle 10 mm before the tubes as built", func(in *TrailCase) { in.Lead, in.WasLead = lead, lead }, yes,
			"trail 89.7 mm"},
		{"axle 2 mm further", func(in *TrailCase) { in.Lead, in.WasLead = lead.with("lead", "12 mm"), lead }, yes, ""},
		{"axle in line, before the tubes as built", func(in *TrailCase) {
			in.Lead, in.WasLead = lead.with("lead", "0 mm"), lead
		}, open, "trail 100.7 mm"},
		{"lead missing", func(in *TrailCase) { in.Lead, in.WasLead = lead.with("lead", ""), lead }, open, ""},
		{"lead recorded of neither", func(in *TrailCase) {
			in.Lead, in.WasLead = lead.with("lead", ""), lead.with("lead", "")
		}, yes, "trail 100.7 mm"},
		{"offset missing", func(in *TrailCase) { in.Lower = yoke.with("offset", "") }, open, ""},
		{"fork 30 mm longer", func(in *TrailCase) { in.Fork, in.WasFork = leg.with("length", "790 mm"), leg }, open, ""},
		{"fork as built", func(in *TrailCase) { in.Fork, in.WasFork = leg, leg }, yes, ""},
		{"fork not measured", func(in *TrailCase) { in.Fork, in.WasFork = leg.with("length", ""), leg }, open, ""},
		{"bigger front tyre", func(in *TrailCase) { in.Tyre = tyre.with("size", "130/90-18") }, open, ""},
		{"inch tyre has no diameter", func(in *TrailCase) { in.Tyre = tyre.with("size", "3.00-18") }, open,
			"no aspect ratio"},
		{"inch tyre, its radius measured", func(in *TrailCase) { in.Tyre, in.WasTyre = inch, inch }, yes, "trail 113.2 mm"},
		{"the same with 10 mm more offset", func(in *TrailCase) {
			in.Tyre, in.WasTyre, in.Lower = inch, inch, yoke.with("offset", "40 mm")
		}, open, "trail 102.2 mm, 113.2 mm as built"},
		{"rear tyre as built", func(in *TrailCase) { in.RearTyre, in.WasRearTyre = tyre, tyre }, yes, ""},
		{"shock 10 mm longer", func(in *TrailCase) {
			in.Shock, in.WasShock, in.Link = shock.with("length", "330 mm"),
				shock, link
		}, open, ""},
		{"link not known", func(in *TrailCase) { in.Shock, in.WasShock = shock.with("length", "330 mm"), shock }, open, ""},
		{"shock as built, link not known", func(in *TrailCase) { in.Shock, in.WasShock = shock, shock }, yes, ""},
		{"tubes at 3 degrees", func(in *TrailCase) {
			in.Lower, in.Fork, in.WasFork = yoke.with("angle", "3 deg"), leg,
				leg
		}, open, "trail 57.1 mm"},
		{"tubes at 3 degrees, legs not measured", func(in *TrailCase) { in.Lower = yoke.with("angle", "3 deg") }, open, ""},
		{"tubes along the axis", func(in *TrailCase) { in.Lower = yoke.with("angle", "0 deg") }, yes, ""},
		{"another frame, alike", func(in *TrailCase) { in.WasFrame = frame }, yes, ""},
		{"another frame, 4 degrees flatter", func(in *TrailCase) {
			in.WasFrame, in.Frame = frame, frame.with("head-angle", "28 deg")
		}, open, "rake 28 deg, 24 deg as built"},
		{"another frame, within a protractor's reading", func(in *TrailCase) {
			in.WasFrame, in.Frame = frame, frame.with("head-angle", "24.3 deg")
		}, yes, ""},
		{"another frame, nobody knows its angle", func(in *TrailCase) {
			in.WasFrame, in.Frame = frame, frame.with("head-angle", "")
		}, open, ""},
		{"head angle missing", func(in *TrailCase) { in.Frame = frame.with("head-angle", "") }, open, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := TrailCase{Frame: frame, Lower: yoke, WasLower: yoke, Tyre: tyre, WasTyre: tyre}
			tt.change(&in)
			got := JudgeTrail(in)
			if Worst(got) != tt.want || !contains(got[0].Why, tt.says) || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s with %q", brief(got), tt.want, tt.says)
			}
		})
	}
}

// Source: levers.
func TestLinkRatios(t *testing.T) {
	shock, link := made("fork-length", "length", "320 mm"), made("link-ratio", "ratio", "2.8")
	for ratio, want := range map[string]graph.Verdict{"2.8": yes, "2.9": yes, "3.1": open, "": open} {
		got := JudgeShock(ShockCase{Now: shock, Was: shock, Link: link.with("ratio", ratio), WasLink: link})
		if c := the(t, got, "link ratio"); c.Verdict != want || want == open && len(c.Measure) == 0 {
			t.Errorf("ratio %q: %s (%s), want %s", ratio, c.Verdict, c.Why, want)
		}
	}
}

// Source: levers.
func TestRearShocks(t *testing.T) {
	shock, link := made("fork-length", "length", "320 mm", "travel", "60 mm"), made("link-ratio", "ratio", "2.8")
	for _, tt := range []struct {
		name string
		now  Side
		link Side
		rule string
		want graph.Verdict
	}{
		{"as built", shock, Side{}, "", yes},
		{"1 mm longer", shock.with("length", "321 mm"), link, "rear height", yes},
		{"5 mm longer", shock.with("length", "325 mm"), link, "rear height", open},
		{"5 mm longer, link not known", shock.with("length", "325 mm"), made("link-ratio"), "rear height", open},
		{"length missing", shock.with("length", ""), link, "rear height", open},
		{"more travel", shock.with("travel", "80 mm"), link, "rear travel", open},
		{"less travel", shock.with("travel", "40 mm"), link, "rear travel", open},
		{"travel missing", shock.with("travel", ""), link, "rear travel", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeShock(ShockCase{Now: tt.now, Was: shock, Link: tt.link})
			verdict := Worst(got)
			if tt.rule != "" {
				verdict = the(t, got, tt.rule).Verdict
			}
			if verdict != tt.want {
				t.Errorf("%s, want %s: %s", verdict, tt.want, brief(got))
			}
		})
	}
}

// A machine on another tyre of which nobody knows how high it has it stand is not as
// built, on whatever stand.
func TestStandOnAnUnknownTyre(t *testing.T) {
	side := made("stand", "form", "side", "length", "300 mm", "spread", "20 deg")
	pivot := made("stand-pivot", "height", "320 mm", "side", "120 mm")
	tyre := made("tyre", "size", "3.00-18")
	tyre.Part = "Brenko 300"
	for _, stand := range []Side{side, made("stand", "form", "centre", "length", "340 mm")} {
		if got := JudgeStand(StandCase{Stand: stand, Pivot: pivot}); Worst(got) != yes {
			t.Errorf("on its own tyres: %s", brief(got))
		}
		got := JudgeStand(StandCase{Stand: stand, Pivot: pivot, OnTyre: tyre})
		if Worst(got) != open || len(got[0].Measure) == 0 || got[0].Measure[0].Dim != "radius" {
			t.Errorf("on another tyre: %s", brief(got))
		}
	}
}
