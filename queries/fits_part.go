package queries

import (
	"context"

	"matewell/graph"
)

// aroundPart reads what is near one part: the walks that lead to it, the kits
// that hold it or that it holds, where any of them is listed, what was found
// about it.
func (g *ground) aroundPart(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	id, err := PartFor(ctx, g.r, q.Part)
	if err != nil {
		return err
	}
	parts, err := g.r.Parts(ctx, id)
	if err != nil {
		return err
	}
	if len(parts) == 0 {
		return &NotFoundError{What: "part", Asked: q.Part}
	}
	g.target = &parts[0]
	g.kinds[id] = g.target.Kind
	a.Part = partLine(*g.target)
	if err := g.loadKitsOf(ctx, *g.target); err != nil {
		return err
	}
	listed, err := g.loadChainsTo(ctx)
	if err != nil {
		return err
	}
	if g.fitments, err = g.r.FitmentsOf(ctx, listed...); err != nil {
		return err
	}
	if g.findings, err = g.r.FindingsOf(ctx, id); err != nil {
		return err
	}
	return g.onlyAsked(ctx, q)
}

// loadKitsOf reads the kits that hold the part; when the part is a kit, it is
// among them.
func (g *ground) loadKitsOf(ctx context.Context, part graph.Part) error {
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
func (g *ground) loadChainsTo(ctx context.Context) ([]graph.PartID, error) {
	targets := append(keysOf(g.kits), g.target.ID)
	edges, err := edgesAround(ctx, g.r, targets)
	if err != nil {
		return nil, err
	}
	w := newWalker(edges)
	listed := targets
	for _, t := range unique(targets) {
		for _, c := range w.toTarget(t) {
			g.chains = append(g.chains, c)
			listed = append(listed, c.listed)
		}
	}
	for _, c := range g.target.Contains {
		listed = append(listed, c.Part)
	}
	return unique(listed), nil
}

// onlyAsked drops what lies outside of the machines, position and assembly
// asked about.
func (g *ground) onlyAsked(ctx context.Context, q FitsQuestion) error {
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	g.fitments = kept(g.fitments, func(f graph.Fitment) bool { return inside(f.Position) })
	g.findings = kept(g.findings, func(f graph.Finding) bool { return f.Position == "" || inside(f.Position) })
	return nil
}

func (g *ground) insideOf(ctx context.Context, q FitsQuestion) (func(graph.PositionID) bool, error) {
	all := func(graph.PositionID) bool { return true }
	if g.machines == nil {
		return all, nil
	}
	model := g.machines.Model
	switch {
	case q.Position != "":
		p, err := PositionFor(ctx, g.r, model, q.Position)
		return func(id graph.PositionID) bool { return id == p.ID }, err
	case q.Assembly != "":
		as, err := AssemblyFor(ctx, g.r, model, q.Assembly)
		return func(id graph.PositionID) bool { return id.Assembly() == as.ID }, err
	}
	return func(id graph.PositionID) bool { return id.Model() == model }, nil
}
