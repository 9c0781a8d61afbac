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

// mostLearned is how much a run may learn, in bytes as the solver writes its
// clauses out: it keeps them, and memory must not grow with the time allowed.
const mostLearned = 48 << 20

// takeTurn waits until no other run is under way.
func takeTurn(ctx context.Context) error {
	select {
	case turn <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	err := ctx.Err()
	if err != nil { // both were ready
		<-turn
	}
	return err
}

// run is one run of the solver.
type run struct {
	made    chan *solver.Solver // gets it once, when the clauses are read
	learned chan string         // gets each clause it learns
	over    chan string         // closed from the start
	done    chan answer         // gets one answer, and then no more is to come
}

// start sets a run going; it gives the turn back by itself.
func start(c *clauses) *run {
	r := &run{make(chan *solver.Solver, 1), make(chan string, 256), make(chan string), make(chan answer, 1)}
	close(r.over)
	go func() {
		r.done <- r.search(c)
		<-turn
	}()
	return r
}

// search is the run itself, from the clauses to the answer or to the panic that
// stops it. Every panic of the library becomes an error.
func (r *run) search(c *clauses) (out answer) {
	defer func() {
		if caught := recover(); caught != nil {
			out = answer{err: fmt.Errorf("plan: the solver failed: %v", caught)}
		}
	}()
	s := solver.New(solver.ParseSliceNb(c.list, c.vars))
	s.Certified, s.CertChan = true, r.learned
	r.made <- s
	if s.Solve() != solver.Sat {
		return answer{}
	}
	return answer{model: s.Model()}
}

// stop ends a run that nobody waits for any more, and returns when it is over.
//
// gophersat ignores its own stop channel and may run for ever. But it sends
// each clause it learns to a channel of ours, so it is given a closed one: its
// next send panics, search catches that, and the goroutine ends, milliseconds
// later. The next run waits its turn until then.
func (r *run) stop() {
	select {
	case s := <-r.made:
		redirect(s, r.over)
	case <-r.done:
		return
	}
	for { // take what it still sends to the old channel, or it would hang there
		select {
		case <-r.learned:
		case <-r.done:
			return
		}
	}
}

// redirect changes where a running solver sends what it learns. It is not
// ordered with the solver's reads of that field, on purpose: the field is one
// word, either value is safe to read, and taking the next clause from the old
// channel orders all later reads behind the change.
//
//go:norace
func redirect(s *solver.Solver, to chan string) { s.CertChan = to }
