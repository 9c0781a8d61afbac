package machine

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// touching keeps what touches positions: read once for each position, by one
// call for all that are asked for together.
type touching[K cmp.Ordered, T any] struct {
	what string
	read func(ctx context.Context, at ...graph.PositionID) ([]T, error)
	id   func(T) K
	on   func(T) []graph.VariantID
	at   func(T) []graph.PositionID
	all  map[K]T
	ids  map[graph.PositionID][]K
}

// touch gives what touches any of the positions on a variant, sorted by
// identity.
func touch[K cmp.Ordered, T any](ctx context.Context, l *Library, t *touching[K, T], v graph.VariantID, positions []graph.PositionID) ([]T, error) {
	if missing := fresh(l, t.what, positions); len(missing) > 0 {
		found, err := t.read(ctx, missing...)
		if err != nil {
			return nil, err
		}
		for _, item := range found {
			key := t.id(item)
			t.all[key] = item
			for _, id := range lists.Unique(t.at(item)) {
				if slices.Contains(missing, id) {
					t.ids[id] = append(t.ids[id], key)
				}
			}
		}
	}
	var keys []K
	for _, id := range positions {
		keys = append(keys, t.ids[id]...)
	}
	var items []T
	for _, key := range lists.Unique(keys) {
		if item := t.all[key]; slices.Contains(t.on(item), v) {
			items = append(items, item)
		}
	}
	return items, nil
}

// JointsTouching, and the like, give what touches any of the positions on a variant,
// sorted by identity.
func (l *Library) JointsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Joint, error) {
	return touch(ctx, l, l.joints, v, at)
}

func (l *Library) RunsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Run, error) {
	return touch(ctx, l, l.runs, v, at)
}

func (l *Library) CircuitsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Circuit, error) {
	return touch(ctx, l, l.circuits, v, at)
}

func (l *Library) StacksTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Stack, error) {
	return touch(ctx, l, l.stacks, v, at)
}

func newTouching[K cmp.Ordered, T any](what string, read func(context.Context, ...graph.PositionID) ([]T, error), id func(T) K,
	on func(T) []graph.VariantID, at func(T) []graph.PositionID) *touching[K, T] {
	return &touching[K, T]{what: what, read: read, id: id, on: on, at: at, all: map[K]T{}, ids: map[graph.PositionID][]K{}}
}

func touchingJoints(r graph.Reader) *touching[graph.JointID, graph.Joint] {
	return newTouching("joints at", r.JointsAt, func(j graph.Joint) graph.JointID { return j.ID },
		func(j graph.Joint) []graph.VariantID { return j.On }, JointPlaces)
}

func touchingRuns(r graph.Reader) *touching[graph.RunID, graph.Run] {
	return newTouching("runs at", r.RunsAt, func(run graph.Run) graph.RunID { return run.ID },
		func(run graph.Run) []graph.VariantID { return run.On }, RunPlaces)
}

func touchingCircuits(r graph.Reader) *touching[graph.CircuitID, graph.Circuit] {
	return newTouching("circuits at", r.CircuitsAt, func(c graph.Circuit) graph.CircuitID { return c.ID },
		func(c graph.Circuit) []graph.VariantID { return c.On }, CircuitPlaces)
}

func touchingStacks(r graph.Reader) *touching[graph.StackID, graph.Stack] {
	return newTouching("stacks at", r.StacksAt, func(st graph.Stack) graph.StackID { return st.ID },
		func(st graph.Stack) []graph.VariantID { return st.On }, StackPlaces)
}

// The positions that take part in each sort of connection.

func JointPlaces(j graph.Joint) []graph.PositionID {
	return slices.Concat([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners, j.Renew)
}

func RunPlaces(run graph.Run) []graph.PositionID {
	places := []graph.PositionID{run.Line, run.From.Position, run.To.Position}
	for _, ref := range slices.Concat(run.MovedBy, run.LengthenedBy) {
		places = append(places, ref.Position)
	}
	return places
}

func CircuitPlaces(c graph.Circuit) []graph.PositionID {
	return slices.Concat(c.Feeds, c.Fed, c.Members)
}

func StackPlaces(st graph.Stack) []graph.PositionID {
	places := []graph.PositionID{st.Within.Position, st.Centre.Position}
	for _, ref := range st.Row {
		places = append(places, ref.Position)
	}
	return places
}
