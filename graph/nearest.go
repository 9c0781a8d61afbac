package graph

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"github.com/agext/levenshtein"
)

// shortWord is the length up to which only one letter may differ: at two, every
// short word would be near every other.
const shortWord = 4

// NearLimit is how many letters of a key may differ in one that is near.
func NearLimit(key string) int {
	if utf8.RuneCountInString(key) <= shortWord {
		return 1
	}
	return 2
}

// Nearest gives up to n of the names that a mistyped word may stand for: at
// most two letters to change, add or drop, or one for words of four letters or
// fewer. Case and separators don't count. The closest come first, equally close
// ones in the order of their letters; the word itself is never among them.
func Nearest(word string, names []string, n int) []string {
	type near struct {
		name     string
		distance int
	}
	key := NumberKey(word)
	limit := NearLimit(key)
	var found []near
	for _, name := range names {
		if key == "" || name == word {
			continue
		}
		if d := levenshtein.Distance(key, NumberKey(name), nil); d <= limit {
			found = append(found, near{name, d})
		}
	}
	slices.SortFunc(found, func(a, b near) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.name, b.name))
	})
	found = slices.Compact(found)
	var nearest []string
	for i := 0; i < min(n, len(found)); i++ {
		nearest = append(nearest, found[i].name)
	}
	return nearest
}
