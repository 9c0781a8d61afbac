package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"matewell/queries/evidence"
	"matewell/queries/part"
)

type findOptions struct {
	askOptions
	part.FindQuestion
}

func newFindCmd(e env) *cobra.Command {
	var opts findOptions
	cmd := &cobra.Command{
		Use:   "find [KIND] DIMENSION=VALUE...",
		Short: "Tell what an unlabelled part may be, from what was measured on it",
		Long: `Find tells which parts a thing without a number may be: name its kind when you
know it, then what you measured, each with its unit. Parts that match in all of
it come first, then those of which something is not recorded. When nothing
matches, the nearest are shown with what is off.`,
		Example: `  matewell find bearing inside=17mm outside=40mm
  matewell find bolt thread=M8x1.25 length=25mm
  matewell find hose length=535mm --on skerry-620`,
		Args: wants(1, -1, "what was measured, such as: bearing inside=17mm"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.Text = strings.Join(args, " ")
			return runFind(cmd.Context(), e, opts)
		},
		ValidArgsFunction: fromGraph(e, &opts.where, kindWords),
	}
	cmd.Flags().StringVar(&opts.On, "on", "", "only parts listed on this `MACHINE`")
	complete(cmd, "on", fromGraph(e, &opts.where, variantWords))
	opts.addFlags(cmd)
	return cmd
}

func runFind(ctx context.Context, e env, opts findOptions) error {
	return ask(ctx, e, opts.askOptions, part.Find, opts.FindQuestion, findPage)
}

func findPage(a part.FindAnswer) page {
	matching := foundSection("Parts that match", a.Parts)
	if len(a.Parts) == 0 {
		matching.Lines = []string{"No part that is recorded matches in all of it."}
	}
	return page{matching, foundSection("Parts that come near", a.Close)}
}

func foundSection(title string, parts []part.FoundPart) section {
	s := section{Title: title}
	s.Table = table{Columns: []string{"part", "name", "feature", "matches", "not recorded", "off by", "listed on"}, Detail: "listed on"}
	for _, p := range parts {
		s.Table.add(hard(p.Part), p.Name, p.Feature, list(p.Matches), list(p.NotKnown), list(p.Off), eachOnLine(p.Uses, useText))
	}
	return s
}

// useText is where a part is listed, in short.
func useText(u evidence.Use) string {
	return u.Position.Local() + " on " + onCell(u.Coverage)
}
