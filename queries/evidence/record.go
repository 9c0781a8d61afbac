package evidence

import (
	"context"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// RecordQuestion is a finding as a person types it.
type RecordQuestion struct {
	Part     string // a number in any spelling
	Position string // as PositionFor reads it; empty when only measurements are recorded
	On       string // as MachinesFor reads it
	Market   string
	Frame    string
	Verdict  string
	// Changes are "what was done", or "what was done; effort class", or with
	// "; part" behind it.
	Changes []string
	// Measured are "feature.dimension=value", or with "; gauge" behind it.
	Measured []string
	Method   string
	Date     string // "2024", "2024-05" or "2024-05-11"
	By       string
	Origin   string
	Photos   []string
	Note     string
	ID       string // made from finder, date and content when empty
}

// FindingFor turns what was typed into a finding, with every name looked up.
// Errors are *NotFoundError, *AmbiguousError, *QuestionError for what can't be
// read, or come from the reader. Values are not checked: the loader does that.
func FindingFor(ctx context.Context, r graph.Reader, q RecordQuestion) (graph.Finding, error) {
	f := graph.Finding{Method: graph.Method(q.Method), Date: q.Date, By: q.By, Origin: q.Origin,
		Photos: slices.Clone(q.Photos), Note: q.Note}
	var err error
	if f.Part, err = queries.PartFor(ctx, r, q.Part); err != nil {
		return f, err
	}
	if err := placeFinding(ctx, r, q, &f); err != nil {
		return f, err
	}
	if q.Verdict != "" {
		if f.Verdict, err = graph.ParseVerdict(q.Verdict); err != nil {
			return f, &queries.QuestionError{Asked: q.Verdict, Err: err}
		}
	}
	for _, text := range q.Measured {
		m, err := parseMeasured(text)
		if err != nil {
			return f, err
		}
		f.Measured = append(f.Measured, m)
	}
	for _, text := range q.Changes {
		c, err := parseChange(ctx, r, text)
		if err != nil {
			return f, err
		}
		f.Changes = append(f.Changes, c)
	}
	f.ID = graph.FindingID(q.ID)
	if f.ID == "" {
		f.ID = findingID(f)
	}
	return f, nil
}

// placeFinding looks up where and on what a finding was made. Variants that
// lack the position are left out, as a model year may hold some.
func placeFinding(ctx context.Context, r graph.Reader, q RecordQuestion, f *graph.Finding) error {
	if q.On == "" {
		if q.Position != "" {
			return &queries.QuestionError{Asked: q.Position, Err: errors.New("a position belongs to a machine: say on which")}
		}
		return nil
	}
	machines, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame})
	if err != nil {
		return err
	}
	f.On, f.Bike = machines.IDs(), machines.Bike
	if q.Position == "" {
		return nil
	}
	p, err := queries.PositionFor(ctx, r, machines.Model, q.Position)
	if err != nil {
		return err
	}
	f.Position = p.ID
	f.On = lists.Kept(f.On, func(v graph.VariantID) bool { return slices.Contains(p.On, v) })
	if len(f.On) == 0 {
		return &queries.NotFoundError{What: "position", Asked: q.Position, Where: "on " + q.On}
	}
	return nil
}

// parseMeasured reads "port.thread=M10x1.25; thread gauge".
func parseMeasured(text string) (graph.Measured, error) {
	what, with, _ := strings.Cut(text, ";")
	name, value, ok := strings.Cut(what, "=")
	feature, dim, dotted := strings.Cut(strings.TrimSpace(name), ".")
	m := graph.Measured{Feature: feature, Dim: dim, Text: strings.TrimSpace(value), With: strings.TrimSpace(with)}
	if !ok || !dotted || m.Feature == "" || m.Dim == "" || m.Text == "" {
		return m, &queries.QuestionError{Asked: text, Err: errors.New(
			`a measurement reads "feature.dimension=value" or "feature.dimension=value; gauge"`)}
	}
	return m, nil
}

// parseChange reads "shim the caliper 2 mm outward; drill or shim; Varnhegg 10-440.1".
func parseChange(ctx context.Context, r graph.Reader, text string) (graph.Change, error) {
	fields := strings.Split(text, ";")
	c := graph.Change{Do: strings.TrimSpace(fields[0])}
	if c.Do == "" || len(fields) > 3 {
		return c, &queries.QuestionError{Asked: text, Err: errors.New(
			`a change reads "what was done", "what was done; effort" or "what was done; effort; part"`)}
	}
	if len(fields) > 1 {
		effort, err := graph.ParseEffort(strings.TrimSpace(fields[1]))
		if err != nil {
			return c, &queries.QuestionError{Asked: text, Err: err}
		}
		c.Effort = effort
	}
	if len(fields) > 2 {
		part, err := queries.PartFor(ctx, r, fields[2])
		if err != nil {
			return c, err
		}
		c.Part = part
	}
	return c, nil
}

// idLetters is how many letters, of five bits each, tell apart what one person
// found on one day: a thousand findings of a day clash once in two million days.
const idLetters = 8

// findingID is made from who, when and what, so that the same finding recorded
// twice has one identity.
func findingID(f graph.Finding) graph.FindingID {
	f.ID = ""
	sum := sha256.Sum256(fmt.Appendf(nil, "%+v", f))
	letters := strings.ToLower(base32.StdEncoding.EncodeToString(sum[:]))[:idLetters]
	var words []string
	for _, word := range []string{nameLetters(f.By), f.Date, letters} {
		if word != "" {
			words = append(words, word)
		}
	}
	return graph.FindingID(strings.Join(words, "-"))
}

// nameLetters is a name with only the letters and digits that an identity has.
func nameLetters(name string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			return c
		}
		return -1
	}, strings.ToLower(name))
}
