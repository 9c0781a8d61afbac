package bike_test

import (
	"cmp"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

const wheelAt = graph.PositionID("skerry-620:front-wheel/wheel")

// donorWheel is a bike on which the wheel of another model was found, that goes with nothing.
func donorWheel(found ...graph.Fitted) graph.Bike {
	return graph.Bike{ID: "own", Variant: "skerry-620/2003/eu/late",
		Found: sorted(append(found, graph.Fitted{Position: wheelAt, Part: "Tarnholt 205.7006"}))}
}

// sorted is what was found as the loader hands it over.
func sorted(found []graph.Fitted) []graph.Fitted {
	slices.SortFunc(found, func(a, b graph.Fitted) int { return cmp.Compare(a.Position, b.Position) })
	return found
}

func shopFor(t *testing.T, facts graph.Facts, b graph.Bike) bike.BikeShopAnswer {
	t.Helper()
	facts.Bikes = []graph.Bike{b}
	a, err := bike.BikeShop(t.Context(), readertest.New(facts), bike.BikeWorkQuestion{Name: string(b.ID)})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestWhatIsBoughtIsInPlace: a disc and a spacer that are missing beside a wheel which goes with
// nothing are judged with the book's wheel, which is on the list; where that lies in a box it is
// not bought. With a spacer planned for the found wheel, that stays.
func TestWhatIsBoughtIsInPlace(t *testing.T) {
	facts := demotest.Facts(t)
	const disc, spacer = graph.PositionID("skerry-620:front-brake/disc-left"),
		graph.PositionID("skerry-620:front-wheel/spacer-left")
	lacking := donorWheel(graph.Fitted{Position: disc}, graph.Fitted{Position: spacer})
	boxed, planned := lacking, donorWheel(graph.Fitted{Position: spacer})
	boxed.Boxes = []graph.Box{{Name: "one", Items: []graph.BoxItem{{Part: "Tarnholt 205.4001", Quantity: 1,
		Sure: graph.SureNumber}}}}
	planned.Planned = []graph.Fitted{{Position: spacer, Part: "Varnhegg 32-200.1"}}
	tests := []struct {
		name           string
		bike           graph.Bike
		bought, isFree bool
	}{
		{"bought", lacking, true, true},
		{"in a box", boxed, false, true},
		{"something is planned for it", planned, false, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := shopFor(t, facts, tt.bike)
			if len(a.OnIt) != 1 || a.OnIt[0].At[0] != wheelAt {
				t.Errorf("will not go: %+v", a.OnIt)
			}
			bought := slices.ContainsFunc(a.Rows, func(r shop.Row) bool {
				return slices.Contains(r.At, wheelAt) && slices.Contains(r.Why, shop.WhyNotGoing)
			})
			against := slices.ContainsFunc(a.NotReady, func(h swap.Hindrance) bool { return h.Verdict == graph.DoesNotFit })
			if bought != tt.bought || len(a.Refused) > 0 || against == tt.isFree {
				t.Errorf("the book's wheel bought %v, refused %+v, against it %+v", bought, a.Refused, a.NotReady)
			}
		})
	}
}

// TestBuiltWithWhatIsBought: what a machine is built from is judged with that on too, and the wheel
// that comes off is a step.
func TestBuiltWithWhatIsBought(t *testing.T) {
	facts := demotest.Facts(t)
	facts.Bikes = []graph.Bike{donorWheel(graph.Fitted{Position: "skerry-620:front-brake/disc-left"})}
	a, err := bike.BikeBuild(t.Context(), readertest.New(facts), bike.BikeWorkQuestion{Name: "own"})
	if err != nil {
		t.Fatal(err)
	}
	states := map[graph.PositionID]string{}
	for _, s := range a.Stages {
		for _, p := range s.Fit {
			states[p.Position] = p.State
			if p.Position == wheelAt && p.Why == "" {
				t.Error("nothing says what comes off")
			}
			if p.Position == wheelAt && !slices.Contains(p.MovesOver, "skerry-620:front-wheel/tyre") {
				t.Errorf("the tyre stays on the wheel that comes off: %v", p.MovesOver)
			}
		}
	}
	if states[wheelAt] != "to get" || states["skerry-620:front-brake/disc-left"] == bike.BuildRefuse {
		t.Errorf("states: %v", states)
	}
}

// TestAsIfItWereOn: a machine on which some parts of another model were found is told the same
// against riding, and the same is refused, as one on which the book's already sit in the place of
// those that go with nothing.
func TestAsIfItWereOn(t *testing.T) {
	facts := demotest.Facts(t)
	const on = graph.VariantID("skerry-620/2003/eu/late")
	kinds := map[graph.PartID]graph.KindID{}
	for _, p := range facts.Parts {
		kinds[p.ID] = p.Kind
	}
	foreign := map[graph.KindID][]graph.PartID{}
	for _, f := range facts.Fitments {
		if strings.HasPrefix(string(f.Position), "fjeld-750:") {
			foreign[kinds[f.Part]] = append(foreign[kinds[f.Part]], f.Part)
		}
	}
	var places []graph.Position
	for _, p := range facts.Positions {
		isFront := slices.Contains([]string{"front-wheel", "front-brake", "fork"}, p.Assembly.Local())
		if slices.Contains(p.On, on) && isFront && len(foreign[p.Kind]) > 0 {
			places = append(places, p)
		}
	}
	r, refused := rand.New(rand.NewSource(14)), 0
	for range sampletest.Of(t, 8, 60) {
		b := graph.Bike{ID: "own", Variant: on}
		for _, i := range r.Perm(len(places))[:1+r.Intn(3)] {
			parts := foreign[places[i].Kind]
			b.Found = append(b.Found, graph.Fitted{Position: places[i].ID, Part: parts[r.Intn(len(parts))]})
		}
		b.Found = sorted(b.Found)
		is := shopFor(t, facts, b)
		put := b
		put.Found = slices.DeleteFunc(slices.Clone(b.Found), func(f graph.Fitted) bool {
			return slices.ContainsFunc(is.OnIt, func(off shop.Refused) bool { return slices.Contains(off.At, f.Position) })
		})
		refused += len(is.OnIt)
		was := shopFor(t, facts, put)
		no := func(a bike.BikeShopAnswer) []swap.Hindrance {
			return slices.DeleteFunc(slices.Clone(a.NotReady),
				func(h swap.Hindrance) bool { return h.Verdict != graph.DoesNotFit })
		}
		if len(was.OnIt) > 0 || !slices.Equal(no(is), no(was)) || len(is.Refused) != len(was.Refused) {
			t.Errorf("%v\nas found %v, refused %v\nwith what is bought on %v, refused %v", b.Found, no(is), is.Refused, no(was),
				was.Refused)
		}
	}
	if refused == 0 {
		t.Error("nothing was refused: nothing was tried")
	}
}
