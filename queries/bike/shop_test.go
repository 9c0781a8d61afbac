package bike_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// TestNothingIsBothGotAndLeftOut: what will not go at a place is on the list for that
// place in no way, though it goes on new every time; the other pieces stay on it.
func TestNothingIsBothGotAndLeftOut(t *testing.T) {
	facts := demotest.Facts(t)
	const name = "box-find"
	on := facts.Bikes[slices.IndexFunc(facts.Bikes, func(b graph.Bike) bool { return b.ID == name })].Variant
	list := func(facts graph.Facts) shop.List {
		a, err := bike.BikeShop(t.Context(), readertest.New(facts), bike.BikeWorkQuestion{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		return a.List
	}
	before, planted := list(facts), facts
	planted.Findings = slices.Clone(facts.Findings)
	pieces := func(l shop.List, id graph.PartID) int {
		i := slices.IndexFunc(l.Rows, func(r shop.Row) bool { return r.Part == id })
		if i < 0 {
			return 0
		}
		return l.Rows[i].Quantity
	}
	for _, row := range before.Rows {
		if !slices.Contains(row.Why, shop.WhyRenew) {
			continue
		}
		planted.Findings = append(planted.Findings, graph.Finding{ID: graph.FindingID(fmt.Sprint("no-", row.Part)),
			Part: row.Part, Position: row.At[0], On: []graph.VariantID{on}, By: "jay", Verdict: graph.DoesNotFit,
			Method: graph.MethodFitted, Date: "2026-11-01"})
	}
	after, kept, gone := list(planted), 0, 0
	for _, out := range after.Refused {
		was, is := pieces(before, out.Part), pieces(after, out.Part)
		i := slices.IndexFunc(after.Rows, func(r shop.Row) bool { return r.Part == out.Part })
		if i < 0 {
			gone++
			continue
		}
		if kept++; is >= was {
			t.Errorf("%s: %d pieces, %d before it was refused at %s", out.Part, is, was, out.At)
		}
		for _, at := range out.At {
			if slices.Contains(after.Rows[i].At, at) {
				t.Errorf("%s is to be got for %s and will not go there", out.Part, at)
			}
		}
	}
	if kept == 0 || gone == 0 {
		t.Errorf("%d stay for other places, %d are off the list: nothing was tried", kept, gone)
	}
}

// TestMovedStandsAgainstRiding: with all of the list on, a machine whose handlebar hangs
// elsewhere than as built is not ready, and each of its lines that nobody measured since is
// named; the same machine with the bar where it was built has nothing against it.
func TestMovedStandsAgainstRiding(t *testing.T) {
	facts := demotest.Facts(t)
	const name = "box-find"
	facts.Bikes = slices.Clone(facts.Bikes)
	of := &facts.Bikes[slices.IndexFunc(facts.Bikes, func(b graph.Bike) bool { return b.ID == name })]
	ask := func() bike.BikeShopAnswer {
		a, err := bike.BikeShop(t.Context(), readertest.New(facts), bike.BikeWorkQuestion{Name: name})
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	a := ask()
	for _, line := range []string{"front-brake/hose-upper", "clutch/line", "controls/throttle-cable-open"} {
		named := slices.ContainsFunc(a.NotReady, func(n swap.Hindrance) bool { return strings.Contains(n.What, line) })
		if a.Ready || !named {
			t.Errorf("bar moved: ready %v, and nothing is said of %s: %v", a.Ready, line, a.NotReady)
		}
	}
	of.Moved = nil
	a = ask()
	for _, against := range a.NotReady {
		if strings.Contains(against.What, "line ") {
			t.Errorf("bar as built: %v", against)
		}
	}
}

// TestNothingIsGotForWhatDoesNotGo: for a caliper found on the machine that will not go
// there whatever is bought, no bracket or bolt is got; the book's own is.
func TestNothingIsGotForWhatDoesNotGo(t *testing.T) {
	facts := demotest.Facts(t)
	const name, at = "two-calipers", graph.PositionID("skerry-620:front-brake/caliper-right")
	facts.Bikes = append(slices.Clone(facts.Bikes), graph.Bike{ID: name, Variant: "skerry-620/2005/uk",
		Found: []graph.Fitted{{Position: at, Part: "Tarnholt 207.4419b"}}})
	a, err := bike.BikeShop(t.Context(), readertest.New(facts), bike.BikeWorkQuestion{Name: name})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.OnIt) != 1 || a.OnIt[0].At[0] != at {
		t.Fatalf("will not go: %+v", a.OnIt)
	}
	built := false
	for _, row := range a.Rows {
		if slices.Contains(row.At, at) {
			built = built || row.Part == "Tarnholt 207.4453"
			if !slices.Contains(row.Why, shop.WhyNotGoing) {
				t.Errorf("%s is got for %s: %v", row.Part, at, row.Why)
			}
		}
	}
	if made := slices.ContainsFunc(a.Made, func(m shop.Made) bool { return slices.Contains(m.At, at) }); made || !built {
		t.Errorf("made for it: %v; the book's caliper is on the list: %v", a.Made, built)
	}
}

// TestStandInWithWhatGoesWithIt: a part in a box that takes the place of the listed one
// with an adapter between counts, and only the adapter is got; nothing is got where that
// lies in a box too. Alone in its box, without a word that it goes with an adapter, it does not count.
func TestStandInWithWhatGoesWithIt(t *testing.T) {
	facts := demotest.Facts(t)
	const name, at = "regulator-gone", graph.PositionID("skerry-620s:electrics/regulator")
	const listed, later, adapter = graph.PartID("Tarnholt 401.4011"), graph.PartID("Tarnholt 401.4015"),
		graph.PartID("Pellumbra P.405.03")
	box := func(parts ...graph.PartID) []graph.Box {
		b := graph.Box{Name: "one"}
		for _, id := range parts {
			b.Items = append(b.Items, graph.BoxItem{Part: id, Quantity: 1, Sure: graph.SureNumber})
		}
		return []graph.Box{b}
	}
	tests := []struct {
		name    string
		boxes   []graph.Box
		alone   bool // the word says nothing of an adapter
		want    []graph.PartID
		surplus int
	}{
		{"neither is there", nil, false, []graph.PartID{adapter, later}, 0},
		{"the later part is there", box(later), false, []graph.PartID{adapter}, 0},
		{"both are there", box(later, adapter), false, nil, 0},
		{"nobody says that it goes with an adapter", box(later), true, []graph.PartID{listed}, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			own := facts
			own.Bikes = []graph.Bike{{ID: name, Variant: "skerry-620s/2002/uk", Boxes: tt.boxes,
				Found: []graph.Fitted{{Position: at}}}}
			if tt.alone {
				own.Supersessions = slices.Clone(facts.Supersessions)
				for i := range own.Supersessions {
					if own.Supersessions[i].New == later {
						own.Supersessions[i].Companions = nil
					}
				}
			}
			r := readertest.New(own)
			a, err := bike.BikeShop(t.Context(), r, bike.BikeWorkQuestion{Name: name})
			if err != nil {
				t.Fatal(err)
			}
			var got []graph.PartID
			for _, row := range a.Rows {
				got = append(got, row.Part)
			}
			for _, w := range a.Wanted {
				got = append(got, w.Part)
			}
			slices.Sort(got)
			if !slices.Equal(got, tt.want) {
				t.Errorf("to get %v, want %v", got, tt.want)
			}
			left, err := bike.BikeLeftover(t.Context(), r, bike.BikeLeftoverQuestion{Name: name})
			if err != nil || len(left.Rows) != tt.surplus {
				t.Errorf("left over: %v, %v; want %d", left.Rows, err, tt.surplus)
			}
		})
	}
}
