package differ

import (
	"context"
	"errors"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// differing is the work on one DifferQuestion.
type differing struct {
	r        graph.Reader
	q        DifferQuestion
	a, b     queries.Machines
	pairs    []VariantPair
	alone    []graph.VariantID
	evidence *evidence.Evidence
	built    builtAs
	fitments []graph.Fitment
	// positions are those of either machine that are compared, by their
	// identity; locals are their names without the model, sorted.
	positions map[graph.PositionID]graph.Position
	locals    []string
	siblings  []graph.VariantID // all variants of both models

	library *machine.Library // what was read of parts and of what they meet
	ground  *fits.Ground     // claims about the parts that differ
	claims  map[fits.Spot][]evidence.Claim

	// What was worked out already, since most pairs of variants share parts.
	compared   map[[2]graph.PartID]comparison
	directions map[swapKey]*Direction
	outcomes   map[swapKey][]examine.Outcome // of all that a part meets in its new place
}

func newDiffering(ctx context.Context, r graph.Reader, q DifferQuestion) (*differing, error) {
	l := machine.NewLibrary(r)
	d := &differing{r: r, q: q, library: l, evidence: l.Evidence(), positions: map[graph.PositionID]graph.Position{},
		compared: map[[2]graph.PartID]comparison{}, directions: map[swapKey]*Direction{},
		outcomes: map[swapKey][]examine.Outcome{}}
	var err error
	if d.a, err = queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.A, Market: q.Market}); err != nil {
		return nil, err
	}
	if d.b, err = queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.B, Market: q.Market}); err != nil {
		return nil, err
	}
	d.pairs, d.alone = pairsOf(d.a, d.b)
	if d.siblings, err = r.VariantIDs(ctx, d.a.Model, d.b.Model); err != nil {
		return nil, err
	}
	for _, m := range machinesOnce(d.a, d.b) {
		positions, err := fits.PositionsAsked(ctx, r, m, q.Position, q.Assembly)
		if err != nil && !d.otherHas(err, m) {
			return nil, err
		}
		for _, p := range positions {
			d.positions[p.ID] = p
			d.locals = append(d.locals, p.ID.Local())
		}
	}
	d.locals = lists.Unique(d.locals)
	return d, nil
}

// otherHas lets a second model do without the position or assembly asked
// about: what only the first one has is an answer.
func (d *differing) otherHas(err error, m queries.Machines) bool {
	missing := (*queries.NotFoundError)(nil)
	return errors.As(err, &missing) && m.Model != d.a.Model && len(d.positions) > 0
}

// machinesOnce joins both sides when they are of one model, so that its
// positions are read once.
func machinesOnce(a, b queries.Machines) []queries.Machines {
	if a.Model != b.Model {
		return []queries.Machines{a, b}
	}
	both := a
	both.Variants = slices.Concat(a.Variants, b.Variants)
	return []queries.Machines{both}
}

// pairsOf pairs the variants of the same market; when the sides have no market
// in common, every variant with every other. alone are those left over.
func pairsOf(a, b queries.Machines) (pairs []VariantPair, alone []graph.VariantID) {
	sameMarket := func(x, y graph.Variant) bool { return x.Market == y.Market }
	common := slices.ContainsFunc(a.Variants, func(x graph.Variant) bool {
		return slices.ContainsFunc(b.Variants, func(y graph.Variant) bool { return sameMarket(x, y) })
	})
	paired := map[graph.VariantID]bool{}
	for _, x := range a.Variants {
		for _, y := range b.Variants {
			if !common || sameMarket(x, y) {
				pairs = append(pairs, VariantPair{A: x.ID, B: y.ID})
				paired[x.ID], paired[y.ID] = true, true
			}
		}
	}
	for _, v := range slices.Concat(a.Variants, b.Variants) {
		if !paired[v.ID] {
			alone = append(alone, v.ID)
		}
	}
	return pairs, lists.Unique(alone)
}

// loadListings reads what both machines have at the positions.
func (d *differing) loadListings(ctx context.Context) (err error) {
	ids := lists.KeysOf(d.positions)
	variants := slices.Concat(d.a.IDs(), d.b.IDs())
	if len(ids) > 0 {
		if d.q.Assembly == "" && d.q.Position == "" {
			d.fitments, err = d.r.FitmentsOn(ctx, lists.Unique(variants)...)
		} else {
			d.fitments, err = d.r.FitmentsAt(ctx, ids...)
		}
	}
	if err != nil {
		return err
	}
	return d.rebuild(ctx)
}

// rebuild ranks the listings read so far.
func (d *differing) rebuild(ctx context.Context) error {
	var cites []graph.Cite
	for _, f := range d.fitments {
		cites = append(cites, f.Said...)
	}
	if err := d.evidence.Load(ctx, d.r, cites); err != nil {
		return err
	}
	d.built = newBuiltAs(d.evidence, slices.Concat(d.a.Variants, d.b.Variants), d.fitments)
	return nil
}

// at is the position with a local name on a variant; ok is false when the
// variant has none.
func (d *differing) at(local string, v graph.VariantID) (graph.Position, bool) {
	p, ok := d.positions[graph.PositionID(string(v.Model())+":"+local)]
	return p, ok && slices.Contains(p.On, v)
}

// sides is what the two variants of a pair have listed at a position.
func (d *differing) sides(local string, pair VariantPair) (a, b []graph.Fitment) {
	if p, ok := d.at(local, pair.A); ok {
		a = d.built.at(p.ID, pair.A)
	}
	if p, ok := d.at(local, pair.B); ok {
		b = d.built.at(p.ID, pair.B)
	}
	return a, b
}
