package machine_test

import (
	"context"
	"errors"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/machine"
	"matewell/queries/readertest"
)

// setupFacts is one variant with one position, at which several parts are
// listed.
func setupFacts(fitments ...graph.Fitment) graph.Facts {
	const variant = "skerry-620/2003/eu"
	const position = "skerry-620:body/panel"
	f := graph.Facts{
		Sources: []graph.Source{
			{ID: "forum", Kind: graph.SourceReport, Date: "2024"},
			{ID: "list-2003", Kind: graph.SourcePartsList, Date: "2003"},
			{ID: "list-2006", Kind: graph.SourcePartsList, Date: "2006"},
		},
		Models: []graph.Model{{ID: "skerry-620"}},
		Variants: []graph.Variant{{ID: variant, Model: "skerry-620", Year: 2003, Market: "eu",
			Schemes: []string{"ash", "kelp"}}},
		Positions: []graph.Position{{ID: position, Model: "skerry-620", Name: "panel", Quantity: 1,
			On: []graph.VariantID{variant}}},
		Parts: []graph.Part{{ID: "Tarnholt A"}, {ID: "Tarnholt B"}, {ID: "Tarnholt C"}},
		Supersessions: []graph.Supersession{
			{ID: "a-b", Old: "Tarnholt A", New: "Tarnholt B", NewOnOld: graph.Yes, OldOnNew: graph.Yes},
			{ID: "a-c", Old: "Tarnholt A", New: "Tarnholt C", NewOnOld: graph.Yes, OldOnNew: graph.No},
		},
		Bikes: []graph.Bike{
			{ID: "found", Variant: variant, Found: []graph.Fitted{{Position: position, Part: "Tarnholt C"}}},
			{ID: "bare", Variant: variant, Found: []graph.Fitted{{Position: position}}},
		},
	}
	for i, fit := range fitments {
		fit.ID = graph.FitmentID(rune('a' + i))
		fit.Position, fit.On = position, []graph.VariantID{variant}
		f.Fitments = append(f.Fitments, fit)
	}
	return f
}

func said(sources ...graph.SourceID) []graph.Cite {
	var cites []graph.Cite
	for _, s := range sources {
		cites = append(cites, graph.Cite{Source: s})
	}
	return cites
}

// TestAsBuilt: which of several listed parts a machine is taken to have.
func TestAsBuilt(t *testing.T) {
	tests := []struct {
		name     string
		fitments []graph.Fitment
		on       string
		scheme   string
		want     graph.PartID
		others   int
		why      string
	}{
		{"nobody says", nil, "skerry-620/2003/eu", "", "", 0, "no source says what sits here"},
		{"one part", []graph.Fitment{{Part: "Tarnholt A", Said: said("list-2003")}}, "skerry-620/2003/eu", "", "Tarnholt A",
			0, "listed here"},
		{"the best source", []graph.Fitment{{Part: "Tarnholt A", Said: said("forum")},
			{Part: "Tarnholt C", Said: said("list-2003")}},
			"skerry-620/2003/eu", "", "Tarnholt C", 1, "listed here"},
		{"the scheme asked for", []graph.Fitment{{Part: "Tarnholt A", Scheme: "ash", Said: said("list-2006")},
			{Part: "Tarnholt C", Scheme: "kelp", Said: said("list-2003")}},
			"skerry-620/2003/eu", "kelp", "Tarnholt C", 0, "listed here"},
		{"the first scheme", []graph.Fitment{{Part: "Tarnholt A", Scheme: "ash", Said: said("list-2003")},
			{Part: "Tarnholt C", Scheme: "kelp", Said: said("list-2006")}},
			"skerry-620/2003/eu", "", "Tarnholt A", 0, "listed here"},
		{"the newer of two that take each other's place",
			[]graph.Fitment{{Part: "Tarnholt A", Said: said("list-2006")}, {Part: "Tarnholt B", Said: said("list-2003")}},
			"skerry-620/2003/eu", "", "Tarnholt B", 1, "listed here"},
		{"the later list where the places can't be taken both ways",
			[]graph.Fitment{{Part: "Tarnholt A", Said: said("list-2006")}, {Part: "Tarnholt C", Said: said("list-2003")}},
			"skerry-620/2003/eu", "", "Tarnholt A", 1, "listed here"},
		{"a bike has what was found", []graph.Fitment{{Part: "Tarnholt A", Said: said("list-2003")}}, "found", "",
			"Tarnholt C", 0, "found on found"},
		{"a bike lacks what is missing", []graph.Fitment{{Part: "Tarnholt A", Said: said("list-2003")}}, "bare", "", "", 0,
			"missing on bare"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			ctx := context.Background()
			s, err := machine.NewSetup(ctx, readertest.New(setupFacts(tt.fitments...)), queries.MachineQuestion{On: tt.on},
				tt.scheme)
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Load(ctx, "skerry-620:body/panel"); err != nil {
				t.Fatal(err)
			}
			seat := s.Seat("skerry-620:body/panel")
			if seat.Part.ID != tt.want || seat.Empty != (tt.want == "") || len(seat.Others) != tt.others || seat.Why != tt.why {
				t.Errorf("got %q (empty %v, others %v): %s; want %q, %d others: %s", seat.Part.ID, seat.Empty, seat.Others,
					seat.Why, tt.want, tt.others, tt.why)
			}
		})
	}
}

// TestSetupWith: a setup with changes leaves the one it came from alone.
func TestSetupWith(t *testing.T) {
	ctx := context.Background()
	const panel = graph.PositionID("skerry-620:body/panel")
	r := readertest.New(setupFacts(graph.Fitment{Part: "Tarnholt A", Said: said("list-2003")}))
	s, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: "skerry-620/2003/eu"}, "")
	if err != nil {
		t.Fatal(err)
	}
	changed, err := s.With(ctx, map[graph.PositionID]graph.PartID{panel: "Tarnholt B"})
	if err != nil {
		t.Fatal(err)
	}
	again, err := changed.With(ctx, map[graph.PositionID]graph.PartID{panel: ""})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Seat(panel); got.Part.ID != "Tarnholt A" || got.Changed {
		t.Errorf("the first setup has %s, changed %v", got.Part.ID, got.Changed)
	}
	if got := changed.Seat(panel); got.Part.ID != "Tarnholt B" || !got.Changed {
		t.Errorf("the second setup has %s, changed %v", got.Part.ID, got.Changed)
	}
	if got := again.Seat(panel); !got.Empty || got.Why != "taken off" {
		t.Errorf("the third setup has %s: %s", got.Part.ID, got.Why)
	}
	if got := again.AsBuilt().Seat(panel).Part.ID; got != "Tarnholt A" {
		t.Errorf("as built it has %s", got)
	}
	var missing *queries.NotFoundError
	if _, err := s.With(ctx, map[graph.PositionID]graph.PartID{panel: "Tarnholt X"}); !errors.As(err, &missing) {
		t.Errorf("a part that is not in the graph: %v", err)
	}
}
