package loader_test

import (
	"errors"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// placesOfOne is a machine of somebody's own of which few places say a class: kinds of part
// that are everywhere, each beside something else.
const placesOfOne = `
source: notes
sources: {notes: {kind: measurement, title: Notes}}
brands: {Tarnholt: }
models:
  own:
    maker: Tarnholt
    name: Own
    variants: [{year: 1990, market: any}]
    assemblies:
      brake:
        positions:
          caliper: {kind: caliper}
          pads: {kind: brake-pads}
          seal: {kind: o-ring}
          told: {kind: o-ring, safety: none}
      stands:
        positions:
          stand: {kind: side-stand}
          switch: {kind: stand-switch}
          centre: {kind: centre-stand}
          spring: {kind: spring}
      frame:
        positions:
          frame: {kind: frame}
          clip: {kind: circlip}
          bearing: {kind: bearing}
      cooling:
        positions:
          radiator: {kind: radiator}
          cap: {kind: radiator-cap}
          ring: {kind: o-ring}
          bearing: {kind: bearing}
          bolt: {kind: bolt}
      bodywork:
        positions:
          mudguard: {kind: front-mudguard}
          panel-1: {kind: panel, index: 1}
          panel-2: {kind: panel, index: 2}
          ring: {kind: o-ring}
      wheel:
        positions:
          axle: {kind: axle}
      footrests:
        positions:
          gear-arm: {kind: gear-arm}
          gear-arm-bolt: {kind: bolt}
          rest: {kind: footrest}
          rest-bolt: {kind: bolt}
          plate: {kind: panel}
          plate-bolt: {kind: bolt}
          held-bolt: {kind: bolt}
      tank:
        positions:
          tank: {kind: fuel-tank}
          tank-collar: {kind: collar}
          tank-rubber-front: {kind: grommet}
    joints:
      bearing-on-axle: {a: cooling/bearing.ring, b: wheel/axle.shaft}
      plate-on-frame: {a: footrests/plate.points, b: frame/frame.side-points, bolts: [footrests/held-bolt]}
      bearing-in-frame: {a: frame/bearing.ring, b: frame/frame.head-seat-upper}
`

// TestPlacesAreClassedByWhatStandsBesideThem: a seal in a caliper has the class of the caliper,
// the spring of a stand that of the stand, although nobody wrote one. Common practice, no source.
func TestPlacesAreClassedByWhatStandsBesideThem(t *testing.T) {
	var probs diag.List
	facts, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(),
		{FS: fstest.MapFS{"own.yaml": {Data: []byte(placesOfOne)}}}}, &probs)
	if err := errors.Join(err, probs.Err()); err != nil {
		t.Fatal(err)
	}
	got := map[string]graph.Safety{}
	for _, p := range facts.Positions {
		got[p.ID.Local()] = p.Safety
	}
	for at, want := range map[string]graph.Safety{
		"brake/seal":              graph.SafetyBrake,
		"brake/told":              graph.SafetyNone, // somebody says so
		"stands/spring":           graph.SafetyFooting,
		"cooling/bearing":         graph.SafetyWheel, // by what it meets, wherever it stands in the list
		"cooling/ring":            graph.SafetyNone,  // as the radiator
		"cooling/bolt":            graph.SafetyNone,  // of what it holds, which its joint says
		"footrests/gear-arm-bolt": graph.SafetyDrive, // of what it is named after, since no joint has it
		"footrests/plate-bolt":    graph.SafetyNone,
		"footrests/held-bolt":     graph.SafetyNone, // near miss: of what it holds, which its joint says
		"tank/tank-collar":        graph.SafetyFuel,
		"tank/tank-rubber-front":  graph.SafetyFuel,
		"bodywork/ring":           graph.SafetyNone, // near miss: one of three has a class
		"frame/clip":              graph.SafetyNone, // near miss: all else hangs on the frame
		"frame/bearing":           graph.SafetyNone,
	} {
		if is, ok := got[at]; !ok || is != want {
			t.Errorf("%s is of class %q (known: %t), want %q", at, is, ok, want)
		}
	}
}
