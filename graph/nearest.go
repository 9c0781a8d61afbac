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
// fewer; two neighbours that changed places count as one. Case and separators
// don't count. The closest come first, equally close ones in the order of their
// letters; the word itself is never among them.
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
		if d := slip(key, NumberKey(name)); d <= limit {
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

// slip is how many slips of a finger lie between two words.
func slip(a, b string) int {
	if swapped(a, b) {
		return 1
	}
	return levenshtein.Distance(a, b, nil)
}

// swapped reports whether two words are one but for two neighbours that changed places.
func swapped(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) != len(y) {
		return false
	}
	at := 0
	for at < len(x) && x[at] == y[at] {
		at++
	}
	return at+1 < len(x) && x[at] == y[at+1] && x[at+1] == y[at] && slices.Equal(x[at+2:], y[at+2:])
}

// OrList is "a", "a or b", "a, b or c".
func OrList[T ~string](names []T) string {
	text := ""
	for i, name := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			text += " or "
		default:
			text += ", "
		}
		text += string(name)
	}
	return text
}
