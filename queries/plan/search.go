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
	methods []method
	kept    Plan // Choice and Through; Cost is added at the end
}

// newSearch gives sparse pieces to elimination, as long as that takes no more
// than so many steps a piece, and dense ones to the solver.
func newSearch(r *room, steps int) *search {
	s := &search{kept: Plan{Choice: make([]int, len(r.options)), Through: make([]int, len(r.allowed))}}
	for _, p := range r.pieces() {
		part := r.part(p, &s.kept)
		if e, ok := part.sparse(steps); ok {
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
		out.Cost = out.Cost.plus(m.state().cost)
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

// run presses down one level after the other, in the order preferred. Sums are
// each piece's own affair. Effort is the highest class of the whole plan: once
// one piece needs a class, the others may use it at no further cost. So first
// the levels before it are settled, then the least class under which they can
// stay as they are, then the levels after it under that class.
func (s *search) run(ctx context.Context, prefer Prefer) error {
	before, after := prefer.split()
	if err := s.any(ctx); err != nil {
		return err
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
