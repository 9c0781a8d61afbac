package queries_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/readertest"
)

// demoSwap is one swap of the demonstration data.
type demoSwap struct {
	name, on string
	swaps    []queries.Replacement
	// wants are outcomes that must come out so: "joint hose-upper-on-master:
	// does not fit".
	wants []string
	// trail and number must be among the trails and numbers.
	trail, number string
	ready         bool
}

func demoSwaps() []demoSwap {
	at := func(pairs ...string) []queries.Replacement {
		var swaps []queries.Replacement
		for i := 0; i < len(pairs); i += 2 {
			swaps = append(swaps, queries.Replacement{Position: pairs[i], Part: pairs[i+1]})
		}
		return swaps
	}
	return []demoSwap{
		{name: "a wider, higher handlebar", on: "skerry-620/2002/eu", swaps: at("controls/handlebar", "Kellowick KW 2210-bk"),
			wants: []string{"run throttle-cable-open: unknown", "run brake-hose-upper: unknown", "joint handlebar-in-yoke: fits"},
			trail: "controls/handlebar -> lever-place-left -> clutch/line"},
		{name: "a clutch conversion", on: "skerry-620/2002/eu",
			swaps: at("clutch/lever", "Kellowick KW 4101", "clutch/release", "Kellowick KW 4102", "clutch/line", "Kellowick KW 4103"),
			wants: []string{"run clutch-line: does not fit", "joint release-on-stay: fits with changes"},
			trail: "clutch/release -> mount -> clutch/stay", number: "slave travel at full stroke"},
		{name: "a donor master cylinder", on: "skerry-620/2003/eu/late", swaps: at("front-brake/master-cylinder", "Tarnholt 207.7003"),
			wants: []string{"joint hose-upper-on-master: does not fit", "joint lever-in-master: fits with changes"},
			trail: "front-brake/master-cylinder -> outlet -> front-brake/banjo-bolt-master", number: "hydraulic ratio"},
		{name: "donor calipers", on: "skerry-620/2002/eu",
			swaps: at("front-brake/caliper-left", "Tarnholt 207.7412", "front-brake/caliper-right", "Tarnholt 207.7413"),
			wants: []string{"joint caliper-left-on-leg: fits with changes", "joint hose-left-on-caliper: does not fit", "pair front-brake/caliper-left: fits"},
			trail: "front-brake/caliper-left -> mount -> fork/leg-left", number: "total leverage"},
		{name: "a donor wheel with another axle", on: "skerry-620/2004/eu",
			swaps: at("front-wheel/wheel", "Tarnholt 205.7006", "front-wheel/axle", "Tarnholt 205.7010"),
			wants: []string{"joint axle-in-left-leg: does not fit", "joint disc-left-on-wheel: fits", "stack front-axle-late: fits with changes", "disc front-brake/disc-left: fits"},
			trail: "front-wheel/wheel -> bearing-seat-left -> front-wheel/bearing-left"},
		{name: "from 530 to 520", on: "fjeld-750/2004/eu",
			swaps: at("final-drive/chain", "Thrumley 520-110C", "final-drive/sprocket-front", "Thrumley 520-017F", "final-drive/sprocket-rear", "Thrumley 520-942R"),
			wants: []string{"joint chain-on-front: fits", "chain final-drive/chain: fits with changes"}, ready: true,
			trail: "final-drive/chain -> links"},
		{name: "a headlamp of the other market", on: "skerry-620/2003/eu/late", swaps: at("lamps/headlamp", "Tarnholt 402.4011"),
			wants: []string{"joint headlamp-beam: does not fit", "joint headlamp-on-bracket: fits"}, ready: true,
			trail: "lamps/headlamp -> beam -> frame/type-plate"},
		{name: "a side panel of another year", on: "skerry-620/2003/eu/late", swaps: at("bodywork/side-panel-left", "Tarnholt 302.4026/sl"),
			wants: []string{"joint side-panel-left-on-frame: fits with changes", "finish finish: fits"}, ready: true,
			trail: "bodywork/side-panel-left -> points -> frame/frame"},
		{name: "a whole fork", on: "skerry-620/2002/eu", swaps: at("fork/leg-left", "Tarnholt 203.4009", "fork/leg-right", "Tarnholt 203.4037"),
			wants: []string{"joint leg-left-in-lower-yoke: does not fit", "pair fork/leg-left: fits", "joint seal-left-on-stanchion: does not fit"},
			trail: "fork/leg-left -> tube-lower -> yokes/lower", number: "trail"},
		{name: "a donor rear wheel", on: "skerry-620/2004/eu", swaps: at("rear-wheel/wheel", "Tarnholt 206.7001"),
			wants: []string{"stack rear-axle: fits with changes", "disc rear-brake/disc: fits with changes", "joint rear-tyre-on-rim: unknown"},
			trail: "rear-wheel/wheel -> bearing-seat-left -> rear-wheel/bearing-left"},
		{name: "a wheel with another sensor ring", on: "fjeld-750/2004/eu", swaps: at("rear-wheel/wheel", "Varnhegg 44-044.1"),
			wants: []string{"joint rear-tyre-on-rim: fits", "stack rear-axle: fits", "disc rear-brake/disc: fits"}, ready: true,
			number: "speedometer at a true 100 km/h"},
	}
}

// TestDemoSwaps puts the swaps of the demonstration to the engine and looks for
// what a fitter would insist on.
func TestDemoSwaps(t *testing.T) {
	r := readertest.New(demoFacts(t))
	for _, tt := range demoSwaps() {
		t.Run(tt.name, func(t *testing.T) {
			a, err := queries.Swap(context.Background(), r, queries.SwapQuestion{On: tt.on, Swaps: tt.swaps})
			if err != nil {
				t.Fatal(err)
			}
			verdicts := outcomesOf(a)
			for _, want := range tt.wants {
				what, verdict, _ := strings.Cut(want, ": ")
				if got := verdicts[what]; got.String() != verdict {
					t.Errorf("%s: %s, want %s", what, got, verdict)
				}
			}
			if a.Ready != tt.ready {
				t.Errorf("ready %v, want %v: %s", a.Ready, tt.ready, strings.Join(a.NotReady, "; "))
			}
			if tt.trail != "" && !slices.ContainsFunc(a.Trails, func(trail queries.Trail) bool { return strings.HasPrefix(trail.Text, tt.trail) }) {
				t.Errorf("no trail begins %q", tt.trail)
			}
			for _, m := range a.Measure {
				if m.What == "" || m.Where == "" || m.Gauge == "" || m.Accuracy == "" || len(m.For) == 0 {
					t.Errorf("a measurement that says too little: %+v", m)
				}
			}
			if tt.number != "" && !slices.ContainsFunc(a.Numbers, func(n queries.Number) bool { return n.Name == tt.number }) {
				t.Errorf("no number %q", tt.number)
			}
		})
	}
}

func outcomesOf(a queries.SwapAnswer) map[string]graph.Verdict {
	verdicts := map[string]graph.Verdict{}
	for _, list := range [][]queries.Outcome{a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate} {
		for _, o := range list {
			_, local, _ := strings.Cut(o.ID, ":")
			verdicts[o.What+" "+local] = o.After
		}
	}
	return verdicts
}

// TestSpacersLeaveTheSprocket: spacers that are made put the row right, and not
// the sprocket that the wider hub pushes out of line; nor is a spacer to get and
// another one to make for the same place.
func TestSpacersLeaveTheSprocket(t *testing.T) {
	r := readertest.New(demoFacts(t))
	a, err := queries.Swap(context.Background(), r, queries.SwapQuestion{On: "skerry-620/2004/eu",
		Swaps: []queries.Replacement{{Position: "rear-wheel/wheel", Part: "Tarnholt 206.7001"}}})
	if err != nil || a.Then == nil {
		t.Fatal(a.Then, err)
	}
	at := slices.IndexFunc(a.Then.Left, func(o queries.Outcome) bool { return o.What == queries.OfStack })
	if at < 0 || len(a.Then.Left[at].Checks) != 1 || a.Then.Left[at].Checks[0].Gap != "5.1 mm" {
		t.Errorf("left: %+v, want only the sprocket, 5.1 mm out", a.Then.Left)
	}
	places := map[graph.PositionID]int{}
	for _, g := range a.Get {
		if strings.Contains(string(g.Position), "spacer") {
			places[g.Position]++
		}
	}
	if len(places) != 2 || places["skerry-620:rear-wheel/spacer-left"] != 1 || places["skerry-620:rear-wheel/spacer-right"] != 1 {
		t.Errorf("spacers to get or make: %v, want one left and one right", places)
	}
}

// TestSwapIsRepeatable: equal questions give equal answers, to the letter.
func TestSwapIsRepeatable(t *testing.T) {
	alone(t)
	facts := demoFacts(t)
	for _, tt := range demoSwaps()[:5] {
		t.Run(tt.name, func(t *testing.T) {
			var first string
			for range 3 {
				a, err := queries.Swap(context.Background(), readertest.New(facts), queries.SwapQuestion{On: tt.on, Swaps: tt.swaps})
				if err != nil {
					t.Fatal(err)
				}
				text, err := json.Marshal(a)
				if err != nil {
					t.Fatal(err)
				}
				if first == "" {
					first = string(text)
				}
				if string(text) != first {
					t.Fatal("a second answer differs")
				}
			}
		})
	}
}

// TestSwapReadsLittle keeps the number of calls to the store small: each is a
// few reads of the disk, whatever it asks for.
func TestSwapReadsLittle(t *testing.T) {
	alone(t)
	facts := demoFacts(t)
	for _, tt := range demoSwaps() {
		t.Run(tt.name, func(t *testing.T) {
			r := readertest.New(facts)
			if _, err := queries.Swap(context.Background(), r, queries.SwapQuestion{On: tt.on, Swaps: tt.swaps}); err != nil {
				t.Fatal(err)
			}
			total := 0
			for _, n := range r.Calls() {
				total += n
			}
			if total > 220 {
				t.Errorf("%d calls: %v", total, r.Calls())
			}
		})
	}
}

// TestSwapForItself: a part swapped for itself changes nothing. It is tried at
// every position of three machines.
func TestSwapForItself(t *testing.T) {
	alone(t)
	facts := demoFacts(t)
	r := readertest.New(facts)
	for _, id := range []graph.VariantID{"skerry-620/2003/eu/late", "skerry-620s/2005/uk", "fjeld-750/2004/eu"} {
		at := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
		if at < 0 {
			t.Fatalf("no variant %s", id)
		}
		s := queries.SetupOf(r, facts.Variants[at], "")
		for _, p := range facts.Positions {
			if slices.Contains(p.On, id) {
				swapForItself(t, s, p.ID)
			}
		}
	}
}

func swapForItself(t *testing.T, s *queries.Setup, p graph.PositionID) {
	t.Helper()
	ctx := context.Background()
	if err := s.Load(ctx, p); err != nil {
		t.Fatal(err)
	}
	seat := s.Seat(p)
	if seat.Empty {
		return
	}
	a, err := queries.SwapOn(ctx, s, map[graph.PositionID]graph.PartID{p: seat.Part.ID})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges, a.Mates) {
		if !o.Same || o.Before != o.After {
			t.Errorf("%s for itself at %s: %s %s was %s, is %s: %s", seat.Part.ID, p, o.What, o.ID, o.Before, o.After, o.Why)
		}
	}
	if len(a.Numbers)+len(a.Trails)+len(a.Get) > 0 || a.Then != nil {
		t.Errorf("%s for itself at %s: %d numbers, %d trails, %d things to get", seat.Part.ID, p, len(a.Numbers), len(a.Trails), len(a.Get))
	}
}

// TestSilenceNeverFits: what does not fit is not made to fit by forgetting a
// dimension of the new part.
func TestSilenceNeverFits(t *testing.T) {
	alone(t)
	facts := demoFacts(t)
	swaps := demoSwaps()
	whole := map[string]map[string]graph.Verdict{}
	rapid.Check(t, func(t *rapid.T) {
		tt := rapid.SampledFrom(swaps).Draw(t, "swap")
		if whole[tt.name] == nil {
			whole[tt.name] = verdictsOf(t, facts, tt)
		}
		part := rapid.SampledFrom(tt.swaps).Draw(t, "part").Part
		thinned, gone := withoutOne(t, facts, graph.PartID(part))
		for what, verdict := range verdictsOf(t, thinned, tt) {
			if was := whole[tt.name][what]; was == graph.DoesNotFit && (verdict == graph.Fits || verdict == graph.FitsWithChanges) {
				t.Fatalf("%s: %s does not fit, but %s without %s of %s", tt.name, what, verdict, gone, part)
			}
		}
	})
}

func verdictsOf(t *rapid.T, facts graph.Facts, tt demoSwap) map[string]graph.Verdict {
	a, err := queries.Swap(context.Background(), readertest.New(facts), queries.SwapQuestion{On: tt.on, Swaps: tt.swaps})
	if err != nil {
		t.Fatal(err)
	}
	return outcomesOf(a)
}

// withoutOne gives the facts without one dimension of a part, and its name.
func withoutOne(t *rapid.T, facts graph.Facts, id graph.PartID) (graph.Facts, string) {
	at := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == id })
	part := facts.Parts[at]
	var names []string
	for i, f := range part.Features {
		for dim := range f.Dims {
			names = append(names, fmt.Sprintf("%d %s", i, dim))
		}
	}
	slices.Sort(names)
	name := rapid.SampledFrom(names).Draw(t, "dimension")
	var i int
	var dim string
	if _, err := fmt.Sscanf(name, "%d %s", &i, &dim); err != nil {
		t.Fatal(err)
	}
	part.Features = slices.Clone(part.Features)
	dims := map[string][]graph.Reading{}
	for other, readings := range part.Features[i].Dims {
		if other != dim {
			dims[other] = readings
		}
	}
	part.Features[i].Dims = dims
	facts.Parts = slices.Clone(facts.Parts)
	facts.Parts[at] = part
	return facts, part.Features[i].Name + "." + dim
}
