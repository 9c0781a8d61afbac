package mating

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
)

// length draws a length in steps of 0.1 mm.
func length(t *rapid.T, name string, low, high int) float64 {
	return float64(rapid.IntRange(low*10, high*10).Draw(t, name)) / 10
}

// Mates as built have equal nominal sizes; whatever their tolerances, they fit.
func TestEqualSizesFit(t *testing.T) {
	pairs := []struct{ kindA, dimA, kindB, dimB, rule string }{
		{"shaft", "diameter", "bore", "diameter", "shaft in bore"},
		{"bearing", "inside", "shaft", "diameter", "bearing on shaft"},
		{"bearing", "outside", "bearing-seat", "diameter", "bearing in seat"},
		{"bearing", "width", "bearing-seat", "depth", "bearing width"},
		{"seal", "inside", "shaft", "diameter", "seal on shaft"},
		{"seal", "outside", "seal-seat", "diameter", "seal in seat"},
		{"clamp", "diameter", "tube", "diameter", "clamp on tube"},
		{"clamp", "length", "tube", "length", "grip length"},
		{"eye", "width", "clevis", "gap", "eye in clevis"},
		{"eye", "bore", "clevis", "bolt", "bolt in eye"},
		{"caliper-slot", "disc-thickness", "disc-rim", "thickness", "disc in slot"},
		{"caliper-slot", "pad-height", "disc-rim", "band", "pads on disc"},
		{"row-width", "width", "gap", "width", "row width"},
	}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(pairs).Draw(t, "pair")
		size := fmt.Sprintf("%.1f mm", length(t, "size", 1, 300))
		tolerance := func(name string) string {
			return rapid.SampledFrom([]string{"", " ±0.1", " +0/-0.05", " +0.2/-0"}).Draw(t, name)
		}
		m := Meeting{A: made(p.kindA, p.dimA, size+tolerance("a")), B: made(p.kindB, p.dimB, size+tolerance("b"))}
		if p.kindA == "seal" {
			m.A, m.B = m.A.with("width", "7 mm"), m.B.with("depth", "8 mm")
		}
		if c, _ := named(Judge(m), p.rule); c.Verdict != graph.Fits {
			t.Fatalf("%s of %s: %s (%s)", p.rule, size, c.Verdict, c.Why)
		}
	})
}

// The worst case of a row is never better than its nominal sizes say.
func TestWorstCaseOfARowIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, loose := StackCase{Centre: 2}, StackCase{Centre: 2}
		for i, name := range []string{"left", "hub", "right"} {
			size := fmt.Sprintf("%.1f mm", length(t, name, 15, 60))
			tolerance := rapid.SampledFrom([]string{"", " ±0.1", " ±0.3", " +0/-0.5"}).Draw(t, name+" tolerance")
			for _, c := range []struct {
				in   *StackCase
				text string
			}{{&in, size}, {&loose, size + tolerance}} {
				s := made("row-width", "width", c.text, "offset", "0.5 mm")
				s.Position = graph.PositionID("bench/" + name)
				c.in.Row = append(c.in.Row, Member{s, i != 1})
			}
		}
		gap := made("gap", "width", fmt.Sprintf("%.1f mm", length(t, "gap", 60, 160)))
		in.Within, loose.Within = gap, gap
		exact, worst := JudgeStack(in), JudgeStack(loose)
		for i := range exact {
			if worst[i].Verdict < exact[i].Verdict {
				t.Fatalf("%s with tolerances %s (%s), without %s (%s)", exact[i].Rule, worst[i].Verdict, worst[i].Why,
					exact[i].Verdict, exact[i].Why)
			}
		}
	})
}

// Spacers made as ordered fill the gap and bring the centre to the middle,
// within what a tenth of a millimetre on each leaves.
func TestOrderedSpacersFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		widths := []float64{length(t, "left", 0, 40), length(t, "hub", 60, 130), length(t, "right", 0, 40)}
		offset := length(t, "offset", -10, 10)
		in := StackCase{Within: made("gap", "width", "150 mm"), Centre: 2}
		build := func() {
			in.Row = nil
			for i, w := range widths {
				s := made("row-width", "width", mm(w), "offset", mm(offset))
				s.Position = graph.PositionID(fmt.Sprintf("bench/%d", i))
				in.Row = append(in.Row, Member{s, i != 1})
			}
		}
		build()
		checks := JudgeStack(in)
		ordered := false
		for _, c := range checks {
			for _, o := range c.Orders {
				at := map[string]int{"left spacer": 0, "right spacer": 2}[o.Spec[0].Value]
				if _, err := fmt.Sscanf(o.Spec[1].Value, "%g mm", &widths[at]); err != nil {
					t.Fatal(err)
				}
				ordered = true
			}
			for at, name := range map[int]string{0: "no left spacer", 2: "no right spacer"} {
				if len(c.Do) > 0 && contains(c.Do[0], name) {
					widths[at] = 0
				}
			}
		}
		if !ordered || Worst(checks) == graph.DoesNotFit {
			return
		}
		build()
		if after := JudgeStack(in); Worst(after) != graph.Fits {
			t.Fatalf("made as ordered: %+v\nbefore: %+v", after, checks)
		}
	})
}

// A longer line never pulls tauter, and a greater need never leaves more spare.
func TestRunsAreMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		judgeAt := func(line, need float64) Check {
			in := RunCase{Line: made("hose", "length", mm(line)), Needs: needs("", "", mm(need), "", "", "")}
			c, _ := named(JudgeRun(in), "run length")
			return c
		}
		line, need, more := length(t, "line", 300, 900), length(t, "need", 300, 900), length(t, "more", 0, 100)
		if taut(judgeAt(line+more, need)) && !taut(judgeAt(line, need)) {
			t.Fatalf("%g mm longer pulls taut", more)
		}
		if taut(judgeAt(line, need)) && !taut(judgeAt(line, need+more)) {
			t.Fatalf("a need %g mm greater no longer pulls taut", more)
		}
	})
}

func taut(c Check) bool { return c.Verdict == graph.DoesNotFit && contains(c.Why, "too short") }

// An end that moves never makes a line more certain to reach: the order is as
// much longer as the end moved, and what was taut before may only become
// unknown.
func TestMovedEndsWiden(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := [3]float64{length(t, "x", -80, 80), length(t, "y", -80, 80), length(t, "z", -80, 80)}
		at := func(k float64) Side { return made("place", "x", mm(k*d[0]), "y", mm(k*d[1]), "z", mm(k*d[2])) }
		in := RunCase{Line: made("hose", "length", mm(length(t, "line", 500, 800))),
			Needs: needs("610 mm", "", "590 mm", "", "640 mm", "")}
		still := JudgeRun(in)[0]
		in.Moves = []Move{{at(0), at(1)}}
		moved := JudgeRun(in)[0]
		if still.Verdict == graph.DoesNotFit && contains(still.Why, "too short") && moved.Verdict < graph.Unknown {
			t.Fatalf("taut before, %s after the end moved", moved.Verdict)
		}
		far := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		for _, o := range moved.Orders {
			var low float64
			if _, err := fmt.Sscanf(o.Spec[0].Value, "%g", &low); err != nil || low < 640+far+20-1e-6 {
				t.Fatalf("ordered %s for an end %g mm away (%v)", o.Spec[0].Value, far, err)
			}
		}
	})
}

// A shim is never ordered for a smaller disc, and is half the difference.
func TestShimsFollowTheDisc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		design, fitted := length(t, "design", 240, 340), length(t, "fitted", 240, 340)
		m := Meeting{A: made("caliper-mount", "style", "radial", "spacing", "108 mm", "hole", "10.5 mm", "disc", mm(design)),
			B:    made("caliper-mount", "style", "radial", "spacing", "108 mm", "thread", "M10x1.25", "disc", mm(design)),
			Disc: made("disc-rim", "diameter", mm(fitted))}
		c, _ := named(Judge(m), "caliper height")
		for _, o := range c.Orders {
			if o.Kind != "shim" {
				continue
			}
			var thick float64
			if _, err := fmt.Sscanf(o.Spec[1].Value, "%g mm", &thick); err != nil || fitted < design ||
				math.Abs(thick-(fitted-design)/2) > 0.051 {
				t.Fatalf("a shim of %s for %g on %g", o.Spec[1].Value, design, fitted)
			}
		}
		if fitted > design+1 && fitted <= design+20 && len(c.Orders) == 0 {
			t.Fatalf("no shim for %g on %g: %s", design, fitted, c.Why)
		}
	})
}

// No fluid that a member does not allow is ever offered, and one member more
// never offers more.
func TestFluidsOnlyShrink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var in FluidCase
		before := graph.Fits
		for i := range rapid.IntRange(1, 5).Draw(t, "members") {
			s := made("fluid", "allows", rapid.SampledFrom(pools["allows"]).Draw(t, "allows"))
			s.Position = graph.PositionID(fmt.Sprintf("bench/%d", i))
			in.Members = append(in.Members, s)
			c := JudgeFluid(in)[0]
			if c.Verdict < before {
				t.Fatalf("%s after %s", c.Verdict, before)
			}
			before = c.Verdict
		}
	})
}

// Assign never costs more than any other way to match.
func TestAssignIsCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "rows")
		m := rapid.IntRange(n, 5).Draw(t, "columns")
		cost := make([][]float64, n)
		for i := range cost {
			for range m {
				cost[i] = append(cost[i], float64(rapid.IntRange(0, 20).Draw(t, "cost")))
			}
		}
		got := 0.0
		for i, j := range Assign(cost) {
			got += cost[i][j]
		}
		if best := cheapest(cost, 0, map[int]bool{}); got != best {
			t.Fatalf("got %g, best %g", got, best)
		}
	})
}

func cheapest(cost [][]float64, row int, used map[int]bool) float64 {
	if row == len(cost) {
		return 0
	}
	best := math.Inf(1)
	for j, c := range cost[row] {
		if !used[j] {
			used[j] = true
			best = min(best, c+cheapest(cost, row+1, used))
			used[j] = false
		}
	}
	return best
}

// Whatever is written in a dimension, a rule gives an answer.
func TestNothingPanics(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		m := drawMeeting(t, r, sometimes(t))
		for _, side := range []*Side{&m.A, &m.B} {
			for dim := range side.Feature.Dims {
				if rapid.IntRange(0, 2).Draw(t, "spoil") == 0 {
					*side = side.with(dim, rapid.StringMatching(`[0-9a-zA-Z .,:;x/-]{0,12}`).Draw(t, dim))
				}
			}
		}
		if len(Judge(m)) == 0 {
			t.Fatal("no check at all")
		}
	})
}
