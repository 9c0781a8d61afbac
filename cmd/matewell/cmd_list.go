package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/loader"
	"matewell/queries/contents"
)

type listOptions struct {
	askOptions
	contents.Question
}

// patternList is what "matewell list patterns" is asked by: patterns ship with
// the program and are in no graph.
const patternList = "patterns"

func newListCmd(e desk.Env) *cobra.Command {
	var opts listOptions
	sorts := append(contents.Sorts(), patternList)
	cmd := &cobra.Command{
		Use:   "list [" + strings.Join(sorts, "|") + "] [WORD...]",
		Short: "List what there is: models, places, kinds of part, sources",
		Long: `List shows what may be asked for: models and their years, the assemblies and
positions of a machine, kinds of part, sources, your own machines, jobs, and the
patterns that "matewell start" begins a machine with. Words behind it narrow the
list. Without a word it says how many there are of each.`,
		Example: `  matewell list
  matewell list models
  matewell list positions lever --on skerry-620/2005/eu
  matewell list sources --format json`,
		Args: wants(0, -1, "what to list: "+graph.OrList(sorts)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				opts.Sort, opts.Words = args[0], strings.Join(args[1:], " ")
			}
			return runList(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fixedWords(sorts)),
	}
	cmd.Flags().StringVar(&opts.On, "on", "", "only of this `MACHINE`: its assemblies and positions")
	complete(cmd, "on", fromGraph(e, &opts.Where, variantWords))
	opts.addFlags(cmd)
	return cmd
}

func runList(ctx context.Context, e desk.Env, opts listOptions) error {
	if opts.Sort == patternList {
		answer := contents.Answer{Sort: patternList, Items: []contents.Item{}}
		for _, p := range loader.Patterns() {
			answer.Items = append(answer.Items, contents.Item{ID: p.Name, Name: p.Is})
		}
		return printAnswer(e, opts.format, answer, listPage(answer), shelf.LeftOut{})
	}
	return ask(ctx, e, opts.askOptions, contents.List, opts.Question, listPage)
}

func listPage(a contents.Answer) page.Page {
	if a.Sort == "" {
		t := page.Table{Columns: []string{"what", "how many"}}
		for _, c := range a.Counts {
			t.Add(c.Sort, strconv.Itoa(c.N))
		}
		return page.Page{{Title: "What there is", Table: t}}
	}
	title := strings.ToUpper(a.Sort[:1]) + a.Sort[1:]
	if a.On != "" {
		title += " of " + a.On
	}
	s := page.Section{Title: title, Table: listTable(a)}
	if a.On != "" { // the title says it
		s = page.KeptRows(s)
		s.Table.Take("of")
	}
	if s.After = []string{fmt.Sprintf("%d in all.", len(a.Items))}; len(a.Items) == 0 {
		s.After = []string{"There is none."}
	}
	return page.Page{s}
}

// listTable has the columns that a sort of thing has.
func listTable(a contents.Answer) page.Table {
	t := page.Table{}
	add := func(columns []string, cells func(contents.Item) []string) page.Table {
		t.Columns = columns
		for _, i := range a.Items {
			t.Add(cells(i)...)
		}
		return t
	}
	count := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	switch a.Sort {
	case contents.Models:
		return add([]string{"model", "sold as", "years", "markets", "places"}, func(i contents.Item) []string {
			return []string{i.ID, i.Name, i.Years, page.List(i.In), count(i.Places)}
		})
	case contents.Assemblies:
		return add([]string{"assembly", "name", "of", "places"}, func(i contents.Item) []string {
			return []string{i.ID, i.Name, string(i.Of), count(i.Places)}
		})
	case contents.Positions:
		return add([]string{"position", "name", "kind", "number", "safety", "of"}, func(i contents.Item) []string {
			return []string{i.ID, i.Name, i.Kind, count(i.Places), string(i.Safety), string(i.Of)}
		})
	case contents.Kinds:
		return add([]string{"kind", "name", "safety", "parts", "places"}, func(i contents.Item) []string {
			return []string{i.ID, i.Name, string(i.Safety), count(i.Parts), count(i.Places)}
		})
	case contents.Sources:
		return add([]string{"source", "title", "sort", "date"}, func(i contents.Item) []string {
			return []string{i.ID, i.Name, i.Kind, i.Date}
		})
	}
	return add([]string{strings.TrimSuffix(a.Sort, "s"), "what it is"},
		func(i contents.Item) []string { return []string{i.ID, i.Name} })
}
