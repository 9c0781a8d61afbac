package readertest

import (
	"context"

	"matewell/graph"
)

// JointsAt gives the joints that have a side, a fastener or a part to renew at
// one of the positions.
func (r *Reader) JointsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsAt"); err != nil {
		return nil, err
	}
	return with(&r.joints, "position", graph.Joint.Places, jointID, positions), nil
}

// JointsOf gives the joints of the models.
func (r *Reader) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsOf"); err != nil {
		return nil, err
	}
	return with(&r.joints, "model", one(func(j graph.Joint) graph.ModelID { return j.Model }), jointID, models), nil
}

// RunsAt gives the runs whose line, ends, hot parts or moving features sit at one of
// the positions.
func (r *Reader) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsAt"); err != nil {
		return nil, err
	}
	return with(&r.runs, "position", graph.Run.Places, runID, positions), nil
}

// RunsOf gives the runs of the models.
func (r *Reader) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsOf"); err != nil {
		return nil, err
	}
	return with(&r.runs, "model", one(func(run graph.Run) graph.ModelID { return run.Model }), runID, models), nil
}

// CircuitsAt gives the circuits that one of the positions belongs to.
func (r *Reader) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsAt"); err != nil {
		return nil, err
	}
	return with(&r.circuits, "position", graph.Circuit.Places, circuitID, positions), nil
}

// CircuitsOf gives the circuits of the models.
func (r *Reader) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsOf"); err != nil {
		return nil, err
	}
	return with(&r.circuits, "model", one(func(c graph.Circuit) graph.ModelID { return c.Model }), circuitID, models), nil
}

// StacksAt gives the stacks that one of the positions belongs to.
func (r *Reader) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksAt"); err != nil {
		return nil, err
	}
	return with(&r.stacks, "position", graph.Stack.Places, stackID, positions), nil
}

// StacksOf gives the stacks of the models.
func (r *Reader) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksOf"); err != nil {
		return nil, err
	}
	return with(&r.stacks, "model", one(func(s graph.Stack) graph.ModelID { return s.Model }), stackID, models), nil
}
