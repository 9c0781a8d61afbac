package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/queries/evidence"
	"matewell/queries/part"
)

type partOptions struct {
	askOptions
	part.PartQuestion
	all bool
}

func newPartCmd(e desk.Env) *cobra.Command {
	var opts partOptions
	cmd := &cobra.Command{
		Use:   "part NUMBER",
		Short: "Tell all that is known of a part number",
		Long: `Part tells all that is known of a number: core, revision and colour, other marks
that stand for it, its features with their dimensions and how they were
measured, what superseded what, the kits that hold it, where it is used, and who
says so.

The number may be written in any spelling (spaces, dashes, case), with or
without the brand, or be a casting or supplier number. When it stands for
several parts, all are shown.`,
		Example: `  matewell part "Tarnholt 207.4418b"
  matewell part 207-4418-B
  matewell part 207.4418`,
		Args: wants(1, 1, "one part number; put quotes around a brand and a number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.Part = args[0]
			return runPart(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, partWords)),
	}
	addAllFlag(cmd, &opts.all)
	opts.addFlags(cmd)
	return cmd
}

func runPart(ctx context.Context, e desk.Env, opts partOptions) error {
	return ask(ctx, e, opts.askOptions, part.Part, opts.PartQuestion,
		func(a part.PartAnswer) page.Page { return partPage(a, opts.all) })
}

func partPage(a part.PartAnswer, all bool) page.Page {
	var p page.Page
	if len(a.Parts) > 1 {
		p = append(p, page.Section{Lines: []string{fmt.Sprintf("%q stands for %d parts.", a.Asked, len(a.Parts))}})
	}
	for _, card := range a.Parts {
		p = append(p, partHead(card), featureSection(card), notKnownSection(card), edgeSection(card),
			kitSection(card), useSection("Where it is listed", card.Used, all), findingSection(card), twinSection(card.Twins),
			sourceSection(card))
	}
	return p
}

// partHead says what the part is.
func partHead(card part.PartCard) page.Section {
	s := page.Section{Title: strings.TrimSuffix(fmt.Sprintf("%s: %s", card.ID, card.Name), ": ")}
	say := func(what, value string) {
		if value != "" {
			s.Lines = append(s.Lines, what+": "+value)
		}
	}
	kind := string(card.Kind)
	if card.KindName != "" && card.KindName != kind {
		kind += " (" + card.KindName + ")"
	}
	say("kind", kind)
	say("core", card.Core)
	say("revision", card.Revision)
	say("colour", card.Colour)
	if card.FoundBy != "number" {
		say("found by", card.FoundBy)
	}
	for _, alias := range card.Aliases {
		say(string(alias.Type), alias.Text)
	}
	say("price", page.Join(card.Price, readingText))
	say("note", card.Note)
	return s
}

// readingText is one voice's value with how it was measured and by whom.
func readingText(r part.ReadingLine) string {
	said := []string{}
	if r.Method != "" {
		said = append(said, r.Method)
	}
	return r.Value + " (" + page.List(append(said, r.Source.ID)) + ")"
}

// featureSection lists dimensions, the best reading of each first.
func featureSection(card part.PartCard) page.Section {
	s := page.Section{Title: "Features"}
	s.Table = page.Table{Columns: []string{"feature", "dimension", "value", "how measured", "source"}}
	for _, f := range card.Features {
		if len(f.Dims) == 0 {
			s.Table.Add(f.Name, "", "", "", "")
		}
		for _, d := range f.Dims {
			for i, r := range d.Readings {
				value := r.Value
				if i > 0 {
					value = "also " + value
				}
				s.Table.Add(page.BreakAfter(f.Name, "-"), page.BreakAfter(d.Name, "-"), value, r.Method,
					page.BreakAfter(r.Source.ID, "-"))
			}
			if d.Conflict {
				s.After = append(s.After, fmt.Sprintf("The readings of %s of %s contradict each other. To settle it: %s.", d.Name,
					f.Name, d.Settle))
			}
		}
	}
	return s
}

func notKnownSection(card part.PartCard) page.Section {
	return page.Section{Title: "Not known, measure this", Lines: card.NotKnown}
}

// edgeSection is the line of supersessions and each edge of it.
func edgeSection(card part.PartCard) page.Section {
	s := page.Section{Title: "Supersession", Lines: card.Chain}
	s.Table.Columns = []string{"old", "new", "new on old", "old on new", "where", "with", "reason", "source"}
	for _, edge := range card.Edges {
		s.Table.Add(page.Hard(edge.Old), page.Hard(edge.New), edge.NewOnOld, edge.OldOnNew, edge.Scope,
			page.Join(edge.Companions, contentText), edge.Reason, page.Join(edge.Sources, sourceID))
	}
	return s
}

func contentText(c evidence.ContentLine) string { return fmt.Sprintf("%d x %s", c.Quantity, c.Part) }

// kitSection is what a kit holds, and the kits a part is in.
func kitSection(card part.PartCard) page.Section {
	s := page.Section{Title: "Kits"}
	for _, c := range card.Contains {
		s.Lines = append(s.Lines, "holds "+contentText(c))
	}
	if card.Matched {
		s.Lines = append(s.Lines, "its parts are made to each other: fit them together")
	}
	for _, kit := range card.Kits {
		s.Lines = append(s.Lines, "is in "+string(kit))
	}
	return s
}

func findingSection(card part.PartCard) page.Section {
	s := page.Section{Title: "Findings"}
	s.Table.Columns = []string{"finding", "position", "on", "verdict", "what was found", "how", "by"}
	for _, f := range card.Findings {
		s.Table.Add(page.Hard(f.ID), page.Place(f.Position), page.List(f.Covers), f.Verdict, findingText(f),
			string(f.Method), f.Source.By)
	}
	return s
}

// findingText is what a finding says, its measurements and whether it stands.
func findingText(f evidence.FindingLine) string {
	text := f.Why
	for _, m := range f.Measured {
		text += fmt.Sprintf("\n%s %s %s", m.Feature, m.Dim, m.Value)
	}
	if f.Withdrawn != "" {
		text += "\nwithdrawn: " + f.Withdrawn
	}
	return strings.TrimPrefix(text, "\n")
}

func sourceSection(card part.PartCard) page.Section {
	s := page.Section{Title: "Sources"}
	s.Table = page.Table{Columns: []string{"source", "kind", "title", "date", "at"}, Detail: "at"}
	for _, source := range card.Sources {
		s.Table.Add(source.ID, source.Kind, source.Title, source.Date, page.BreakAfter(source.At, "/"))
	}
	return s
}
