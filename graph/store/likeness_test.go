package store

import (
	"slices"
	"strings"
	"testing"

	"github.com/agext/levenshtein"
	"github.com/cayleygraph/quad"
	"pgregory.net/rapid"
)

// A library's edit distance is the reference.
func TestLikeness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[ab1ä]{0,9}`)).Draw(t, "words")
		slices.Sort(words)
		key := rapid.StringMatching(`[ab1ä]{1,9}`).Draw(t, "key")
		limit := rapid.IntRange(1, 2).Draw(t, "limit")
		l := newLikeness(key, limit)
		for _, word := range words {
			want := min(levenshtein.Distance(key, word, nil), limit+1)
			if got := min(l.distance([]byte(word)), limit+1); got != want {
				t.Fatalf("%q to %q: %d, want %d, after %q", word, key, got, want, words)
			}
			if want <= limit && len(word) > 0 && !newLikeness(key, limit).begins([]byte(word[:strings.IndexAny(word,
				"ab1ä")+1])) && word[0] < 0x80 {
				t.Fatalf("nothing near %q begins as %q does", key, word)
			}
		}
	})
}

// What goes into the pages of a list comes out of them, however long and
// whatever its letters.
func TestListPages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.StringMatching(`[a-c\x00ä€]{0,5}`)
		var want []listEntry[plainID]
		for range rapid.IntRange(0, 30).Draw(t, "entries") {
			want = append(want, listEntry[plainID]{texts.Draw(t, "key"), plainID(texts.Draw(t, "id"))})
		}
		want = append(want, listEntry[plainID]{strings.Repeat("z", 3000), "x"})
		slices.SortFunc(want, listEntry[plainID].compare)
		want = slices.Compact(want)
		var pages []bundle
		list := listPages{node: "n", write: func(q quad.Quad) error {
			text, _ := q.Object.(quad.String)
			pages = append(pages, bundle{text: string(text)})
			return nil
		}}
		for _, e := range want {
			if err := list.add(e.Key, string(e.ID)); err != nil {
				t.Fatal(err)
			}
		}
		if err := list.close(); err != nil {
			t.Fatal(err)
		}
		got, err := entriesWhere[plainID](pages[:len(pages)-1], nil)
		if err != nil || !slices.Equal(got, want) {
			t.Fatalf("%v, got %q, want %q", err, got, want)
		}
	})
}

func TestTornPage(t *testing.T) {
	for _, text := range []string{"!", " $ab", "\xff", "  ", `{"Key":"a"}`} {
		if _, err := entriesWhere[plainID]([]bundle{{text: text}}, nil); err == nil {
			t.Errorf("%q is taken for a page", text)
		}
	}
}
