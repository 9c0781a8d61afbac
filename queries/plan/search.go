package plan

import (
	"context"
	"errors"
	"slices"
)

// errImpossible says that no choice meets all demands.
var errImpossible = errors.New("plan: no plan exists")

// search is the pieces of a problem and the best choice so far.
type search struct {
	r       *room
	methods []method
	kept    Plan // Choice and Through; Cost is added at the end
}

// newSearch gives sparse pieces to elimination, as long as that takes no more
// than so many steps a piece, and dense ones to the solver.
func newSearch(r *room, steps int) *search {
	s := &search{r: r, kept: Plan{Choice: make([]int, len(r.options)), Through: make([]int, len(r.allowed))}}
	for _, p := range pieces(r) {
		part := r.part(p, &s.kept)
		if e, ok := sparse(part, steps); ok {
			s.methods = append(s.methods, e)
		} else {
			s.methods = append(s.methods, part.dense())
		}
	}
	return s
}

func (s *search) found() bool {
	return !slices.ContainsFunc(s.methods, func(m method) bool { return !m.state().found })
}

func (s *search) best() Plan {
	out := Plan{Choice: slices.Clone(s.kept.Choice), Through: slices.Clone(s.kept.Through)}
	for _, m := range s.methods {
		out.Cost = out.Cost.Plus(m.state().cost)
	}
	return out
}

// any finds a choice for every piece, or says that there is none.
func (s *search) any(ctx context.Context) error {
	for _, m := range s.methods {
		ok, err := m.try(ctx)
		if err != nil {
			return err
		}
		if !ok {
			return errImpossible
		}
	}
	return nil
}

// tangled reports whether a piece needs the solver.
func (s *search) tangled() bool { return len(s.openOfTangled()) > 0 }

// openOfTangled are the slots with a choice in pieces that need the solver.
func (s *search) openOfTangled() []int {
	var open []int
	for _, m := range s.methods {
		if w, isDense := m.(*dense); isDense {
			open = append(open, kept(w.piece.slots, s.r.open)...)
		}
	}
	return open
}

// adopt takes a plan that is cheaper in the tangled pieces.
func (s *search) adopt(p Plan) {
	for _, m := range s.methods {
		w, isDense := m.(*dense)
		if !isDense {
			continue
		}
		for _, slot := range w.piece.slots {
			s.kept.Choice[slot] = p.Choice[slot]
		}
		for _, d := range w.piece.demands {
			s.kept.Through[d] = p.Through[d]
		}
		w.keep()
	}
}

// settle finds a first plan, makes it cheaper, and then proves a smallest one.
// Where a proof is not to be had in a moment, the plan is made cheaper beside the
// solver until the time is over. better is told of every plan that is cheaper
// than the one before; it may be nil.
func (s *search) settle(ctx context.Context, better func(Plan)) error {
	if err := s.any(ctx); err != nil {
		return err
	}
	open := s.openOfTangled()
	if len(open) == 0 {
		return s.run(ctx)
	}
	tell(better, s.best())
	first := newImprover(s.r, s.best(), open, better)
	first.until(ctx, patience)
	s.adopt(first.plan)
	share, cancel := partOf(ctx, 4)
	floors(share, s)
	cancel()
	beside := newImprover(s.r, first.plan, open, better)
	aside, stop := context.WithCancel(ctx)
	defer stop()
	improved := make(chan Plan, 1)
	go func() {
		beside.until(aside, 0)
		improved <- beside.plan
	}()
	err := s.run(ctx)
	if _, limited := ctx.Deadline(); errors.Is(err, errEnough) && limited {
		<-ctx.Done()
	}
	stop()
	if p := <-improved; err != nil && p.Cost.Less(s.best().Cost, s.r.prefer) {
		s.adopt(p)
	}
	return err
}

func tell(better func(Plan), p Plan) {
	if better != nil {
		better(p)
	}
}

// run presses down one level after the other, in the order preferred. Sums are
// each piece's own affair. Effort is the highest class of the whole plan: once
// one piece needs a class, the others may use it at no further cost. So first
// the levels before it are settled, then the least class under which they can
// stay as they are, then the levels after it under that class.
func (s *search) run(ctx context.Context) error {
	before, after := s.r.prefer.split()
	if !s.found() {
		if err := s.any(ctx); err != nil {
			return err
		}
	}
	for _, m := range s.methods {
		if err := m.descend(ctx, before); err != nil {
			return err
		}
	}
	class := 0
	for _, m := range s.methods {
		needed, err := m.leastEffort(ctx, class)
		if err != nil {
			return err
		}
		class = max(class, needed)
	}
	for _, m := range s.methods {
		m.forbidAbove(class)
		if err := m.descend(ctx, after); err != nil {
			return err
		}
	}
	return nil
}

// least is what no plan costs less than, level by level. Of a piece that is
// settled exactly it takes the cost, of a tangled one a bound.
func (s *search) least(best Cost) Cost {
	var least Cost
	for _, m := range s.methods {
		w, isDense := m.(*dense)
		if !isDense {
			least = least.Plus(m.state().cost)
			continue
		}
		least = least.Plus(w.floor)
	}
	least.Effort = min(least.Effort, best.Effort) // a piece may use a class that another one needs
	return least
}
