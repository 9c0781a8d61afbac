package queries

import (
	"slices"

	"matewell/graph"
)

// Touched is what a piece of work has had apart or changed, as far as it says what
// to try afterwards.
type Touched struct {
	Safety []graph.Safety // classes of the places worked at
	Lines  bool           // a hose, cable or lead was moved, or what carries one
	Bars   bool           // bars, yokes or fork were
	Fluid  bool           // a brake or clutch line was opened
	Chain  bool
	Belt   bool // toothed, from engine to wheel
	Beam   bool // the headlamp
	Joints bool // something was screwed up
}

// ChecksAfter are what to try once the work is done, before anyone rides: only what
// applies to what was touched. Common practice, no source; they name no limit, which
// belong to the maker's manual.
func ChecksAfter(t Touched) []string {
	is := func(c graph.Safety) bool { return slices.Contains(t.Safety, c) }
	var checks []string
	add := func(when bool, texts ...string) {
		if when {
			checks = append(checks, texts...)
		}
	}
	add(t.Joints, "Every joint in the list above is tight; mark each as it is done, and have somebody read the list back.")
	add(t.Lines || t.Bars || is(graph.SafetySteering),
		"Bars to full lock, both ways, with the fork extended, then again with it compressed: nothing taut, nothing rubs "+
			"or is pinched, nothing touches tank or fairing.")
	add(is(graph.SafetySteering), "Steering turns freely over its whole range, without play when the fork is pushed "+
		"and pulled.")
	add(t.Fluid, "Lever or pedal firm at once, and firm after a minute held down hard; the fluid level has not sunk.",
		"Held down hard: no leak at any union, and none again after the first stop.")
	add(is(graph.SafetyBrake), "Pump each brake until the pads lie on the disc before the machine is moved at all.",
		"With the lever released the wheel turns freely.")
	add(is(graph.SafetyWheel), "Wheel turns freely without play; nothing touches it; spacers are where they belong; "+
		"axle and pinch bolts tightened in the maker's order.")
	add(t.Chain, "Chain line straight and slack right at its tightest place, rider aboard or "+
		"by the manual; the clip's closed end points the way the chain runs.")
	add(t.Belt, "Pulleys in line and tension right at its tightest place, by the maker's gauge; over several turns of "+
		"the wheel the belt stays clear of both flanges.")
	add(is(graph.SafetyDrive), "With the clutch pulled the rear wheel turns free in gear, each gear goes in, and no oil "+
		"shows anywhere after the engine has run.")
	add(is(graph.SafetyThrottle), "Throttle snaps shut by itself at every bar position, engine off; then running, bars "+
		"turned lock to lock: the engine speed does not change.")
	add(is(graph.SafetyFuel), "Fuel on, tank full: no leak, no smell, before the engine is started.")
	add(is(graph.SafetyWiring), "Fuse of the right rating in place; no lead lies against heat or moves when the bars "+
		"are turned.")
	add(is(graph.SafetyLights), "Every lamp, the brake lamp from each lever, and the horn work.")
	add(t.Beam, "Headlamp aim set afresh.")
	add(is(graph.SafetyFooting), "Each rest and the seat bear a rider's full weight without a move, machine held "+
		"upright; stands swing up by their own springs and stay up.")
	add(is(graph.SafetyBrake) || is(graph.SafetyWheel) || is(graph.SafetySteering) || is(graph.SafetyDrive),
		"First at walking pace, off the road: brakes, steering and drive tried several times.")
	add(t.Joints, "After the first short ride: look at every joint and union again.")
	return checks
}
