package main

import (
	"fmt"
	"strings"

	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/queries/evidence"
)

// flagOf are the flags by the key that a finding has for them.
var flagOf = map[string]string{"id": "--id", "part": "the part number", "position": "--position", "on": "--on",
	"verdict": "--verdict", "method": "--method", "date": "--date", "by": "--by", "origin": "--origin",
	"photos": "--photo", "note": "--note"}

// typedFlags tells, line by line of a finding's text, which flag it comes from.
func typedFlags(text string, q evidence.RecordQuestion) shelf.TypedAt {
	t := shelf.TypedAt{At: []shelf.Typed{{}, {}}} // lines count from 1, and "findings:" is the first
	list, n := "", -1
	var last shelf.Typed
	for _, line := range strings.Split(text, "\n") {
		key, _, _ := strings.Cut(strings.TrimLeft(line, " -"), ":")
		margin := len(line) - len(strings.TrimLeft(line, " "))
		switch {
		case margin <= 2 && (key == "measured" || key == "changes"):
			list, n = key, -1
		case margin <= 2 && flagOf[key] != "":
			list, last = "", shelf.Typed{Flag: flagOf[key]}
		case strings.HasPrefix(strings.TrimSpace(line), "- ") && list != "":
			n++
			if typedTexts := map[string][]string{"measured": q.Measured, "changes": q.Changes}[list]; n < len(typedTexts) {
				flag := map[string]string{"measured": "--measured", "changes": "--change"}[list]
				last = shelf.Typed{Flag: fmt.Sprintf("%s %q", flag, typedTexts[n])}
			}
		}
		t.At = append(t.At, last)
	}
	return t
}

// typedSheet tells, line by line of what a sheet is checked as, which line of
// the sheet it comes from.
func typedSheet(file string, body []byte, texts []string, findings []graph.Finding,
	values map[graph.PartID][]sheetValue) shelf.TypedAt {
	t := shelf.TypedAt{File: file, Text: body, At: []shelf.Typed{{}, {}}}
	for i, text := range texts {
		lines, n := values[findings[i].Part], -1
		for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
			at := shelf.Typed{}
			trimmed := strings.TrimSpace(line)
			if strings.HasPrefix(trimmed, "- feature:") {
				n++
			}
			if len(lines) > 0 {
				v := lines[min(max(n, 0), len(lines)-1)]
				key, _, _ := strings.Cut(strings.TrimPrefix(trimmed, "- "), ":")
				at = shelf.Typed{Line: v.line, Cell: map[string]string{"feature": v.feature, "dim": v.dim, "value": v.value,
					"with": v.with, "part": v.part}[key]}
			}
			t.At = append(t.At, at)
		}
	}
	return t
}
