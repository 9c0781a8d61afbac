package main

import (
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/queries/evidence"
)

// typedAt says, of what a finding is checked as, where a person typed it: a flag,
// or a line of a sheet.
type typedAt struct {
	file string  // the sheet; empty when flags were typed
	text []byte  // of the sheet
	at   []typed // by line of what is checked
}

// typed is where one line of what is checked was typed.
type typed struct {
	flag string // "--measured rim.thickness=4,7"
	line int    // of the sheet
	cell string // what the cell holds
}

// flagOf are the flags by the key that a finding has for them.
var flagOf = map[string]string{"id": "--id", "part": "the part number", "position": "--position", "on": "--on",
	"verdict": "--verdict", "method": "--method", "date": "--date", "by": "--by", "origin": "--origin",
	"photos": "--photo", "note": "--note"}

// typedFlags tells, line by line of a finding's text, which flag it comes from.
func typedFlags(text string, q evidence.RecordQuestion) typedAt {
	t := typedAt{at: []typed{{}, {}}} // lines count from 1, and "findings:" is the first
	list, n := "", -1
	var last typed
	for _, line := range strings.Split(text, "\n") {
		key, _, _ := strings.Cut(strings.TrimLeft(line, " -"), ":")
		margin := len(line) - len(strings.TrimLeft(line, " "))
		switch {
		case margin <= 2 && (key == "measured" || key == "changes"):
			list, n = key, -1
		case margin <= 2 && flagOf[key] != "":
			list, last = "", typed{flag: flagOf[key]}
		case strings.HasPrefix(strings.TrimSpace(line), "- ") && list != "":
			n++
			if typedTexts := map[string][]string{"measured": q.Measured, "changes": q.Changes}[list]; n < len(typedTexts) {
				flag := map[string]string{"measured": "--measured", "changes": "--change"}[list]
				last = typed{flag: fmt.Sprintf("%s %q", flag, typedTexts[n])}
			}
		}
		t.at = append(t.at, last)
	}
	return t
}

// typedSheet tells, line by line of what a sheet is checked as, which line of
// the sheet it comes from.
func typedSheet(file string, body []byte, texts []string, findings []graph.Finding,
	values map[graph.PartID][]sheetValue) typedAt {
	t := typedAt{file: file, text: body, at: []typed{{}, {}}}
	for i, text := range texts {
		lines, n := values[findings[i].Part], -1
		for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
			at := typed{}
			trimmed := strings.TrimSpace(line)
			if strings.HasPrefix(trimmed, "- feature:") {
				n++
			}
			if len(lines) > 0 {
				v := lines[min(max(n, 0), len(lines)-1)]
				key, _, _ := strings.Cut(strings.TrimPrefix(trimmed, "- "), ":")
				at = typed{line: v.line, cell: map[string]string{"feature": v.feature, "dim": v.dim, "value": v.value,
					"with": v.with, "part": v.part}[key]}
			}
			t.at = append(t.at, at)
		}
	}
	return t
}

// moved puts each fault where it was typed.
func (t typedAt) moved(probs *diag.List) *diag.List {
	var list diag.List
	for _, d := range probs.Sorted() {
		d.Pos = t.place(d.Pos)
		for i := range d.Related {
			if d.Related[i].File == checkedAs {
				d.Related[i] = t.place(d.Related[i])
			}
		}
		list.Add(d)
	}
	return &list
}

// checkedAs is the name of the file that a finding is checked as before it is
// written anywhere; nobody sees it.
const checkedAs = "finding.yaml"

func (t typedAt) place(pos diag.Pos) diag.Pos {
	if pos.File != checkedAs || pos.Line >= len(t.at) {
		return pos
	}
	at := t.at[pos.Line]
	if t.file == "" {
		return diag.Pos{File: at.flag}
	}
	pos = diag.Pos{File: t.file, Line: at.line}
	lines := strings.Split(string(t.text), "\n")
	if at.cell != "" && at.line <= len(lines) && at.line > 0 {
		pos.Col = 1 + cellAt(lines[at.line-1], at.cell)
	}
	return pos
}

// cellAt is where in a line a cell stands, by its text; -1 when it is written
// otherwise there.
func cellAt(line, cell string) int {
	best := -1
	for from := 0; from <= len(line)-len(cell); {
		i := strings.Index(line[from:], cell)
		if i < 0 {
			break
		}
		best = from + i
		end := best + len(cell)
		alone := (best == 0 || strings.ContainsRune(",;\t\" ", rune(line[best-1]))) &&
			(end == len(line) || strings.ContainsRune(",;\t\"\r ", rune(line[end])))
		if alone {
			return best
		}
		from = best + 1
	}
	return best
}
