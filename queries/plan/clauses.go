package plan

import "context"

// clauses is a set of clauses over variables 1, 2, ...; a negative number is a
// variable denied. Sets grow at the end only, so that a caller can go back to
// an earlier length.
type clauses struct {
	vars int
	list [][]int
}

// fresh is a new variable.
func (c *clauses) fresh() int {
	c.vars++
	return c.vars
}

// add demands that one of the literals holds.
func (c *clauses) add(literals ...int) {
	c.list = append(c.list, literals)
}

// one demands that exactly one of the literals holds.
func (c *clauses) one(literals []int) {
	c.add(literals...)
	c.atMostOne(literals)
}

// atMostOne is pairwise for few literals; for many it passes "one has held
// already" along a chain of new variables, which takes fewer clauses.
func (c *clauses) atMostOne(literals []int) {
	if len(literals) <= 8 {
		for i, a := range literals {
			for _, b := range literals[i+1:] {
				c.add(-a, -b)
			}
		}
		return
	}
	held := 0
	for i, a := range literals {
		if held != 0 {
			c.add(-held, -a)
		}
		if i == len(literals)-1 {
			return
		}
		next := c.fresh()
		c.add(-a, next)
		if held != 0 {
			c.add(-held, next)
		}
		held = next
	}
}

// solve looks for a model of the clauses: nil when there is none. It returns
// the context's error as soon as that is done, and errEnough once more than
// *budget clauses were learned, or more than mostLearned; what was learned is
// taken off the budget. A nil budget is no bound. By clauses, not by time, so that
// the outcome is the same in every run.
func (c *clauses) solve(ctx context.Context, budget *int) ([]bool, error) {
	if err := takeTurn(ctx); err != nil {
		return nil, err
	}
	r := start(c)
	size := 0
	for {
		select {
		case a := <-r.done:
			if budget != nil {
				if *budget -= len(r.learned); *budget < 0 {
					return nil, errEnough
				}
			}
			return a.model, a.err
		case clause := <-r.learned:
			size += len(clause)
			if budget != nil {
				*budget--
			}
			if size > mostLearned || budget != nil && *budget < 0 {
				go r.stop()
				return nil, errEnough
			}
		case <-ctx.Done():
			go r.stop()
			return nil, ctx.Err()
		}
	}
}
