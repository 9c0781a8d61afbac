package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// JudgeReady is Judge with whether the machine may be ridden.
func JudgeReady(ctx context.Context, before *examine.Before, after *machine.Setup,
	kits map[graph.PositionID]graph.PartID) (Judgement, error) {
	j, err := Judge(ctx, before, after, kits)
	if err != nil {
		return j, err
	}
	return j, j.readyToRide(ctx)
}

// readyToRide puts into the answer whether the machine may be ridden, with what did
// not fit before at a place that the change touches: the one place for the words, the
// exit status and every format. Judge alone leaves it at not ready.
func (j *Judgement) readyToRide(ctx context.Context) error {
	a := &j.Answer
	var err error
	if a.Before, err = wrongAsFound(ctx, j.x.Before, j.x.After, j.Outcomes); err != nil {
		return err
	}
	a.NotReady = append(NotReady(j.Outcomes, a.Numbers), stillNotReady(a.Before)...)
	a.Ready = len(a.NotReady) == 0
	a.Cautions = cautions(j.x, slices.Concat(j.Outcomes, a.Before), a.Numbers)
	return nil
}

// Then is what it comes to on a machine that has all of gets on, as far as that can be
// put on: left are its outcomes, and numbers its figures.
func (j Judgement) Then(ctx context.Context, on *machine.Setup, gets []Get, left []examine.Outcome,
	numbers []examine.Number) (*SwapThen, error) {
	still, err := wrongAsFound(ctx, j.x.Before, on, j.Outcomes)
	if err != nil {
		return nil, err
	}
	t := &SwapThen{Verdict: leftVerdict(left, numbers), Left: []examine.Outcome{}, on: on,
		NotReady: append(NotReady(left, numbers), stillNotReady(still)...)}
	t.NotReady = append(t.NotReady, MadeFirst(gets, slices.Concat(j.Outcomes, left))...)
	t.Ready = len(t.NotReady) == 0
	return t, nil
}

// endsAs puts into the answer what it comes to with all on, where that is something
// else than before: what then stands against riding, and what to be warned of.
func (j Judgement) endsAs(a *SwapAnswer, t *SwapThen) {
	if a.Then = t; t == nil {
		return
	}
	if a.Ready {
		a.NotReady, a.Ready = t.NotReady, t.Ready
	}
	places := lists.Mapped(lists.KeysOf(t.fitted), func(id graph.PositionID) graph.Safety {
		return j.x.After.Position(id).Safety
	})
	a.Cautions = cautions(j.x, slices.Concat(j.Outcomes, a.Before, t.Left), a.Numbers, places...)
}

// wrongAsFound are the outcomes of a machine of one's own, as found, that do not fit at a
// place which the swap touches, and that the swap itself has not judged.
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
	whole, _, err := x.met(ctx) // by what a place has earned its verdict says no "no"
	return lists.Kept(whole, func(o examine.Outcome) bool {
		told := slices.ContainsFunc(judged, func(j examine.Outcome) bool { return j.Key() == o.Key() })
		return o.After == graph.DoesNotFit && !told && slices.ContainsFunc(o.Ends,
			func(e examine.End) bool { return slices.Contains(touched, e.Position) })
	}), err
}

// stillNotReady says what of it stands against riding.
func stillNotReady(still []examine.Outcome) []Hindrance {
	return lists.Mapped(NotReady(still, nil), func(a Hindrance) Hindrance {
		return Hindrance{What: "was so before", Why: a.String(), Verdict: a.Verdict}
	})
}
