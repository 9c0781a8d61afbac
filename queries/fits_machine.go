package queries

import (
	"context"
	"slices"

	"matewell/graph"
)

// aroundMachine reads what is near the positions asked about: what is listed
// there, what may take its place, the kits that hold it, what was found there.
func (g *ground) aroundMachine(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if a.On == nil {
		return &NotFoundError{What: "part or machine", Asked: ""}
	}
	positions, err := positionsAsked(ctx, g.r, *a.On, q.Position, q.Assembly)
	if err != nil {
		return err
	}
	ids := make([]graph.PositionID, 0, len(positions))
	for _, p := range positions {
		g.positions[p.ID] = p
		ids = append(ids, p.ID)
	}
	if len(ids) == 0 {
		return nil
	}
	whole := q.Position == "" && q.Assembly == ""
	if err := g.loadFitmentsAt(ctx, ids, whole); err != nil {
		return err
	}
	if err := g.loadAround(ctx, whole); err != nil {
		return err
	}
	g.findings, err = g.r.FindingsAt(ctx, ids...)
	return err
}

// positionsAsked reads the positions of a question that some of its variants
// have.
func positionsAsked(ctx context.Context, r graph.Reader, m Machines, position, assembly string) ([]graph.Position, error) {
	var positions []graph.Position
	switch {
	case position != "":
		p, err := PositionFor(ctx, r, m.Model, position)
		if err != nil {
			return nil, err
		}
		positions = []graph.Position{p}
	case assembly != "":
		as, err := AssemblyFor(ctx, r, m.Model, assembly)
		if err != nil {
			return nil, err
		}
		if positions, err = r.PositionsIn(ctx, as.ID); err != nil {
			return nil, err
		}
	default:
		var err error
		if positions, err = r.PositionsOf(ctx, m.Model); err != nil {
			return nil, err
		}
	}
	return kept(positions, func(p graph.Position) bool { return slices.ContainsFunc(p.On, m.has) }), nil
}

// loadFitmentsAt reads what is listed at the positions: for the whole machine
// by its variants, which is less to read, else by the positions.
func (g *ground) loadFitmentsAt(ctx context.Context, ids []graph.PositionID, whole bool) (err error) {
	if whole {
		g.fitments, err = g.r.FitmentsOn(ctx, g.machines.IDs()...)
	} else {
		g.fitments, err = g.r.FitmentsAt(ctx, ids...)
	}
	g.fitments = kept(g.fitments, func(f graph.Fitment) bool {
		_, asked := g.positions[f.Position]
		return asked && slices.ContainsFunc(f.On, g.wants)
	})
	return err
}

// loadAround reads the walks from what is listed and the kits that bear on it:
// those that hold a listed part, and, unless the whole machine was asked about,
// those that are listed or took a listed part's place, with what they contain.
// For a whole machine that would mean to read every part with all of its
// features; the kit itself is in the answer then, and what it holds is not.
func (g *ground) loadAround(ctx context.Context, whole bool) error {
	listed := unique(mapped(g.fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
	if len(listed) == 0 {
		return nil
	}
	edges, err := edgesAround(ctx, g.r, listed)
	if err != nil {
		return err
	}
	w := newWalker(edges)
	mayBeKits, err := g.r.KitsWith(ctx, listed...)
	if err != nil {
		return err
	}
	if !whole {
		mayBeKits = append(mayBeKits, listed...)
	}
	for _, part := range listed {
		for _, c := range w.fromListed(part) {
			g.chains = append(g.chains, c)
			if !whole {
				mayBeKits = append(mayBeKits, c.target)
			}
		}
	}
	return g.loadKits(ctx, unique(mayBeKits))
}

// loadKits reads those of the parts that are kits, and the kinds of what they
// contain.
func (g *ground) loadKits(ctx context.Context, candidates []graph.PartID) error {
	if len(candidates) == 0 {
		return nil
	}
	parts, err := g.r.Parts(ctx, candidates...)
	if err != nil {
		return err
	}
	var contents []graph.PartID
	for _, p := range parts {
		g.kinds[p.ID] = p.Kind
		if !p.IsKit() {
			continue
		}
		g.kits[p.ID] = p
		// What a part is matters only where a kit took another part's place.
		if slices.ContainsFunc(g.chains, func(c chain) bool { return c.target == p.ID }) {
			contents = append(contents, mapped(p.Contains, func(c graph.Content) graph.PartID { return c.Part })...)
		}
	}
	contents = kept(unique(contents), func(id graph.PartID) bool { _, have := g.kinds[id]; return !have })
	if len(contents) == 0 {
		return nil
	}
	parts, err = g.r.Parts(ctx, contents...)
	for _, p := range parts {
		g.kinds[p.ID] = p.Kind
	}
	return err
}
