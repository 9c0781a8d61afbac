package plan

import (
	"context"
	"errors"
	"slices"
)

// ties lists plans that cost the same as the best, the best first, up to
// mostPlans, and counts them. When the time runs out it gives what it has.
func ties(ctx context.Context, s *search) (plans []Plan, count int, atLeast bool, err error) {
	plans, count = []Plan{s.best()}, 1
	for _, m := range s.methods {
		found, n, open, err := m.alternatives(ctx)
		if err != nil && !errors.Is(err, context.DeadlineExceeded) {
			return nil, 0, false, err
		}
		atLeast = atLeast || open
		count = times(count, n)
		plans = combine(plans, m.state().piece, found)
	}
	return plans, count, atLeast, nil
}

// combine puts every alternative of a piece into every plan so far.
func combine(plans []Plan, part piece, found []Plan) []Plan {
	var out []Plan
	for _, p := range plans {
		for _, f := range found {
			if len(out) == mostPlans {
				return out
			}
			next := Plan{slices.Clone(p.Choice), slices.Clone(p.Through), p.Cost}
			for _, i := range part.slots {
				next.Choice[i] = f.Choice[i]
			}
			for _, i := range part.demands {
				next.Through[i] = f.Through[i]
			}
			out = append(out, next)
		}
	}
	return out
}
