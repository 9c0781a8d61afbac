package readertest

import (
	"context"
	"slices"

	"matewell/graph"
)

// VariantsOf gives the variants of the models.
func (r *Reader) VariantsOf(_ context.Context, models ...graph.ModelID) ([]graph.Variant, error) {
	r.calls["VariantsOf"]++
	return pick(r.facts.Variants, variantID, func(v graph.Variant) bool { return slices.Contains(models, v.Model) }), nil
}

// AssembliesOf gives the assemblies of the models.
func (r *Reader) AssembliesOf(_ context.Context, models ...graph.ModelID) ([]graph.Assembly, error) {
	r.calls["AssembliesOf"]++
	return pick(r.facts.Assemblies, assemblyID, func(a graph.Assembly) bool { return slices.Contains(models, a.Model) }), nil
}

// PositionsIn gives the positions in the assemblies.
func (r *Reader) PositionsIn(_ context.Context, assemblies ...graph.AssemblyID) ([]graph.Position, error) {
	r.calls["PositionsIn"]++
	return pick(r.facts.Positions, positionID, func(p graph.Position) bool { return slices.Contains(assemblies, p.Assembly) }), nil
}

// PositionsOf gives the positions of the models.
func (r *Reader) PositionsOf(_ context.Context, models ...graph.ModelID) ([]graph.Position, error) {
	r.calls["PositionsOf"]++
	return pick(r.facts.Positions, positionID, func(p graph.Position) bool { return slices.Contains(models, p.Model) }), nil
}

// PartsByKey finds parts by the key of their number, core or alias.
func (r *Reader) PartsByKey(_ context.Context, keys ...string) ([]graph.PartID, error) {
	r.calls["PartsByKey"]++
	return r.partIDs(func(p graph.Part) bool {
		own := []string{graph.NumberKey(p.Number.Text), p.Number.CoreKey()}
		for _, a := range p.Aliases {
			own = append(own, graph.NumberKey(a.Text))
		}
		return share(own, keys)
	}), nil
}

// PartIDs lists every part.
func (r *Reader) PartIDs(context.Context) ([]graph.PartID, error) {
	r.calls["PartIDs"]++
	return r.partIDs(func(graph.Part) bool { return true }), nil
}

// PartsOfKind lists the parts of the kinds.
func (r *Reader) PartsOfKind(_ context.Context, kinds ...graph.KindID) ([]graph.PartID, error) {
	r.calls["PartsOfKind"]++
	return r.partIDs(func(p graph.Part) bool { return slices.Contains(kinds, p.Kind) }), nil
}

// PositionsOfKind lists the positions at which a part of the kinds belongs.
func (r *Reader) PositionsOfKind(_ context.Context, kinds ...graph.KindID) ([]graph.PositionID, error) {
	r.calls["PositionsOfKind"]++
	var ids []graph.PositionID
	for _, p := range pick(r.facts.Positions, positionID, func(p graph.Position) bool { return slices.Contains(kinds, p.Kind) }) {
		ids = append(ids, p.ID)
	}
	return ids, nil
}

// KindsWith lists the kinds that have a feature of the feature kinds.
func (r *Reader) KindsWith(_ context.Context, featureKinds ...string) ([]graph.KindID, error) {
	r.calls["KindsWith"]++
	var ids []graph.KindID
	for _, k := range pick(r.facts.Kinds, kindID, func(k graph.Kind) bool {
		return slices.ContainsFunc(k.Features, func(f graph.KindFeature) bool { return slices.Contains(featureKinds, f.Kind) })
	}) {
		ids = append(ids, k.ID)
	}
	return ids, nil
}

// KitsWith lists the kits that contain one of the parts.
func (r *Reader) KitsWith(_ context.Context, parts ...graph.PartID) ([]graph.PartID, error) {
	r.calls["KitsWith"]++
	return r.partIDs(func(p graph.Part) bool {
		return slices.ContainsFunc(p.Contains, func(c graph.Content) bool { return slices.Contains(parts, c.Part) })
	}), nil
}

func (r *Reader) partIDs(wanted func(graph.Part) bool) []graph.PartID {
	var ids []graph.PartID
	for _, p := range pick(r.facts.Parts, partID, wanted) {
		ids = append(ids, p.ID)
	}
	return ids
}

// FitmentsOf gives the fitments of the parts.
func (r *Reader) FitmentsOf(_ context.Context, parts ...graph.PartID) ([]graph.Fitment, error) {
	r.calls["FitmentsOf"]++
	return pick(r.facts.Fitments, fitmentID, func(f graph.Fitment) bool { return slices.Contains(parts, f.Part) }), nil
}

// FitmentsAt gives the fitments at the positions, on any variant.
func (r *Reader) FitmentsAt(_ context.Context, positions ...graph.PositionID) ([]graph.Fitment, error) {
	r.calls["FitmentsAt"]++
	return pick(r.facts.Fitments, fitmentID, func(f graph.Fitment) bool { return slices.Contains(positions, f.Position) }), nil
}

// FitmentsOn gives the fitments on the variants.
func (r *Reader) FitmentsOn(_ context.Context, variants ...graph.VariantID) ([]graph.Fitment, error) {
	r.calls["FitmentsOn"]++
	return pick(r.facts.Fitments, fitmentID, func(f graph.Fitment) bool { return share(f.On, variants) }), nil
}

// SupersessionsOf gives the edges that leave or enter one of the parts.
func (r *Reader) SupersessionsOf(_ context.Context, parts ...graph.PartID) ([]graph.Supersession, error) {
	r.calls["SupersessionsOf"]++
	return pick(r.facts.Supersessions, supersessionID, func(s graph.Supersession) bool {
		return slices.Contains(parts, s.Old) || slices.Contains(parts, s.New)
	}), nil
}

// FindingsOf gives the findings about the parts.
func (r *Reader) FindingsOf(_ context.Context, parts ...graph.PartID) ([]graph.Finding, error) {
	r.calls["FindingsOf"]++
	return pick(r.facts.Findings, findingID, func(f graph.Finding) bool { return slices.Contains(parts, f.Part) }), nil
}

// FindingsAt gives the findings at the positions.
func (r *Reader) FindingsAt(_ context.Context, positions ...graph.PositionID) ([]graph.Finding, error) {
	r.calls["FindingsAt"]++
	return pick(r.facts.Findings, findingID, func(f graph.Finding) bool { return slices.Contains(positions, f.Position) }), nil
}
