package diag

import (
	"cmp"
	"fmt"
	"slices"
)

// Pos is a place in a file.
type Pos struct {
	File string `json:"file"` // slash-separated, relative to the data folder, its name in front
	Line int    `json:"line"` // from 1
	Col  int    `json:"col"`  // from 1, in bytes
}

// Severity says whether a diagnostic stops a load. The zero value is Error, so
// that a forgotten one fails loudly.
type Severity int

// The severities.
const (
	Error Severity = iota
	Warning
)

// Diagnostic is one fault.
type Diagnostic struct {
	Pos      Pos
	Severity Severity
	Code     string // stable: "unknown-part"
	Message  string // what is wrong, with the offending value quoted
	Hint     string // what to do; may be empty
	Related  []Pos  // the other side, such as the first of two duplicates
}

// String is the place in one of four forms: "file:line:col", "file:line",
// "file", and "-" when no place is known.
func (p Pos) String() string {
	switch {
	case p.File == "":
		return "-"
	case p.Line <= 0:
		return p.File
	case p.Col <= 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Compare orders places by file, line and column: -1, 0 or 1.
func (p Pos) Compare(other Pos) int {
	return cmp.Or(cmp.Compare(p.File, other.File), cmp.Compare(p.Line, other.Line), cmp.Compare(p.Col, other.Col))
}

// String is "error" or "warning".
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return fmt.Sprintf("Severity(%d)", int(s))
}

// String is the diagnostic in one line, without hint and related places:
// `fitments.csv:2:9: error: part "X" names no model [no-model]`.
func (d Diagnostic) String() string {
	text := fmt.Sprintf("%s: %s: %s", d.Pos, d.Severity, d.Message)
	if d.Code != "" {
		text += " [" + d.Code + "]"
	}
	return visible(text)
}

// compare orders diagnostics by place, errors before warnings, then code and
// message.
func (d Diagnostic) compare(other Diagnostic) int {
	return cmp.Or(d.Pos.Compare(other.Pos), cmp.Compare(d.Severity, other.Severity),
		cmp.Compare(d.Code, other.Code), cmp.Compare(d.Message, other.Message),
		cmp.Compare(d.Hint, other.Hint), slices.CompareFunc(d.Related, other.Related, Pos.Compare))
}
