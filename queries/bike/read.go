package bike

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// ownMachine is a user's own machine, with what sits at every position of its
// variant, as built and as found.
type ownMachine struct {
	r     graph.Reader
	bike  graph.Bike
	setup *machine.Setup // with the bike's own parts
	// positions are those of the variant, sorted.
	positions []graph.Position
	siblings  []graph.VariantID // all variants of all models: a box holds parts of any
}

// readOwnMachine reads a bike by its name. A *NotFoundError offers the names of
// others.
func readOwnMachine(ctx context.Context, r graph.Reader, name string) (*ownMachine, error) {
	bike, err := bikeFor(ctx, r, name)
	if err != nil {
		return nil, err
	}
	variants, err := r.Variants(ctx, bike.Variant)
	if err != nil {
		return nil, err
	}
	if len(variants) == 0 {
		return nil, &queries.NotFoundError{What: "variant", Asked: string(bike.Variant), Where: "for bike " + string(bike.ID)}
	}
	m := &ownMachine{r: r, bike: bike, setup: machine.StartIn(machine.NewLibrary(r), variants[0], "")}
	m.setup.Bike = &bike
	all, err := r.PositionsOf(ctx, bike.Variant.Model())
	if err != nil {
		return nil, err
	}
	models, err := r.Models(ctx)
	if err != nil {
		return nil, err
	}
	if m.siblings, err = r.VariantIDs(ctx, lists.Mapped(models,
		func(m graph.Model) graph.ModelID { return m.ID })...); err != nil {
		return nil, err
	}
	m.positions = lists.Kept(all, func(p graph.Position) bool { return slices.Contains(p.On, bike.Variant) })
	return m, m.setup.Load(ctx, lists.Mapped(m.positions, func(p graph.Position) graph.PositionID { return p.ID })...)
}

// bikeFor finds a bike by its name.
func bikeFor(ctx context.Context, r graph.Reader, name string) (graph.Bike, error) {
	bikes, err := r.Bikes(ctx, graph.BikeID(name))
	if err != nil {
		return graph.Bike{}, err
	}
	if len(bikes) > 0 {
		return bikes[0], nil
	}
	if bikes, err = r.Bikes(ctx); err != nil {
		return graph.Bike{}, err
	}
	return graph.Bike{}, queries.NotFound("bike", name, "",
		lists.Mapped(bikes, func(b graph.Bike) graph.BikeID { return b.ID }))
}

// planned is the part that is meant to go to a position; ok is false when
// nothing is planned there.
func (m *ownMachine) planned(id graph.PositionID) (part graph.PartID, ok bool) {
	at := slices.IndexFunc(m.bike.Planned, func(f graph.Fitted) bool { return f.Position == id })
	if at < 0 {
		return "", false
	}
	return m.bike.Planned[at].Part, true
}

// builtPart is the part listed at a position; empty when no source says.
func (m *ownMachine) builtPart(id graph.PositionID) graph.PartID { return m.setup.BuiltAt(id).Part.ID }

// NameOf is a part's name, empty when nobody gave one.
func (m *ownMachine) nameOf(id graph.PartID) string { return m.setup.Library().Part(id).Name }

// inAssembly keeps the positions of one assembly, named without its model; an
// empty name keeps all. A *NotFoundError offers near names.
func (m *ownMachine) inAssembly(ctx context.Context, name string) ([]graph.Position, error) {
	if name == "" {
		return m.positions, nil
	}
	a, err := queries.AssemblyFor(ctx, m.r, m.setup.Variant.Model, name)
	if err != nil {
		return nil, err
	}
	return lists.Kept(m.positions, func(p graph.Position) bool { return p.Assembly == a.ID }), nil
}

// safetyPlace sorts safety classes as they are printed, none last.
func safetyPlace(s graph.Safety) int {
	at := slices.Index(graph.SafetyClasses(), s)
	if at < 0 {
		return len(graph.SafetyClasses())
	}
	return at
}
