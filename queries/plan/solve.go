package plan

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"time"
)

// mostPlans is how many plans of equal cost Solve lists at most: enough to tell how many of
// them are others for a person.
const mostPlans = 60

// mostCounted is how many plans of equal cost Solve counts in a tangled piece of
// the problem before it says "at least"; in others it counts them all.
const mostCounted = 20

// Options says how to solve.
type Options struct {
	// Deadline is how long to look; zero is as long as the context allows.
	Deadline time.Duration
	Prefer   Prefer
	// All asks for up to mostPlans plans of the smallest cost, not one.
	All bool
	// NoClash leaves out why there is no plan, which takes longer than to find
	// that there is none.
	NoClash bool
	// Budget is the most Money a plan may cost; zero is no limit.
	Budget int
	// Better is told of every plan that is cheaper than all before, as soon as it
	// is found, from any goroutine but never from two at once; it may be nil, and is
	// not called where a first plan is proved at once.
	Better func(Plan)
	// Stop, when it is closed, ends the search as the deadline does: the best
	// plan found until then is the answer. It may be nil.
	Stop <-chan struct{}
	// steps, when not zero, stands for mostSteps: tests send everything to the
	// solver with -1.
	steps int
}

// Plan is one choice.
type Plan struct {
	Choice  []int // the option taken, by slot
	Through []int // the combination it goes through, by demand
	Cost    Cost
}

// Result is what Solve found.
type Result struct {
	// Plans are of one cost, the same order in every run; one, or with
	// Options.All up to mostPlans. Empty when there is no plan, or none was
	// found in time.
	Plans []Plan
	// Proved is true when no plan costs less, or no plan exists at all; false
	// when the time ran out first: then Plans[0] is the best found.
	Proved bool
	// Equal is how many plans cost the same as Plans[0], itself included; with
	// EqualAtLeast there are that many or more.
	Equal        int
	EqualAtLeast bool
	// OverBudget is the plan that costs least money, when none keeps the budget, or,
	// with Proved false, none was found in time that does; then Plans is empty.
	OverBudget *Plan
	// Clash says why there is no plan; nil when there is one, or when not even
	// that was settled in time.
	Clash *Clash
	Took  time.Duration
	// Least is what no plan costs less than, level by level; with a plan that was
	// proved it is that plan's cost. Where it is less than that of Plans[0], Gap
	// says so in words.
	Least Cost

	prefer Prefer
}

// Gap says how much cheaper a plan might still be, at the first level that is not
// proved: "at most 2 parts fewer". It is empty when the plan is proved, or there is
// none.
func (r Result) Gap() string {
	if r.Proved || len(r.Plans) == 0 {
		return ""
	}
	return GapOf(r.Plans[0].Cost, r.Least, r.prefer)
}

// GapOf says how much less than a cost is possible, where nothing costs less than least:
// at the first level at which they differ. It is empty where they don't.
func GapOf(cost, least Cost, prefer Prefer) string {
	for _, l := range prefer.order() {
		if by := at(cost, l) - at(least, l); by > 0 {
			return "at most " + l.fewer(by)
		}
	}
	return ""
}

// What a Verdict says that was proved: of a plan that none is smaller, or that there
// is none, none within a budget.
const (
	ProvedSmallest  = "proved smallest"
	NoPlan          = "no plan"
	NotWithinBudget = "no plan within the budget"
)

// Verdict is the outcome in words: "proved smallest", "best found in 2s", "no
// plan", "no plan within the budget", "no plan found in 2s".
func (r Result) Verdict() string {
	took := r.Took.Round(10 * time.Millisecond)
	switch {
	case r.Proved && len(r.Plans) > 0:
		return ProvedSmallest
	case r.Proved && r.OverBudget != nil:
		return NotWithinBudget
	case r.Proved:
		return NoPlan
	case len(r.Plans) > 0:
		return fmt.Sprintf("best found in %s", took)
	}
	return fmt.Sprintf("no plan found in %s", took)
}

// Solve finds a smallest plan and proves it, or the best it can find before the
// deadline. Costs are compared as Cost.Less does by Options.Prefer.
//
// A first plan comes at once, then cheaper ones; the deadline is kept within a
// tenth, for all that is done, and memory does not grow with it. Errors: a problem that Check refuses,
// the context's own error when that, not the deadline, ended the search, and a
// failure of the solver. Only one search runs at a time in a process: a second
// waits for the first, and its time runs meanwhile.
func Solve(ctx context.Context, p Problem, o Options) (Result, error) {
	start := time.Now()
	if err := p.check(); err != nil {
		return Result{}, err
	}
	limited, cancel := limit(ctx, o)
	defer cancel()
	solver := solve
	if o.Budget > 0 {
		solver = solveWithin
	}
	result, err := solver(limited, &p, o)
	result.Took = time.Since(start)
	if err != nil && ctx.Err() == nil && errors.Is(err, context.DeadlineExceeded) {
		err = nil // our own deadline: what was found so far is the answer
	}
	if err != nil {
		return Result{}, err
	}
	for _, one := range result.Plans {
		if cost, err := p.costOf(one.Choice, one.Through); err != nil || cost != one.Cost {
			return Result{}, fmt.Errorf("plan: the plan found does not hold: %w", err)
		}
	}
	return result, nil
}

// limit is a context that ends with the deadline or when the search is stopped,
// both with the error of a deadline.
func limit(ctx context.Context, o Options) (context.Context, context.CancelFunc) {
	const forever = 1 << 62
	deadline := o.Deadline
	if deadline <= 0 {
		deadline = forever
	}
	limited, cancel := context.WithTimeout(ctx, deadline)
	if o.Stop == nil {
		return limited, cancel
	}
	go func() {
		select {
		case <-o.Stop:
			cancel()
		case <-limited.Done():
		}
	}()
	return untilStopped{limited, ctx}, cancel
}

// untilStopped ends like a deadline unless the context it came from has ended.
type untilStopped struct {
	context.Context
	from context.Context
}

// Err is that of a deadline, or the error of the context it came from.
func (u untilStopped) Err() error {
	if u.Context.Err() == nil {
		return nil
	}
	return cmp.Or(u.from.Err(), context.DeadlineExceeded)
}

func solve(ctx context.Context, p *Problem, o Options) (Result, error) {
	r := newRoom(p, o.Prefer)
	o.Better = onlyCheaper(o.Better, o.Prefer)
	start := atOnce(ctx, p, o)
	if ok, err := r.reduceInTime(ctx); err != nil {
		return unproved(start, Cost{}, o.Prefer), err
	} else if !ok {
		return impossible(ctx, p, o)
	}
	s := newSearch(r, cmp.Or(o.steps, mostSteps))
	err := s.settle(ctx, o.Better)
	switch {
	case errors.Is(err, errImpossible):
		return impossible(ctx, p, o)
	case err != nil && s.found():
		best := s.best()
		if start != nil && start.Cost.Less(best.Cost, o.Prefer) {
			best = *start
		}
		result := unproved(&best, s.least(best.Cost), o.Prefer)
		if errors.Is(err, errEnough) {
			err = nil
		}
		return result, err
	case errors.Is(err, errEnough):
		return unproved(start, Cost{}, o.Prefer), nil
	case err != nil:
		return unproved(start, Cost{}, o.Prefer), err
	}
	result := Result{Proved: true, prefer: o.Prefer}
	result.Plans, result.Equal, result.EqualAtLeast, err = ties(ctx, s)
	if !o.All && len(result.Plans) > 1 {
		result.Plans = result.Plans[:1]
	}
	result.Least = result.Plans[0].Cost
	return result, err
}

// unproved is the result of a search that ended with a plan, where no plan costs less than
// least; nothing where it had none.
func unproved(best *Plan, least Cost, prefer Prefer) Result {
	if best == nil {
		return Result{}
	}
	return Result{Plans: []Plan{*best}, Equal: 1, EqualAtLeast: true, Least: least, Proved: least == best.Cost,
		prefer: prefer}
}

// onlyCheaper tells of a plan where it is cheaper than all that were told of.
func onlyCheaper(better func(Plan), prefer Prefer) func(Plan) {
	if better == nil {
		return nil
	}
	var told *Plan
	return func(one Plan) {
		if told == nil || one.Cost.Less(told.Cost, prefer) {
			told = &one
			better(one)
		}
	}
}

// manyAllowed is from how many combinations on, of all demands, a plan is put together before
// anything is done that only saves work later: for a thousand places of eight candidates that
// alone takes longer than somebody waits for a first plan.
const manyAllowed = 100_000

// atOnce puts some plan together, the cheapest option first, and tells of it; nil for a small
// problem, and where that came to nothing.
func atOnce(ctx context.Context, p *Problem, o Options) *Plan {
	allowed := 0
	for _, d := range p.Demands {
		allowed += len(d.Allowed)
	}
	if allowed < manyAllowed {
		return nil
	}
	r := newRoom(p, o.Prefer)
	if ok, err := r.consistent(ctx); err != nil || !ok {
		return nil
	}
	one := &Plan{Choice: make([]int, len(r.options)), Through: make([]int, len(r.allowed))}
	for _, piece := range pieces(r) {
		part := r.part(piece, one)
		if !construct(ctx, &part) {
			return nil
		}
	}
	var err error
	if one.Cost, err = p.costOf(one.Choice, one.Through); err != nil {
		return nil
	}
	tell(o.Better, *one)
	return one
}

// impossible is the result that there is no plan.
func impossible(ctx context.Context, p *Problem, o Options) (Result, error) {
	if o.NoClash {
		return Result{Proved: true}, nil
	}
	clash, err := explain(ctx, p)
	return Result{Proved: true, Clash: clash}, err
}
