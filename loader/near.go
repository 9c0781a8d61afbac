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

// mostCompared is how many names are looked at in all for names near to misspelt ones:
// in a file in which nothing is spelt right each row would be held against all names.
const mostCompared = 4_000_000

// hints keeps what was found near misspelt names: a list may misspell one in every row.
type hints struct {
	known    map[[2]string]string
	compared int
}

// near is what search finds near a word among names of one sort, looked for once.
func (h *hints) near(sort, word string, names func() []string, search func(string, []string) string) string {
	key := [2]string{sort, word}
	if hint, known := h.known[key]; known || h.compared >= mostCompared {
		return hint
	}
	if h.known == nil {
		h.known = map[[2]string]string{}
	}
	list := names()
	h.compared += len(list)
	h.known[key] = search(word, list)
	return h.known[key]
}
