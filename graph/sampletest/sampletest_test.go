package sampletest_test

import (
	"flag"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

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

// TestChecks: a property is tried as often as is said, on the same for one seed and on others
// for another, and what it took over from the flags is given back.
func TestChecks(t *testing.T) {
	tried := func(seed string) []int {
		t.Setenv("MATEWELL_SEED", seed)
		var drawn []int
		t.Run(seed, func(t *testing.T) {
			sampletest.Checks(t, 5, 7)
			rapid.Check(t, func(t *rapid.T) { drawn = append(drawn, rapid.IntRange(0, 1<<30).Draw(t, "n")) })
		})
		return drawn
	}
	t.Setenv("MATEWELL_TESTS", "")
	first := tried("1")
	if len(first) != 5 || !slices.Equal(first, tried("1")) || slices.Equal(first, tried("2")) {
		t.Errorf("tried %v, then %v, with another seed %v", first, tried("1"), tried("2"))
	}
	t.Setenv("MATEWELL_TESTS", "all")
	if whole := tried("1"); len(whole) != 7 {
		t.Errorf("tried %d of 7", len(whole))
	}
	for name, want := range map[string]string{"rapid.checks": "100", "rapid.seed": "0"} {
		if f := flag.Lookup(name); f.Value.String() != f.DefValue || f.DefValue != want {
			t.Errorf("%s is %s afterwards, want %s", name, f.Value, want)
		}
	}
}
