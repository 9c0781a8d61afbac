package datademo_test

import (
	"math"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// hubsAgree checks that what each machine is built with inside its hubs is one
// row: both bearings and the distance tube make what the hub adds to the axle's
// row, and the tube is as long as the room between the shoulders.
func hubsAgree(t *testing.T, f graph.Facts) {
	parts := map[graph.PartID]graph.Part{}
	for _, p := range f.Parts {
		parts[p.ID] = p
	}
	at := map[graph.VariantID]map[string]graph.Part{} // by local position
	for _, fit := range f.Fitments {
		for _, v := range fit.On {
			if at[v] == nil {
				at[v] = map[string]graph.Part{}
			}
			at[v][fit.Position.Local()] = parts[fit.Part]
		}
	}
	checked := 0
	for v, built := range at {
		for _, end := range []string{"front-wheel/", "rear-wheel/"} {
			wheel, tube := built[end+"wheel"], built[end+"distance-tube"]
			between, ok := length(wheel, "hub", "between")
			long, okTube := length(tube, "row", "width")
			row, okRow := length(wheel, "row", "width")
			left, okLeft := length(built[end+"bearing-left"], "ring", "width")
			right, okRight := length(built[end+"bearing-right"], "ring", "width")
			if !ok || !okTube || !okRow || !okLeft || !okRight {
				t.Errorf("%s: nobody says what is inside the hub at %s", v, end)
				continue
			}
			checked++
			if long != between {
				t.Errorf("%s: %s in the hub of %s has %g mm between shoulders %g mm apart", v, tube.ID, wheel.ID, long, between)
			}
			if sum := left + long + right; math.Abs(sum-row) > widthsOff {
				t.Errorf("%s: bearings and tube make %g mm in %s, which adds %g mm", v, sum, wheel.ID, row)
			}
		}
	}
	if checked < 60 {
		t.Errorf("only %d hubs checked", checked)
	}
}

// widthsOff is what three widths, each read to 0.1 mm, may be off together.
const widthsOff = 0.3

// length is the first reading of a dimension in mm.
func length(p graph.Part, feature, dim string) (float64, bool) {
	f, _ := p.Feature(feature)
	readings := f.Dims[dim]
	if len(readings) == 0 {
		return 0, false
	}
	v, err := measure.Parse(readings[0].Text, measure.Length)
	return v.Quantity.Nominal, err == nil
}
