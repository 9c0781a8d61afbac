package bike

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// BikeFoundQuestion asks what on a user's machine is not what the book says.
type BikeFoundQuestion struct {
	Name string
}

// BikeFoundAnswer is where a machine is not as built.
type BikeFoundAnswer struct {
	Bike    graph.BikeID    `json:"bike"`
	Variant graph.VariantID `json:"variant"`
	Rows    []FoundRow      `json:"rows"` // by safety class, then position
	// AsBook is how many positions are taken to be as the book says, since
	// nobody noted anything else.
	AsBook int `json:"as_book"`
	// AsFound are the questions that answer from what is really there, AsBuilt
	// those that answer from the book.
	AsFound  []string          `json:"as_found,omitempty"`
	AsBuilt  []string          `json:"as_built,omitempty"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// FoundRow is one position that is not as built.
type FoundRow struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Built    graph.PartID     `json:"built,omitempty"` // empty when no source says
	Found    graph.PartID     `json:"found,omitempty"` // empty when nothing is there
	Planned  string           `json:"planned,omitempty"`
	// How says what the found part is against the book's: a version of it, its
	// successor, a part of another machine.
	How  string `json:"how"`
	Note string `json:"note,omitempty"`
	// Verdict is how it mates with what is really next to it, worst first.
	Verdict graph.Verdict `json:"verdict"`
	Against []AgainstLine `json:"against,omitempty"`
	// Touches are the joints, runs, stacks and circuits that are judged with
	// the found part from now on.
	Touches []string `json:"touches,omitempty"`
}

// SafetyOpen reports whether something found at a safety position does not
// mate, or can't be judged.
func (a BikeFoundAnswer) SafetyOpen() bool {
	return slices.ContainsFunc(a.Rows, func(row FoundRow) bool {
		return row.Safety != "" && (row.Verdict == graph.Unknown || row.Verdict == graph.DoesNotFit)
	})
}

// BikeFound tells where a machine is not what the book says, how what is there
// compares with the book's part, and whether it mates with its neighbours as
// found. Errors are *NotFoundError with near names, or come from the reader.
func BikeFound(ctx context.Context, r graph.Reader, q BikeFoundQuestion) (BikeFoundAnswer, error) {
	a := BikeFoundAnswer{}
	m, err := readOwnMachine(ctx, r, q.Name)
	if err != nil {
		return a, err
	}
	a = BikeFoundAnswer{Bike: m.bike.ID, Variant: m.bike.Variant, AsBook: m.assumed(m.positions),
		AsFound: []string{"swap", "donor", "bike missing", "bike bags"}, AsBuilt: []string{"fits", "differ", "identify"}}
	outcomes, err := m.asFound(ctx)
	if err != nil {
		return a, err
	}
	var parts []graph.PartID
	for _, f := range m.bike.Found {
		parts = append(parts, f.Part)
		if built := m.builtPart(f.Position); built != "" {
			parts = append(parts, built)
		}
	}
	parts = lists.Kept(lists.Unique(parts), func(id graph.PartID) bool { return id != "" })
	w := &work{ownMachine: m}
	if w.successors, err = m.successors(ctx, parts); err != nil {
		return a, err
	}
	for _, id := range parts {
		w.lines = append(w.lines, stockLine{part: id})
	}
	if err := w.readListings(ctx); err != nil {
		return a, err
	}
	for _, f := range m.bike.Found {
		a.Rows = append(a.Rows, w.foundRow(f, outcomes))
	}
	slices.SortStableFunc(a.Rows, func(x, y FoundRow) int {
		return cmp.Or(cmp.Compare(safetyPlace(x.Safety), safetyPlace(y.Safety)), cmp.Compare(x.Position, y.Position))
	})
	a.Cautions = queries.CautionsFor(lists.Mapped(a.Rows, func(row FoundRow) graph.Safety { return row.Safety })...)
	return a, nil
}

// asFound judges what was found, all of it together, against the machine as
// built.
func (m *ownMachine) asFound(ctx context.Context) ([]examine.Outcome, error) {
	changes := map[graph.PositionID]graph.PartID{}
	for _, f := range m.bike.Found {
		if m.setup.Library().Has(f.Part) {
			changes[f.Position] = f.Part
		}
	}
	after, err := m.setup.With(ctx, changes)
	if err != nil {
		return nil, err
	}
	return examine.Examine(ctx, m.setup.AsBuilt(), after)
}

func (w *work) foundRow(f graph.Fitted, outcomes []examine.Outcome) FoundRow {
	p := w.setup.Position(f.Position)
	row := FoundRow{Position: p.ID, Name: p.Name, Safety: p.Safety, Built: w.builtPart(p.ID), Found: f.Part,
		Note: f.Note, How: w.foundHow(p, f.Part), Verdict: graph.Unknown}
	if planned, ok := w.planned(p.ID); ok {
		row.Planned = cmp.Or(string(planned), nothingThere)
	}
	for _, o := range outcomes {
		if slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == p.ID }) {
			row.Touches = append(row.Touches, o.What+" "+queries.LocalName(o.ID))
		}
	}
	if f.Part == "" {
		return row // nothing is there: nothing mates
	}
	if w.isSpokenFor(p, f.Part) || slices.ContainsFunc(outcomes,
		func(o examine.Outcome) bool { return o.SpeaksOf(p.ID) }) {
		row.Verdict = graph.Fits // unless something stands against it
	}
	row.Against = againstAt(outcomes, p.ID)
	for _, line := range row.Against {
		row.Verdict = row.Verdict.Worst(line.Verdict)
	}
	return row
}

// isSpokenFor reports whether a source lists a found part here, or one that it
// takes the place of, or whether it is the listed part in another colour.
func (w *work) isSpokenFor(p graph.Position, found graph.PartID) bool {
	built := w.builtPart(p.ID)
	if s, linked := w.successors.supply(found, built); linked && s.usable {
		return true
	}
	here := func(f graph.Fitment) bool { return f.Position == p.ID && slices.Contains(f.On, w.setup.Variant.ID) }
	a, b := w.setup.Library().Part(built), w.setup.Library().Part(found)
	return slices.ContainsFunc(w.listed[found], here) || sameCore(a, b) && a.Number.Revision == b.Number.Revision
}

// foundHow compares a found part with the listed one.
func (w *work) foundHow(p graph.Position, found graph.PartID) string {
	built := w.builtPart(p.ID)
	parts := w.setup.Library().Part
	switch {
	case found == "":
		return "nothing is there"
	case built == "":
		return "no source says what belongs here"
	case found == built:
		return "the listed part, noted all the same"
	}
	if s, linked := w.successors.supply(found, built); linked {
		return s.how
	}
	if age := w.successors.lineage(found, built); age != "" {
		return age
	}
	if sameCore(parts(built), parts(found)) {
		return "another version of the listed number: " + evidence.NumberDiffers(parts(built).Number, parts(found).Number)
	}
	if where := w.listedElsewhere(p, found); where != "" {
		return where
	}
	if len(w.listed[found]) > 0 {
		on := []graph.VariantID{}
		for _, f := range w.listed[found] {
			on = append(on, f.On...)
		}
		return "listed elsewhere, on " + w.coverageWords(on)
	}
	return "no source lists it on any machine"
}
