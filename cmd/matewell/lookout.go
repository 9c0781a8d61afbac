package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"matewell/graph"
	"matewell/queries/donor"
)

// planWatched looks for a plan, with the best so far shown to a person. When the command
// is interrupted, that one is the answer; without one, the command was stopped.
func planWatched(ctx context.Context, e env, r graph.Reader, q donor.DonorQuestion) (donor.DonorAnswer, error) {
	l := newLookout(e)
	q.Better, q.Stop = l.better, ctx.Done()
	answer, err := donor.Donor(context.WithoutCancel(ctx), r, q)
	l.stop()
	if err == nil && len(answer.Plans) == 0 && ctx.Err() != nil {
		return answer, ctx.Err()
	}
	return answer, err
}

// compare plans the same goal for several donors, and says which one it is at. When
// the command is interrupted, those it has not come to are told as not looked for.
func compare(ctx context.Context, e env, r graph.Reader, q donor.DonorQuestion,
	donors []string) (donor.DonorCompared, error) {
	l := newLookout(e)
	defer l.stop()
	q.Better, q.Stop = l.better, ctx.Done()
	answer, err := donor.CompareDonors(context.WithoutCancel(ctx), r, q, donors, func(at int) {
		l.about(fmt.Sprintf("%d of %d, %s: ", at+1, len(donors), donors[at]))
	})
	return answer, err
}

// units goes through the groups of a donor, and says at which it is.
func units(ctx context.Context, e env, r graph.Reader, q donor.DonorQuestion) (donor.UnitsAnswer, error) {
	l := newLookout(e)
	defer l.stop()
	q.Better, q.Stop = l.better, ctx.Done()
	return donor.DonorUnits(context.WithoutCancel(ctx), r, q, func(i, of int) {
		l.about(fmt.Sprintf("group %d of %d: ",
			i+1, of))
	})
}

// lookout shows the best plan so far while a smaller one is looked for, in one
// line that is written over and goes at the end. Its zero value shows nothing.
type lookout struct {
	out   io.Writer // nil when nobody watches
	start time.Time
	now   func() time.Time
	done  chan struct{}

	mu    sync.Mutex
	of    string // in front of it: which of several searches it is
	best  string
	shown int // how wide the line on the terminal is
}

// newLookout begins to watch a search. The caller must call stop.
func newLookout(e env) *lookout {
	if !e.ErrTerm || e.Bars == nil {
		return &lookout{}
	}
	l := &lookout{out: e.Bars, start: e.Now(), now: e.Now, done: make(chan struct{})}
	go l.watch()
	return l
}

// watch shows the line from time to time, until the search is over.
func (l *lookout) watch() {
	tick := time.NewTicker(patience / 2)
	defer tick.Stop()
	for {
		select {
		case <-l.done:
			return
		case <-tick.C:
			l.show()
		}
	}
}

// about begins another search, of which nothing is known yet.
func (l *lookout) about(what string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.of, l.best = what, ""
}

// better notes a better plan.
func (l *lookout) better(c donor.DonorCost) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.best = fmt.Sprintf("best so far %s, %s", counted(c.Parts, "part"), c.Effort)
	if n := c.SafetyUnknowns + c.OtherUnknowns; n > 0 {
		l.best += fmt.Sprintf(", %d unknown", n)
	}
}

// show writes the line, once it has taken longer than a person's patience. It
// stays within 80 columns, as no terminal is narrower than that.
func (l *lookout) show() {
	l.mu.Lock()
	defer l.mu.Unlock()
	select {
	case <-l.done:
		return // it was just taken away
	default:
	}
	passed := l.now().Sub(l.start)
	if passed < patience {
		return
	}
	text := l.of + "looking for a plan"
	switch {
	case l.best != "" && l.of != "":
		text = l.of + l.best
	case l.best != "":
		text = l.best + "; Ctrl-C takes it"
	}
	l.write(fmt.Sprintf("%s (%d s)", text, int(passed.Seconds())))
}

// write puts a line in place of the last one.
func (l *lookout) write(text string) {
	fmt.Fprint(l.out, "\r"+text+strings.Repeat(" ", max(0, l.shown-len(text))))
	l.shown = len(text)
}

// stop takes the line away.
func (l *lookout) stop() {
	if l.out == nil {
		return
	}
	close(l.done)
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.shown > 0 {
		l.write("")
		fmt.Fprint(l.out, "\r")
	}
}
