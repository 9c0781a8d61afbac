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

// Where all is to be tried, a share of so many days is another one each day, and on the
// last of them every one was tried, once.
func TestShare(t *testing.T) {
	t.Setenv("MATEWELL_TESTS", "all")
	taken := map[string]int{}
	for _, day := range []string{"20261129", "20261130", "20261131"} { // in a row
		t.Setenv("MATEWELL_SEED", day)
		is := sampletest.Share(t, 100, 3)
		for i := range 300 {
			if name := fmt.Sprint("thing ", i); is(name) {
				taken[name]++
			}
		}
	}
	if len(taken) != 300 {
		t.Errorf("%d of 300 were tried", len(taken))
	}
	for name, times := range taken {
		if times != 1 {
			t.Errorf("%s was tried %d times", name, times)
		}
	}
}
