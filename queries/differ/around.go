package differ

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// loadDiffering reads more about the positions whose parts are not the same:
// the parts with their features, what may take whose place, what was found, and
// what the parts meet. Nothing more is read about parts that are the same.
func (d *differing) loadDiffering(ctx context.Context) error {
	at, parts := d.differingPlaces()
	d.ground = fits.NewGround(d.r)
	d.ground.Evidence, d.ground.Positions = d.evidence, d.positions
	if err := d.loadOneSided(ctx); err != nil || len(at) == 0 {
		return err
	}
	listings, err := d.r.FitmentsAt(ctx, at...)
	if err != nil {
		return err
	}
	d.fitments = append(d.fitments, listings...)
	if err := d.rebuild(ctx); err != nil {
		return err
	}
	if err := d.loadParts(ctx, parts); err != nil {
		return err
	}
	if err := d.loadClaims(ctx, parts, listings); err != nil {
		return err
	}
	return d.loadOutcomes(ctx, at)
}

// loadOneSided adds the listings of all years at the positions that only one
// machine of a pair has, for the runs of years there.
func (d *differing) loadOneSided(ctx context.Context) error {
	var at []graph.PositionID
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, onA := d.at(local, pair.A)
			b, onB := d.at(local, pair.B)
			switch {
			case onA && !onB:
				at = append(at, a.ID)
			case onB && !onA:
				at = append(at, b.ID)
			}
		}
	}
	if len(at) == 0 {
		return nil
	}
	listings, err := d.r.FitmentsAt(ctx, lists.Unique(at)...)
	if err != nil {
		return err
	}
	d.fitments = append(d.fitments, listings...)
	return d.rebuild(ctx)
}

// differingPlaces are the positions whose listed parts are not the same on some
// pair, and those parts.
func (d *differing) differingPlaces() ([]graph.PositionID, []graph.PartID) {
	var at []graph.PositionID
	var parts []graph.PartID
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, b := d.sides(local, pair)
			if len(a) == 0 || len(b) == 0 || slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
				continue
			}
			at = append(at, a[0].Position, b[0].Position)
			parts = append(parts, append(machine.PartsIn(a), machine.PartsIn(b)...)...)
		}
	}
	return lists.Unique(at), lists.Unique(parts)
}

// loadParts reads parts with what was found out about them, and their kinds.
func (d *differing) loadParts(ctx context.Context, ids []graph.PartID) error {
	if err := d.library.ReadParts(ctx, ids); err != nil {
		return err
	}
	return d.library.ReadKinds(ctx, lists.Mapped(ids,
		func(id graph.PartID) graph.KindID { return d.library.Part(id).Kind }))
}

// part is a part that was read, its readings best first; none for one that
// nobody describes.
func (d *differing) part(id graph.PartID) graph.Part {
	p, _ := d.library.Ranked(id, nil)
	return p
}

// kindOf is the kind of a part.
func (d *differing) kindOf(p graph.Part) graph.Kind { return d.library.Kind(p.Kind) }

// loadClaims gathers what listings, supersessions and findings say about the
// differing parts on the other machine.
func (d *differing) loadClaims(ctx context.Context, parts []graph.PartID, listings []graph.Fitment) error {
	g := d.ground
	both := queries.Machines{Variants: slices.Concat(d.a.Variants, d.b.Variants)}
	g.Machines, g.Fitments = &both, listings
	for _, id := range parts {
		g.Findings = append(g.Findings, d.library.FindingsOf(id)...)
	}
	edges, err := evidence.EdgesAround(ctx, d.r, machine.PartsIn(listings))
	if err != nil {
		return err
	}
	w := evidence.NewWalker(edges)
	for _, part := range machine.PartsIn(listings) {
		g.Chains = append(g.Chains, w.FromListed(part)...)
	}
	if err := g.LoadPositions(ctx); err != nil {
		return err
	}
	if err := g.LoadEvidence(ctx); err != nil {
		return err
	}
	if err := g.LoadVariants(ctx); err != nil {
		return err
	}
	d.claims = map[fits.Spot][]evidence.Claim{}
	for _, c := range g.Claims() {
		key := fits.Spot{Part: c.Part, Position: c.Position, Variant: c.Variant}
		d.claims[key] = append(d.claims[key], c)
	}
	return nil
}
