package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source; that tubes must stand parallel is geometry.
func TestYokesAndStops(t *testing.T) {
	yoke := made("yoke-offset", "offset", "30 mm", "spacing", "206 mm")
	frame := made("steering-stop", "radius", "62 mm", "height", "12 mm", "angle", "50 deg")
	lug := made("steering-stop", "radius", "61 mm", "height", "12 mm", "angle", "15 deg")
	runCases(t, []ruleCase{
		{"yokes of one fork", yoke, yoke, "", yes},
		{"0.2 mm apart", yoke, yoke.with("offset", "30.2 mm"), "", yes},
		{"0.4 mm apart", yoke, yoke.with("offset", "30.4 mm"), "", no},
		{"5 mm more offset above", yoke, yoke.with("offset", "35 mm"), "", no},
		{"tubes wider apart", yoke, yoke.with("spacing", "212 mm"), "", no},
		{"angled tubes in one yoke", yoke.with("angle", "1 deg"), yoke.with("angle", "0 deg"), "", no},
		{"angle known of one yoke", yoke.with("angle", "1 deg"), yoke, "", open},
		{"offset missing", yoke.with("offset", ""), yoke, "", open},
		{"spacing missing", yoke, yoke.with("spacing", ""), "", open},
		{"spacing missing, offset wrong", yoke.with("offset", "40 mm"), yoke.with("spacing", ""), "", no},
		{"stops as built", frame, lug, "", yes},
		{"lug 3 mm further out", frame, lug.with("radius", "65 mm"), "", yes},
		{"lug passes the stop", frame, lug.with("radius", "80 mm"), "", no},
		{"lug passes under it", frame, lug.with("height", "24 mm"), "", no},
		{"no lock at all", frame, lug.with("angle", "50 deg"), "", no},
		{"angle missing", frame, lug.with("angle", ""), "", open},
	})
}

// Source: geometry; UK motorcycle inspection manual 2.1 for what must stay free;
// the 20 mm for a hand are common practice, no source. 35 degrees of lock and a
// grip 400 mm out at 70 degrees against a tank at 25: 400 x 10 deg = 69.8 mm.
func TestRoomAtFullLock(t *testing.T) {
	stop := func(angle string) Side {
		return made("steering-stop", "radius", "60 mm", "height", "12 mm", "angle", angle)
	}
	grip := made("swing", "radius", "400 mm", "angle", "70 deg", "height", "90 mm")
	tank := made("swing-room", "radius", "180 mm", "angle", "25 deg", "bottom", "-60 mm", "top", "120 mm")
	tests := []struct {
		name       string
		yoke       string
		grip, tank Side
		want       graph.Verdict
	}{
		{"as built", "15 deg", grip, tank, yes},
		{"lower bars strike the tank", "15 deg", grip.with("angle", "55 deg"), tank, no},
		{"a hand is squeezed", "15 deg", grip.with("angle", "62 deg"), tank, open},
		{"wider tank", "15 deg", grip, tank.with("angle", "40 deg"), no},
		{"more lock", "0 deg", grip, tank, no},
		{"over the tank", "15 deg", grip.with("height", "200 mm").with("angle", "40 deg"), tank, yes},
		{"inside the tank's reach", "15 deg", grip.with("radius", "120 mm").with("angle", "40 deg"), tank, yes},
		{"tank not measured", "15 deg", grip, tank.with("angle", ""), open},
		{"height of the grip missing", "15 deg", grip.with("height", ""), tank, open},
		{"lock not known", "", grip, tank, open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := LockCase{Frame: stop("50 deg"), Yoke: stop("").with("angle", tt.yoke), Swings: []Side{tt.grip},
				Rooms: []Side{tt.tank}}
			if got := JudgeLock(in); Worst(got) != tt.want {
				t.Errorf("%s, want %s: %s", Worst(got), tt.want, brief(got))
			}
		})
	}
	if got := JudgeLock(LockCase{Frame: stop("50 deg"),
		Yoke: stop("15 deg")}); Worst(got) != open || len(got[0].Measure) == 0 {
		t.Errorf("nothing known beside the bars: %s", brief(got))
	}
}

func TestLockAsBuilt(t *testing.T) {
	stop := func(angle string) Side {
		return made("steering-stop", "radius", "60 mm", "height", "12 mm").with("angle", angle)
	}
	for _, tt := range []struct {
		name, was, now string
		want           graph.Verdict
	}{
		{"as built", "15 deg", "15 deg", yes},
		{"half a degree", "15 deg", "15.5 deg", yes},
		{"5 degrees more lock", "15 deg", "10 deg", open},
		{"5 degrees less", "15 deg", "20 deg", open},
		{"not measured", "15 deg", "", open},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in := LockCase{Frame: stop("50 deg"), WasFrame: stop("50 deg"), Yoke: stop(tt.now), WasYoke: stop(tt.was)}
			if c := the(t, JudgeLock(in), "lock as built"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Common practice, no source.
func TestHand(t *testing.T) {
	header := made("hand", "hand", "left", "cylinder", "2")
	for _, tt := range []struct {
		name     string
		part     Side
		side     string
		cylinder int
		want     graph.Verdict
	}{
		{"left on the left", header, "left", 0, yes},
		{"left on the right", header, "right", 0, no},
		{"either side", header.with("hand", "either"), "right", 0, yes},
		{"front on the rear", header.with("hand", "front"), "rear", 0, no},
		{"front says nothing of left", header.with("hand", "front"), "left", 0, open},
		{"no side at the place", header, "", 0, yes},
		{"hand not known", header.with("hand", ""), "left", 0, open},
		{"cylinder 2 on 2", header, "left", 2, yes},
		{"cylinder 2 on 3, same side", header, "left", 3, no},
		{"cylinder not known", header.with("cylinder", ""), "left", 2, open},
		{"cylinder not known, wrong side", header.with("cylinder", ""), "right", 2, no},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeHand(HandCase{Part: tt.part, Side: tt.side, Cylinder: tt.cylinder})
			if len(got) != 1 || got[0].Verdict != tt.want {
				t.Errorf("%s, want %s", brief(got), tt.want)
			}
		})
	}
}

// Common practice, no source.
func TestLeftAgainstRight(t *testing.T) {
	spring := made("spring", "outside", "34 mm", "length", "410 mm", "rate", "8.5 N/mm")
	shock := made("fork-length", "length", "340 mm", "travel", "90 mm")
	damper := made("damping", "spring", "18 N/mm", "valving", "K2")
	oil := made("oil-fill", "level", "130 mm", "grade", "10 W")
	disc := made("disc-rim", "diameter", "300 mm", "thickness", "5 mm", "band", "34 mm", "offset", "3 mm")
	for _, tt := range []struct {
		name        string
		left, right Side
		want        graph.Verdict
	}{
		{"springs alike", spring, spring, yes},
		{"rates within grading", spring, spring.with("rate", "8.6 N/mm"), yes},
		{"rates a step apart", spring, spring.with("rate", "9 N/mm"), no},
		{"rate in other units", spring, spring.with("rate", "0.867 kgf/mm"), yes},
		{"a longer spring", spring, spring.with("length", "420 mm"), no},
		{"rate not known", spring, spring.with("rate", ""), open},
		{"rate known of neither", spring.with("rate", ""), spring.with("rate", ""), open},
		{"twin shocks", shock, shock, yes},
		{"one shock 10 mm longer", shock, shock.with("length", "350 mm"), no},
		{"travel known of one", shock, shock.with("travel", ""), open},
		{"travel known of neither", shock.with("travel", ""), shock.with("travel", ""), yes},
		{"shocks of one valving", damper, damper, yes},
		{"a stiffer spring on one shock", damper, damper.with("spring", "24 N/mm"), no},
		{"other valving", damper, damper.with("valving", "K3"), no},
		{"valving not known", damper, damper.with("valving", ""), open},
		{"oil alike", oil, oil, yes},
		{"oil 10 mm higher in one leg", oil, oil.with("level", "120 mm"), no},
		{"other oil in one leg", oil, oil.with("grade", "20 W"), no},
		{"level not measured", oil, oil.with("level", ""), open},
		{"discs alike", disc, disc, yes},
		{"thinner disc", disc, disc.with("thickness", "4.5 mm"), no},
		{"disc of another offset", disc, disc.with("offset", "5 mm"), no},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, in := range []PairCase{{Left: []Side{tt.left}, Right: []Side{tt.right}}, {Left: []Side{tt.right},
				Right: []Side{tt.left}}} {
				if c := the(t, JudgePair(in), "left and right"); c.Verdict != tt.want {
					t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
				}
			}
		})
	}
	if got := JudgePair(PairCase{Left: []Side{spring}}); Worst(got) != no {
		t.Errorf("a spring in one leg only: %s", brief(got))
	}
	if got := JudgePair(PairCase{Right: []Side{spring}}); Worst(got) != no {
		t.Errorf("a spring in the other leg only: %s", brief(got))
	}
	for lead, want := range map[string]graph.Verdict{"5 mm": yes, "6 mm": yes, "6.2 mm": no, "25 mm": no, "-5 mm": no,
		"": open} {
		in := PairCase{Left: []Side{made("axle-lead", "lead", "5 mm")}, Right: []Side{made("axle-lead").with("lead", lead)}}
		if c := the(t, JudgePair(in), "left and right"); c.Verdict != want {
			t.Errorf("a leg that leads 5 mm beside one of %q: %s (%s), want %s", lead, c.Verdict, c.Why, want)
		}
	}
	other := spring.with("rate", "12 N/mm")
	in := PairCase{Left: []Side{spring}, Right: []Side{other}, WasLeft: []Side{spring}, WasRight: []Side{other}}
	if got := JudgePair(in); Worst(got) != yes {
		t.Errorf("legs meant to be unlike: %s", brief(got))
	}
	if got := JudgePair(PairCase{Left: []Side{made("bore", "diameter", "10 mm")}, Right: []Side{made("bore",
		"diameter", "12 mm")}}); got != nil {
		t.Errorf("bores need not be alike: %s", brief(got))
	}
}

// A brake plate sits in the middle of the machine and has a hand all the same: its arm, cable stop
// and anchor are on one side. Common practice, no source.
func TestHandWithoutASide(t *testing.T) {
	hand := func(word string) Side { return made("hand", "hand", word) }
	for _, tt := range []struct {
		part, built string
		want        graph.Verdict
	}{
		{"left", "left", yes}, {"right", "left", no}, {"left", "right", no}, {"either", "left", yes},
		{"left", "either", open}, {"left", "", open}, {"", "left", open},
	} {
		got := JudgeHand(HandCase{Part: hand(tt.part), Built: hand(tt.built)})
		if len(got) != 1 || got[0].Verdict != tt.want {
			t.Errorf("%q for %q: %s, want %s", tt.part, tt.built, brief(got), tt.want)
		}
	}
}
