package graph_test

import (
	"testing"

	"matewell/graph"
)

// What is noted of a position goes before what is noted of its assembly. A
// machine in pieces notes nothing of a position by that alone.
func TestBikeAt(t *testing.T) {
	lever, hose, axle := graph.PositionID("holm:front-brake/lever"), graph.PositionID("holm:front-brake/hose"),
		graph.PositionID("holm:front-wheel/axle")
	found := []graph.Fitted{{Position: lever, Part: "Tarnholt 1"}}
	tests := []struct {
		name        string
		bike        graph.Bike
		at          graph.PositionID
		noted, both bool // noted at all, as built
		part        graph.PartID
	}{
		{"running, nothing noted", graph.Bike{Found: found}, hose, false, false, ""},
		{"running, a part noted", graph.Bike{Found: found}, lever, true, false, "Tarnholt 1"},
		{"in pieces, nothing noted", graph.Bike{Apart: true, Found: found}, hose, false, false, ""},
		{"in pieces, a part noted", graph.Bike{Apart: true, Found: found}, lever, true, false, "Tarnholt 1"},
		{"in pieces, its assembly as built", graph.Bike{Apart: true, Found: found,
			Assemblies: []graph.AssemblyNote{{Assembly: "holm:front-brake", AsBuilt: true}}}, hose, true, true, ""},
		{"in pieces, another assembly as built", graph.Bike{Apart: true,
			Assemblies: []graph.AssemblyNote{{Assembly: "holm:front-brake", AsBuilt: true}}}, axle, false, false, ""},
		{"running, its assembly missing", graph.Bike{Found: found,
			Assemblies: []graph.AssemblyNote{{Assembly: "holm:front-brake"}}}, hose, true, false, ""},
		{"running, its assembly missing but for this", graph.Bike{Found: found,
			Assemblies: []graph.AssemblyNote{{Assembly: "holm:front-brake"}}}, lever, true, false, "Tarnholt 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, noted := tt.bike.At(tt.at)
			if noted != tt.noted || got.AsBuilt != tt.both || got.Part != tt.part || got.Position != "" &&
				got.Position != tt.at {
				t.Errorf("At(%s) = %+v, %v; want noted %v, as built %v, part %q", tt.at, got, noted, tt.noted, tt.both, tt.part)
			}
		})
	}
}
