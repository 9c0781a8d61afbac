package store

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// formatPlace writes a place as the text of a termAt. It is the usual spelling
// of diag.Pos, except where that would not read back the same: a file whose
// own name ends like a line number gets its line and column spelt out.
func formatPlace(pos diag.Pos) string {
	if text := pos.String(); parsePlace(text) == pos {
		return text
	}
	return pos.File + ":" + strconv.Itoa(pos.Line) + ":" + strconv.Itoa(pos.Col)
}

// parsePlace reads what formatPlace wrote.
func parsePlace(text string) diag.Pos {
	if text == "-" || text == "" {
		return diag.Pos{}
	}
	file, last, ok := cutNumber(text)
	if !ok {
		return diag.Pos{File: text}
	}
	if name, line, ok := cutNumber(file); ok {
		return diag.Pos{File: name, Line: line, Col: last}
	}
	return diag.Pos{File: file, Line: last}
}

// cutNumber splits off a colon and a number at the end.
func cutNumber(text string) (before string, n int, ok bool) {
	i := strings.LastIndexByte(text, ':')
	if i < 0 {
		return text, 0, false
	}
	n, err := strconv.Atoi(text[i+1:])
	if err != nil || strconv.Itoa(n) != text[i+1:] {
		return text, 0, false
	}
	return text[:i], n, true
}

// sortReadings sorts by source, then place, then value, and drops doubles.
func sortReadings(list []graph.Reading) []graph.Reading {
	slices.SortFunc(list, func(a, b graph.Reading) int {
		return cmp.Or(a.Cite.Compare(b.Cite), cmp.Compare(a.Text, b.Text), cmp.Compare(a.Method, b.Method))
	})
	return slices.Compact(list)
}
