package bike_test

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/graph/sampletest"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// built are the places of a variant with what is built there, and every part.
type built struct {
	facts  graph.Facts
	reader *readertest.Reader // of the facts
	before *machine.Setup
	places []graph.Position
}

func readBuilt(t *testing.T, facts graph.Facts, id graph.VariantID) built {
	t.Helper()
	i := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
	b := built{facts: facts, reader: readertest.New(facts)}
	b.before = machine.StartIn(machine.NewLibrary(b.reader), facts.Variants[i], "")
	for _, p := range facts.Positions {
		if !slices.Contains(p.On, id) {
			continue
		}
		if err := b.before.Load(t.Context(), p.ID); err != nil {
			t.Fatal(err)
		}
		if !b.before.Seat(p.ID).Empty {
			b.places = append(b.places, p)
		}
	}
	return b
}

// swapped is what the one engine says of a part at a place.
func (b built) swapped(t *testing.T, at graph.PositionID, part graph.PartID) swap.Judgement {
	t.Helper()
	after, err := b.before.With(t.Context(), map[graph.PositionID]graph.PartID{at: part})
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), examine.From(b.before), after, swap.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// found asks what is not as built on a machine on which one thing was found.
func (b built) found(t *testing.T, f graph.Fitted) bike.FoundRow {
	t.Helper()
	own := graph.Bike{ID: "mine", Variant: b.before.Variant.ID, Found: []graph.Fitted{f}}
	a, err := bike.BikeFound(t.Context(), b.reader.WithBikes(own), bike.BikeFoundQuestion{Name: "mine"})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Rows) != 1 {
		t.Fatalf("%s at %s: %d rows, want 1", f.Part, f.Position, len(a.Rows))
	}
	return a.Rows[0]
}

// bothBuilt are a machine of the demonstration and the single, as built.
func bothBuilt(t *testing.T) map[string]built {
	t.Helper()
	return map[string]built{
		"demonstration": readBuilt(t, demotest.Facts(t), "skerry-620/2004/eu"),
		"single":        readBuilt(t, demotest.Single(t), demotest.Single(t).Variants[0].ID),
	}
}

// TestFoundAgreesWithSwap: what is found on a machine comes out as the same part does
// when it is asked for, whatever it is: also what only holds a joint together, and
// what no rule judges.
func TestFoundAgreesWithSwap(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.Share(t, 480, 120)
	for name, b := range bothBuilt(t) {
		tried := map[graph.Verdict]int{}
		for _, at := range b.places {
			for _, p := range b.facts.Parts {
				if p.Kind != at.Kind || p.IsKit() || b.before.Seat(at.ID).Part.ID == p.ID ||
					!share(string(at.ID)+string(p.ID)) {
					continue
				}
				want := b.swapped(t, at.ID, p.ID).Answer.Verdict
				got := b.found(t, graph.Fitted{Position: at.ID, Part: p.ID})
				if got.Verdict != want {
					t.Errorf("%s: %s at %s: found %s, swap %s", name, p.ID, at.ID, got.Verdict, want)
				}
				tried[want]++
			}
		}
		if name == "demonstration" && (tried[graph.Fits] == 0 || tried[graph.DoesNotFit] == 0 || tried[graph.Unknown] == 0) {
			t.Errorf("tried only %v", tried)
		}
	}
}

// offBy is a piece of a part as built of which one dimension was measured a third greater.
type offBy struct {
	at       graph.PositionID
	measured graph.Measured
	twin     graph.PartID // another number, of which that is what is recorded
}

// offsOf are such pieces of what is built in, a sample of them, with their twins added to
// the facts.
func offsOf(t *testing.T, b *built) []offBy {
	t.Helper()
	share := sampletest.Share(t, 150, 25)
	var offs []offBy
	b.facts.Parts = slices.Clone(b.facts.Parts)
	for _, at := range b.places {
		part := b.before.Seat(at.ID).Part
		for _, f := range part.Features {
			kind, _ := graph.FeatureKindNamed(f.Kind)
			for _, spec := range kind.Dims {
				text := machine.BestText(f, spec.Name)
				if text == "" || !spec.Type.Measured() || !share(string(at.ID)+f.Name+spec.Name) {
					continue
				}
				q, err := measure.ParseQuantity(text, spec.Type)
				if err != nil || q.Nominal == 0 {
					continue
				}
				m := graph.Measured{Feature: f.Name, Dim: spec.Name, Text: measure.Format(q.Nominal*4/3, spec.Type)}
				twin := machine.With(part, f.Name, spec.Name, m.Text)
				twin.ID = graph.PartID(fmt.Sprintf("Tarnholt 99.%04d", len(offs)))
				b.facts.Parts = append(b.facts.Parts, twin)
				offs = append(offs, offBy{at: at.ID, measured: m, twin: twin.ID})
			}
		}
	}
	return offs
}

// TestMeasuredAgreesWithFound: what was measured on the very piece that is there comes out
// as another number of that size does. Only what wears, and is within its limit, may be as
// it is.
func TestMeasuredAgreesWithFound(t *testing.T) {
	demotest.Alone(t)
	for name, b := range bothBuilt(t) {
		offs := offsOf(t, &b)
		b.reader = readertest.New(b.facts)
		refused := 0
		for _, off := range offs {
			want := b.found(t, graph.Fitted{Position: off.at, Part: off.twin})
			got := b.found(t, graph.Fitted{Position: off.at, AsBuilt: true,
				Specimen: graph.Specimen{Measured: []graph.Measured{off.measured}}})
			if got.Verdict == graph.Fits && want.Verdict != graph.Fits && got.State == "" {
				t.Errorf("%s: %s, %s %s measured as %s: fits, under another number %s", name, off.at,
					off.measured.Feature, off.measured.Dim, off.measured.Text, want.Verdict)
			}
			if got.Verdict != graph.Fits {
				refused++
			}
		}
		if refused == 0 {
			t.Errorf("%s: none of %d is refused", name, len(offs))
		}
	}
}

// TestFoundBolt: a bolt or washer that only holds a joint together counts as much as
// what it joins: as listed it fits; of a thread that comes close it does not; with a
// thread that nobody recorded it is unknown. A bolt that was measured is what it
// measures.
func TestFoundBolt(t *testing.T) {
	b := readBuilt(t, demotest.Facts(t), "skerry-620/2004/eu")
	at, bolt := someBanjoBolt(t, b)
	near := map[string]string{"M10x1": "M10x1.25", "M10x1.25": "M10x1"}
	feature, thread := threadOf(t, bolt)
	other := near[thread]
	if other == "" {
		t.Fatalf("a banjo bolt %s: no near miss of it is known to the test", thread)
	}
	b.facts.Parts = slices.Clone(b.facts.Parts)
	for name, texts := range map[string][]graph.Reading{"near": {{Text: other}}, "bare": nil} {
		p := bolt
		p.ID = graph.PartID("Tarnholt " + name)
		p.Features = slices.Clone(p.Features)
		for i, f := range p.Features {
			if f.Name == feature {
				dims := map[string][]graph.Reading{}
				for dim, readings := range f.Dims {
					dims[dim] = readings
				}
				dims["thread"] = texts
				p.Features[i].Dims = dims
			}
		}
		b.facts.Parts = append(b.facts.Parts, p)
	}
	b.reader = readertest.New(b.facts)
	measured := func(text string) graph.Specimen {
		return graph.Specimen{Measured: []graph.Measured{{Feature: feature, Dim: "thread", Text: text, With: "gauge"}}}
	}
	for _, tt := range []struct {
		name string
		f    graph.Fitted
		want graph.Verdict
	}{
		{"as listed", graph.Fitted{Part: bolt.ID}, graph.Fits},
		{"of another pitch", graph.Fitted{Part: "Tarnholt near"}, graph.DoesNotFit},
		{"of no thread recorded", graph.Fitted{Part: "Tarnholt bare"}, graph.Unknown},
		{"that nobody describes", graph.Fitted{Part: "Tarnholt nobody"}, graph.Unknown},
		{"as built, measured so", graph.Fitted{AsBuilt: true, Specimen: measured(thread)}, graph.Fits},
		{"as built, measured otherwise", graph.Fitted{AsBuilt: true, Specimen: measured(other)}, graph.DoesNotFit},
		{"as listed, measured otherwise", graph.Fitted{Part: bolt.ID, Specimen: measured(other)}, graph.DoesNotFit},
	} {
		tt.f.Position = at
		if got := b.found(t, tt.f); got.Verdict != tt.want {
			t.Errorf("a bolt %s: %s (%v), want %s", tt.name, got.Verdict, got.Against, tt.want)
		}
	}
}

// someBanjoBolt is a place of the brakes where a banjo bolt is built.
func someBanjoBolt(t *testing.T, b built) (graph.PositionID, graph.Part) {
	t.Helper()
	for _, p := range b.places {
		if p.Kind == "banjo-bolt" && p.Safety == graph.SafetyBrake {
			return p.ID, b.before.Seat(p.ID).Part
		}
	}
	t.Fatal("no banjo bolt")
	return "", graph.Part{}
}

// threadOf is the feature of a bolt that is its thread, and what that measures.
func threadOf(t *testing.T, bolt graph.Part) (feature, text string) {
	t.Helper()
	f, ok := machine.FeatureOfKind(bolt, "male-thread")
	if !ok {
		t.Fatal(fmt.Sprint("no thread: ", bolt.ID))
	}
	return f.Name, machine.BestText(f, "thread")
}

// TestBuildAgreesWithSwap: a part out of a box that is meant to go to a place can be
// fitted today, must be looked at first or does not fit as the same part does when it
// is asked for: a place that earned nothing is never built on.
func TestBuildAgreesWithSwap(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.Share(t, 320, 80)
	states := map[graph.Verdict][]string{
		graph.Fits:            {bike.BuildToday, bike.BuildWaits},
		graph.FitsWithChanges: {bike.BuildToday, bike.BuildWaits},
		graph.Unknown:         {"check first"},
		graph.DoesNotFit:      {bike.BuildRefuse},
	}
	for name, b := range bothBuilt(t) {
		tried := map[graph.Verdict]int{}
		for _, at := range b.places {
			for _, p := range b.facts.Parts {
				if p.Kind != at.Kind || p.IsKit() || at.Renew || b.before.Seat(at.ID).Part.ID == p.ID ||
					!share(string(at.ID)+string(p.ID)) {
					continue
				}
				want := b.swapped(t, at.ID, p.ID).Answer.Verdict
				got := b.planned(t, at, p.ID)
				if !slices.Contains(states[want], got.State) {
					t.Errorf("%s: %s at %s: %s (%s), swap %s", name, p.ID, at.ID, got.State, got.Why, want)
				}
				tried[want]++
			}
		}
		if name == "demonstration" && (tried[graph.Fits] == 0 || tried[graph.DoesNotFit] == 0 || tried[graph.Unknown] == 0) {
			t.Errorf("tried only %v", tried)
		}
	}
}

// planned asks how a part that lies in a box and shall go to a place comes out.
func (b built) planned(t *testing.T, at graph.Position, part graph.PartID) bike.BuildPlace {
	t.Helper()
	own := graph.Bike{ID: "mine", Variant: b.before.Variant.ID,
		Planned: []graph.Fitted{{Position: at.ID, Part: part}},
		Boxes:   []graph.Box{{Name: "crate", Items: []graph.BoxItem{{Part: part, Quantity: 9, Sure: "number read"}}}}}
	a, err := bike.BikeBuild(t.Context(), b.reader.WithBikes(own), bike.BikeWorkQuestion{Name: "mine"})
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Stages) != 1 || len(a.Stages[0].Fit) != 1 {
		t.Fatalf("%s at %s: %d stages, want one place", part, at.ID, len(a.Stages))
	}
	return a.Stages[0].Fit[0]
}

// TestStandInOutOfBox: a successor out of a box counts for the listed number only where
// it goes. Where nothing that decides about it is recorded, it is named to be looked
// at, and the listed number is still to be found.
func TestStandInOutOfBox(t *testing.T) {
	b := readBuilt(t, demotest.Facts(t), "skerry-620/2004/eu")
	at := graph.PositionID("skerry-620:front-brake/splitter")
	old := b.before.Seat(at).Part
	good, bad := old, old
	good.ID, bad.ID = "Tarnholt good", "Tarnholt bad"
	bad.Features = slices.Clone(old.Features)
	for i, f := range bad.Features {
		if f.Kind == "port" {
			bad.Features[i].Dims = map[string][]graph.Reading{"thread": {{Text: "M12x1"}}}
		}
	}
	b.facts.Parts = append(slices.Clone(b.facts.Parts), good, bad)
	for i, id := range []graph.PartID{good.ID, bad.ID} {
		b.facts.Supersessions = append(slices.Clone(b.facts.Supersessions), graph.Supersession{
			ID: graph.SupersessionID(id), Old: old.ID, New: id, NewOnOld: graph.Yes, OldOnNew: graph.Yes})
		b.facts.Bikes = []graph.Bike{{ID: "mine", Variant: b.before.Variant.ID, Found: []graph.Fitted{{Position: at}},
			Boxes: []graph.Box{{Name: "crate", Items: []graph.BoxItem{{Part: id, Quantity: 1, Sure: "number read"}}}}}}
		a, err := bike.BikeMissing(t.Context(), readertest.New(b.facts), bike.BikeWorkQuestion{Name: "mine"})
		if err != nil {
			t.Fatal(err)
		}
		row := a.Rows[0]
		if row.Short != i || len(row.FromBox) != 1-i || len(row.CheckFirst) != i {
			t.Errorf("%s: %d short, %v out of the box, %v to check", id, row.Short, row.FromBox, row.CheckFirst)
		}
	}
}
