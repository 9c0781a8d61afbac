package swap_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// refusedByMeasure reports whether a swap says that a part itself does not fit by
// what is measured.
func refusedByMeasure(a swap.SwapAnswer) bool {
	return slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool {
		return !slices.Contains([]string{examine.OfWord, examine.OfFinish, examine.OfPair}, o.What)
	})
}

// heldAt asks what fits at one place, and fails when a part that is measured out of it
// is called usable by nothing but a word.
func heldAt(t *testing.T, r graph.Reader, s fits.Spot, safety graph.Safety) {
	t.Helper()
	a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: string(s.Part), On: string(s.Variant),
		Position: string(s.Position)})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range a.Rows {
		if row.Verdict == graph.FitsWithChanges {
			return // as it is it may well not fit
		}
		if row.IsBare() {
			t.Errorf("%s at %s of %s measures itself out, and fits says %s (%s)", s.Part, s.Position, s.Variant, row.Verdict,
				row.Why)
		}
	}
	if safety != graph.SafetyNone && !a.SafetyOpen() {
		t.Errorf("%s at %s of %s measures itself out, and nothing is open", s.Part, s.Position, s.Variant)
	}
}

// TestFoundIsHeldAgainstMeasures: what somebody found to fit and the measures refuse
// is no bare fit.
func TestFoundIsHeldAgainstMeasures(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	refused := 0
	for _, f := range facts.Findings {
		if f.Verdict != graph.Fits || f.Position == "" || len(f.On) == 0 || f.Withdrawn != "" {
			continue
		}
		before := machine.StartIn(machine.NewLibrary(r), variantNamed(t, facts, f.On[0]), "")
		if err := before.Load(t.Context(), f.Position); err != nil {
			t.Fatal(err)
		}
		if refusedByMeasure(swapOne(t, before, f.Position, f.Part)) {
			refused++
			heldAt(t, r, fits.Spot{Part: f.Part, Position: f.Position, Variant: f.On[0]}, before.Position(f.Position).Safety)
		}
	}
	enough(t, refused, 7)
}

// TestListedIsHeldAgainstMeasures: once somebody measures a built part otherwise than
// its maker says, so that it does not fit where it is listed, no list calls it
// fitting.
func TestListedIsHeldAgainstMeasures(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.OneIn(t, 60)
	facts := demotest.Facts(t)
	const on = graph.VariantID("skerry-620/2003/eu/late")
	v := variantNamed(t, facts, on)
	all := once.New(readertest.New(facts))
	parts := map[graph.PartID]graph.Part{}
	for _, p := range facts.Parts {
		parts[p.ID] = p
	}
	refused := 0
	for _, f := range facts.Fitments {
		if !slices.Contains(f.On, on) {
			continue
		}
		for _, m := range measuredOtherwise(parts[f.Part]) {
			if !share(fmt.Sprint(f.Position, f.Part, m)) {
				continue
			}
			r := finderOf{all, graph.Finding{ID: "measured", Part: f.Part, Measured: []graph.Measured{m},
				Method: graph.MethodMeasured, By: "wren"}}
			before := machine.StartIn(machine.NewLibrary(r), v, "")
			if err := before.Load(t.Context(), f.Position); err != nil {
				t.Fatal(err)
			}
			a := swapOne(t, before, f.Position, f.Part)
			if !refusedByMeasure(a) {
				continue
			}
			if slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool {
				return o.What == examine.OfRun && o.Run.Line != f.Position // the line is to blame
			}) {
				continue
			}
			refused++
			heldAt(t, r, fits.Spot{Part: f.Part, Position: f.Position, Variant: on}, before.Position(f.Position).Safety)
		}
	}
	enough(t, refused, 3)
}

// finderOf is a reader with one finding more, which somebody measured.
type finderOf struct {
	graph.Reader
	finding graph.Finding
}

func (r finderOf) FindingsOf(ctx context.Context, ids ...graph.PartID) ([]graph.Finding, error) {
	all, err := r.Reader.FindingsOf(ctx, ids...)
	if slices.Contains(ids, r.finding.Part) {
		all = append(all, r.finding)
	}
	return all, err
}

func (r finderOf) Findings(ctx context.Context, ids ...graph.FindingID) ([]graph.Finding, error) {
	all, err := r.Reader.Findings(ctx, ids...)
	if slices.Contains(ids, r.finding.ID) {
		all = append(all, r.finding)
	}
	return all, err
}

// measuredOtherwise are the dimensions of a part, each measured as something else.
func measuredOtherwise(p graph.Part) []graph.Measured {
	var all []graph.Measured
	for _, f := range p.Features {
		kind, _ := graph.FeatureKindNamed(f.Kind)
		for _, dim := range kind.Dims {
			readings := f.Dims[dim.Name]
			if len(readings) == 0 {
				continue
			}
			if other := byAThird(dim, readings[0].Text); other != "" {
				all = append(all, graph.Measured{Feature: f.Name, Dim: dim.Name, Text: other})
			}
		}
	}
	return all
}

// TestTooManyPlacesAreLeftOpen: where a part is listed at so many places that none
// is held against measures, the answer says so and leaves what is of a safety class
// open; a part of a few places is held.
func TestTooManyPlacesAreLeftOpen(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, test := range []struct {
		name, part, on string
		open           bool
	}{
		{"a bolt that goes everywhere", "Tarnholt 945.1001", "", true},
		{"the same on one machine", "Tarnholt 945.1001", "skerry-620/2003/eu/late", false},
		{"a regulator", "Tarnholt 401.4015", "", false},
	} {
		a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: test.part, On: test.on})
		if err != nil {
			t.Fatal(err)
		}
		told := slices.ContainsFunc(a.NotFollowed,
			func(s string) bool { return strings.Contains(s, "not held against measures") })
		if open := a.NotHeld > 0; open != test.open || told != open || open && !a.SafetyOpen() {
			t.Errorf("%s: %d places not held, told %v, open %v", test.name, a.NotHeld, told, a.SafetyOpen())
		}
	}
}

// TestFoundIsNotTheWholeMachine: that somebody found a part to go on says nothing of what was
// worked out to be another then, and of which no rule says how much the machine stands. What
// a list has there, and what nobody recorded, stays as it is said.
func TestFoundIsNotTheWholeMachine(t *testing.T) {
	demotest.Alone(t)
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, tt := range []struct {
		part, on string
		want     graph.Verdict
		says     string
	}{
		{"Tarnholt 204.7017", "skerry-620/2005/eu", graph.Unknown, "worked out"}, // the rear stands higher
		{"Kellowick KW 2210-cr", "skerry-620/2005/uk", graph.Unknown, "a seller's word"},
		{"Tarnholt 204.4027", "skerry-620/2005/eu", graph.Fits, ""}, // its own
	} {
		a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: tt.part, On: tt.on})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Rows) == 0 || a.Rows[0].Verdict != tt.want || !strings.Contains(a.Rows[0].Why, tt.says) {
			t.Errorf("%s on %s: %+v", tt.part, tt.on, a.Rows)
		}
		if tt.want == graph.Unknown && !a.SafetyOpen() {
			t.Errorf("%s on %s: nothing is open", tt.part, tt.on)
		}
	}
}

// withListed are facts in which one place of a machine has the part that is listed there, but
// under another number and with "feature.dim" set to a text.
func withListed(t *testing.T, facts graph.Facts, model, place, change string) (graph.Facts, graph.PartID) {
	t.Helper()
	at := graph.PositionID(model + ":" + place)
	ref, text, _ := strings.Cut(change, "=")
	name, dim, _ := strings.Cut(ref, ".")
	facts.Fitments, facts.Parts = slices.Clone(facts.Fitments), slices.Clone(facts.Parts)
	i := slices.IndexFunc(facts.Fitments, func(f graph.Fitment) bool { return f.Position == at })
	was := facts.Fitments[i].Part
	part := facts.Parts[slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == was })]
	part.ID, part.Number = graph.PartID(part.ID.Brand())+" 999.0001", graph.Number{Core: "999.0001"}
	facts.Parts = append(facts.Parts, machine.With(part, name, dim, text))
	for i := range facts.Fitments {
		if facts.Fitments[i].Position == at && facts.Fitments[i].Part == was {
			facts.Fitments[i].Part = part.ID
		}
	}
	return facts, part.ID
}

// TestListedIsNotHeldAgainstItself: what is listed where its own neighbours' measures rule it
// out is no bare fit because it measures what it was built with.
func TestListedIsNotHeldAgainstItself(t *testing.T) {
	demotest.Alone(t)
	for _, tt := range []struct {
		name, model, on, place, change string
		want                           graph.Verdict
		says                           string
	}{
		{"an axle too thin for its bearings", "skerry-620", "2003/eu/late", "front-wheel/axle", "shaft.diameter=14.5 mm",
			graph.DoesNotFit, "too loose to run"},
		{"a spring unlike the one in the other leg", "skerry-620", "2003/eu/late", "fork/spring-left", "coil.rate=11 N/mm",
			graph.Unknown, "unlike sides"},
		{"near miss: as stiff as the other by what can be read", "skerry-620", "2003/eu/late", "fork/spring-left",
			"coil.rate=7.9 N/mm", graph.Fits, ""},
		{"a washer that does not go over its plug", "skerry-620", "2003/eu/late", "engine/drain-washer",
			"ring.inside=10.2 mm", graph.Unknown, "does not go over"},
		{"a pinch bolt with 6 mm in aluminium", "skerry-620", "2003/eu/late", "yokes/pinch-bolt-lower-left",
			"thread.length=20 mm", graph.Unknown, "too short"},
		{"a shock longer than the other", "tern-125", "1974/any", "rear-suspension/shock-left", "length.length=345 mm",
			graph.Unknown, "unlike sides"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			if tt.model == "tern-125" {
				facts = demotest.Single(t)
			}
			facts, part := withListed(t, facts, tt.model, tt.place, tt.change)
			on := tt.model + "/" + tt.on
			a, err := swap.Fits(t.Context(), once.New(readertest.New(facts)), fits.FitsQuestion{Part: string(part), On: on,
				Position: tt.place})
			if err != nil || len(a.Rows) != 1 {
				t.Fatal(a.Rows, err)
			}
			if row := a.Rows[0]; row.Verdict != tt.want || !strings.Contains(row.Why, tt.says) {
				t.Errorf("%s: %s, want %s, saying %q", row.Verdict, row.Why, tt.want, tt.says)
			}
			if open := tt.want != graph.Fits; a.SafetyOpen() != open {
				t.Errorf("open: %v, want %v", a.SafetyOpen(), open)
			}
		})
	}
}

// TestBuiltIsNoneTheWorseAlone: nothing that a list has on a machine that is sound is doubted
// by what it measures.
func TestBuiltIsNoneTheWorseAlone(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		r := once.New(readertest.New(set.facts))
		for _, v := range set.facts.Variants {
			if v.ID != "skerry-620/2003/eu/late" && v.Model != "tern-125" {
				continue
			}
			a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{On: string(v.ID)})
			if err != nil {
				t.Fatal(err)
			}
			enough(t, len(a.Rows), 50)
			for _, row := range a.Rows {
				if strings.Contains(row.Why, "by what was measured") {
					t.Errorf("%s at %s of %s: %s", row.Part, row.Position, v.ID, row.Why)
				}
			}
		}
	}
}

// TestNameInAListIsNobodysWord: what people say of a part that measures otherwise than the
// one built in stays unknown, whoever says it, and however a list that was read in has it.
func TestNameInAListIsNobodysWord(t *testing.T) {
	demotest.Alone(t)
	const part, on, place = "Tarnholt 204.7017", "skerry-620/2005/eu", "rear-suspension/shock"
	list := func(kind graph.SourceKind) func(*graph.Facts) {
		return func(f *graph.Facts) {
			f.Sources = append(slices.Clone(f.Sources), graph.Source{ID: "own-list", Kind: kind, Title: "boxes"})
			f.Fitments = append(slices.Clone(f.Fitments), graph.Fitment{ID: "own-list:1", Position: "skerry-620:" + place,
				Part: part, Quantity: 1, On: []graph.VariantID{on}, Said: []graph.Cite{{Source: "own-list"}}})
		}
	}
	stock := func(f *graph.Facts) {
		f.Bikes = append(slices.Clone(f.Bikes), graph.Bike{ID: "crateful", Variant: on,
			Boxes: []graph.Box{{Name: "box 3", Items: []graph.BoxItem{{Part: part, Quantity: 1, Sure: graph.SureNumber}}}}})
	}
	found := func(f *graph.Facts) {
		f.Findings = append(slices.Clone(f.Findings), graph.Finding{ID: "own-word", Part: part, By: "wren",
			Position: "skerry-620:" + place, On: []graph.VariantID{on}, Verdict: graph.Fits, Method: graph.MethodMeasured})
	}
	for name, tt := range map[string]struct {
		said []func(*graph.Facts)
		want graph.Verdict
	}{
		"found":                          {nil, graph.Unknown},
		"found twice":                    {[]func(*graph.Facts){found}, graph.Unknown},
		"placed by name":                 {[]func(*graph.Facts){list(graph.SourcePlaced)}, graph.Unknown},
		"in a box":                       {[]func(*graph.Facts){stock}, graph.Unknown},
		"placed, found twice, in a box":  {[]func(*graph.Facts){list(graph.SourcePlaced), found, stock}, graph.Unknown},
		"near miss: a parts list has it": {[]func(*graph.Facts){list(graph.SourcePartsList)}, graph.Fits},
	} {
		t.Run(name, func(t *testing.T) {
			facts := demotest.Facts(t)
			for _, say := range tt.said {
				say(&facts)
			}
			a, err := swap.Fits(t.Context(), once.New(readertest.New(facts)), fits.FitsQuestion{Part: part, On: on})
			if err != nil || len(a.Rows) != 1 {
				t.Fatal(a.Rows, err)
			}
			if row := a.Rows[0]; row.Verdict != tt.want || a.SafetyOpen() != (tt.want != graph.Fits) {
				t.Errorf("%s: %s, want %s", row.Verdict, row.Why, tt.want)
			}
		})
	}
}
