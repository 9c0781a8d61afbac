package measure

import (
	"cmp"
	"errors"
	"slices"
	"strings"
)

// parseSet reads a comma-separated set. A phrase written twice counts once.
func parseSet(text string) ([]string, error) {
	var set []string
	for _, phrase := range strings.Split(text, ",") {
		phrase = strings.TrimSpace(phrase)
		if phrase == "" {
			return nil, errors.New("a phrase between two commas is missing")
		}
		if !slices.ContainsFunc(set, func(s string) bool { return foldCase(s) == foldCase(phrase) }) {
			set = append(set, phrase)
		}
	}
	slices.SortFunc(set, func(a, b string) int {
		return cmp.Or(cmp.Compare(foldCase(a), foldCase(b)), cmp.Compare(a, b))
	})
	return set, nil
}

// foldCase agrees with strings.EqualFold for everything people write; upper
// case first, since some letters have no lower-case twin.
func foldCase(s string) string { return strings.ToLower(strings.ToUpper(s)) }
