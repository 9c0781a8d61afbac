package bike

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// work is what a machine wants, and what the boxes give to it.
type work struct {
	*ownMachine
	wants      []want // sorted by position
	lines      []stockLine
	given      []given
	successors successors
	listed     map[graph.PartID][]graph.Fitment // of everything in the boxes
	outcomes   []examine.Outcome                // with every wanted part in its place
}

// work works out wants and gifts for the whole machine.
func (m *ownMachine) work(ctx context.Context) (*work, error) {
	w := &work{ownMachine: m, wants: m.wants()}
	if err := m.readBoxes(ctx); err != nil {
		return nil, err
	}
	var parts []graph.PartID
	for _, one := range w.wants {
		parts = append(parts, one.part)
	}
	parts = lists.Kept(lists.Unique(parts), func(id graph.PartID) bool { return id != "" })
	if err := m.setup.Library().ReadParts(ctx, parts); err != nil {
		return nil, err
	}
	var err error
	if w.successors, err = m.successors(ctx, parts); err != nil {
		return nil, err
	}
	w.lines = m.stock(w.successors.reaches(w.wants))
	w.given = share(w.wants, w.lines, func(x want, line stockLine) (supply, bool) {
		if x.part == "" || x.position.Renew {
			return supply{}, false // what goes on new every time is bought, whatever lies about
		}
		return w.successors.supply(line.part, x.part)
	})
	for _, g := range w.given {
		w.lines[g.line].taken += g.quantity
	}
	if err := w.readListings(ctx); err != nil {
		return nil, err
	}
	return w, w.tryOn(ctx)
}

// wants are the positions that need something: empty ones, those where
// something else is planned than what is there, and empty ones for which no
// source names a part.
func (m *ownMachine) wants() []want {
	var all []want
	for _, p := range m.positions {
		there, built := m.setup.Seat(p.ID), m.builtPart(p.ID)
		planned, isPlanned := m.planned(p.ID)
		switch {
		case isPlanned && planned == "": // it shall stay empty
		case isPlanned && planned != there.Part.ID:
			all = append(all, want{p, planned, m.setup.QuantityOf(p, built)})
		case !isPlanned && there.Empty:
			all = append(all, want{p, built, m.setup.QuantityOf(p, built)})
		}
	}
	return all
}

func (w *work) readListings(ctx context.Context) error {
	w.listed = map[graph.PartID][]graph.Fitment{}
	ids := lists.Unique(lists.Mapped(w.lines, func(l stockLine) graph.PartID { return l.part }))
	if len(ids) == 0 {
		return nil
	}
	fitments, err := w.r.FitmentsOf(ctx, ids...)
	for _, f := range fitments {
		w.listed[f.Part] = append(w.listed[f.Part], f)
	}
	return err
}

// tryOn judges every wanted part against what is really on the machine, all of
// them together.
func (w *work) tryOn(ctx context.Context) error {
	changes := map[graph.PositionID]graph.PartID{}
	for _, one := range w.wants {
		if w.setup.Library().Has(one.part) {
			changes[one.position.ID] = one.part
		}
	}
	if len(changes) == 0 {
		return nil
	}
	after, err := w.setup.With(ctx, changes)
	if err != nil {
		return err
	}
	w.outcomes, err = examine.Examine(ctx, w.setup, after)
	return err
}

// row is one want with all that is known of it.
func (w *work) row(i int) MissingRow {
	one := w.wants[i]
	p := one.position
	row := MissingRow{Position: p.ID, Name: p.Name, Safety: p.Safety, State: StateMissing, Part: one.part,
		PartName: w.nameOf(one.part), Quantity: one.quantity, Short: one.quantity, Source: w.setup.BuiltAt(p.ID).Source}
	if planned, ok := w.planned(p.ID); ok && planned == one.part {
		row.State, row.Source = StatePlanned, evidence.Source{}
		row.Listed = w.builtPart(p.ID)
	}
	if one.part == "" {
		row.State = StateNotKnown
	}
	for _, g := range w.given {
		if g.want != i {
			continue
		}
		line := w.lines[g.line]
		s, _ := w.successors.supply(line.part, one.part)
		row.FromBox = append(row.FromBox, BoxUse{Box: line.box, Part: line.part, Quantity: g.quantity, Sure: line.item.Sure,
			How: s.how, Kit: line.kit, Changes: s.extra, With: s.with, Note: line.item.Note})
		row.Short -= g.quantity
	}
	if row.Short > 0 {
		row.CheckFirst = w.near(one)
	}
	row.Against = againstAt(w.outcomes, p.ID)
	for _, later := range w.positions {
		if slices.Contains(later.After, p.ID) {
			row.HoldsUp = append(row.HoldsUp, later.ID)
		}
	}
	return row
}

// againstAt are the outcomes at a position that are not a plain fit.
func againstAt(outcomes []examine.Outcome, at graph.PositionID) []AgainstLine {
	var lines []AgainstLine
	for _, o := range outcomes {
		here := slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at })
		if here && o.After != graph.Fits && o.After != graph.NoVerdict {
			lines = append(lines, AgainstLine{What: o.What + " " + queries.LocalName(o.ID), Verdict: o.After, Why: o.Why})
		}
	}
	return lines
}
