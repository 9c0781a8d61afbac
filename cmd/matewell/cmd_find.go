package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/part"
)

type findOptions struct {
	askOptions
	part.FindQuestion
}

func newFindCmd(e desk.Env) *cobra.Command {
	var opts findOptions
	cmd := &cobra.Command{
		Use:   "find [KIND|WORD...] [DIMENSION=VALUE...]",
		Short: "Tell what an unlabelled part may be, from what was measured on it",
		Long: `Find tells which parts a thing without a number may be: name its kind when you
know it, then what you measured, each with its unit; of which dimension it is
may be left out, as in "bolt M8x35". Parts that match in all of it come first,
then those of which something is not recorded; of equals, those that a machine
is listed with come before those that none is. When nothing matches, the nearest
are shown with what is off.

With words alone it finds the parts and places that go by them.`,
		Example: `  matewell find bearing inside=17mm outside=40mm
  matewell find bolt thread=M8x1.25 length=25mm
  matewell find bolt M8x35 10.9
  matewell find hose length=535mm --on skerry-620
  matewell find lever`,
		Args: wants(1, -1, "what was measured, such as: bearing inside=17mm"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.Text = strings.Join(args, " ")
			return runFind(cmd.Context(), e, opts)
		},
		ValidArgsFunction: fromGraph(e, &opts.Where, kindWords),
	}
	cmd.Flags().StringVar(&opts.On, "on", "", "only parts listed on this `MACHINE`")
	cmd.Flags().BoolVar(&opts.All, "all", false, "list every part that matches, however many")
	complete(cmd, "on", fromGraph(e, &opts.Where, variantWords))
	opts.addFlags(cmd)
	return cmd
}

func runFind(ctx context.Context, e desk.Env, opts findOptions) error {
	return ask(ctx, e, opts.askOptions, part.Find, opts.FindQuestion, findPage)
}

func findPage(a part.FindAnswer) page.Page {
	if len(a.Asked) == 0 {
		return namedPage(a)
	}
	matching := foundSection("Parts that match", a.Parts)
	if len(a.Parts) == 0 {
		matching.Lines = []string{"No part that is recorded matches in all of it."}
	}
	matching.After = append(matching.After, moreParts(a)...)
	return page.Page{matching, foundSection("Parts that come near", a.Close)}
}

// moreParts says how many parts match besides those listed.
func moreParts(a part.FindAnswer) []string {
	if a.MoreParts == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s more; say more of it, ask with --on MACHINE, or list them with --all.",
		page.Counted(a.MoreParts, "part"))}
}

// namedPage lists what goes by the words asked.
func namedPage(a part.FindAnswer) page.Page {
	parts := page.Section{Title: "Parts of that name", Table: page.Table{Columns: []string{"part", "name", "listed on"},
		Detail: "listed on"}}
	for _, p := range a.Parts {
		parts.Table.Add(page.Hard(p.Part), p.Name, listedCell(p))
	}
	parts.After = moreParts(a)
	if len(a.Parts) == 0 {
		parts.Lines = []string{"No part that is recorded goes by that name."}
	}
	places := page.Section{Title: "Places of that name", Table: page.Table{Columns: []string{"position", "name", "model"}}}
	for _, p := range a.Places {
		places.Table.Add(p.Position.Local(), p.Name, string(p.Position.Model()))
	}
	switch {
	case a.MoreModels > 0:
		places.After = []string{fmt.Sprintf("%d more, and those of %s more; ask with --on MACHINE.", a.MorePlaces,
			page.Counted(a.MoreModels, "model"))}
	case a.MorePlaces > 0:
		places.After = []string{fmt.Sprintf("%d more; ask with --on MACHINE.", a.MorePlaces)}
	}
	if len(a.Places) == 0 {
		return page.Page{parts}
	}
	return page.Page{parts, places}
}

func foundSection(title string, parts []part.FoundPart) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"part", "name", "feature", "matches", "not recorded", "off by", "told apart by",
		"listed on"},
		Detail: "listed on"}
	for _, p := range parts {
		s.Table.Add(page.Hard(p.Part), p.Name, p.Feature, page.List(p.Matches), page.List(p.NotKnown), page.List(p.Off),
			page.List(p.Apart), listedCell(p))
	}
	return s
}

// listedCell is where a part that was found is listed.
func listedCell(p part.FoundPart) string {
	lines := lists.Mapped(p.Uses, useText)
	if p.MoreListed > 0 {
		lines = append(lines, fmt.Sprintf("%s more; --all lists them", page.Counted(p.MoreListed, "listing")))
	}
	return strings.Join(lines, "\n")
}

// useText is where a part is listed, in short.
func useText(u evidence.Use) string {
	return u.Position.Local() + " on " + onCell(u.Coverage)
}
