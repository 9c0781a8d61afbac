package machine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// JointsTouching, and the like, give what touches any of the positions on a variant,
// sorted by identity.
func (l *Library) JointsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Joint, error) {
	found, err := l.r.JointsAt(ctx, named(at)...)
	return lists.Kept(found, func(j graph.Joint) bool { return slices.Contains(j.On, v) }), err
}

// RunsTouching are runs.
func (l *Library) RunsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Run, error) {
	found, err := l.r.RunsAt(ctx, named(at)...)
	return lists.Kept(found, func(r graph.Run) bool { return slices.Contains(r.On, v) }), err
}

// CircuitsTouching are circuits.
func (l *Library) CircuitsTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Circuit,
	error) {
	found, err := l.r.CircuitsAt(ctx, named(at)...)
	return lists.Kept(found, func(c graph.Circuit) bool { return slices.Contains(c.On, v) }), err
}

// StacksTouching are rows.
func (l *Library) StacksTouching(ctx context.Context, v graph.VariantID, at []graph.PositionID) ([]graph.Stack, error) {
	found, err := l.r.StacksAt(ctx, named(at)...)
	return lists.Kept(found, func(s graph.Stack) bool { return slices.Contains(s.On, v) }), err
}

// named are the positions that have a name.
func named(at []graph.PositionID) []graph.PositionID {
	return lists.Kept(slices.Clone(at), func(id graph.PositionID) bool { return id != "" })
}
