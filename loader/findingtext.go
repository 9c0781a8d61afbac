package loader

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"

	"go.yaml.in/yaml/v3"

	"matewell/graph"
)

// The keys of a findings file that new items are put under.
const (
	findingsKey    = "findings"
	withdrawalsKey = "withdrawals"
)

// writtenFinding is a finding in the order a person reads it. The keys are
// those that findingForm reads.
type writtenFinding struct {
	ID       string            `yaml:"id"`
	Part     string            `yaml:"part"`
	Position string            `yaml:"position,omitempty"`
	On       []any             `yaml:"on,omitempty,flow"`
	Verdict  string            `yaml:"verdict,omitempty"`
	Changes  []writtenChange   `yaml:"changes,omitempty"`
	Measured []writtenMeasured `yaml:"measured,omitempty"`
	Method   string            `yaml:"method"`
	Date     string            `yaml:"date,omitempty"`
	By       string            `yaml:"by,omitempty"`
	Origin   string            `yaml:"origin,omitempty"`
	Photos   []string          `yaml:"photos,omitempty,flow"`
	Note     string            `yaml:"note,omitempty"`
	Source   string            `yaml:"source,omitempty"`
	Undone   *writtenUndone    `yaml:"withdrawn,omitempty"`
}

type writtenChange struct {
	Do     string `yaml:"do"`
	Effort string `yaml:"effort,omitempty"`
	Part   string `yaml:"part,omitempty"`
}

type writtenMeasured struct {
	Feature string `yaml:"feature"`
	Dim     string `yaml:"dim"`
	Value   string `yaml:"value"`
	With    string `yaml:"with,omitempty"`
}

type writtenUndone struct {
	Why  string `yaml:"why"`
	Date string `yaml:"date,omitempty"`
}

// FindingText writes a finding as one item of the list "findings" of a data
// file, without indentation. Reading it back gives an equal finding, but for
// its place.
func FindingText(f graph.Finding) (string, error) {
	w := writtenFinding{ID: string(f.ID), Part: string(f.Part), Position: string(f.Position),
		Verdict: f.Verdict.String(), Method: string(f.Method), Date: f.Date, By: f.By, Origin: f.Origin,
		Photos: f.Photos, Note: f.Note, Source: string(f.Source), On: writtenOn(f)}
	for _, c := range f.Changes {
		w.Changes = append(w.Changes, writtenChange{c.Do, c.Effort.String(), string(c.Part)})
	}
	for _, m := range f.Measured {
		w.Measured = append(w.Measured, writtenMeasured{m.Feature, m.Dim, m.Text, m.With})
	}
	if f.Withdrawn != "" {
		w.Undone = &writtenUndone{f.Withdrawn, f.WithdrawnOn}
	}
	return itemText(w)
}

// plainKeys takes the quotation marks off a key and a value that other readers
// of YAML may take for a truth value and a point in time, and ours does not.
// Only lines of the item itself are touched: longer texts are set in further.
func plainKeys(text string) string {
	text = quotedOn.ReplaceAllString(text, "  on: ")
	return quotedDate.ReplaceAllString(text, "  date: $1")
}

var (
	quotedOn   = regexp.MustCompile(`(?m)^  "on": `)
	quotedDate = regexp.MustCompile(`(?m)^  date: "(\d{4}(?:-\d\d){0,2})"$`)
)

// writtenOn names the bike a finding was made on, which brings its variant
// along; else the variants.
func writtenOn(f graph.Finding) []any {
	if f.Bike != "" {
		return []any{map[string]string{"bike": string(f.Bike)}}
	}
	var on []any
	for _, v := range f.On {
		on = append(on, string(v))
	}
	return on
}

// Withdrawal says that a finding was taken back.
type Withdrawal struct {
	Finding graph.FindingID `yaml:"finding"`
	Why     string          `yaml:"why"`
	Date    string          `yaml:"date,omitempty"`
}

// WithdrawalText writes a withdrawal as one item of the list "withdrawals".
func WithdrawalText(w Withdrawal) (string, error) { return itemText(w) }

// mappingText is a value as YAML.
func mappingText(v any) (string, error) {
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode(v); err != nil {
		return "", fmt.Errorf("loader: write as YAML: %w", err)
	}
	return out.String(), nil
}

// itemText is a value as the only item of a YAML list.
func itemText(v any) (string, error) {
	text, err := mappingText([]any{v})
	if err != nil {
		return "", err
	}
	return plainKeys(text), nil
}

// indented puts spaces in front of every line that is not empty.
func indented(text string, spaces int) string {
	margin := strings.Repeat(" ", spaces)
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		if strings.TrimRight(line, "\r\n") != "" {
			lines[i] = margin + line
		}
	}
	return strings.Join(lines, "")
}
