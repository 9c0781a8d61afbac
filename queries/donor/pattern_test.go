package donor_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
)

// begun is a machine that goes by some patterns, with a part nobody measured at every place.
func begun(t *testing.T, like ...string) bench {
	t.Helper()
	model := "source: vole-notes\nsources:\n  vole-notes: {kind: measurement, title: Vole, date: 2026-04}\n" +
		"brands:\n  Vole:\n" +
		"models:\n  vole-1:\n    maker: Vole\n    name: One\n    like: [" + strings.Join(like, ", ") + "]\n" +
		"    variants:\n      - {year: 1990, market: uk}\n"
	files := []txtar.File{{Name: "vole.yaml", Data: []byte(model)}}
	parts, fitments := "source: vole-notes\nparts:\n", "model,position,part,source\n"
	for i, p := range demotest.Story(t, &txtar.Archive{Files: files}).Positions {
		parts += fmt.Sprintf("  - {number: Vole %d, kind: %s}\n", i+1, p.Kind)
		fitments += fmt.Sprintf("vole-1,%s,Vole %d,vole-notes\n", p.ID.Local(), i+1)
	}
	files = append(files, txtar.File{Name: "parts.yaml", Data: []byte(parts)},
		txtar.File{Name: "fitments.csv", Data: []byte(fitments)})
	return benchOf(t, demotest.Story(t, &txtar.Archive{Files: files}), "vole-1/1990/uk")
}

func byChain(t *testing.T) bench {
	return begun(t, "road", "fork-conventional", "front-drum", "speedo-cable-drum", "rear-drum-chain", "chain",
		"shocks-twin", "cylinders-2", "carburettors-2", "air-cooled", "clutch-cable", "naked")
}

func bySpokes(t *testing.T) bench {
	return begun(t, "road", "fork-conventional", "front-drum", "speedo-cable-drum", "rear-drum-chain", "chain",
		"shocks-twin", "cylinders-2", "carburettors-2", "air-cooled", "clutch-cable", "naked", "wheels-spoked")
}

func byShaft(t *testing.T) bench {
	return begun(t, "road", "fork-conventional", "front-drum", "speedo-cable-drum", "rear-drum-shaft", "shaft",
		"shocks-twin", "cylinders-2", "carburettors-2", "air-cooled", "clutch-cable", "naked")
}

// stepOf is the number of the first step that does something at a place, from 1; 0 where none does.
func stepOf(steps []donor.WorkStep, at string, do ...string) int {
	return 1 + slices.IndexFunc(steps, func(s donor.WorkStep) bool {
		return s.Position.Local() == at && slices.Contains(do, s.Do)
	})
}

// said is the number of the first step of a sort whose text has some words, from 1.
func said(steps []donor.WorkStep, do, words string) int {
	return 1 + slices.IndexFunc(steps, func(s donor.WorkStep) bool {
		return s.Do == do && strings.Contains(s.Text, words)
	})
}

// workOn are the steps by which what sits at a place of a machine begun from patterns is replaced.
func workOn(t *testing.T, b bench, at string) []donor.WorkStep {
	t.Helper()
	steps, _ := b.replace(t, graph.PositionID("vole-1:"+at))
	return steps
}

// TestSprocketComesOffByItsNut: a front sprocket that goes by the patterns is held by its nut and tab
// washer, and these are out before it and new after. Common practice, no source.
func TestSprocketComesOffByItsNut(t *testing.T) {
	demotest.Alone(t)
	b := byChain(t)
	steps := workOn(t, b, "final-drive/sprocket-front")
	n := turnsOf(steps)
	for _, id := range []string{"final-drive/sprocket-nut", "final-drive/tab-washer"} {
		before(t, "off", n.off, id, "final-drive/sprocket-front")
		before(t, "on", n.on, "final-drive/sprocket-front", id)
	}
	if stepOf(steps, "final-drive/sprocket-nut", donor.DoTight) == 0 ||
		stepOf(steps, "final-drive/tab-washer", donor.DoSecure) == 0 {
		t.Errorf("the sprocket is not tightened and secured: %v", steps)
	}
	steps = workOn(t, b, "final-drive/slider")
	if stepOf(steps, "final-drive/sprocket-nut", donor.DoOff, donor.DoOut) > 0 {
		t.Errorf("a chain slider needs no sprocket off: %v", steps)
	}
}

// TestTapStaysOnItsTank: a tap is not unbolted under a tank that is only lifted, its hose is off
// before that is, and the tank is emptied before a tap comes out. Common practice, no source.
func TestTapStaysOnItsTank(t *testing.T) {
	demotest.Alone(t)
	b := byChain(t)
	steps := workOn(t, b, "carburettors/rack")
	for _, id := range []string{"tank/tap", "tank/tap-bolt", "tank/tap-o-ring"} {
		if stepOf(steps, id, donor.DoOff, donor.DoOut) > 0 {
			t.Errorf("%s comes off though its tank goes back: %v", id, steps)
		}
	}
	tank := stepOf(steps, "tank/tank", donor.DoOff)
	hose := stepOf(steps, "carburettors/fuel-hose", donor.DoOff, donor.DoFree)
	if tank == 0 || hose == 0 || hose > tank {
		t.Errorf("hose off in step %d, tank in step %d: %v", hose, tank, steps)
	}
	if said(steps, donor.DoDrain, "tap shut") == 0 {
		t.Errorf("tap not shut: %v", steps)
	}
	for _, id := range []string{"tank/tap", "tank/tap-bolt", "tank/tank"} {
		steps := workOn(t, b, id)
		n := turnsOf(steps)
		if empty := said(steps, donor.DoDrain, "emptied into a can"); empty == 0 || empty > n.firstOff() {
			t.Errorf("%s: the tank is not emptied first: %v", id, steps)
		}
	}
}

// TestShaftMachineKeepsItsWheel: with drive by shaft the rear axle stays in for what has nothing
// to do with it, and where the wheel comes off the machine is held up first. Common practice, no source.
func TestShaftMachineKeepsItsWheel(t *testing.T) {
	demotest.Alone(t)
	b := byShaft(t)
	for _, at := range []string{"controls/grip-left", "seat-tail/seat", "engine/oil-filter", "tank/tap", "fork/leg-left"} {
		if steps := workOn(t, b, at); stepOf(steps, "rear-wheel/axle", donor.DoOff) > 0 {
			t.Errorf("%s: rear axle out: %v", at, steps)
		}
	}
	for _, at := range []string{"rear-wheel/bearing-right", "rear-wheel/axle", "final-drive/box"} {
		steps := workOn(t, b, at)
		held, axle := stepOf(steps, "rear-wheel/wheel", donor.DoSupport), stepOf(steps, "rear-wheel/axle", donor.DoOff)
		isOff := at == "rear-wheel/axle" || stepOf(steps, "rear-wheel/wheel", donor.DoOff) > 0
		if held == 0 || axle == 0 || held > axle || !isOff {
			t.Errorf("%s: held up in step %d, axle out in step %d: %v", at, held, axle, steps)
		}
	}
}

// TestEachSumpIsDrainedByItself: work at the engine leaves the oil of the final drive box in, and
// work at the box has it out and in again. Common practice, no source.
func TestEachSumpIsDrainedByItself(t *testing.T) {
	demotest.Alone(t)
	b := byShaft(t)
	for at, box := range map[string]bool{"engine/oil-filter": false, "engine/drain-plug": false, "final-drive/box": true,
		"final-drive/drain-plug": true, "controls/grip-left": false} {
		steps := workOn(t, b, at)
		out, in := said(steps, donor.DoDrain, "final drive oil"), said(steps, donor.DoFill, "final drive oil")
		plug := stepOf(steps, "final-drive/drain-plug", donor.DoOff, donor.DoOut)
		isOut := out > 0 && in > out && plug > out
		if isOut != box || (plug > 0) != box {
			t.Errorf("%s: box drained in step %d, plug out in %d, filled in %d: %v", at, out, plug, in, steps)
		}
		isEngine := strings.HasPrefix(at, "engine/")
		if (said(steps, donor.DoFill, "engine oil") > 0) != isEngine ||
			(stepOf(steps, "engine/drain-plug", donor.DoOff, donor.DoOut) > 0) != isEngine {
			t.Errorf("%s: engine oil: %v", at, steps)
		}
	}
}

// begunAll are machines that between them go by most patterns.
func begunAll(t *testing.T) map[string]bench {
	return map[string]bench{"chain": byChain(t), "shaft": byShaft(t), "spoked": bySpokes(t),
		"shaft and discs": begun(t, "road", "fork-conventional", "front-discs-two", "speedo-cable", "rear-disc-shaft",
			"shaft", "shock-direct", "cylinders-3", "carburettors-3", "air-cooled", "clutch-cable", "naked", "wheels-cast"),
		"injection": begun(t, "road", "fork-upside-down", "front-discs-two", "speedo-sensor", "rear-disc-chain", "chain",
			"shock-single", "cylinders-4", "injection-4", "water-cooled", "clutch-hydraulic", "fairing", "wheels-cast"),
		"belt": begun(t, "road", "fork-conventional", "front-disc-one", "speed-sensor", "rear-disc-chain", "belt",
			"shocks-twin", "cylinders-2", "injection-2", "air-cooled", "clutch-cable", "naked", "wheels-cast")}
}

// TestWorkOnEachPlaceOfThePatterns: whatever is changed, an axle is drawn only for its wheel and with
// the machine held up, what is drained is filled again, a tank is emptied before it is opened, and
// a front sprocket or pulley comes off once its nut is. Common practice, no source.
func TestWorkOnEachPlaceOfThePatterns(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.OneIn(t, 12)
	for name, b := range begunAll(t) {
		for _, p := range b.places {
			at := p.ID.Local()
			if !share(name + " " + at) {
				continue
			}
			steps, _ := b.replace(t, p.ID)
			for _, wheel := range []string{"front-wheel", "rear-wheel"} {
				axle := stepOf(steps, wheel+"/axle", donor.DoOff)
				isFor := at == wheel+"/axle" || stepOf(steps, wheel+"/wheel", donor.DoOff) > 0
				held := stepOf(steps, wheel+"/wheel", donor.DoSupport)
				if axle > 0 && (!isFor || held == 0 || held > axle) {
					t.Errorf("%s, %s: %s held up in step %d, axle out in step %d", name, at, wheel, held, axle)
				}
			}
			for _, oil := range []string{"engine oil", "final drive oil", "fuel"} {
				if (said(steps, donor.DoDrain, oil) > 0) != (said(steps, donor.DoFill, oil) > 0) {
					t.Errorf("%s, %s: %s drained and not filled, or the other way round", name, at, oil)
				}
			}
			tap := max(stepOf(steps, "tank/tap-bolt", donor.DoOut), stepOf(steps, "tank/tap", donor.DoOff),
				stepOf(steps, "injection/pump-bolt", donor.DoOut), stepOf(steps, "injection/pump", donor.DoOff))
			if tap > 0 && said(steps, donor.DoDrain, "emptied into a can") == 0 {
				t.Errorf("%s, %s: tap or pump out in step %d of a tank that nobody emptied", name, at, tap)
			}
			if fault := aroundDrums(at, steps) + cmp.Or(legsHeld(steps), twice(steps)); fault != "" {
				t.Errorf("%s, %s: %s", name, at, fault)
			}
			for _, driven := range []string{"sprocket", "pulley"} {
				off := stepOf(steps, "final-drive/"+driven+"-front", donor.DoOff)
				nut := stepOf(steps, "final-drive/"+driven+"-nut", donor.DoOut)
				if off > 0 && (nut == 0 || nut > off) {
					t.Errorf("%s, %s: %s off in step %d, its nut in step %d", name, at, driven, off, nut)
				}
			}
		}
	}
}

// freed is the step that frees a place, whichever way: taken off, or only its end pulled off; 0 where none does.
func freed(steps []donor.WorkStep, at string) int {
	return stepOf(steps, at, donor.DoOff, donor.DoOut, donor.DoFree)
}

// aroundDrums says what still holds or works a brake plate when it leaves with its wheel, or is not set
// after it; empty for nothing. What is not on the machine holds nothing.
func aroundDrums(at string, steps []donor.WorkStep) string {
	for wheel, holds := range map[string][]string{
		"rear":  {"rear-brake/torque-rod-bolt", "rear-brake/rod"},
		"front": {"front-brake/cable", "instruments/speedo-cable"}} {
		out := stepOf(steps, wheel+"-wheel/wheel", donor.DoOff)
		if out == 0 || stepOf(steps, wheel+"-brake/plate", donor.DoOff) == 0 {
			continue
		}
		for _, id := range holds {
			if step := freed(steps, id); step == 0 || step > out && at != wheel+"-brake/plate" {
				return fmt.Sprintf("%s wheel off in step %d, %s freed in step %d; ", wheel, out, id, step)
			}
		}
		if said(steps, donor.DoAlign, "free play") == 0 {
			return wheel + " brake not set; "
		}
	}
	return ""
}

// legsHeld says which fork leg is on, or stays on, with its pinch bolts out while work goes on elsewhere.
func legsHeld(steps []donor.WorkStep) string {
	for _, side := range []string{"left", "right"} {
		off, on := stepOf(steps, "fork/leg-"+side, donor.DoOff), stepOf(steps, "fork/leg-"+side, donor.DoBack, donor.DoFit)
		out, in := stepOf(steps, "yokes/pinch-bolt-lower-"+side, donor.DoOut), stepOf(steps, "yokes/pinch-bolt-lower-"+side,
			donor.DoIn)
		if off > 0 && out > 0 && off-out > 4 || on > 0 && in > 0 && in-on > 4 {
			return fmt.Sprintf("lower pinch bolt %s out in step %d, leg off in %d, on in %d, bolt in in %d", side, out, off, on,
				in)
		}
	}
	return ""
}

// twice says which step is told twice in a row.
func twice(steps []donor.WorkStep) string {
	for i := range steps[:max(0, len(steps)-1)] {
		a, b := steps[i], steps[i+1]
		if a.Do == b.Do && a.Position == b.Position && a.Text == b.Text && a.Joint == b.Joint {
			return a.Do + " " + a.Position.Local() + " twice"
		}
	}
	return ""
}

// TestDrumLeavesFree: whatever has a wheel with a drum out, all that holds and works the brake plate is
// off before, and set again after. Common practice, no source.
func TestDrumLeavesFree(t *testing.T) {
	demotest.Alone(t)
	b := bySpokes(t)
	for _, at := range []string{"rear-wheel/tyre", "rear-wheel/bearing-right", "rear-brake/shoes",
		"rear-suspension/swingarm", "front-brake/shoes", "front-wheel/bearing-left", "fork/seal-left"} {
		steps := workOn(t, b, at)
		if fault := aroundDrums(at, steps); fault != "" {
			t.Errorf("%s: %s%v", at, fault, steps)
		}
	}
	if steps := workOn(t, b, "rear-brake/rod"); stepOf(steps, "rear-wheel/wheel", donor.DoOff) > 0 {
		t.Errorf("near miss: the rod alone needs no wheel out: %v", steps)
	}
}

// TestRimStaysLaced: a tyre or tube comes off a spoked wheel with the rim laced as it is, a new rim takes the
// tyre over. Common practice, no source.
func TestRimStaysLaced(t *testing.T) {
	demotest.Alone(t)
	b := bySpokes(t)
	for at, laced := range map[string]bool{"rear-wheel/tyre": true, "rear-wheel/tube": true, "front-wheel/tyre": true,
		"rear-wheel/rim": false} {
		steps := workOn(t, b, at)
		wheel, _, _ := strings.Cut(at, "/")
		if (stepOf(steps, wheel+"/spokes", donor.DoOff) == 0) != laced {
			t.Errorf("%s: spokes out or not: %v", at, steps)
		}
		tyre, tube := stepOf(steps, wheel+"/tyre", donor.DoOff), stepOf(steps, wheel+"/tube", donor.DoOff)
		if tyre == 0 || tube < tyre {
			t.Errorf("%s: tyre off in step %d, tube out in step %d: %v", at, tyre, tube, steps)
		}
	}
}

// TestShockAlone: one of two shocks comes off with the swingarm in, the machine held up. Common practice, no source.
func TestShockAlone(t *testing.T) {
	demotest.Alone(t)
	steps := workOn(t, bySpokes(t), "rear-suspension/shock-left")
	if stepOf(steps, "rear-wheel/wheel", donor.DoSupport) == 0 ||
		stepOf(steps, "rear-suspension/swingarm", donor.DoOff) > 0 ||
		stepOf(steps, "rear-suspension/shock-nut-lower-right", donor.DoOut) > 0 || len(steps) > 15 {
		t.Errorf("%d steps: %v", len(steps), steps)
	}
}

// TestForkSealComesOut: a conventional leg's oil seal comes out with gaiter and damper bolt off first, the washer
// under the head of that; a dust seal needs no damper bolt. Common practice, no source.
func TestForkSealComesOut(t *testing.T) {
	demotest.Alone(t)
	b := bySpokes(t)
	n := turnsOf(workOn(t, b, "fork/seal-left"))
	for _, id := range []string{"fork/gaiter-left", "fork/dust-seal-left", "fork/damper-bolt-left"} {
		before(t, "off", n.off, id, "fork/seal-left")
	}
	before(t, "on", n.on, "fork/damper-washer-left", "fork/damper-bolt-left")
	if n := turnsOf(workOn(t, b, "fork/dust-seal-left")); n.off["fork/damper-bolt-left"] > 0 {
		t.Error("near miss: a dust seal needs no damper bolt out")
	}
}

// TestBatteryGoesByItsEarth: a battery that is changed is off its earth lead first. Common practice, no source.
func TestBatteryGoesByItsEarth(t *testing.T) {
	demotest.Alone(t)
	steps := workOn(t, byChain(t), "electrics/battery")
	if said(steps, donor.DoPart, "earth lead first") != 1 || said(steps, donor.DoJoin, "earth lead last") != len(steps) {
		t.Errorf("earth lead: %v", steps)
	}
}
