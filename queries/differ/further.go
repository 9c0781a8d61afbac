package differ

import (
	"context"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
)

// stand is one machine as built, on which parts are tried, with all that meets
// there.
type stand struct {
	setup  *machine.Setup
	before *examine.Before
	meets  map[graph.PositionID][]examine.Connection
	around *examine.Connections
}

// newStand reads what meets the positions of a machine, in a few calls for all of
// them.
func newStand(ctx context.Context, s *machine.Setup, at []graph.PositionID) (*stand, error) {
	around, err := examine.ConnectionsAt(ctx, s, at)
	if err != nil {
		return nil, err
	}
	st := &stand{setup: s, before: examine.From(s), around: around, meets: map[graph.PositionID][]examine.Connection{}}
	for _, c := range around.List(s, nil) {
		if c.What == examine.OfFinish {
			continue // a part of another colour goes on all the same
		}
		for _, id := range c.Places {
			st.meets[id] = append(st.meets[id], c)
		}
	}
	return st, nil
}

// judge judges everything that a part meets in its new place, its sort, its figures,
// and by what it earns the place: word is what speaks for it there.
func (st *stand) judge(ctx context.Context, t transplant, word examine.Word) ([]examine.Outcome, error) {
	after, err := st.setup.With(ctx, map[graph.PositionID]graph.PartID{t.to.ID: t.part.ID})
	if err != nil {
		return nil, err
	}
	var all []examine.Outcome
	for _, c := range st.meets[t.to.ID] {
		if o, ok := c.Judge(st.before, after); ok {
			all = append(all, o)
		}
	}
	x := st.around.Examiner(st.before, after)
	all = append(all, x.Kinds()...)
	numbers, err := x.Numbers(ctx, nil)
	if err != nil {
		return nil, err
	}
	places, err := x.Places(ctx, all, numbers, map[graph.PositionID]examine.Word{t.to.ID: word})
	all = append(all, places.Unknown...)
	for _, n := range numbers {
		if n.Verdict > graph.FitsWithChanges {
			all = append(all, examine.Outcome{What: "figure", ID: n.Name, After: n.Verdict, Why: n.Name + ": " + n.Words})
		}
	}
	return all, err
}
