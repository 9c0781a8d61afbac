package differ

import (
	"context"
	"fmt"
	"reflect"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// stand is one machine as built, on which parts are tried, with all that meets
// there.
type stand struct {
	setup  *machine.Setup
	before *examine.Before
	around examine.Near
	known  *known
}

// known is what was judged on all machines together, by all that decides it: most variants
// of a year are alike around most places.
type known struct {
	outcomes examine.Decided
	whole    map[string]transplanted
}

// transplanted is all that a part comes to in a place.
type transplanted struct {
	outcomes []examine.Outcome
	numbers  []examine.Number
}

// newStand reads what meets the positions of a machine, in a few calls for all of
// them.
func newStand(ctx context.Context, s *machine.Setup, at []graph.PositionID, all *known) (*stand, error) {
	around, err := examine.ConnectionsAt(ctx, s, at)
	if err != nil {
		return nil, err
	}
	before := examine.From(s)
	return &stand{setup: s, before: before, around: around.Near(before), known: all}, nil
}

// judge judges everything that a part meets in its new place, its sort, its figures,
// and by what it earns the place: word is what speaks for it there. Its paint is left
// out: a part of another colour goes on all the same.
func (st *stand) judge(ctx context.Context, t transplant, word examine.Word) ([]examine.Outcome, error) {
	after, err := st.setup.With(ctx, map[graph.PositionID]graph.PartID{t.to.ID: t.part.ID})
	if err != nil {
		return nil, err
	}
	if err := after.Library().ReadKinds(ctx, []graph.KindID{t.part.Kind}); err != nil {
		return nil, err
	}
	x := st.around.At(t.to.ID).Examiner(st.before, after)
	touching := x.Touching(t.to.ID)
	numbers, err := x.Numbers(ctx, nil)
	if err != nil {
		return nil, err
	}
	met, decidedBy := x.OutcomesOnce(touching, st.known.outcomes)
	key := fmt.Sprint(t.to.ID, " ", after.Content(t.to.ID), " for ", st.setup.Content(t.to.ID), " beside ",
		st.setup.Content(machine.OtherSide(t.to.ID)), " ", word, "\n", decidedBy)
	if had, ok := st.known.whole[key]; ok && reflect.DeepEqual(had.numbers, numbers) {
		return had.outcomes, nil
	}
	all := append(met, x.Kinds()...)
	unearned, err := x.Unearned(ctx, all, numbers, map[graph.PositionID]examine.Word{t.to.ID: word})
	all = lists.Kept(append(all, unearned...), func(o examine.Outcome) bool { return o.What != examine.OfFinish })
	for _, n := range numbers {
		if n.Verdict > graph.FitsWithChanges {
			all = append(all, examine.Outcome{What: "figure", ID: n.Name, After: n.Verdict, Why: n.Name + ": " + n.Words})
		}
	}
	st.known.whole[key] = transplanted{all, numbers}
	return all, err
}
