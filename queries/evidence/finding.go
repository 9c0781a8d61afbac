package evidence

import (
	"cmp"
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// FindingLine is a finding in an answer.
type FindingLine struct {
	ID        graph.FindingID  `json:"id"`
	Part      graph.PartID     `json:"part"`
	Position  graph.PositionID `json:"position,omitempty"`
	Covers    []string         `json:"covers,omitempty"` // "skerry-620 2004 eu"
	Verdict   string           `json:"verdict,omitempty"`
	Why       string           `json:"why,omitempty"`
	Changes   []Change         `json:"changes,omitempty"`
	Measured  []MeasuredLine   `json:"measured,omitempty"`
	Method    graph.Method     `json:"method,omitempty"`
	Photos    []string         `json:"photos,omitempty"`
	Withdrawn string           `json:"withdrawn,omitempty"` // the reason; empty while it stands
	Source    Source           `json:"source"`
}

// MeasuredLine is one dimension that a finding measured.
type MeasuredLine struct {
	Feature string `json:"feature"`
	Dim     string `json:"dim"`
	Value   string `json:"value"`
	With    string `json:"with,omitempty"`
}

// LineOfFinding is a finding as an answer shows it, with the voice that it is.
func LineOfFinding(f graph.Finding, voice Source) FindingLine {
	line := FindingLine{ID: f.ID, Part: f.Part, Position: f.Position, Verdict: f.Verdict.String(),
		Method: f.Method, Photos: f.Photos, Withdrawn: f.Withdrawn, Source: voice}
	if f.Verdict != graph.NoVerdict {
		line.Why = FindingWhy(f)
	}
	for _, c := range queries.CoveragesOf(f.On, queries.Universe{}) {
		line.Covers = append(line.Covers, string(c.Model)+" "+c.String())
	}
	for _, c := range f.Changes {
		line.Changes = append(line.Changes, Change{Do: c.Do, Effort: c.Effort, Part: c.Part})
	}
	for _, m := range f.Measured {
		line.Measured = append(line.Measured, MeasuredLine{Feature: m.Feature, Dim: m.Dim, Value: m.Text, With: m.With})
	}
	return line
}

// FindingWhy is what a finding says in one phrase.
func FindingWhy(f graph.Finding) string {
	if len(f.Changes) > 0 {
		return strings.Join(lists.Mapped(f.Changes, func(c graph.Change) string { return c.Do }), "; ")
	}
	if f.Note != "" {
		return f.Note
	}
	return "found so by " + cmp.Or(f.By, string(f.Source), string(f.ID))
}

// MeasureText asks for one measurement: what, where, with what, how exactly.
func MeasureText(part graph.Part, feature, dim string) string {
	f, _ := part.Feature(feature)
	kind, _ := graph.FeatureKindNamed(f.Kind)
	text := fmt.Sprintf("measure %s of %s on %s", dim, feature, part.ID)
	spec, ok := kind.Dim(dim)
	if !ok {
		return text
	}
	return text + fmt.Sprintf(" (%s): %s", spec.Is, GaugeText(spec))
}

// GaugeText is how a dimension is measured: "vernier caliper, to 0.1 mm".
func GaugeText(spec graph.DimSpec) string {
	if accuracyOf(spec, 1) > 0 {
		return spec.Gauge + ", to " + spec.Accuracy
	}
	return spec.Gauge
}
