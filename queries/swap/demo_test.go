package swap_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestDemoSwaps puts the swaps of the demonstration to the engine and looks for
// what a fitter would insist on.
func TestDemoSwaps(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	for _, tt := range demotest.Swaps() {
		t.Run(tt.Name, func(t *testing.T) {
			a, err := swap.Swap(context.Background(), r, swap.SwapQuestion{On: tt.On, Swaps: tt.Swaps})
			if err != nil {
				t.Fatal(err)
			}
			verdicts := outcomesOf(a)
			for _, want := range tt.Wants {
				what, verdict, _ := strings.Cut(want, ": ")
				if got := verdicts[what]; got.String() != verdict {
					t.Errorf("%s: %s, want %s", what, got, verdict)
				}
			}
			if a.Ready != tt.Ready {
				t.Errorf("ready %v, want %v: %v", a.Ready, tt.Ready, a.NotReady)
			}
			if tt.Trail != "" && !slices.ContainsFunc(a.Trails,
				func(trail swap.Trail) bool { return strings.HasPrefix(trail.Text, tt.Trail) }) {
				t.Errorf("no trail begins %q", tt.Trail)
			}
			for _, m := range a.Measure {
				if m.What == "" || m.Where == "" || m.Gauge == "" || m.Accuracy == "" || len(m.For) == 0 {
					t.Errorf("a measurement that says too little: %+v", m)
				}
			}
			if tt.Number != "" && !slices.ContainsFunc(a.Numbers, func(n examine.Number) bool { return n.Name == tt.Number }) {
				t.Errorf("no number %q", tt.Number)
			}
		})
	}
}

func outcomesOf(a swap.SwapAnswer) map[string]graph.Verdict {
	verdicts := map[string]graph.Verdict{}
	for _, list := range [][]examine.Outcome{a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate} {
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
	r := readertest.New(demotest.Facts(t))
	a, err := swap.Swap(context.Background(), r, swap.SwapQuestion{On: "skerry-620/2004/eu",
		Swaps: []swap.Replacement{{Position: "rear-wheel/wheel", Part: "Tarnholt 206.7001"}}})
	if err != nil || a.Then == nil {
		t.Fatal(a.Then, err)
	}
	at := slices.IndexFunc(a.Then.Left, func(o examine.Outcome) bool { return o.What == examine.OfStack })
	wrong := func(c mating.Check) bool { return c.Verdict != graph.Fits }
	if at < 0 || len(lists.Kept(slices.Clone(a.Then.Left[at].Checks), wrong)) != 1 ||
		!slices.ContainsFunc(a.Then.Left[at].Checks, func(c mating.Check) bool { return wrong(c) && c.Gap == "5.1 mm" }) {
		t.Errorf("left: %+v, want only the sprocket, 5.1 mm out", a.Then.Left)
	}
	places := map[graph.PositionID]int{}
	for _, g := range a.Get {
		if strings.Contains(string(g.Position), "spacer") {
			places[g.Position]++
		}
	}
	if len(places) != 2 || places["skerry-620:rear-wheel/spacer-left"] != 1 ||
		places["skerry-620:rear-wheel/spacer-right"] != 1 {
		t.Errorf("spacers to get or make: %v, want one left and one right", places)
	}
}

// TestSwapIsRepeatable: equal questions give equal answers, to the letter.
func TestSwapIsRepeatable(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	for _, tt := range demotest.Swaps()[:5] {
		t.Run(tt.Name, func(t *testing.T) {
			var first string
			for range 3 {
				a, err := swap.Swap(context.Background(), readertest.New(facts), swap.SwapQuestion{On: tt.On, Swaps: tt.Swaps})
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
	demotest.Alone(t)
	facts := demotest.Facts(t)
	for _, tt := range demotest.Swaps() {
		t.Run(tt.Name, func(t *testing.T) {
			r := readertest.New(facts)
			if _, err := swap.Swap(context.Background(), r, swap.SwapQuestion{On: tt.On, Swaps: tt.Swaps}); err != nil {
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
	demotest.Alone(t)
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	for _, id := range []graph.VariantID{"skerry-620/2003/eu/late", "skerry-620s/2005/uk", "fjeld-750/2004/eu"} {
		at := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
		if at < 0 {
			t.Fatalf("no variant %s", id)
		}
		s := machine.StartIn(machine.NewLibrary(r), facts.Variants[at], "")
		for _, p := range facts.Positions {
			if slices.Contains(p.On, id) {
				swapForItself(t, s, p.ID)
			}
		}
	}
}

func swapForItself(t *testing.T, s *machine.Setup, p graph.PositionID) {
	t.Helper()
	ctx := context.Background()
	if err := s.Load(ctx, p); err != nil {
		t.Fatal(err)
	}
	seat := s.Seat(p)
	if seat.Empty {
		return
	}
	after, err := s.With(ctx, map[graph.PositionID]graph.PartID{p: seat.Part.ID})
	if err != nil {
		t.Fatal(err)
	}
	a, err := swap.SwapTo(ctx, examine.From(s), after)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges, a.Mates) {
		if !o.Same || o.Before != o.After {
			t.Errorf("%s for itself at %s: %s %s was %s, is %s: %s", seat.Part.ID, p, o.What, o.ID, o.Before, o.After, o.Why)
		}
	}
	if len(a.Numbers)+len(a.Trails)+len(a.Get) > 0 || a.Then != nil {
		t.Errorf("%s for itself at %s: %d numbers, %d trails, %d things to get", seat.Part.ID, p, len(a.Numbers),
			len(a.Trails), len(a.Get))
	}
}

// TestSilenceNeverFits: what does not fit is not made to fit by forgetting a
// dimension of the new part.
func TestSilenceNeverFits(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	swaps := demotest.Swaps()
	whole := map[string]map[string]graph.Verdict{}
	sampletest.Checks(t, 10, 100)
	rapid.Check(t, func(t *rapid.T) {
		tt := rapid.SampledFrom(swaps).Draw(t, "swap")
		if whole[tt.Name] == nil {
			whole[tt.Name] = verdictsOf(t, facts, tt)
		}
		part := rapid.SampledFrom(tt.Swaps).Draw(t, "part").Part
		thinned, gone := withoutOne(t, facts, graph.PartID(part))
		now := verdictsOf(t, thinned, tt)
		for what, was := range whole[tt.Name] {
			verdict, told := now[what]
			if !told {
				verdict = now[inAll] // it must be told somewhere
			}
			if was == graph.DoesNotFit && (verdict == graph.Fits || verdict == graph.FitsWithChanges) {
				t.Fatalf("%s: %s does not fit, but %s without %s of %s", tt.Name, what, verdict, gone, part)
			}
		}
	})
}

// inAll is the whole answer among the verdicts of its outcomes.
const inAll = "in all"

func verdictsOf(t *rapid.T, facts graph.Facts, tt demotest.Swap) map[string]graph.Verdict {
	a, err := swap.Swap(context.Background(), readertest.New(facts), swap.SwapQuestion{On: tt.On, Swaps: tt.Swaps})
	if err != nil {
		t.Fatal(err)
	}
	verdicts := outcomesOf(a)
	verdicts[inAll] = a.Verdict
	return verdicts
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
