package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"matewell/queries/donor"
)

// A line stands on the terminal only after half a second, says the best so far,
// stays within 80 columns and is gone in the end.
func TestLookout(t *testing.T) {
	now := time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)
	var out bytes.Buffer
	l := &lookout{out: &out, start: now, now: func() time.Time { return now }, done: make(chan struct{})}
	l.better(donor.DonorCost{Parts: 4, Effort: "lathe or weld", SafetyUnknowns: 1, OtherUnknowns: 2})
	l.show()
	if out.Len() > 0 {
		t.Errorf("before half a second: %q", out.String())
	}
	now = now.Add(1200 * time.Millisecond)
	l.show()
	if got, want := out.String(), "\rbest so far 4 parts, lathe or weld, 3 unknown; Ctrl-C takes it (1 s)"; got != want ||
		len(got) > 80 {
		t.Errorf("got %q, want %q within 80 columns", got, want)
	}
	l.stop()
	if !strings.HasSuffix(out.String(), "\r") || !strings.Contains(out.String(), "\r"+strings.Repeat(" ", 40)) {
		t.Errorf("the line stays: %q", out.String())
	}
}

// Beside a search that finds better plans all the time the line is shown; once it is
// taken away, nothing comes after it.
func TestLookoutBesideASearch(t *testing.T) {
	var out bytes.Buffer
	began := time.Now().Add(-time.Hour) // nobody need be patient any more
	l := newLookout(env{ErrTerm: true, Bars: &out, Now: func() time.Time { return began }})
	l.mu.Lock()
	l.now = time.Now
	l.mu.Unlock()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(time.Millisecond) {
		l.about("1 of 2, fjeld-750/2003/eu: ")
		l.better(donor.DonorCost{Parts: 4, Effort: "lathe or weld"})
	}
	l.stop()
	l.show()
	if got := out.String(); !strings.Contains(got, "fjeld-750/2003/eu: ") || !strings.HasSuffix(got, "\r") {
		t.Errorf("the line is not shown, or stays: %q", got)
	}
}
