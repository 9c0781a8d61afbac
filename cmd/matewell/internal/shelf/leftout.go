package shelf

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"matewell/cmd/matewell/internal/page"
)

// LeftFinding is something of one's own findings that an answer leaves out.
type LeftFinding struct {
	What string `json:"what"` // identity of the finding, or the whole file
	Why  string `json:"why"`
	At   string `json:"at,omitempty"` // file:line:column
}

// LeftOut gathers what a graph that was opened leaves out of the user's own findings.
// Every answer from it says so, in every form, and the exit status is not that of an
// answer from all that there is. The zero value leaves nothing out.
type LeftOut struct {
	findings []LeftFinding
	Whole    bool // nothing of the file counts
}

// And is what either leaves out.
func (l LeftOut) And(more LeftOut) LeftOut {
	return LeftOut{slices.Concat(l.findings, more.findings), l.Whole || more.Whole}
}

func (l LeftOut) Any() bool { return len(l.findings) > 0 }

// Section tells it at the end of a page.
func (l LeftOut) Section() page.Section {
	t := page.Table{Columns: []string{"left out", "why", "at"}, Detail: "why"}
	for _, f := range l.findings {
		t.Add(f.What, f.Why, f.At)
	}
	return page.Section{Title: "Left out of your own findings", Table: t,
		After: []string{"This answer does not know them. Mend or withdraw them in your findings file, or load the data " +
			"they speak of."}}
}

// WriteJSON adds "left_out" to an answer.
func (l LeftOut) WriteJSON(w io.Writer, answer any) error {
	var b bytes.Buffer
	if err := page.WriteJSON(&b, answer); err != nil {
		return err
	}
	left, err := json.MarshalIndent(l.findings, "  ", "  ")
	if err != nil {
		return err
	}
	text := bytes.TrimRight(b.Bytes(), "\n")
	body, ok := bytes.CutSuffix(text, []byte("\n}"))
	if !ok {
		return fmt.Errorf("%T is no object, and can't say what it leaves out", answer)
	}
	_, err = fmt.Fprintf(w, "%s,\n  \"left_out\": %s\n}\n", body, left)
	return err
}
