package donor

import (
	"context"
	"time"

	"matewell/graph"
	"matewell/queries/plan"
)

// SearchDonor looks for a plan and calls look at each look at the clock, with how
// many joints, runs and rows were judged until then; what look gives is the time.
func SearchDonor(ctx context.Context, r graph.Reader, q DonorQuestion, look func(judged int) time.Time) error {
	p, err := newPlanner(ctx, r, q)
	if err != nil {
		return err
	}
	defer p.ctx.release()
	p.ctx.now, p.ctx.ticks = func() time.Time { return look(len(p.judged)) }, false
	p.ctx.until(p.ctx.end) // without a timer
	_, err = solve(p)
	return err
}

// SettleDonor looks for a smallest plan, with all that saves work or, plain,
// without any of it, and gives the problem it was found in.
func SettleDonor(ctx context.Context, r graph.Reader, q DonorQuestion, plain bool) (plan.Result, plan.Problem, error) {
	p, err := newPlanner(ctx, r, q)
	if err != nil {
		return plan.Result{}, plan.Problem{}, err
	}
	defer p.ctx.release()
	p.plain = plain
	result, err := solve(p)
	return result, p.problem, err
}
