// Package lookout shows in one line how a long search stands. It is the one thing of the
// command line that goes on beside another, and has a room of its own so that the race
// detector can watch it without all the rest.
package lookout

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

// Line shows the best plan so far while a smaller one is looked for, in one
// line that is written over and goes at the end. Its zero value shows nothing.
type Line struct {
	out      io.Writer // nil when nobody watches
	start    time.Time
	now      func() time.Time
	patience time.Duration
	done     chan struct{}

	mu    sync.Mutex
	of    string // in front of it: which of several searches it is
	best  string
	shown int // how wide the line on the terminal is
}

// Begin begins to watch a search, and shows nothing before somebody's patience ends. The
// caller must call End.
func Begin(out io.Writer, now func() time.Time, patience time.Duration) *Line {
	l := &Line{out: out, start: now(), now: now, patience: patience, done: make(chan struct{})}
	go l.watch()
	return l
}

// watch shows the line from time to time, until the search is over.
func (l *Line) watch() {
	tick := time.NewTicker(l.patience / 2)
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

// About begins another search, of which nothing is known yet.
func (l *Line) About(what string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.of, l.best = what, ""
}

// Best notes a better plan, in words.
func (l *Line) Best(plan string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.best = "best so far " + plan
}

// show writes the line, once it has taken longer than a person's patience. It
// stays within 80 columns, as no terminal is narrower than that.
func (l *Line) show() {
	l.mu.Lock()
	defer l.mu.Unlock()
	select {
	case <-l.done:
		return // it was just taken away
	default:
	}
	passed := l.now().Sub(l.start)
	if passed < l.patience {
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
func (l *Line) write(text string) {
	fmt.Fprint(l.out, "\r"+text+strings.Repeat(" ", max(0, l.shown-len(text))))
	l.shown = len(text)
}

// End takes the line away.
func (l *Line) End() {
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
