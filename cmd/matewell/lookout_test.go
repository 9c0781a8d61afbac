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
