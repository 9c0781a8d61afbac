package shelf

import (
	"strings"

	"matewell/graph/diag"
)

// TypedAt says, of what a finding is checked as, where a person typed it: a flag,
// or a line of a sheet.
type TypedAt struct {
	File string  // the sheet; empty when flags were typed
	Text []byte  // of the sheet
	At   []Typed // by line of what is checked
}

// Typed is where one line of what is checked was typed.
type Typed struct {
	Flag string // "--measured rim.thickness=4,7"
	Line int    // of the sheet
	Cell string // what the cell holds
}

// moved puts each fault where it was typed.
func (t TypedAt) moved(probs *diag.List) *diag.List {
	var list diag.List
	for _, d := range probs.Sorted() {
		d.Pos = t.place(d.Pos)
		for i := range d.Related {
			if d.Related[i].File == CheckedAs {
				d.Related[i] = t.place(d.Related[i])
			}
		}
		list.Add(d)
	}
	return &list
}

// CheckedAs is the name of the file that a finding is checked as before it is
// written anywhere; nobody sees it.
const CheckedAs = "finding.yaml"

func (t TypedAt) place(pos diag.Pos) diag.Pos {
	if pos.File != CheckedAs || pos.Line >= len(t.At) {
		return pos
	}
	at := t.At[pos.Line]
	if t.File == "" {
		return diag.Pos{File: at.Flag}
	}
	pos = diag.Pos{File: t.File, Line: at.Line}
	lines := strings.Split(string(t.Text), "\n")
	if at.Cell != "" && at.Line <= len(lines) && at.Line > 0 {
		pos.Col = 1 + cellAt(lines[at.Line-1], at.Cell)
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
