package loader

import (
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// maxNear is how many near names a hint offers, and maxListed how many names a
// hint lists when none is near.
const (
	maxNear   = 3
	maxListed = 14
)

// near words a hint from the names closest to a word; "" when none is close.
func near(word string, names []string) string {
	return diag.DidYouMean(graph.Nearest(word, names, maxNear)...)
}

// nearOrList is near, or all the names when the list is short enough to read.
func nearOrList(word string, names []string) string {
	if hint := near(word, names); hint != "" || len(names) == 0 || len(names) > maxListed {
		return hint
	}
	return "one of: " + strings.Join(names, ", ")
}
