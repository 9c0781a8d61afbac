// Package sampletest says how much a run of the tests tries of what could be tried
// without end: a sample in an ordinary run, all of it with MATEWELL_TESTS=all, as CI
// has it. Which sample is taken hangs on a seed, which is logged: MATEWELL_SEED takes
// another one. What even CI has a sample of is another one each day. Nothing here is in the program.
package sampletest

import (
	"flag"
	"fmt"
	"hash/fnv"
	"os"
	"strconv"
	"testing"
	"time"
)

// All reports whether everything is to be tried.
func All() bool { return os.Getenv("MATEWELL_TESTS") == "all" }

// Of is how many of something are tried: the few of a sample, or the whole.
func Of(t testing.TB, few, whole int) int {
	t.Helper()
	if All() {
		return whole
	}
	t.Logf("%d of %d are tried; MATEWELL_TESTS=all tries all", few, whole)
	return few
}

// Seed is the seed of this run's samples, unless MATEWELL_SEED says another: 1, or
// where all is to be tried the day, as 20261129.
func Seed(t testing.TB) uint64 {
	t.Helper()
	seed, text := uint64(1), os.Getenv("MATEWELL_SEED")
	if All() {
		year, month, day := time.Now().UTC().Date()
		seed = uint64(year*10000 + int(month)*100 + day)
	}
	if text != "" {
		var err error
		if seed, err = strconv.ParseUint(text, 10, 64); err != nil {
			t.Fatalf("MATEWELL_SEED is %q, want a whole number", text)
		}
	}
	t.Logf("sampled with MATEWELL_SEED=%d; MATEWELL_TESTS=all tries more", seed)
	return seed
}

// OneIn gives what says of a thing by its name whether it is in a sample of one in
// n: the same each time for one seed. Where all is to be tried every one is.
func OneIn(t testing.TB, n int) func(name string) bool {
	t.Helper()
	if All() || n <= 1 {
		return func(string) bool { return true }
	}
	return share(Seed(t), n)
}

// Share is as OneIn, for what are too many to try all of at once: where all is to be
// tried it is one in whole, another one on each of so many days, so that by then every
// one was tried.
func Share(t testing.TB, few, whole int) func(name string) bool {
	t.Helper()
	if !All() {
		return share(Seed(t), few)
	}
	turn := Seed(t) % uint64(whole)
	return func(name string) bool { return hashed(name)%uint64(whole) == turn }
}

func share(seed uint64, n int) func(name string) bool {
	return func(name string) bool { return hashed(fmt.Sprintf("%d %s", seed, name))%uint64(n) == 0 }
}

func hashed(text string) uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(text))
	return h.Sum64() >> 20
}

// Checks has rapid try a property so often in this test: few times in a sample, whole
// times where all is to be tried, and never more than -rapid.checks says. What is tried
// hangs on Seed, so that a second run on the same day tries the same, unless -rapid.seed
// says otherwise.
func Checks(t testing.TB, few, whole int) {
	t.Helper()
	want := few
	if All() {
		want = whole
	}
	setFlag(t, "rapid.checks", strconv.Itoa(want), func(was string) bool {
		n, err := strconv.Atoi(was)
		return err != nil || n <= want
	})
	setFlag(t, "rapid.seed", strconv.FormatUint(Seed(t), 10), func(was string) bool { return was != "0" })
}

// setFlag sets a flag for this test, where there is one, unless what it says stays.
func setFlag(t testing.TB, name, value string, stays func(was string) bool) {
	t.Helper()
	f := flag.Lookup(name)
	if f == nil || stays(f.Value.String()) {
		return
	}
	was := f.Value.String()
	if err := f.Value.Set(value); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Value.Set(was) })
}
