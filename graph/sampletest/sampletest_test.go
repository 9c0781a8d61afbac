package sampletest_test

import (
	"fmt"
	"testing"

	"matewell/graph/sampletest"
)

// A sample holds about one in n, the same for one seed and others for another; all
// of it is taken where all is to be tried.
func TestOneIn(t *testing.T) {
	taken := func(tests, seed string) map[string]bool {
		t.Setenv("MATEWELL_TESTS", tests)
		t.Setenv("MATEWELL_SEED", seed)
		is, all := sampletest.OneIn(t, 10), map[string]bool{}
		for i := range 1000 {
			if name := fmt.Sprint("thing ", i); is(name) {
				all[name] = true
			}
		}
		return all
	}
	first, again, other := taken("", "1"), taken("", "1"), taken("", "2")
	if n := len(first); n < 60 || n > 140 || len(again) != n {
		t.Errorf("%d, then %d of 1000 taken, want about 100 and the same again", n, len(again))
	}
	both := 0
	for name := range first {
		if !again[name] {
			t.Errorf("%s is not taken again", name)
		}
		if other[name] {
			both++
		}
	}
	if both > len(first)/2 {
		t.Errorf("%d of %d are taken with another seed too", both, len(first))
	}
	if n := len(taken("all", "1")); n != 1000 {
		t.Errorf("%d of 1000 taken, want all", n)
	}
	if got := sampletest.Of(t, 3, 50); got != 50 {
		t.Errorf("%d of 50 to be tried, want all", got)
	}
	t.Setenv("MATEWELL_TESTS", "")
	if got := sampletest.Of(t, 3, 50); got != 3 {
		t.Errorf("%d of 50 to be tried, want 3", got)
	}
}
