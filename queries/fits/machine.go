package fits

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// aroundMachine reads what is near the positions asked about: what is listed
// there, what may take its place, the kits that hold it, what was found there.
func (g *Ground) aroundMachine(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if a.On == nil {
		return &queries.NotFoundError{What: "part or machine", Asked: ""}
	}
	positions, err := PositionsAsked(ctx, g.r, *a.On, q.Position, q.Assembly)
	if err != nil {
		return err
	}
	ids := make([]graph.PositionID, 0, len(positions))
	for _, p := range positions {
		g.Positions[p.ID] = p
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
	g.Findings, err = g.r.FindingsAt(ctx, ids...)
	return err
}

// PositionsAsked reads the positions of a question that some of its variants
// have.
func PositionsAsked(ctx context.Context, r graph.Reader, m queries.Machines, position,
	assembly string) ([]graph.Position, error) {
	var positions []graph.Position
	switch {
	case position != "":
		p, err := queries.PositionFor(ctx, r, m.Model, position)
		if err != nil {
			return nil, err
		}
		positions = []graph.Position{p}
	case assembly != "":
		as, err := queries.AssemblyFor(ctx, r, m.Model, assembly)
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
	return lists.Kept(positions, func(p graph.Position) bool { return slices.ContainsFunc(p.On, m.Has) }), nil
}

// loadFitmentsAt reads what is listed at the positions: for the whole machine
// by its variants, which is less to read, else by the positions.
func (g *Ground) loadFitmentsAt(ctx context.Context, ids []graph.PositionID, whole bool) (err error) {
	if whole {
		g.Fitments, err = g.r.FitmentsOn(ctx, g.Machines.IDs()...)
	} else {
		g.Fitments, err = g.r.FitmentsAt(ctx, ids...)
	}
	g.Fitments = lists.Kept(g.Fitments, func(f graph.Fitment) bool {
		_, asked := g.Positions[f.Position]
		return asked && slices.ContainsFunc(f.On, g.wants)
	})
	return err
}

// loadAround reads the walks from what is listed and the kits that bear on it:
// those that hold a listed part, and, unless the whole machine was asked about,
// those that are listed or took a listed part's place, with what they contain.
// For a whole machine that would mean to read every part with all of its
// features; the kit itself is in the answer then, and what it holds is not.
func (g *Ground) loadAround(ctx context.Context, whole bool) error {
	listed := lists.Unique(lists.Mapped(g.Fitments, func(f graph.Fitment) graph.PartID { return f.Part }))
	if len(listed) == 0 {
		return nil
	}
	edges, err := evidence.EdgesAround(ctx, g.r, listed)
	if err != nil {
		return err
	}
	w := evidence.NewWalker(edges)
	mayBeKits, err := g.r.KitsWith(ctx, listed...)
	if err != nil {
		return err
	}
	if !whole {
		mayBeKits = append(mayBeKits, listed...)
	}
	for _, part := range listed {
		for _, c := range w.FromListed(part) {
			g.Chains = append(g.Chains, c)
			if !whole {
				mayBeKits = append(mayBeKits, c.Target)
			}
		}
	}
	return g.loadKits(ctx, lists.Unique(mayBeKits))
}

// loadKits reads those of the parts that are kits, and the kinds of what they
// contain.
func (g *Ground) loadKits(ctx context.Context, candidates []graph.PartID) error {
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
		if slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool { return c.Target == p.ID }) {
			contents = append(contents, lists.Mapped(p.Contains, func(c graph.Content) graph.PartID { return c.Part })...)
		}
	}
	contents = lists.Kept(lists.Unique(contents), func(id graph.PartID) bool { _, have := g.kinds[id]; return !have })
	if len(contents) == 0 {
		return nil
	}
	parts, err = g.r.Parts(ctx, contents...)
	for _, p := range parts {
		g.kinds[p.ID] = p.Kind
	}
	return err
}
