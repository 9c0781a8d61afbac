package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// wrongAsFound are the outcomes of a machine of one's own, as found, that do not fit at a
// place which the swap touches, and that the swap itself has not judged; of what the parts
// swapped in take part in, where safety hangs on it, also those that are unknown and that of
// the machine as built are not.
func wrongAsFound(ctx context.Context, before, s *machine.Setup, judged []examine.Outcome) ([]examine.Outcome, error) {
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
	x, err := newJudging(ctx, examine.From(before.AsBuilt()), s.WithSeats(changes))
	if err != nil {
		return nil, err
	}
	whole, err := x.met(ctx, foundScope()) // by what a place has earned its verdict says no "no"
	return lists.Kept(whole.Outcomes, func(o examine.Outcome) bool {
		told := slices.ContainsFunc(judged, func(j examine.Outcome) bool { return j.Key() == o.Key() })
		at := touched
		if o.After == graph.Unknown && o.IsOpen() && o.IsWorse() {
			at = s.Changed()
		} else if o.After != graph.DoesNotFit {
			return false
		}
		return !told && slices.ContainsFunc(o.Ends, func(e examine.End) bool { return slices.Contains(at, e.Position) })
	}), err
}

// stillNotReady says what of it stands against riding.
func stillNotReady(still []examine.Outcome) []Hindrance {
	return lists.Mapped(NotReady(still, nil), func(a Hindrance) Hindrance {
		return Hindrance{What: "was so before", Why: a.String(), Verdict: a.Verdict}
	})
}
