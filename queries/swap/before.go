package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// readiness is whether the machine may be ridden, in one place for the words, the exit
// status and every format: with what was asked for alone, with all that there is to
// get, and with what did not fit before at a place that the swap touches.
func (j Judgement) readiness(ctx context.Context, before, after *machine.Setup, a *SwapAnswer) error {
	var err error
	if a.Before, err = standing(ctx, before, after, j.Outcomes); err != nil {
		return err
	}
	a.NotReady = append(a.NotReady, stillNotReady(a.Before)...)
	outcomes := slices.Concat(j.Outcomes, a.Before)
	var places []graph.Safety
	if t := a.Then; t != nil {
		on := after
		if t.on != nil {
			on = t.on
		}
		still, err := standing(ctx, before, on, j.Outcomes)
		if err != nil {
			return err
		}
		t.NotReady = append(t.NotReady, stillNotReady(still)...)
		t.Ready = len(t.NotReady) == 0
		if len(a.NotReady) == 0 {
			a.NotReady = t.NotReady
		}
		outcomes = append(outcomes, t.Left...)
		for _, id := range lists.KeysOf(t.fitted) {
			places = append(places, after.Position(id).Safety)
		}
	}
	a.Ready = len(a.NotReady) == 0
	a.Cautions = cautions(j.x, outcomes, a.Numbers, places...)
	return nil
}

// standing are the outcomes of a machine of one's own, as found, that do not fit at a
// place which the swap touches, and that the swap itself has not judged.
func standing(ctx context.Context, before, s *machine.Setup, judged []examine.Outcome) ([]examine.Outcome, error) {
	if before.Bike == nil || len(before.Bike.Found) == 0 {
		return nil, nil
	}
	ids := lists.Mapped(before.Bike.Found, func(f graph.Fitted) graph.PositionID { return f.Position })
	if err := s.Load(ctx, ids...); err != nil {
		return nil, err
	}
	touched := s.Changed()
	for _, o := range judged {
		touched = append(touched, lists.Mapped(o.Ends, func(e examine.End) graph.PositionID { return e.Position })...)
	}
	changes := s.OwnChanges()
	for _, id := range ids {
		seat := s.Seat(id)
		if _, own := changes[id]; own || seat.Empty || !s.Library().Has(seat.Part.ID) {
			continue
		}
		seat.Changed = true
		changes[id] = seat
	}
	whole, err := Judge(ctx, before.AsBuilt(), s.WithSeats(changes), nil)
	if err != nil {
		return nil, err
	}
	return lists.Kept(whole.Outcomes, func(o examine.Outcome) bool {
		told := slices.ContainsFunc(judged, func(j examine.Outcome) bool { return j.What == o.What && j.ID == o.ID })
		return o.After == graph.DoesNotFit && !told && slices.ContainsFunc(o.Ends,
			func(e examine.End) bool { return slices.Contains(touched, e.Position) })
	}), nil
}

// stillNotReady says what of it stands against riding.
func stillNotReady(still []examine.Outcome) []string {
	return lists.Mapped(NotReady(still, nil), func(why string) string { return "was so before: " + why })
}
