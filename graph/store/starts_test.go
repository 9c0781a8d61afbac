package store

import (
	"slices"
	"testing"

	"github.com/agext/levenshtein"
	"pgregory.net/rapid"
)

// No range is passed over in which a word begins nearly so, by a library's edit distance;
// and a range of one word is taken only when that word does.
func TestStarts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[ab1ä]{0,7}`), 1, 6).Draw(t, "words")
		slices.Sort(words)
		start := rapid.StringMatching(`[ab2ä]{1,5}`).Draw(t, "start")
		limit := rapid.IntRange(0, 1).Draw(t, "limit")
		begins := func(word string) bool {
			letters := []rune(word)
			for n := 0; n <= len(letters); n++ {
				if levenshtein.Distance(start, string(letters[:n]), nil) <= limit {
					return true
				}
			}
			return false
		}
		s := newStarts([]rune(start), limit)
		some := slices.ContainsFunc(words, begins)
		first, last := words[0], words[len(words)-1]
		if some && (!s.between(first, last) || !s.from(first)) {
			t.Fatalf("from %q to %q nothing begins nearly as %q", first, last, start)
		}
		if !begins(first) && s.between(first, first) {
			t.Fatalf("%q begins nearly as %q", first, start)
		}
	})
}
