package diag

import (
	"encoding/json"
	"io"
)

// jsonPos and jsonDiagnostic fix the names that JSON prints, whatever the Go
// fields are called.
type jsonPos struct {
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
	Col  int    `json:"col,omitempty"`
}

type jsonDiagnostic struct {
	jsonPos
	Severity string    `json:"severity"`
	Code     string    `json:"code"`
	Message  string    `json:"message"`
	Hint     string    `json:"hint,omitempty"`
	Related  []jsonPos `json:"related,omitempty"`
}

// JSON writes the sorted list as an array, "[]" when it is empty. A part of a
// place that is not known is left out.
func JSON(w io.Writer, list *List) error {
	rows := []jsonDiagnostic{}
	for _, d := range list.Sorted() {
		row := jsonDiagnostic{jsonPos: jsonPos(d.Pos), Severity: d.Severity.String(),
			Code: d.Code, Message: d.Message, Hint: d.Hint}
		for _, pos := range d.Related {
			row.Related = append(row.Related, jsonPos(pos))
		}
		rows = append(rows, row)
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(rows)
}
