package mating

import (
	"testing"

	"matewell/graph"
)

// Sources: SAE J30, scope, for fuel hoses; the stretch of a hose is common
// practice, no source.
func TestHoseEnds(t *testing.T) {
	hose := made("hose-end", "bore", "6 mm", "outside", "12 mm", "for", "fuel")
	pipe := made("spigot", "diameter", "6.5 mm", "carries", "fuel")
	clamp := made("hose-clamp", "range", "11-14 mm")
	outlet := made("tank-outlet", "form", "threaded", "opening", "14 mm", "thread", "M22x1")
	tap := made("tap-inlet", "form", "threaded", "body", "12 mm", "thread", "M22x1")
	flange, bolted := made("tank-outlet", "form", "flange", "opening", "20 mm", "spacing", "34 mm"), made("tap-inlet",
		"form", "flange", "body", "18 mm", "spacing", "34 mm")
	runCases(t, []ruleCase{
		{"fuel hose as built", hose, pipe, "", yes},
		{"bore of its pipe", hose, pipe.with("diameter", "6 mm"), "", yes},
		{"wider than its pipe", hose.with("bore", "8 mm"), pipe, "hose on pipe", no},
		{"0.1 mm wider", hose.with("bore", "6.6 mm"), pipe, "hose on pipe", open},
		{"stretched by a quarter", hose, pipe.with("diameter", "8 mm"), "hose on pipe", open},
		{"does not go over it", hose, pipe.with("diameter", "12 mm"), "hose on pipe", no},
		{"bore not measured", hose.with("bore", ""), pipe, "hose on pipe", open},
		{"outside below its bore", hose.with("outside", "5 mm"), pipe, "hose on pipe", open},
		{"coolant hose on fuel", hose.with("for", "coolant, air"), pipe, "hose kind", no},
		{"fuel hose on injection", hose, pipe.with("carries", "fuel injection"), "hose kind", no},
		{"injection hose on fuel", hose.with("for", "SAE J30 R9"), pipe, "hose kind", yes},
		{"low pressure mark on fuel", hose.with("for", "SAE J30 R7"), pipe, "hose kind", yes},
		{"low pressure mark on injection", hose.with("for", "SAE J30 R7"), pipe.with("carries", "fuel injection"),
			"hose kind", no},
		{"reservoir hose", hose.with("for", "brake fluid"), pipe.with("carries", "brake fluid"), "hose kind", yes},
		{"fuel hose on a reservoir", hose, pipe.with("carries", "brake fluid"), "hose kind", no},
		{"kind not marked", hose.with("for", ""), pipe, "hose kind", open},
		{"two pipes", pipe, pipe, "", no},
		{"two hose ends", hose, hose, "", no},
		{"clamp whatever the pipe", clamp, hose.with("outside", "11.5 mm"), "", yes},
		{"clamp that never closes", clamp, hose.with("outside", "16 mm"), "", no},
		{"clamp that never grips", clamp.with("range", "20-30 mm"), hose, "", no},
		{"clamp, by its pipe", clamp.with("range", "11-12.2 mm"), hose, "", open},
		{"clamp not marked", clamp.with("range", ""), hose, "", open},
		{"tap as built", tap, outlet, "", yes},
		{"other pitch", tap.with("thread", "M22x1.5"), outlet, "", no},
		{"left-hand tap", tap.with("thread", "M22x1 LH"), outlet, "", no},
		{"does not enter", tap.with("body", "14 mm"), outlet, "", no},
		{"bolted tap", bolted, flange, "", yes},
		{"bolts 10 mm apart", bolted.with("spacing", "44 mm"), flange, "", no},
		{"bolted on a thread", bolted, outlet, "", no},
		{"thread not known", tap.with("thread", ""), outlet, "", open},
	})
}

// Source: equal area of the ring: a 6/12 hose on 7 mm is 12.53 mm outside (check
// value from pages on hose clamps, recomputed).
func TestHoseClamps(t *testing.T) {
	hose := made("hose-end", "bore", "6 mm", "outside", "12 mm")
	pipe := made("spigot", "diameter", "7 mm")
	for _, tt := range []struct {
		name        string
		clamp       string
		hose, pipe  Side
		withoutIt   bool
		want        graph.Verdict
		wantsNumber string
	}{
		{"in the middle of its range", "11-14 mm", hose, pipe, false, yes, "12.5 mm"},
		{"would do off the pipe", "11-12.3 mm", hose, pipe, false, no, "12.5 mm"},
		{"too big", "13-16 mm", hose, pipe, false, no, "12.5 mm"},
		{"hose not measured", "11-14 mm", hose.with("outside", ""), pipe, false, open, ""},
		{"pipe not measured", "11-14 mm", hose, pipe.with("diameter", ""), false, open, ""},
		{"range not known", "", hose, pipe, false, open, ""},
		{"no wall", "11-14 mm", hose.with("outside", "6 mm"), pipe, false, open, ""},
		{"no clamp said", "", hose, pipe, true, open, ""},
		{"at the limits", "11-12.6 mm", hose.with("outside", "12 mm ±0.3"), pipe, false, open, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := HoseEndCase{Hose: tt.hose, Pipe: tt.pipe, Clamp: made("hose-clamp").with("range", tt.clamp)}
			if tt.withoutIt {
				in.Clamp = Side{}
			}
			got := JudgeHoseEnd(in)
			if Worst(got) != tt.want || !contains(got[0].Wanted+got[0].Why,
				tt.wantsNumber) || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s with %q", brief(got), tt.want, tt.wantsNumber)
			}
		})
	}
}

func TestLineEnds(t *testing.T) {
	hose := made("hose", "length", "300 mm")
	end, pipe := made("hose-end", "bore", "6 mm"), made("spigot", "diameter", "6 mm")
	for _, tt := range []struct {
		name string
		ends []LineEnd
		want graph.Verdict
	}{
		{"both judged", []LineEnd{{end, pipe}, {end, pipe}}, yes},
		{"three judged", []LineEnd{{end, pipe}, {end, pipe}, {end, pipe}}, yes},
		{"one in no joint", []LineEnd{{end, pipe}, {End: end}}, open},
		{"one meets what no rule knows", []LineEnd{{end, pipe}, {end, made("tyre")}}, open},
		{"one end described", []LineEnd{{end, pipe}}, open},
		{"no end described", nil, open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeLineEnds(LineEndsCase{Line: hose, Ends: tt.ends})
			if Worst(got) != tt.want || got[0].Verdict == open && len(got[0].Measure) == 0 {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// One hole needs no spacing; what is read of one hole against two is their number. Geometry.
func TestOneHole(t *testing.T) {
	one := made("bolt-pattern", "count", "1", "hole", "12.5 mm")
	runCases(t, []ruleCase{
		{"one bolt from below", one, one, "", yes},
		{"two holes on one", one.with("count", "2").with("spacing", "40 mm"), one, "", no},
		{"two holes nobody measured", one.with("count", "2"), one.with("count", "2").with("spacing", "40 mm"), "", open},
	})
}

// The clips of a hose were chosen for its outside; a tap that is smaller than its opening enters, or is offered up.
// Common practice, no source.
func TestHoseOutside(t *testing.T) {
	hose, pipe := made("hose-end", "bore", "6 mm", "outside", "12 mm", "for", "fuel"), made("spigot", "diameter", "6.5 mm",
		"carries", "fuel")
	for _, tt := range []struct {
		name, outside string
		want          graph.Verdict
	}{
		{"as built", "12 mm", yes}, {"near miss: a millimetre more", "13 mm", yes}, {"far thicker", "20 mm", open},
	} {
		m := Meeting{A: hose.with("outside", tt.outside), B: pipe, Built: &Meeting{A: hose, B: pipe}}
		if c := the(t, Judge(m), "hose on pipe"); c.Verdict != tt.want {
			t.Errorf("%s: %s (%s), want %s", tt.name, c.Verdict, c.Why, tt.want)
		}
	}
	outlet := made("tank-outlet", "form", "threaded", "opening", "18 mm", "thread", "M22x1")
	tap := made("tap-inlet", "form", "threaded", "body", "17.4 mm", "thread", "M22x1")
	runCases(t, []ruleCase{
		{"a tap with room", tap, outlet, "", yes},
		{"near miss: a tenth smaller", tap.with("body", "17.9 mm"), outlet, "", open},
		{"as large", tap.with("body", "18 mm"), outlet, "", no},
	})
}
