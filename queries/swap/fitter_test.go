package swap_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// fitterCase is a swap of the demonstration, as "place=part", and what one outcome of it
// must come to; want is NoVerdict where there must be none.
type fitterCase struct {
	name, on string
	swaps    []string
	outcome  string // "joint axle-in-left-leg"
	want     graph.Verdict
	says     string
}

func runFitter(t *testing.T, cases []fitterCase) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			a := swapped(t, r, tt.on, tt.swaps)
			var got graph.Verdict
			var why string
			for _, o := range slices.Concat(a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate) {
				if o.What+" "+queries.LocalName(o.ID) == tt.outcome {
					got, why = o.After, o.Why
				}
			}
			if got != tt.want || !strings.Contains(why, tt.says) {
				t.Errorf("%s: %s (%s), want %s, saying %q", tt.outcome, got, why, tt.want, tt.says)
			}
		})
	}
}

func swapped(t *testing.T, r graph.Reader, on string, swaps []string) swap.SwapAnswer {
	t.Helper()
	q := swap.SwapQuestion{On: on}
	for _, text := range swaps {
		place, part, _ := strings.Cut(text, "=")
		q.Swaps = append(q.Swaps, swap.Replacement{Position: place, Part: part})
	}
	a, err := swap.Swap(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The plates of pads lie in the guide of the caliper that holds them by their pin.
func TestPadsOfAnotherOutline(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	runFitter(t, []fitterCase{
		{"pads kept in a caliper for others", on, []string{"front-brake/caliper-left=Tarnholt 207.4452"},
			"joint pads-left-in-caliper", graph.DoesNotFit, "outline T-30 where T-32 goes"},
		{"with the pads of that caliper", on, []string{"front-brake/caliper-left=Tarnholt 207.4452",
			"front-brake/pads-left=Tarnholt 207.4047"}, "joint pads-left-in-caliper", graph.Fits, "outline T-32"},
		{"other pads in the caliper that stays", on, []string{"front-brake/pads-left=Tarnholt 207.4047"},
			"joint pads-left-in-caliper", graph.DoesNotFit, "outline T-32 where T-30 goes"},
		{"nothing of the brake changed", on, []string{"final-drive/chain=Tarnholt 209.7002"},
			"joint pads-left-in-caliper", graph.NoVerdict, ""},
	})
}

// Throats of a rack go into stubs that stand where the one built in had its own.
func TestRackOfAnotherSpacing(t *testing.T) {
	runFitter(t, []fitterCase{
		{"10 mm further apart", "skerry-620/2003/eu/late", []string{"carburettors/rack=Tarnholt 103.7002"},
			"joint throats-on-engine", graph.DoesNotFit, "150 mm against 140 mm"},
		{"of another year, as far apart", "skerry-620/2005/eu", []string{"carburettors/rack=Tarnholt 103.4005"},
			"joint throats-on-engine", graph.Fits, ""},
		{"with the stubs of that rack nobody knows", "skerry-620/2003/eu/late",
			[]string{"carburettors/rack=Tarnholt 103.7002", "carburettors/manifold-1=Tarnholt 103.7005",
				"carburettors/manifold-2=Tarnholt 103.7005"}, "throats carburettors/rack", graph.NoVerdict, ""},
	})
}

// left finds what was not judged of a dimension at a place.
func left(a swap.SwapAnswer, place, feature, dim string) (examine.NotJudged, bool) {
	i := slices.IndexFunc(a.NotJudged, func(n examine.NotJudged) bool {
		return n.Position.Local() == place && n.Feature == feature && n.Dim == dim
	})
	if i < 0 {
		return examine.NotJudged{}, false
	}
	return a.NotJudged[i], true
}

// A front end all of whose bores fit may still be lighter than the machine's own.
func TestThinnerAxleIsTold(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	thin := swapped(t, r, "skerry-620/2005/eu", []string{"front-wheel/axle=Tarnholt 205.4006"})
	if n, ok := left(thin, "front-wheel/axle", "shaft", "diameter"); !ok || !n.Decides || n.Safety != graph.SafetyWheel {
		t.Errorf("a thinner axle: %+v", n)
	}
	thick := swapped(t, r, "skerry-620/2003/eu/late", []string{"front-wheel/axle=Tarnholt 205.4009"})
	if n, ok := left(thick, "front-wheel/axle", "shaft", "diameter"); ok {
		t.Errorf("a thicker axle: %+v", n)
	}
}

// What came over from one machine together is joined as it was there; what reaches over
// to the machine is not.
func TestTakenWhole(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	leg := []string{"fork/leg-left=Tarnholt 203.7004", "fork/cap-left=Tarnholt 203.7020"}
	const on = "skerry-620/2003/eu/late"
	for _, tt := range []struct {
		name    string
		swaps   []string
		feature string
		place   string
		dim     string
		decides bool
	}{
		{"the cap alone", leg[1:], "thread", "fork/cap-left", "head", true},
		{"the cap with its leg", leg, "thread", "fork/cap-left", "head", false},
		{"the lug of that leg, with the machine's own caliper", leg, "caliper-thread", "fork/leg-left", "grip", true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			n, ok := left(swapped(t, r, on, tt.swaps), tt.place, tt.feature, tt.dim)
			if !ok || n.Decides != tt.decides || !tt.decides && !strings.Contains(n.Why, "as built on ") {
				t.Errorf("%v %+v", ok, n)
			}
		})
	}
}

// What a part does to something that nobody joined to it is open, whatever came over with
// it: a lever with its own perch still pulls the machine's own release.
func TestTakenWholeNoFurther(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	a := swapped(t, r, "skerry-620/2003/eu/late",
		[]string{"clutch/lever=Tarnholt 107.7004", "clutch/blade=Tarnholt 107.7010"})
	if n, ok := left(a, "clutch/blade", "knuckle", "reach"); !ok || !n.Decides {
		t.Errorf("%v %+v", ok, n)
	}
}

// wantGets checks what there is to get, each "place: what", against some that must be
// there and some that must not.
func wantGets(t *testing.T, a swap.SwapAnswer, must, mustNot []string) {
	t.Helper()
	var all []string
	for _, g := range a.Get {
		all = append(all, g.Position.Local()+": "+g.Text)
	}
	for _, want := range must {
		if !slices.ContainsFunc(all, func(s string) bool { return strings.HasPrefix(s, want) }) {
			t.Errorf("nothing to get is %q: %q", want, all)
		}
	}
	for _, not := range mustNot {
		if slices.ContainsFunc(all, func(s string) bool { return strings.HasPrefix(s, not) }) {
			t.Errorf("%q must not be among what to get: %q", not, all)
		}
	}
}

// A seal or banjo bolt that does not go is put right by the listed one, by its number;
// where none is listed, by one whose sizes suit both its sides.
func TestSealsAndBanjoBoltsByNumber(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	const on = "skerry-620/2003/eu/late"
	for _, tt := range []struct {
		name       string
		swap       string
		must, mayn []string
	}{
		{"seal of another fork", "fork/seal-left=Tarnholt 203.4015", []string{"fork/seal-left: Tarnholt 203."},
			[]string{"fork/leg-left: ", "fork/seal-left: shaft seal"}},
		{"seal of another wheel", "rear-wheel/seal-right=Tarnholt 206.7038",
			[]string{"rear-wheel/seal-right: Tarnholt 205.4045"}, []string{"rear-wheel/wheel", "rear-wheel/spacer-right"}},
		{"another wheel, whose seat no listed seal suits", "rear-wheel/wheel=Tarnholt 206.7001",
			[]string{"rear-wheel/seal-right: shaft seal 28 mm inside, 47 mm outside, 7 mm wide"},
			[]string{"rear-wheel/seal-right: Tarnholt", "rear-wheel/seal-right: wheel seal"}},
		{"banjo bolt of another pitch", "front-brake/banjo-bolt-left=Tarnholt 945.1251",
			[]string{"front-brake/banjo-bolt-left: Tarnholt 945.1001"}, []string{"front-brake/hose-left"}},
		{"the listed bolt", "front-brake/banjo-bolt-left=Tarnholt 945.1001", nil, []string{"front-brake/banjo-bolt-left"}},
	} {
		t.Run(tt.name, func(t *testing.T) { wantGets(t, swapped(t, r, on, []string{tt.swap}), tt.must, tt.mayn) })
	}
}

// What was ordered for a part that is replaced in the end is not ordered any more, and one
// thing is ordered in one size.
func TestNothingIsOrderedTwice(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	const on = "skerry-620/2003/eu/late"
	disc := swapped(t, r, on, []string{"front-brake/disc-left=Tarnholt 207.4060"})
	wantGets(t, disc,
		[]string{"fork/leg-left: 2 caliper spacers 2 mm", "front-brake/caliper-bolt-left: bolt M8x1.25, 37 mm"},
		[]string{"front-wheel/wheel: locating ring", "fork/leg-left: 2 caliper spacers 4 mm",
			"front-brake/caliper-bolt-left: bolt M8x1.25, 39 mm"})
	axle := swapped(t, r, on, []string{"rear-wheel/axle=Tarnholt 206.7011"})
	wantGets(t, axle, []string{"rear-wheel/spacer-right: Tarnholt 205.7020"},
		[]string{"rear-wheel/spacer-right: right spacer"})
}

// A panel on its points has its own class besides that of what is changed: a tank that a
// changed frame no longer carries is a matter of fuel.
func TestPanelKeepsItsClass(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	a := swapped(t, r, "skerry-620/2003/eu/late", []string{"frame/frame=Tarnholt 201.7003"})
	for _, o := range slices.Concat(a.DoesNotMate, a.WithChanges) {
		switch queries.LocalName(o.ID) {
		case "tank-on-frame":
			if !slices.Equal(o.Safety, []graph.Safety{graph.SafetySteering, graph.SafetyFuel}) {
				t.Errorf("the tank on its points: %v", o.Safety)
			}
		case "side-panel-left-on-frame":
			if !slices.Equal(o.Safety, []graph.Safety{graph.SafetySteering}) {
				t.Errorf("a panel without a class: %v", o.Safety)
			}
		}
	}
}

// A bearing or lining that does not go is put right by the one that belongs there, never by
// an axle or hub to suit it; and a list of what to get holds that one alone.
func TestWrongBearingIsPutRightByABearing(t *testing.T) {
	demo, single := once.New(readertest.New(demotest.Facts(t))), once.New(readertest.New(demotest.Single(t)))
	for _, tt := range []struct {
		name, on, swap string
		r              graph.Reader
		must, not      string
	}{
		{"bearing of the other axle", "skerry-620/2005/eu", "front-wheel/bearing-left=Tarnholt 205.4010", demo,
			"front-wheel/bearing-left: Tarnholt 205.4011", "front-wheel/axle"},
		{"bearing of the other wheel", "tern-125/1974/any", "rear-wheel/bearing-left=Brunmark 4115", single,
			"rear-wheel/bearing-left: Brunmark 4145", "rear-wheel/axle"},
		{"shoes of the other drum", "tern-125/1974/any", "rear-brake/shoes=Brunmark 4107", single,
			"rear-brake/shoes: Brunmark 4135", "rear-wheel/hub"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			wantGets(t, swapped(t, tt.r, tt.on, []string{tt.swap}), []string{tt.must}, []string{tt.not})
			place, part, _ := strings.Cut(tt.swap, "=")
			list, err := donor.ShopSwap(t.Context(), tt.r, swap.SwapQuestion{On: tt.on,
				Swaps: []swap.Replacement{{Position: place, Part: part}}})
			if err != nil {
				t.Fatal(err)
			}
			if slices.ContainsFunc(list.Rows, func(row shop.Row) bool { return string(row.Part) == part }) {
				t.Errorf("%s is on the list: %+v", part, list.Rows)
			}
		})
	}
}

// A narrower bearing of the same bore and outside is put right by the listed one, and
// nothing is made for each of what it leaves loose.
func TestNarrowerBearing(t *testing.T) {
	facts := demotest.Facts(t)
	ring := map[string][]graph.Reading{}
	for dim, text := range map[string]string{"inside": "20 mm", "outside": "42 mm", "width": "8 mm", "form": "ball",
		"designation": "16004-2RS"} { // ISO 15, from memory; sealed as the one built in
		ring[dim] = []graph.Reading{{Text: text}}
	}
	facts.Parts = append(slices.Clone(facts.Parts), graph.Part{ID: "Ostrabeck 16004", Brand: "Ostrabeck",
		Number: graph.Number{Core: "16004"}, Kind: "bearing",
		Features: []graph.Feature{{Name: "ring", Kind: "bearing", Dims: ring}}})
	a := swapped(t, once.New(readertest.New(facts)), "fjeld-750/2004/eu",
		[]string{"front-wheel/bearing-left=Ostrabeck 16004"})
	wantGets(t, a, []string{"front-wheel/bearing-left: Tarnholt 205.7014"}, []string{"front-wheel/spacer",
		"front-wheel/wheel", "front-wheel/distance-tube"})
	if a.Verdict == graph.Fits {
		t.Error("a bearing 4 mm narrower fits as it is")
	}
}

// A washer under a plug is held against the thread that it leaves the plug.
func TestWasherUnderTheDrainPlug(t *testing.T) {
	runFitter(t, []fitterCase{
		{"another washer alone", "skerry-620/2003/eu/late", []string{"engine/drain-washer=Tarnholt 924.1218"},
			"joint drain-plug-thread", graph.Fits, ""},
		{"one for a thicker plug, as thick as the old one", "fjeld-750/2004/eu",
			[]string{"engine/drain-washer=Tarnholt 925.1420"}, "joint drain-plug-thread", graph.DoesNotFit, "too wide"},
	})
}

// thicker are the facts of the demonstration with another washer of a kind among the parts.
func thicker(t *testing.T, kind graph.KindID, inside, thickness string) graph.Facts {
	t.Helper()
	ring := map[string][]graph.Reading{}
	for dim, text := range map[string]string{"inside": inside, "outside": "18 mm", "thickness": thickness,
		"material": "aluminium"} {
		ring[dim] = []graph.Reading{{Text: text}}
	}
	facts := demotest.Facts(t)
	facts.Parts = append(slices.Clone(facts.Parts), graph.Part{ID: "Ostrabeck ring", Brand: "Ostrabeck",
		Number: graph.Number{Core: "ring"}, Kind: kind,
		Features: []graph.Feature{{Name: "ring", Kind: "washer", Dims: ring}}})
	return facts
}

// A washer 9 mm thick takes most of a plug's thread; where no joint names it nothing held
// it against the plug, and its thickness is left open.
func TestThickWasherThatNoJointNames(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	swaps := []string{"engine/drain-washer=Ostrabeck ring"}
	for _, tt := range []struct {
		name      string
		thickness string
		named     bool
		want      graph.Verdict
		open      bool
	}{
		{"named, thick", "9 mm", true, graph.Unknown, false},
		{"named, near miss", "1.6 mm", true, graph.Fits, false},
		{"not named, thick", "9 mm", false, graph.Unknown, true},
		{"not named, as the one there", "1.5 mm", false, graph.Fits, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			facts := thicker(t, "seal-washer", "12.2 mm", tt.thickness)
			facts.Joints = slices.Clone(facts.Joints)
			for i := range facts.Joints {
				if !tt.named && queries.LocalName(string(facts.Joints[i].ID)) == "drain-plug-thread" {
					facts.Joints[i].Renew = nil
				}
			}
			a := swapped(t, once.New(readertest.New(facts)), on, swaps)
			n, ok := left(a, "engine/drain-washer", "ring", "thickness")
			if a.Verdict != tt.want || ok && n.Decides != tt.open || !ok && tt.open {
				t.Errorf("%s, want %s; thickness left: %v %+v", a.Verdict, tt.want, ok, n)
			}
		})
	}
}

// A mudguard is held against the tyre that turns under it, whichever of the two is new.
func TestTyreUnderItsMudguard(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	facts := demotest.Facts(t)
	other := func(id graph.PartID, feature, dim, text string) graph.PartID {
		i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == id })
		part := facts.Parts[i]
		part.ID, part.Number = "Ostrabeck "+graph.PartID(text), graph.Number{Core: text}
		part.Features = slices.Clone(part.Features)
		at := slices.IndexFunc(part.Features, func(f graph.Feature) bool { return f.Name == feature })
		f := part.Features[at]
		f.Dims = maps.Clone(f.Dims)
		f.Dims[dim] = []graph.Reading{{Text: text}}
		part.Features[at] = f
		facts.Parts = append(slices.Clone(facts.Parts), part)
		return part.ID
	}
	const guard = "Tarnholt 302.4005/sl"
	low, near := other(guard, "room", "radius", "295 mm"), other(guard, "room", "radius", "304 mm")
	tall := other("Tarnholt 205.4005", "size", "radius", "330 mm")
	r := once.New(readertest.New(facts))
	for swaps, want := range map[string]graph.Verdict{
		"bodywork/front-mudguard=" + string(low):  graph.DoesNotFit,
		"bodywork/front-mudguard=" + string(near): graph.Unknown,
		"front-wheel/tyre=" + string(tall):        graph.DoesNotFit,
	} {
		a := swapped(t, r, on, []string{swaps})
		if a.Verdict != want {
			t.Errorf("%s: %s, want %s", swaps, a.Verdict, want)
		}
	}
}
