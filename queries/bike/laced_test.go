package bike

import (
	"slices"
	"testing"

	"matewell/graph"
)

// TestLacedWheel: a spoked wheel is wanted whole or in pieces, never both. Common
// practice, no source: a wheel is bought laced, or laced from the hub that is there.
func TestLacedWheel(t *testing.T) {
	place := func(local string, kind graph.KindID) graph.Position {
		return graph.Position{ID: graph.PositionID("m:" + local), Assembly: "m:front-wheel", Kind: kind}
	}
	cast := []graph.Position{place("front-wheel/wheel", "front-wheel"), place("front-wheel/axle", "axle")}
	if found := lacedOf(cast); len(found) > 0 {
		t.Errorf("a cast wheel is laced from %v", found)
	}
	all := append(cast, place("front-wheel/hub", "wheel-hub"), place("front-wheel/rim", "wheel-rim"),
		place("front-wheel/spokes", "spokes"))
	found := lacedOf(all)
	if len(found) != 1 || len(found[0].pieces) != 3 {
		t.Fatalf("laced wheels: %v", found)
	}
	of := func(names ...string) func(graph.PositionID) bool {
		return func(id graph.PositionID) bool { return slices.Contains(names, id.Local()) }
	}
	const wheel, hub, rim, spokes = "front-wheel/wheel", "front-wheel/hub", "front-wheel/rim", "front-wheel/spokes"
	for _, c := range []struct {
		name           string
		wanted, atHand func(graph.PositionID) bool
		drops          []string
	}{
		{"nothing is there", of(wheel, hub, rim, spokes), of(), []string{hub, rim, spokes}},
		{"the wheel is on", of(hub, rim, spokes), of(), []string{hub, rim, spokes}},
		{"the wheel lies in a box", of(wheel, hub, rim, spokes), of(wheel), []string{hub, rim, spokes}},
		{"the wheel and a hub lie in a box", of(wheel, hub, rim, spokes), of(wheel, hub), []string{hub, rim, spokes}},
		{"a hub lies in a box", of(wheel, hub, rim, spokes), of(hub), []string{wheel}},
		{"the hub is on", of(wheel, rim, spokes), of(), []string{wheel}},
		{"all pieces are on", of(wheel), of(), []string{wheel}},
	} {
		var got []string
		for _, id := range found[0].notWanted(c.wanted, c.atHand) {
			got = append(got, id.Local())
		}
		slices.Sort(c.drops)
		slices.Sort(got)
		if !slices.Equal(got, c.drops) {
			t.Errorf("%s: drops %v, wanted %v", c.name, got, c.drops)
		}
	}
}
