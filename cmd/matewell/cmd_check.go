package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

type checkOptions struct {
	format page.Format
	data   []string
}

// checkAnswer is what "matewell check" prints as JSON.
type checkAnswer struct {
	Data     []string          `json:"data"` // the folders, as given
	Errors   int               `json:"errors"`
	Warnings int               `json:"warnings"`
	Faults   []fault           `json:"faults"` // sorted by place
	Holds    []shelf.FactCount `json:"holds"`  // what was read; empty when there are errors
}

// fault is one fault of a data set.
type fault struct {
	At       string   `json:"at"`       // file:line:column, as much of it as is known
	Severity string   `json:"severity"` // "error" or "warning"
	Code     string   `json:"code"`     // stable: "unknown-part"
	Message  string   `json:"message"`
	Hint     string   `json:"hint,omitempty"`
	Related  []string `json:"related,omitempty"` // other places that have to do with it
}

func newCheckCmd(e desk.Env) *cobra.Command {
	var opts checkOptions
	cmd := &cobra.Command{
		Use:   "check DIR...",
		Short: "Find every fault in a folder of data files",
		Long: `Check reads the YAML and CSV files of a folder and reports every fault in one
run: file, line and column, what is wrong, and what to do about it. Nothing is
stored. Several folders are checked together, later ones over earlier ones;
"demo" is the built-in set.

Faults go to standard error; with --format json, csv or markdown they are the
answer and go to standard output.`,
		Example: `  matewell check my-data
  matewell check demo my-data
  matewell check --format json my-data`,
		Args: wants(1, -1, "a folder of data files"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.data = args
			return runCheck(cmd.Context(), e, opts)
		},
		ValidArgsFunction: folders,
	}
	addFormatFlag(cmd, &opts.format)
	return cmd
}

// folders completes the name of a folder.
func folders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}

func runCheck(ctx context.Context, e desk.Env, opts checkOptions) error {
	shelf.SayWhichDemo(e, opts.data)
	layers, err := shelf.Layers(e, opts.data)
	if err != nil {
		return err
	}
	var probs diag.List
	var holds shelf.FactCounter
	shelf.BeThrifty(e, desk.RoomToRead)
	err = loader.Stream(ctx, layers, &probs, holds.Before(func(graph.Facts) error { return nil }))
	if err != nil {
		return err
	}
	probs = ownFaults(&probs, opts.data)
	if opts.format == page.FormatTable {
		err := printCheck(e, layers, opts.data, holds.Counts(), &probs)
		return cmp.Or(sayOnDemo(ctx, e, opts.data, &probs), err)
	}
	answer := newCheckAnswer(opts.data, holds.Counts(), &probs)
	if err := printAnswer(e, opts.format, answer, answer.page(), shelf.LeftOut{}); err != nil {
		return err
	}
	if probs.Err() != nil {
		return desk.ErrSaid
	}
	return nil
}

// sayOnDemo says when a folder has fewer errors over the built-in set: it was made to
// stand on that.
func sayOnDemo(ctx context.Context, e desk.Env, data []string, probs *diag.List) error {
	if probs.Errors() == 0 || slices.Contains(data, shelf.DemoName) {
		return nil
	}
	names := append([]string{shelf.DemoName}, data...)
	layers, err := shelf.Layers(e, names)
	if err != nil {
		return err
	}
	var over diag.List
	if err := loader.Stream(ctx, layers, &over, func(graph.Facts) error { return nil }); err != nil {
		return err
	}
	if over = ownFaults(&over, names); over.Errors() < probs.Errors() {
		fmt.Fprintf(e.Err, "Over the built-in set it has %s: matewell check %s; to ask: --data %s\n",
			shelf.CountFaults(&over), strings.Join(names, " "), strings.Join(names, " --data "))
	}
	return nil
}

// ownFaults leaves out the warnings of the built-in set when a folder of the
// user's own is checked with it: nobody can mend them there.
func ownFaults(probs *diag.List, data []string) diag.List {
	own := slices.ContainsFunc(data, func(name string) bool { return name != shelf.DemoName })
	var kept diag.List
	for _, d := range probs.Sorted() {
		if own && d.Severity == diag.Warning && strings.HasPrefix(d.Pos.File, shelf.DemoName+"/") {
			continue
		}
		kept.Add(d)
	}
	return kept
}

// printCheck reports faults on standard error, as a compiler does, and what was
// read on standard output.
func printCheck(e desk.Env, layers []loader.Layer, data []string, holds []shelf.FactCount, probs *diag.List) error {
	if err := diag.Print(e.Err, probs, shelf.SourceOf(layers)); err != nil {
		return err
	}
	name := strings.Join(data, ", ")
	if probs.Err() != nil {
		fmt.Fprintf(e.Err, "matewell: %s in %s\n", shelf.CountFaults(probs), name)
		return desk.ErrSaid
	}
	_, err := fmt.Fprintf(e.Out, "%s: %s; holds %s\n", page.Visible(name), shelf.CountFaults(probs),
		shelf.SayCounts(holds))
	return err
}

func newCheckAnswer(data []string, holds []shelf.FactCount, probs *diag.List) checkAnswer {
	answer := checkAnswer{Data: data, Errors: probs.Errors(), Warnings: probs.Warnings(),
		Faults: []fault{}, Holds: []shelf.FactCount{}}
	if probs.Err() == nil {
		answer.Holds = holds
	}
	for _, d := range probs.Sorted() {
		f := fault{At: d.Pos.String(), Severity: d.Severity.String(), Code: d.Code, Message: d.Message, Hint: d.Hint}
		for _, pos := range d.Related {
			f.Related = append(f.Related, pos.String())
		}
		answer.Faults = append(answer.Faults, f)
	}
	return answer
}

func (a checkAnswer) page() page.Page {
	t := page.Table{Columns: []string{"place", "severity", "fault", "what is wrong", "what to do"}}
	for _, f := range a.Faults {
		t.Add(f.At, f.Severity, f.Code, f.Message, f.Hint)
	}
	return page.Page{{Table: t}}
}
