package main

import (
	"context"
	"fmt"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/lookout"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/donor"
)

// planWatched looks for a plan, with the best so far shown to a person. When the command
// is interrupted, that one is the answer; without one, the command was stopped.
func planWatched(ctx context.Context, e desk.Env, r graph.Reader, q donor.DonorQuestion) (donor.DonorAnswer, error) {
	l := newLookout(e)
	q.Better, q.Stop = betterIn(l), ctx.Done()
	answer, err := donor.Donor(context.WithoutCancel(ctx), r, q)
	l.End()
	if err == nil && len(answer.Plans) == 0 && ctx.Err() != nil {
		return answer, ctx.Err()
	}
	return answer, err
}

// compare plans the same goal for several donors, and says which one it is at. When
// the command is interrupted, those it has not come to are told as not looked for.
func compare(ctx context.Context, e desk.Env, r graph.Reader, q donor.DonorQuestion,
	donors []string) (donor.DonorCompared, error) {
	l := newLookout(e)
	defer l.End()
	q.Better, q.Stop = betterIn(l), ctx.Done()
	answer, err := donor.CompareDonors(context.WithoutCancel(ctx), r, q, donors, func(at int) {
		l.About(fmt.Sprintf("%d of %d, %s: ", at+1, len(donors), donors[at]))
	})
	return answer, err
}

// units goes through the groups of a donor, and says at which it is.
func units(ctx context.Context, e desk.Env, r graph.Reader, q donor.DonorQuestion) (donor.UnitsAnswer, error) {
	l := newLookout(e)
	defer l.End()
	q.Better, q.Stop = betterIn(l), ctx.Done()
	return donor.DonorUnits(context.WithoutCancel(ctx), r, q, func(i, of int) {
		l.About(fmt.Sprintf("group %d of %d: ",
			i+1, of))
	})
}

// newLookout begins to watch a search. The caller must call End.
func newLookout(e desk.Env) *lookout.Line {
	if !e.ErrTerm || e.Bars == nil {
		return &lookout.Line{}
	}
	return lookout.Begin(e.Bars, e.Now, desk.Patience)
}

// betterIn has a line say what the best plan so far costs.
func betterIn(l *lookout.Line) func(donor.DonorCost) {
	return func(c donor.DonorCost) { l.Best(soFar(c)) }
}

// soFar is what a plan costs, in a few words.
func soFar(c donor.DonorCost) string {
	text := fmt.Sprintf("%s, %s", page.Counted(c.Parts, "part"), c.Effort)
	if n := c.SafetyUnknowns + c.OtherUnknowns; n > 0 {
		text += fmt.Sprintf(", %d unknown", n)
	}
	return text
}
