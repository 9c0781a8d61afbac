package queries

import "matewell/graph"

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

func findingLine(f graph.Finding, voice Source) FindingLine {
	line := FindingLine{ID: f.ID, Part: f.Part, Position: f.Position, Verdict: f.Verdict.String(),
		Method: f.Method, Photos: f.Photos, Withdrawn: f.Withdrawn, Source: voice}
	if f.Verdict != graph.NoVerdict {
		line.Why = findingWhy(f)
	}
	for _, c := range coveragesOf(f.On, nil) {
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
