package differ

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
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
	joints, err := d.r.JointsAt(ctx, at...)
	if err != nil {
		return err
	}
	further := lists.Kept(examine.Neighbours(joints), func(id graph.PositionID) bool { return !slices.Contains(at, id) })
	if err := d.loadNeighbours(ctx, listings, further); err != nil {
		return err
	}
	d.around = examine.Meetings{Built: d.built, Joints: joints, Positions: d.positions}
	for _, id := range further {
		for _, v := range slices.Concat(d.a.IDs(), d.b.IDs()) {
			parts = append(parts, d.built.PartAt(id, v))
		}
	}
	if err := d.loadParts(ctx, lists.Unique(parts)); err != nil {
		return err
	}
	if err := d.loadClaims(ctx, listings); err != nil {
		return err
	}
	return d.loadFurther(ctx, at)
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

// loadNeighbours adds listings to those read: all years of the positions that
// differ, and what sits on the other sides of their joints.
func (d *differing) loadNeighbours(ctx context.Context, listings []graph.Fitment, further []graph.PositionID) error {
	d.fitments = append(d.fitments, listings...)
	missing := further
	if d.q.Assembly == "" && d.q.Position == "" {
		missing = nil // the whole machine has been read
	}
	if len(missing) > 0 {
		more, err := d.r.FitmentsAt(ctx, missing...)
		if err != nil {
			return err
		}
		d.fitments = append(d.fitments, more...)
	}
	missing = lists.Kept(slices.Clone(further), func(id graph.PositionID) bool { _, have := d.positions[id]; return !have })
	if len(missing) > 0 {
		positions, err := d.r.Positions(ctx, missing...)
		if err != nil {
			return err
		}
		for _, p := range positions {
			d.positions[p.ID] = p
		}
	}
	return d.rebuild(ctx)
}

// loadParts reads parts with their kinds and findings, and ranks their readings.
func (d *differing) loadParts(ctx context.Context, ids []graph.PartID) error {
	ids = lists.Kept(ids, func(id graph.PartID) bool { return id != "" })
	parts, err := d.r.Parts(ctx, ids...)
	if err != nil {
		return err
	}
	kinds, err := d.r.Kinds(ctx, lists.Unique(lists.Mapped(parts, func(p graph.Part) graph.KindID { return p.Kind }))...)
	if err != nil {
		return err
	}
	d.kinds = lists.ByKey(kinds, func(k graph.Kind) graph.KindID { return k.ID })
	if d.findings, err = d.r.FindingsOf(ctx, ids...); err != nil {
		return err
	}
	d.evidence.AddFindings(d.findings)
	var cites []graph.Cite
	for _, p := range parts {
		cites = append(cites, evidence.PartCites(p)...)
	}
	if err := d.evidence.Load(ctx, d.r, cites); err != nil {
		return err
	}
	d.around.Parts = map[graph.PartID]graph.Part{}
	for _, p := range parts {
		d.around.Parts[p.ID] = d.evidence.Ranked(p, d.kinds[p.Kind], d.findings, nil)
	}
	return nil
}

// loadClaims gathers what listings, supersessions and findings say about the
// differing parts on the other machine.
func (d *differing) loadClaims(ctx context.Context, listings []graph.Fitment) error {
	g := d.ground
	both := queries.Machines{Variants: slices.Concat(d.a.Variants, d.b.Variants)}
	g.Machines, g.Fitments, g.Findings = &both, listings, d.findings
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
