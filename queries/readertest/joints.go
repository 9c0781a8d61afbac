package readertest

import (
	"context"
	"slices"

	"matewell/graph"
)

// JointsAt gives the joints that have a side, a fastener or a part to renew at
// one of the positions.
func (r *Reader) JointsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsAt"); err != nil {
		return nil, err
	}
	return pick(r.facts.Joints, jointID, func(j graph.Joint) bool {
		return share(positions, slices.Concat([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners, j.Renew))
	}), nil
}

// JointsOf gives the joints of the models.
func (r *Reader) JointsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Joint, error) {
	if err := r.called(ctx, "JointsOf"); err != nil {
		return nil, err
	}
	return pick(r.facts.Joints, jointID, func(j graph.Joint) bool { return slices.Contains(models, j.Model) }), nil
}

// RunsAt gives the runs whose line, ends or moving features sit at one of the
// positions.
func (r *Reader) RunsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsAt"); err != nil {
		return nil, err
	}
	return pick(r.facts.Runs, runID, func(run graph.Run) bool {
		refs := slices.Concat([]graph.FeatureRef{run.From, run.To}, run.MovedBy, run.LengthenedBy)
		return share(positions, append(placesOf(refs), run.Line))
	}), nil
}

// RunsOf gives the runs of the models.
func (r *Reader) RunsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Run, error) {
	if err := r.called(ctx, "RunsOf"); err != nil {
		return nil, err
	}
	return pick(r.facts.Runs, runID, func(run graph.Run) bool { return slices.Contains(models, run.Model) }), nil
}

// CircuitsAt gives the circuits that one of the positions belongs to.
func (r *Reader) CircuitsAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsAt"); err != nil {
		return nil, err
	}
	return pick(r.facts.Circuits, circuitID, func(c graph.Circuit) bool {
		return share(positions, slices.Concat(c.Feeds, c.Fed, c.Members))
	}), nil
}

// CircuitsOf gives the circuits of the models.
func (r *Reader) CircuitsOf(ctx context.Context, models ...graph.ModelID) ([]graph.Circuit, error) {
	if err := r.called(ctx, "CircuitsOf"); err != nil {
		return nil, err
	}
	return pick(r.facts.Circuits, circuitID, func(c graph.Circuit) bool { return slices.Contains(models, c.Model) }), nil
}

// StacksAt gives the stacks that one of the positions belongs to.
func (r *Reader) StacksAt(ctx context.Context, positions ...graph.PositionID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksAt"); err != nil {
		return nil, err
	}
	return pick(r.facts.Stacks, stackID, func(s graph.Stack) bool {
		return share(positions, placesOf(append([]graph.FeatureRef{s.Within, s.Centre}, s.Row...)))
	}), nil
}

// StacksOf gives the stacks of the models.
func (r *Reader) StacksOf(ctx context.Context, models ...graph.ModelID) ([]graph.Stack, error) {
	if err := r.called(ctx, "StacksOf"); err != nil {
		return nil, err
	}
	return pick(r.facts.Stacks, stackID, func(s graph.Stack) bool { return slices.Contains(models, s.Model) }), nil
}

func placesOf(refs []graph.FeatureRef) []graph.PositionID {
	var places []graph.PositionID
	for _, ref := range refs {
		if ref.Position != "" {
			places = append(places, ref.Position)
		}
	}
	return places
}
