package graph

import "strings"

// leastStem is the fewest letters a word keeps when its s is taken off, and the
// most with which it stands for itself alone, not for words that begin with it.
const leastStem = 3

// Words are the words of a text, in small letters, plural s taken off: what is
// typed where a number is asked is compared with names by words.
func Words(text string) []string {
	fields := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool {
		return c == ' ' || c == '-' || c == '/' || c == ',' || c == '(' || c == ')' || c == '_'
	})
	for i, word := range fields {
		if len(word) > leastStem && strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") {
			fields[i] = strings.TrimSuffix(word, "s")
		}
	}
	return fields
}

// WordMeans reports whether a typed word stands for one of a text: for the same,
// or, from four letters on, for one that it begins.
func WordMeans(typed, word string) bool {
	return typed == word || len(typed) > leastStem && strings.HasPrefix(word, typed)
}
