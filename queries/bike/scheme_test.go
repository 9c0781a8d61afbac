package bike_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// TestSchemeOfAMachine: painted parts are wanted in the colours that the owner noted, else
// in those that most of the painted pieces there have; what is there in them is used.
func TestSchemeOfAMachine(t *testing.T) {
	facts := demotest.Facts(t)
	const name, tank = "in-colours", graph.PositionID("skerry-620s:tank/tank")
	const kelp, ash, noseKelp, noseRust = graph.PartID("Tarnholt 301.4003/kp"), graph.PartID("Tarnholt 301.4003/as"),
		graph.PartID("Tarnholt 302.5010/kp"), graph.PartID("Tarnholt 302.5010/ru")
	tests := []struct {
		name   string
		noted  string
		boxes  []graph.PartID
		found  graph.PartID // the nose on the machine
		scheme bike.Scheme
		part   graph.PartID // wanted as tank
		short  int
	}{
		{"nothing tells", "", nil, "", bike.Scheme{Name: "ash", How: bike.SchemeFirst}, ash, 1},
		{"by what lies in a box", "", []graph.PartID{kelp}, "",
			bike.Scheme{Name: "kelp", How: bike.SchemeThere, By: []graph.PartID{kelp}}, kelp, 0},
		{"by what is on it", "", nil, noseKelp,
			bike.Scheme{Name: "kelp", How: bike.SchemeThere, By: []graph.PartID{noseKelp}}, kelp, 1},
		{"as many of two: what is on it", "", []graph.PartID{ash}, noseKelp,
			bike.Scheme{Name: "kelp", How: bike.SchemeThere, By: []graph.PartID{noseKelp}}, kelp, 1},
		{"the owner says another", "ash", []graph.PartID{kelp, noseKelp}, "",
			bike.Scheme{Name: "ash", How: bike.SchemeNoted}, ash, 1},
		{"of another year's colours nothing follows", "", []graph.PartID{"Tarnholt 302.4026/go"}, "",
			bike.Scheme{Name: "ash", How: bike.SchemeFirst}, ash, 1},
		{"most count", "", []graph.PartID{kelp, noseKelp}, noseRust,
			bike.Scheme{Name: "kelp", How: bike.SchemeThere, By: []graph.PartID{kelp, noseKelp}}, kelp, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			own := facts
			b := graph.Bike{ID: name, Variant: "skerry-620s/2002/uk", Scheme: tt.noted, Found: []graph.Fitted{{Position: tank}}}
			if tt.found != "" {
				b.Found = append([]graph.Fitted{{Position: "skerry-620s:bodywork/fairing-nose", Part: tt.found}}, b.Found...)
			}
			for _, id := range tt.boxes {
				b.Boxes = append(b.Boxes, graph.Box{Name: string(id), Items: []graph.BoxItem{{Part: id, Quantity: 1,
					Sure: graph.SureNumber}}})
			}
			own.Bikes = []graph.Bike{b}
			r := readertest.New(own)
			a, err := bike.BikeMissing(t.Context(), r, bike.BikeWorkQuestion{Name: name, Assembly: "tank"})
			if err != nil {
				t.Fatal(err)
			}
			if a.Colours.Name != tt.scheme.Name || a.Colours.How != tt.scheme.How || !slices.Equal(a.Colours.By, tt.scheme.By) {
				t.Errorf("taken to be %v, want %v", a.Colours, tt.scheme)
			}
			at := slices.IndexFunc(a.Rows, func(row bike.MissingRow) bool { return row.Position == tank })
			if at < 0 || a.Rows[at].Part != tt.part || a.Rows[at].Short != tt.short {
				t.Errorf("wanted: %v, want %d short of %s", a.Rows, tt.short, tt.part)
			}
			s, err := machine.NewSetup(t.Context(), r, queries.MachineQuestion{On: name}, "")
			if err != nil || s.Scheme != tt.scheme.Name {
				t.Errorf("in other questions: %q, %v", s.Scheme, err)
			}
		})
	}
}
