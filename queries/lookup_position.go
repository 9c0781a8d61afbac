package queries

import (
	"context"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// PositionFor finds positions of a model by what a person types: the full
// identity, the identity without its model, the last word of it, or the name
// in the parts list. Several positions can answer to a last word or a name: an
// *AmbiguousError lists them. A *NotFoundError names near ones.
func PositionFor(ctx context.Context, r graph.Reader, model graph.ModelID, typed string) (graph.Position, error) {
	local := strings.ToLower(strings.TrimSpace(typed))
	if other, rest, ok := strings.Cut(local, ":"); ok {
		if graph.ModelID(other) != model {
			return graph.Position{}, &NotFoundError{What: "position", Asked: typed, Where: "on " + string(model)}
		}
		local = rest
	}
	exact, err := r.Positions(ctx, graph.PositionID(string(model)+":"+local))
	if err != nil {
		return graph.Position{}, err
	}
	if len(exact) == 1 {
		return exact[0], nil
	}
	all, err := r.PositionsOf(ctx, model)
	if err != nil {
		return graph.Position{}, err
	}
	return positionAmong(all, model, typed, local)
}

func positionAmong(all []graph.Position, model graph.ModelID, typed, local string) (graph.Position, error) {
	key := graph.NumberKey(local)
	matches := lists.Kept(all, func(p graph.Position) bool {
		return key != "" && (key == graph.NumberKey(LastWord(p.ID)) || key == graph.NumberKey(p.Name) ||
			key == graph.NumberKey(p.ID.Local()))
	})
	switch len(matches) {
	case 1:
		return matches[0], nil
	case 0:
		err := NotFound("position", local, "on "+string(model), append(lists.Mapped(all, localOf), lists.Mapped(all, lastOf)...))
		err.Asked = typed
		return graph.Position{}, err
	}
	return graph.Position{}, &AmbiguousError{What: "position", Asked: typed, Could: lists.Unique(lists.Mapped(matches, localOf))}
}

func localOf(p graph.Position) string { return p.ID.Local() }

func lastOf(p graph.Position) string { return LastWord(p.ID) }

// LastWord is the position without model and assembly: "caliper-left".
func LastWord(id graph.PositionID) string {
	_, last, _ := strings.Cut(id.Local(), "/")
	return last
}

// AssemblyFor finds an assembly of a model by identity, with or without the
// model, or by name. A *NotFoundError names near ones.
func AssemblyFor(ctx context.Context, r graph.Reader, model graph.ModelID, typed string) (graph.Assembly, error) {
	local := strings.ToLower(strings.TrimSpace(typed))
	local = strings.TrimPrefix(local, string(model)+":")
	exact, err := r.Assemblies(ctx, graph.AssemblyID(string(model)+":"+local))
	if err != nil {
		return graph.Assembly{}, err
	}
	if len(exact) == 1 {
		return exact[0], nil
	}
	all, err := r.AssembliesOf(ctx, model)
	if err != nil {
		return graph.Assembly{}, err
	}
	names := make([]string, 0, len(all))
	for _, a := range all {
		if key := graph.NumberKey(local); key == graph.NumberKey(a.Name) || key == graph.NumberKey(a.ID.Local()) {
			return a, nil
		}
		names = append(names, a.ID.Local())
	}
	fault := NotFound("assembly", local, "on "+string(model), names)
	fault.Asked = typed
	return graph.Assembly{}, fault
}
