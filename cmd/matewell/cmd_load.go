package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
)

type loadOptions struct {
	format page.Format
	store  string // folder or postgres:// address; empty is the usual place
	data   []string
}

// loadAnswer is what "matewell load" prints as JSON.
type loadAnswer struct {
	Data     []string          `json:"data"`  // folders and files, as given
	Store    string            `json:"store"` // where it was loaded to
	Warnings int               `json:"warnings"`
	Holds    []shelf.FactCount `json:"holds"`
}

func newLoadCmd(e desk.Env) *cobra.Command {
	var opts loadOptions
	cmd := &cobra.Command{
		Use:   "load DIR|FILE.nq...",
		Short: "Load data files, so that every question is answered from them",
		Long: `Load reads data folders, later ones over earlier ones, and keeps them as the
graph that questions are answered from. It replaces what was loaded before in
one step: a set with an error changes nothing, and neither does a load that is
stopped half way. Questions asked meanwhile are answered from the old set.

A file that ends in .nq is read as N-Quads, as "matewell export" writes them.`,
		Example: `  matewell load my-data
  matewell load demo my-data
  matewell load --store postgres://club@127.0.0.1/matewell my-data`,
		Args: wants(1, -1, "a folder of data files, or a file that ends in .nq"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.data = args
			return runLoad(cmd.Context(), e, opts)
		},
		ValidArgsFunction: folders,
	}
	cmd.Flags().StringVar(&opts.store, "store", "", "load into this `PLACE`: a folder or a postgres:// address")
	addFormatFlag(cmd, &opts.format)
	return cmd
}

// errNothing ends a load of what holds no fact.
var errNothing = errors.New("there is nothing")

func runLoad(ctx context.Context, e desk.Env, opts loadOptions) error {
	if opts.store == "" {
		dir, err := shelf.StoreDir(e)
		if err != nil {
			return err
		}
		opts.store = dir
	}
	only := loadedFrom(e, opts)
	if counts, done := amendLoaded(ctx, only, opts.store); done {
		answer := loadAnswer{Data: opts.data, Store: opts.store, Holds: counts}
		return printAnswer(e, opts.format, answer, answer.page(), shelf.LeftOut{})
	}
	var probs diag.List
	var holds shelf.FactCounter
	bar := desk.NewProgress(e, "loading")
	err := shelf.PutInto(ctx, e, opts.store, func(add func(graph.Facts) error) error {
		err := shelf.Read(ctx, e, opts.data, &probs, holds.Before(add))
		if err == nil && len(holds.Counts()) == 0 {
			return errNothing
		}
		return err
	}, func(dir string) error {
		if only == nil {
			return nil
		}
		return only.Beside(dir, probs.Warnings(), holds.Counts())
	}, bar.Step)
	bar.Stop()
	if errors.Is(err, errNothing) {
		return fmt.Errorf("%s holds nothing that is known here, so nothing was loaded; what was loaded before is as it was",
			page.List(opts.data))
	}
	if errors.Is(err, shelf.ErrFaults) {
		fmt.Fprintf(e.Err, "matewell: %s, nothing loaded; what was loaded before is as it was\n", shelf.CountFaults(&probs))
		return desk.ErrSaid
	}
	if err != nil {
		return err
	}
	answer := loadAnswer{Data: opts.data, Store: shelf.WithoutPassword(opts.store), Warnings: probs.Warnings(),
		Holds: holds.Counts()}
	return printAnswer(e, opts.format, answer, answer.page(), shelf.LeftOut{})
}

// loadedFrom is the one folder that is loaded; nil where it is something else.
func loadedFrom(e desk.Env, opts loadOptions) *shelf.Source {
	if shelf.IsShared(opts.store) || shelf.CheckPlace(opts.store) != nil || len(opts.data) != 1 {
		return nil
	}
	shelf.SayWhichDemo(e, opts.data)
	all, err := shelf.Layers(e, opts.data)
	if err != nil {
		return nil // reading it will say why
	}
	return shelf.OnlySource(e, opts.data, all)
}

// amendLoaded makes what was loaded what the folder says now, when a few files were
// edited since and neither then nor now there was anything to be said of a file.
func amendLoaded(ctx context.Context, only *shelf.Source, root string) (counts []shelf.FactCount, done bool) {
	if only == nil {
		return nil, false
	}
	k, err := shelf.ReadMadeOf(root)
	if err != nil || k.Warnings > 0 {
		return nil, false
	}
	after, done := only.Amend(ctx, root, root, k)
	return after.Holds, done
}

func (a loadAnswer) page() page.Page {
	t := page.Table{Columns: []string{"what", "how many"}}
	for _, c := range a.Holds {
		t.Add(c.What, strconv.Itoa(c.Count))
	}
	said := "Loaded " + page.List(a.Data) + " into " + a.Store + ": " + shelf.SayCounts(a.Holds) + "."
	return page.Page{{Lines: []string{said}, Rows: t}}
}
