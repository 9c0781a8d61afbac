package swap

import (
	"context"

	"matewell/graph"
	"matewell/queries/examine"
)

// endsOf are the places of a joint without those of its bolts, and of what is renewed with
// it.
func endsOf(j graph.Joint) []graph.PositionID { return []graph.PositionID{j.A.Position, j.B.Position} }

// TakenWhole has outcomes on a machine, and the places that an examiner judges, answered by
// the machine from which parts came over together, as the judgement of a whole setup does.
// Errors come from the reader.
func TakenWhole(ctx context.Context, e *examine.Examiner, outcomes []examine.Outcome) error {
	x := &judging{Examiner: e}
	var err error
	if x.donors, err = donorSeats(ctx, e.After); err != nil {
		return err
	}
	return x.takenWhole(ctx, outcomes)
}
