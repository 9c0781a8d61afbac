package plan

import (
	"context"
	"errors"
	"fmt"

	"github.com/crillab/gophersat/solver"
)

// turn is held by the one run of the solver that is under way. gophersat keeps
// one buffer for all its solvers (bufLits in its learn.go): two at a time would
// spoil each other's clauses and give wrong answers. That buffer is the
// library's global state; this lock is what it costs us.
var turn = make(chan struct{}, 1)

// answer is what a run found.
type answer struct {
	model []bool // by variable, first at 0; nil when the clauses can't hold
	err   error
}

// errEnough says that a run learned as many clauses as it was allowed.
var errEnough = errors.New("plan: enough clauses learned")

// solve looks for a model of the clauses: nil when there is none. It returns
// the context's error as soon as that is done, and errEnough once more than
// *budget clauses were learned; what was learned is taken off it. A nil budget
// is no bound. By clauses, not by time, so that the outcome is the same in
// every run.
//
// gophersat ignores its own stop channel and may run for ever, so a run is
// stopped through the channel on which it reports each clause it learns: once
// that is closed, its next report panics, the panic is caught where the run
// began, and the goroutine ends. That takes milliseconds, and the next run
// waits its turn until then. The race detector calls closing a channel that
// another goroutine sends on a race; here it is the point.
func (c *clauses) solve(ctx context.Context, budget *int) ([]bool, error) {
	select {
	case turn <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if ctx.Err() != nil {
		<-turn
		return nil, ctx.Err()
	}
	done := make(chan answer, 1)
	learned := make(chan string, 256)
	go func() {
		done <- c.run(learned)
		<-turn
	}()
	for {
		select {
		case a := <-done:
			if budget != nil {
				if *budget -= len(learned); *budget < 0 {
					return nil, errEnough
				}
			}
			return a.model, a.err
		case <-learned:
			if budget == nil {
				continue
			}
			if *budget--; *budget < 0 {
				close(learned)
				return nil, errEnough
			}
		case <-ctx.Done():
			close(learned)
			return nil, ctx.Err()
		}
	}
}

// run is one run of the solver, from beginning to end or to the panic that
// stops it. A panic of the library becomes an error.
func (c *clauses) run(learned chan string) (out answer) {
	defer func() {
		if caught := recover(); caught != nil {
			out = answer{err: fmt.Errorf("plan: the solver failed: %v", caught)}
		}
	}()
	s := solver.New(solver.ParseSliceNb(c.list, c.vars))
	s.Certified, s.CertChan = true, learned
	if s.Solve() != solver.Sat {
		return answer{}
	}
	return answer{model: s.Model()}
}
