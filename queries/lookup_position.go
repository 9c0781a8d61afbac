package queries

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// PositionFor finds positions of a model by what a person types: the full
// identity, the identity without its model, the last word of it, the name in
// the parts list, or words of these and of its kind. Several positions can
// answer to a word or a name: an *AmbiguousError lists them. A *NotFoundError
// names near ones, and says of an assembly what to ask instead.
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
	if matches := positionsCalled(all, local); len(matches) > 0 {
		return oneOf(matches, typed)
	}
	if fault := aboutAssembly(ctx, r, model, all, typed); fault != nil {
		return graph.Position{}, fault
	}
	if matches := positionsWithWords(all, Words(local)); len(matches) > 0 {
		return oneOf(matches, typed)
	}
	fault := NotFound("position", local, "on "+string(model),
		append(lists.Mapped(all, localOf), lists.Mapped(all, lastOf)...))
	fault.Asked = typed
	if fault.Hint == "" {
		fault.Hint = onSisters(ctx, r, local)
	}
	return graph.Position{}, fault
}

// onSisters says of a place that a model has not, and others have, how it is asked about
// all the same; empty where none of the first models with such a word has it.
func onSisters(ctx context.Context, r graph.Reader, local string) string {
	models, err := r.ModelsWithWords(ctx, Words(local)...)
	if err != nil {
		return ""
	}
	ids := lists.Mapped(models[:min(len(models), maxWordy)], func(m graph.ModelID) graph.PositionID {
		return graph.PositionID(string(m) + ":" + local)
	})
	found, err := r.Positions(ctx, ids...)
	if err != nil || len(found) == 0 {
		return ""
	}
	return string(found[0].ID.Model()) + " has it; to build such a place into another machine, write a model of your " +
		`own that is "like" that machine and add the place: matewell help machine`
}

// positionsCalled are the positions whose identity, last word or name was typed.
func positionsCalled(all []graph.Position, local string) []graph.Position {
	key := graph.NumberKey(local)
	return lists.Kept(all, func(p graph.Position) bool {
		return key != "" && (key == graph.NumberKey(LastWord(p.ID)) || key == graph.NumberKey(p.Name) ||
			key == graph.NumberKey(p.ID.Local()))
	})
}

// oneOf is the only one of several positions, or else an error that lists them.
func oneOf(matches []graph.Position, typed string) (graph.Position, error) {
	if len(matches) == 1 {
		return matches[0], nil
	}
	could := lists.Unique(lists.Mapped(matches, localOf))
	more := max(0, len(could)-maxWordy)
	return graph.Position{}, &AmbiguousError{What: "position", Asked: typed, Could: could[:len(could)-more], More: more}
}

// aboutAssembly says of a word that is an assembly, where a position was asked
// for, what to ask instead; nil when it is none.
func aboutAssembly(ctx context.Context, r graph.Reader, model graph.ModelID, all []graph.Position, typed string) error {
	assembly, err := AssemblyFor(ctx, r, model, typed)
	if missing := (*NotFoundError)(nil); errors.As(err, &missing) {
		return nil
	}
	if err != nil {
		return err
	}
	within := lists.Kept(all, func(p graph.Position) bool { return p.Assembly == assembly.ID })
	names := lists.Mapped(within[:min(len(within), nearNames)], localOf)
	return &NotFoundError{What: "position", Asked: typed, Where: "on " + string(model),
		Hint: fmt.Sprintf("it is an assembly of %d places, such as %s; all of it comes from another machine with: "+
			"matewell donor --from MACHINE --take %s", len(within), graph.OrList(names), assembly.ID.Local())}
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
