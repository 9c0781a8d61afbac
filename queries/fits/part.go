package fits

import (
	"context"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// aroundPart reads what is near one part: the walks that lead to it, the kits
// that hold it or that it holds, where any of them is listed, what was found
// about it.
func (g *Ground) aroundPart(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	id, err := queries.PartFor(ctx, g.r, q.Part)
	if err != nil {
		return err
	}
	parts, err := g.r.Parts(ctx, id)
	if err != nil {
		return err
	}
	if len(parts) == 0 {
		return &queries.NotFoundError{What: "part", Asked: q.Part}
	}
	g.target = &parts[0]
	g.kinds[id] = g.target.Kind
	a.Part = evidence.LineOfPart(*g.target)
	if err := g.loadKitsOf(ctx, *g.target); err != nil {
		return err
	}
	listed, err := g.loadChainsTo(ctx)
	if err != nil {
		return err
	}
	if g.Fitments, err = g.r.FitmentsOf(ctx, listed...); err != nil {
		return err
	}
	if g.Findings, err = g.r.FindingsOf(ctx, id); err != nil {
		return err
	}
	return g.onlyAsked(ctx, q)
}

// loadKitsOf reads the kits that hold the part; when the part is a kit, it is
// among them.
func (g *Ground) loadKitsOf(ctx context.Context, part graph.Part) error {
	if part.IsKit() {
		g.kits[part.ID] = part
	}
	ids, err := g.r.KitsWith(ctx, part.ID)
	if err != nil || len(ids) == 0 {
		return err
	}
	kits, err := g.r.Parts(ctx, ids...)
	for _, k := range kits {
		g.kits[k.ID] = k
	}
	return err
}

// loadChainsTo reads the walks to the part and to the kits that hold it, and
// gives every part whose listing bears on the answer.
func (g *Ground) loadChainsTo(ctx context.Context) ([]graph.PartID, error) {
	targets := append(lists.KeysOf(g.kits), g.target.ID)
	edges, err := evidence.EdgesAround(ctx, g.r, targets)
	if err != nil {
		return nil, err
	}
	w := evidence.NewWalker(edges)
	listed := targets
	for _, t := range lists.Unique(targets) {
		for _, c := range w.ToTarget(t) {
			g.Chains = append(g.Chains, c)
			listed = append(listed, c.Listed)
		}
	}
	for _, c := range g.target.Contains {
		listed = append(listed, c.Part)
	}
	return lists.Unique(listed), nil
}

// onlyAsked drops what lies outside of the machines, position and assembly
// asked about.
func (g *Ground) onlyAsked(ctx context.Context, q FitsQuestion) error {
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	g.Fitments = lists.Kept(g.Fitments, func(f graph.Fitment) bool { return inside(f.Position) })
	g.Findings = lists.Kept(g.Findings, func(f graph.Finding) bool { return f.Position == "" || inside(f.Position) })
	return nil
}

func (g *Ground) insideOf(ctx context.Context, q FitsQuestion) (func(graph.PositionID) bool, error) {
	all := func(graph.PositionID) bool { return true }
	if g.Machines == nil {
		return all, nil
	}
	model := g.Machines.Model
	switch {
	case q.Position != "":
		p, err := queries.PositionFor(ctx, g.r, model, q.Position)
		return func(id graph.PositionID) bool { return id == p.ID }, err
	case q.Assembly != "":
		as, err := queries.AssemblyFor(ctx, g.r, model, q.Assembly)
		return func(id graph.PositionID) bool { return id.Assembly() == as.ID }, err
	}
	return func(id graph.PositionID) bool { return id.Model() == model }, nil
}
