package lookout_test

import (
	"bytes"
	"strings"
	"sync"
	"testing"
	"time"

	"matewell/cmd/matewell/internal/lookout"
)

// screen is a terminal that is written to beside the test.
type screen struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// shows waits until the screen holds a text, but not for ever.
func (s *screen) shows(text string) bool {
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if strings.Contains(s.String(), text) {
			return true
		}
	}
	return false
}

// A line stands on the terminal only after somebody's patience ends, says the best so far,
// stays within 80 columns and is gone in the end.
func TestLookout(t *testing.T) {
	now, passed := time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC), make(chan time.Duration, 1)
	passed <- 0
	clock := func() time.Time {
		d := <-passed
		passed <- d
		return now.Add(d)
	}
	var out screen
	l := lookout.Begin(&out, clock, 2*time.Millisecond)
	l.Best("4 parts, lathe or weld, 3 unknown")
	time.Sleep(20 * time.Millisecond)
	if got := out.String(); got != "" {
		t.Errorf("before patience ends: %q", got)
	}
	<-passed
	passed <- 1200 * time.Millisecond
	const want = "\rbest so far 4 parts, lathe or weld, 3 unknown; Ctrl-C takes it (1 s)"
	if !out.shows(want) || len(want) > 80 {
		t.Errorf("got %q, want %q within 80 columns", out.String(), want)
	}
	l.End()
	if got := out.String(); !strings.HasSuffix(got, "\r") || !strings.Contains(got, "\r"+strings.Repeat(" ", 40)) {
		t.Errorf("the line stays: %q", got)
	}
}

// Beside a search that finds better plans all the time the line is shown; once it is
// taken away, nothing comes after it.
func TestLookoutBesideASearch(t *testing.T) {
	var out screen
	l := lookout.Begin(&out, time.Now, time.Millisecond)
	for end := time.Now().Add(100 * time.Millisecond); time.Now().Before(end); time.Sleep(time.Millisecond) {
		l.About("1 of 2, fjeld-750/2003/eu: ")
		l.Best("4 parts, lathe or weld")
	}
	shown := out.shows("fjeld-750/2003/eu: best so far 4 parts")
	l.End()
	time.Sleep(10 * time.Millisecond)
	if got := out.String(); !shown || !strings.HasSuffix(got, "\r") {
		t.Errorf("the line is not shown, or stays: %q", got)
	}
}

// Where nobody watches, nothing is shown.
func TestLookoutUnseen(t *testing.T) {
	l := &lookout.Line{}
	l.About("1 of 2: ")
	l.Best("4 parts")
	l.End()
}
