package bike_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// inBoxes orders all the places of machines in pieces, on which only some assemblies are
// there.
func inBoxes(t *rapid.T, l *machine.Library, variants []graph.Variant) (assemble.Machine, assemble.Arranged) {
	variant := rapid.SampledFrom(variants).Draw(t, "variant")
	bike := graph.Bike{ID: "pieces", Variant: variant.ID, Apart: true}
	for _, a := range []string{"controls", "fork", "frame", "front-wheel", "rear-suspension", "rear-wheel", "yokes"} {
		if rapid.Bool().Draw(t, a+" is there") {
			id := graph.AssemblyID(string(variant.Model) + ":" + a)
			bike.Assemblies = append(bike.Assemblies, graph.AssemblyNote{Assembly: id, AsBuilt: true})
		}
	}
	s := machine.StartIn(l, variant, "")
	s.Bike, s.OnlyThere = &bike, true // what nobody noted is not there
	m, err := assemble.Read(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range m.Positions {
		m.Replaced = append(m.Replaced, p.ID)
	}
	return m, assemble.Together(m.Case)
}

// inTurn are places of which each goes on after those before it, by assembly. Common
// practice, no source: the engine hangs in the frame before pipes, carburettors and chain go on it; jets go
// into the rack on the bench; tank and battery come late; a nose before its screen, a panel before its
// decals; calipers are bolted on over the disc; what a wheel holds inside, then its tyre, the wheel, its axle; a
// bearing, then the seal over it; the clutch from the inside outward, its cover last, and so
// the front sprocket under its washer, nut and cover; a grip, then the weight and the bolt at the bar's end.
var inTurn = [][]string{
	{"rear-wheel/valve", "rear-wheel/tyre", "rear-wheel/wheel", "rear-wheel/axle", "rear-wheel/axle-nut"},
	{"rear-wheel/bearing-right", "rear-wheel/seal-right", "rear-wheel/wheel"},
	{"front-wheel/valve", "front-wheel/tyre", "front-wheel/wheel", "front-wheel/axle"},
	{"front-wheel/bearing-left", "front-wheel/seal-left", "front-wheel/wheel"},
	{"fork/seal-left", "fork/dust-seal-left"},
	{"clutch/hub", "clutch/plates", "clutch/springs", "clutch/spring-bolt", "clutch/cover", "clutch/cover-bolt"},
	{"clutch/cover-gasket", "clutch/cover"},
	{"exhaust/stud-1", "exhaust/header-1", "exhaust/nut-1"},
	{"exhaust/header-1", "exhaust/collector", "exhaust/silencer"},
	{"final-drive/sprocket-stud", "final-drive/sprocket-rear", "final-drive/sprocket-nut-rear"},
	{"final-drive/chain", "final-drive/chain-link"},
	{"fork/seal-left", "fork/spring-left", "fork/cap-left"},
	{"fork/dust-seal-left", "fork/cap-left"},
	{"carburettors/manifold-1", "carburettors/manifold-bolt-1", "carburettors/rack"},
	{"lamps/indicator-rear-left", "lamps/indicator-bulb-rear-left"},
	{"lamps/indicator-front-left", "lamps/indicator-nut-front-left"},
	{"cooling/thermostat", "cooling/hose-top"},
	{"footrests/rest-pin-left", "footrests/rest-circlip-left"},
	{"tank/tank-rubber", "tank/tank", "tank/tank-bolt"},
	{"controls/bar-cap", "controls/bar-clamp-bolt"},
	{"final-drive/sprocket-front", "final-drive/tab-washer", "final-drive/sprocket-nut", "final-drive/sprocket-cover"},
	{"final-drive/chain", "final-drive/sprocket-cover", "final-drive/sprocket-cover-bolt"},
	{"controls/grip-left", "controls/bar-weight-left", "controls/bar-weight-bolt-left"},
	{"controls/grip-right", "controls/bar-weight-right", "controls/bar-weight-bolt-right"},
	{"engine-mounts/plate-left", "engine-mounts/plate-bolt-left", "exhaust/header-1"},
	{"engine-mounts/engine-bolt-right", "carburettors/rack"},
	{"engine-mounts/rear-bolt", "engine-mounts/rear-nut", "final-drive/chain"},
	{"carburettors/jets", "carburettors/rack", "tank/tank", "electrics/battery", "bodywork/side-panel-left"},
	{"controls/throttle-cable-open", "tank/tank", "tank/decal-left"},
	{"electrics/horn", "electrics/battery", "electrics/battery-strap"},
	{"bodywork/fairing-stay", "lamps/headlamp", "bodywork/fairing-nose", "bodywork/screen", "bodywork/screen-screw"},
	{"seat-tail/tail", "seat-tail/tail-right"},
	{"clutch/pushrod", "clutch/release"},
	{"front-wheel/wheel", "front-wheel/axle", "front-brake/caliper-bolt-left"},
	{"front-wheel/axle", "front-brake/caliper-bolt-right"},
}

// A machine goes together in one order whether its parts are there or in boxes that
// nobody has opened: an empty place is ordered by the kind of what belongs there. Only
// the bolt at the end of a bar waits for the grip of its own side: not the other side's,
// and not a bolt that holds the bar.
func TestBoxesKeepTheOrder(t *testing.T) {
	sampletest.Checks(t, 30, 100)
	facts := demotest.Facts(t)
	l := machine.NewLibrary(readertest.New(facts))
	of := []graph.VariantID{"skerry-620/2004/eu", "skerry-620s/2004/eu"}
	variants := slices.DeleteFunc(slices.Clone(facts.Variants),
		func(v graph.Variant) bool { return !slices.Contains(of, v.ID) })
	rapid.Check(t, func(t *rapid.T) {
		m, got := inBoxes(t, l, variants)
		model := string(m.Positions[0].ID.Model())
		seen := 0
		for _, turn := range inTurn {
			last := -1
			for _, name := range turn {
				at := slices.Index(got.Order, graph.PositionID(model+":"+name))
				if at >= 0 && at < last {
					t.Errorf("%s goes on before what must come first: %v", name, turn)
				}
				if last = max(last, at); at >= 0 {
					seen++
				}
			}
		}
		for _, pair := range [][2]string{{"bar-weight-bolt-left", "grip-right"}, {"bar-weight-right", "grip-left"},
			{"bar-clamp-bolt", "grip-left"}, {"ignition-switch-bolt", "grip-right"}} {
			bolt, grip := model+":controls/"+pair[0], model+":controls/"+pair[1]
			if slices.Contains(got.Waits[graph.PositionID(bolt)], graph.PositionID(grip)) {
				t.Errorf("%s waits for %s", bolt, grip)
			}
		}
		battery, horn := graph.PositionID(model+":electrics/battery"), graph.PositionID(model+":electrics/horn")
		if slices.Contains(got.Waits[battery], horn) {
			t.Error("the battery can't be fitted without a horn") // it only comes later
		}
		if seen < 20 || len(m.Wheels) != 2 || m.Root == "" {
			t.Errorf("%d places, %d wheels, frame %q: this tells little", seen, len(m.Wheels), m.Root)
		}
	})
}

// The bolts of a caliper that hangs on its leg already go in once the wheel is in, and
// nothing comes off for what only follows in the order of building: a chain for an engine bolt.
func TestBoltsOfACaliperThatIsThere(t *testing.T) {
	facts := demotest.Facts(t)
	s, err := machine.NewSetup(context.Background(), readertest.New(facts),
		queries.MachineQuestion{On: "skerry-620s/2002/uk"}, "")
	if err != nil {
		t.Fatal(err)
	}
	m, err := assemble.Read(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range m.Positions {
		if p.ID != "skerry-620s:front-brake/caliper-left" {
			m.Replaced = append(m.Replaced, p.ID)
		}
	}
	order := assemble.Together(m.Case).Order
	bolt, axle := slices.Index(order, "skerry-620s:front-brake/caliper-bolt-left"),
		slices.Index(order, "skerry-620s:front-wheel/axle")
	if axle < 0 || bolt < axle {
		t.Errorf("caliper bolts are number %d, the axle number %d", bolt, axle)
	}
	m.Replaced = []graph.PositionID{"skerry-620s:engine-mounts/rear-bolt"}
	if off := assemble.Arrange(m.Case).Order; slices.Contains(off, "skerry-620s:final-drive/chain") {
		t.Errorf("for an engine bolt comes off %v", off)
	}
}

// What comes off to change a grip: the bolt and the weight at the end of the bar before
// it; and for the weight alone the bolt, while the grip stays.
func TestBarEndsComeOffFirst(t *testing.T) {
	facts := demotest.Facts(t)
	s, err := machine.NewSetup(context.Background(), readertest.New(facts),
		queries.MachineQuestion{On: "skerry-620/2004/eu"}, "")
	if err != nil {
		t.Fatal(err)
	}
	m, err := assemble.Read(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	const at = "skerry-620:controls/"
	for _, tt := range []struct {
		replaced graph.PositionID
		order    []graph.PositionID
	}{
		{at + "grip-left", []graph.PositionID{at + "grip-left", at + "bar-weight-left", at + "bar-weight-bolt-left"}},
		{at + "bar-weight-left", []graph.PositionID{at + "bar-weight-left", at + "bar-weight-bolt-left"}},
		{at + "bar-weight-bolt-left", []graph.PositionID{at + "bar-weight-bolt-left"}},
	} {
		m.Replaced = []graph.PositionID{tt.replaced}
		if got := assemble.Arrange(m.Case); !slices.Equal(got.Order, tt.order) {
			t.Errorf("%s: %v, want %v", tt.replaced, got.Order, tt.order)
		}
	}
}

// What sits in or on something that is neither there nor at hand can't be fitted today; once
// that lies in a box too, it can, or waits only for what is before it.
func TestNothingIsFittedOnNothing(t *testing.T) {
	facts := demotest.Facts(t)
	tests := []struct {
		place       graph.PositionID
		part, host  graph.PartID
		hosted, sat string // its state without the host, and with it
	}{
		{"skerry-620s:cooling/cap", "Tarnholt 106.4010", "Tarnholt 106.4004", bike.BuildWaits, bike.BuildToday},
		{"skerry-620s:carburettors/jets", "Tarnholt 103.4032", "Tarnholt 103.4005", bike.BuildWaits, bike.BuildToday},
		{"skerry-620s:exhaust/guard", "Tarnholt 105.4063", "", bike.BuildToday, ""},
	}
	state := func(tt graph.PositionID, parts ...graph.PartID) string {
		own := facts
		b := graph.Bike{ID: "heap", Variant: "skerry-620s/2002/uk", Apart: true, Assemblies: []graph.AssemblyNote{
			{Assembly: "skerry-620s:engine", AsBuilt: true}, {Assembly: "skerry-620s:frame", AsBuilt: true}}}
		for _, id := range parts {
			b.Boxes = append(b.Boxes, graph.Box{Name: string(id), Items: []graph.BoxItem{{Part: id, Quantity: 1,
				Sure: graph.SureNumber}}})
		}
		own.Bikes = []graph.Bike{b}
		a, err := bike.BikeBuild(t.Context(), readertest.New(own), bike.BikeWorkQuestion{Name: "heap"})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range a.Stages {
			for _, p := range s.Fit {
				if p.Position == tt {
					return p.State
				}
			}
		}
		return ""
	}
	for _, tt := range tests {
		if got := state(tt.place, tt.part); got != tt.hosted {
			t.Errorf("%s alone in a box: %q, want %q", tt.place, got, tt.hosted)
		}
		if tt.host == "" {
			continue
		}
		if got := state(tt.place, tt.part, tt.host); got != tt.sat {
			t.Errorf("%s with %s: %q, want %q", tt.place, tt.host, got, tt.sat)
		}
	}
}
