package main

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/why"
)

// This file lays out trails: one section for each, its steps numbered.

// indent stands before the lines that belong to a step. Hard spaces, because
// wrapping drops others.
const indent = page.HardSpace + page.HardSpace + page.HardSpace

func whyPage(a why.WhyAnswer) page.Page {
	var p page.Page
	for _, t := range a.Trails {
		p = append(p, trailSteps(t))
	}
	return append(p, cautionSection(a.Cautions))
}

func trailSteps(t why.WhyTrail) page.Section {
	s := page.Section{Title: t.About, Rows: trailRecords(t)}
	head := t.Says
	if t.Verdict != graph.NoVerdict {
		head = t.Verdict.String() + ": " + head
	}
	s.Lines = append(s.Lines, head)
	for _, step := range t.Steps {
		s.Lines = append(s.Lines, stepLines(step)...)
	}
	for _, c := range t.ContradictedBy {
		s.Lines = append(s.Lines, "Against it: "+c.String())
		for _, step := range c.Steps {
			s.Lines = append(s.Lines, indent+string(step.Kind)+": "+step.Text)
			s.Lines = append(s.Lines, voiceLines(step.Sources)...)
		}
	}
	for _, settle := range t.Settle {
		s.Lines = append(s.Lines, "To settle it: "+settle)
	}
	s.Lines = append(s.Lines, "id: "+t.ID)
	return s
}

func stepLines(step why.WhyStep) []string {
	text := fmt.Sprintf("%d. %s: %s", step.Number, step.Kind, step.Text)
	if len(step.From) > 0 {
		text += " [from " + numbers(step.From) + "]"
	}
	lines := append([]string{text}, voiceLines(step.Sources)...)
	if step.WrongIf != "" {
		lines = append(lines, indent+"wrong if: "+step.WrongIf)
	}
	return lines
}

func voiceLines(voices []evidence.Source) []string {
	var lines []string
	repeats := evidence.Repeats(voices)
	for i, v := range voices {
		text := indent + v.ID + " (" + rankText(v) + joinWords(", ", v.Date, v.By) + ")"
		if v.Says != "" {
			text += " says " + v.Says
		}
		lines = append(lines, text+repeatText(voices, i, repeats[i])+", "+v.At)
	}
	return lines
}

// joinWords joins those words that are not empty, each with the mark before it.
func joinWords(mark string, words ...string) string {
	var b strings.Builder
	for _, word := range words {
		if word != "" {
			b.WriteString(mark + word)
		}
	}
	return b.String()
}

func numbers(list []int) string {
	said := make([]string, len(list))
	for i, n := range list {
		said[i] = strconv.Itoa(n)
	}
	return strings.Join(said, ", ")
}

// trailRecords is every step in full, a row for each voice.
func trailRecords(t why.WhyTrail) page.Table {
	rows := page.Table{Columns: []string{"id", "verdict", "step", "kind", "text", "from", "source", "rank", "date", "by",
		"says", "at", "wrong_if"}}
	for _, step := range t.Steps {
		voices := step.Sources
		if len(voices) == 0 {
			voices = []evidence.Source{{}}
		}
		for _, v := range voices {
			rows.Add(t.ID, t.Verdict.String(), strconv.Itoa(step.Number), string(step.Kind), step.Text, numbers(step.From),
				v.ID, v.Rank.String(), v.Date, v.By, v.Says, v.At, step.WrongIf)
		}
	}
	return rows
}

// whyLines tell how to ask why, below a table: for its first row.
func whyLines(id string) []string {
	if id == "" {
		return nil
	}
	return []string{"Why the first row says so: matewell why " + id}
}
