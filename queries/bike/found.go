package bike

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
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
	// Moved are the parts that hang elsewhere than as built, by position.
	Moved []MovedRow `json:"moved,omitempty"`
	// Standing is what does not fit although both sides are as built, as far as
	// anybody noted: what was measured on the machine says so.
	Standing []examine.Outcome `json:"standing,omitempty"`
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
	// State is what was noted of the state of this very part, judged by its limit;
	// what is scrap does not fit, whatever its number.
	State string `json:"state,omitempty"`
	// Verdict is how it mates with what is really next to it, worst first.
	Verdict graph.Verdict `json:"verdict"`
	Against []AgainstLine `json:"against,omitempty"`
	// Touches are the joints, runs, stacks and circuits that are judged with
	// the found part from now on.
	Touches []string `json:"touches,omitempty"`
}

// SafetyOpen reports whether something found at a safety position does not
// mate, or can't be judged, or what it meets has a class and does not.
func (a BikeFoundAnswer) SafetyOpen() bool {
	open := func(safety graph.Safety, v graph.Verdict, lines []AgainstLine) bool {
		return safety != "" && (v == graph.Unknown || v == graph.DoesNotFit) ||
			slices.ContainsFunc(lines, AgainstLine.isOpen)
	}
	return slices.ContainsFunc(a.Rows, func(row FoundRow) bool { return open(row.Safety, row.Verdict, row.Against) }) ||
		slices.ContainsFunc(a.Moved, func(row MovedRow) bool { return open(row.Safety, row.Verdict, row.Says) }) ||
		slices.ContainsFunc(a.Standing, func(o examine.Outcome) bool { return len(o.Safety) > 0 })
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
	judgement, after, err := m.asFound(ctx)
	if err != nil {
		return a, err
	}
	if a.Standing, err = m.wrongAsFound(ctx, judgement); err != nil {
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
		w.lines = append(w.lines, stockLine{InBox: machine.InBox{Part: id}})
	}
	if err := w.readListings(ctx); err != nil {
		return a, err
	}
	if err := m.readJoints(ctx); err != nil {
		return a, err
	}
	if a.Moved, err = movedRows(ctx, m, judgement.Outcomes); err != nil {
		return a, err
	}
	judged := foundJudged{outcomes: judgement.Outcomes, changed: after.Changed(),
		against: againstEach(judgement, after)}
	for _, f := range m.bike.Found {
		if f.AsBuilt && f.Condition == "" && len(f.Measured) == 0 {
			continue
		}
		a.Rows = append(a.Rows, w.foundRow(f, judged))
	}
	slices.SortStableFunc(a.Rows, func(x, y FoundRow) int { return byClass(x.Safety, y.Safety, x.Position, y.Position) })
	var classes []graph.Safety
	for _, row := range a.Rows {
		classes = append(classes, row.Safety)
		classes = append(classes, lists.Mapped(row.Against, func(l AgainstLine) graph.Safety { return l.Safety })...)
	}
	classes = append(classes, lists.Mapped(a.Moved, func(row MovedRow) graph.Safety { return row.Safety })...)
	for _, o := range a.Standing {
		classes = append(classes, o.Safety...)
	}
	a.Cautions = queries.CautionsFor(classes...)
	return a, nil
}
