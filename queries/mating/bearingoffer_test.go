package mating

import (
	"strings"
	"testing"

	"matewell/graph"
)

// What is offered in a bearing's place must suit the seat and the shaft of this
// machine, a bearing that is asked for is judged as it is, and nothing comes off a
// spacer that is not there. Sizes: ISO 15 (6004 is 20 x 42 x 12 mm, 6203 17 x 40 x 12,
// 6302 15 x 42 x 13).
func TestBearingOffers(t *testing.T) {
	at := func(position string, s Side) Side {
		s.Position = graph.PositionID(position)
		return s
	}
	ring := at("m:wheel/bearing", made("bearing", "inside", "17 mm", "outside", "40 mm", "width", "12 mm", "form", "ball"))
	seat := func(diameter string) Side {
		return at("m:wheel/hub", made("bearing-seat", "diameter", diameter, "depth", "12 mm", "form", "ball"))
	}
	shaft := func(diameter string) Side { return at("m:wheel/axle", made("shaft", "diameter", diameter)) }
	tests := []struct {
		name  string
		m     Meeting
		want  graph.Verdict
		says  string // in what to do, or why
		order bool
	}{
		{"a hub and an axle of another size", Meeting{A: ring, B: seat("42 mm"), Across: shaft("20 mm"), New: "m:wheel/hub"},
			graph.FitsWithChanges, "fit a 6004", true},
		{"the same seen from the axle", Meeting{A: ring, B: shaft("20 mm"), Across: seat("42 mm"), New: "m:wheel/axle"},
			graph.FitsWithChanges, "fit a 6004", true},
		{"the axle as it was", Meeting{A: ring, B: seat("42 mm"), Across: shaft("17 mm"), New: "m:wheel/hub"},
			graph.FitsWithChanges, "turn a ring", true},
		{"the bearing itself is asked for", Meeting{A: ring, B: seat("42 mm"), Across: shaft("20 mm"),
			New: "m:wheel/bearing"}, graph.DoesNotFit, "its seat 42 mm", false},
		{"it is asked for with another hub", Meeting{A: ring, B: seat("42 mm"), Across: shaft("20 mm"), NewBearing: true},
			graph.DoesNotFit, "its seat 42 mm", false},
		{"and on its shaft", Meeting{A: ring, B: shaft("20 mm"), New: "m:wheel/bearing"}, graph.DoesNotFit,
			"the shaft 20 mm", false},
		{"wider, with a spacer beside it", Meeting{A: at("m:wheel/bearing", made("bearing", "inside", "20 mm", "outside",
			"42 mm", "width", "12 mm", "form", "ball")), B: shaft("15 mm"), Across: seat("42 mm"),
			Spacers: []Side{made("row-width", "width", "10 mm")}}, graph.FitsWithChanges, "take that off the spacer", true},
		{"wider, with no spacer beside it", Meeting{A: at("m:wheel/bearing", made("bearing", "inside", "20 mm", "outside",
			"42 mm", "width", "12 mm", "form", "ball")), B: shaft("15 mm"), Across: seat("42 mm"), Spacers: []Side{}},
			graph.DoesNotFit, "no spacer stands", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var checks []Check
			for _, c := range Judge(tt.m) {
				if c.Rule == "bearing in seat" || c.Rule == "bearing on shaft" {
					checks = append(checks, c)
				}
			}
			if len(checks) != 1 || checks[0].Verdict != tt.want ||
				!strings.Contains(checks[0].Why+" "+strings.Join(checks[0].Do, " "), tt.says) ||
				(len(checks[0].Orders) > 0) != tt.order {
				t.Errorf("%+v, want %s saying %q, order %v", checks, tt.want, tt.says, tt.order)
			}
		})
	}
}

// A bearing that stands as proud as the one built in is no fault, nor is a taper,
// whose inner ring always does; one that stands prouder is.
func TestBearingProud(t *testing.T) {
	ring := func(width, form string) Side {
		return made("bearing", "inside", "25 mm", "outside", "47 mm", "width", width, "form", form)
	}
	seat := func(form string) Side {
		return made("bearing-seat", "diameter", "47 mm", "depth", "12 mm", "form", form)
	}
	built := func(s Side, form string) *Meeting { return &Meeting{A: s, B: seat(form)} }
	deep := func(depth string) Meeting {
		return Meeting{A: ring("12 mm", "ball"), B: seat("ball").with("depth", depth), Built: built(ring("12 mm", "ball"),
			"ball")}
	}
	beside := func(seal string) Meeting {
		return Meeting{A: ring("14 mm", "ball"), B: seat("ball"), Built: built(ring("12 mm", "ball"), "ball"),
			SealSeat: made("seal-seat", "diameter", "47 mm", "depth", "5.5 mm"),
			Seal:     made("seal", "inside", "25 mm", "outside", "47 mm", "width", seal)}
	}
	tests := []struct {
		name string
		m    Meeting
		want graph.Verdict
	}{
		{"as built", Meeting{A: ring("15 mm", "ball"), B: seat("ball"), Built: built(ring("15 mm", "ball"), "ball")},
			graph.Fits},
		{"a millimetre prouder", Meeting{A: ring("16 mm", "ball"), B: seat("ball"), Built: built(ring("15 mm", "ball"),
			"ball")},
			graph.FitsWithChanges},
		{"prouder, and no spacer", Meeting{A: ring("16 mm", "ball"), B: seat("ball"), Built: built(ring("15 mm", "ball"),
			"ball"),
			Spacers: []Side{}}, graph.DoesNotFit},
		{"a taper nobody knows the like of", Meeting{A: ring("15 mm", "taper"), B: seat("taper")}, graph.Fits},
		{"a taper wider than the one built in", Meeting{A: ring("16 mm", "taper"), B: seat("taper"),
			Built: built(ring("15 mm", "taper"), "taper")}, graph.FitsWithChanges},
		{"a seat as deep as the one built", deep("12 mm"), graph.Fits},
		{"a seat 2 mm shallower", deep("10 mm"), graph.FitsWithChanges},
		{"a seat 4 mm shallower, that holds two thirds", deep("8 mm"), graph.Unknown},
		{"a seat 4 mm deeper", deep("16 mm"), graph.Unknown},
		{"near miss: a seat 1 mm deeper", deep("13 mm"), graph.Fits},
		{"into a seal's seat, which keeps room", beside("3 mm"), graph.FitsWithChanges},
		{"into a seal's seat, which then is too shallow", beside("5 mm"), graph.DoesNotFit},
		{"into a seal's seat that nobody measured", beside(""), graph.FitsWithChanges},
		{"near miss: 0.1 mm shallower", deep("11.9 mm"), graph.Fits},
		{"a seat nobody measured", deep(""), graph.Unknown},
		{"a ball nobody knows the like of", Meeting{A: ring("15 mm", "ball"), B: seat("ball")}, graph.FitsWithChanges},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, c := range Judge(tt.m) {
				if c.Rule == "bearing width" && c.Verdict != tt.want {
					t.Errorf("%s: %s, want %s", c.Verdict, c.Why, tt.want)
				}
			}
		})
	}
}

// Hub and bearing may agree with each other, and not with the seat of the seal that the
// bearing has to pass. Sizes are of ISO 15: 6302 is 42 mm outside, 6204 is 47 mm.
func TestBearingPastSeal(t *testing.T) {
	in := func(outside, opening string) Meeting {
		return Meeting{A: made("bearing", "inside", "15 mm", "outside", outside, "width", "13 mm", "form", "ball"),
			B:        made("bearing-seat", "diameter", outside, "depth", "13 mm", "form", "ball"),
			SealSeat: made("seal-seat", "diameter", opening, "depth", "7.5 mm")}
	}
	for _, tt := range []struct {
		name string
		m    Meeting
		want graph.Verdict
	}{
		{"as wide as the bearing", in("42 mm", "42 mm"), graph.Fits},
		{"a larger bearing", in("47 mm", "42 mm"), graph.DoesNotFit},
		{"near miss: read 0.1 mm smaller", in("42 mm", "41.9 mm"), graph.Fits},
		{"near miss: half a millimetre", in("42.5 mm", "42 mm"), graph.DoesNotFit},
		{"nobody measured the bearing", in("", "42 mm"), graph.Unknown},
		{"nobody measured the seal's seat", in("47 mm", ""), graph.Unknown},
		{"no seal outside it", Meeting{A: in("47 mm", "").A, B: in("47 mm", "").B}, graph.NoVerdict},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := graph.NoVerdict
			for _, c := range Judge(tt.m) {
				if c.Rule == "bearing past seal" {
					got = c.Verdict
				}
			}
			if got != tt.want {
				t.Errorf("%s, want %s", got, tt.want)
			}
		})
	}
}
