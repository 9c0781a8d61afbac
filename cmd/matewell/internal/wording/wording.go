// Package wording holds the few words that pages and drawings share.
package wording

import (
	"strings"

	"matewell/graph"
)

// OrNobody is a part, or that there is none.
func OrNobody(part graph.PartID) string {
	if part == "" {
		return "no part"
	}
	return string(part)
}

// Shortened cuts a text that is longer than so many characters.
func Shortened(text string, most int) string {
	runes := []rune(strings.Join(strings.Fields(text), " "))
	if len(runes) <= most {
		return string(runes)
	}
	return string(runes[:most-1]) + "…"
}
