package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// This file keeps long answers short: what a person must decide or do is printed,
// the rest is counted, and --all prints it too. JSON and CSV always have it all.

// allHelp is what --all does for an answer that folds.
const allHelp = "print everything, not only what to decide or do"

func addAllFlag(cmd *cobra.Command, all *bool) { cmd.Flags().BoolVar(all, "all", false, allHelp) }

// onceOnly is the section with what is alike on the left and on the right said once;
// see bothSides. For CSV all rows stay.
func onceOnly(s section, where string, both ...string) section {
	s = keptRows(s)
	s.Table = bothSides(s.Table, where, both...)
	return s
}

// keptRows is the section with its rows kept for CSV, whatever becomes of its table.
func keptRows(s section) section {
	if len(s.Rows.Columns) == 0 {
		s.Rows = s.Table
	}
	return s
}

// folded is the section without its table, which a sentence stands for; without
// one the section is not printed at all. With all it is left as it is.
func folded(s section, all bool, instead string) section {
	if all || len(s.Table.Rows) == 0 {
		return s
	}
	s = keptRows(s)
	s.Table.Rows, s.Lines, s.After = nil, nil, nil
	if instead != "" {
		s.Lines = []string{instead}
	}
	return s
}

// tally counts by name, in the order in which names first come.
type tally struct {
	names []string
	of    map[string]int
}

func (t *tally) add(name string) {
	if t.of == nil {
		t.of = map[string]int{}
	}
	if t.of[name] == 0 {
		t.names = append(t.names, name)
	}
	t.of[name]++
}

// at says how many there are where: "11 at front-brake, 2 at fork".
func (t *tally) at() string {
	said := make([]string, len(t.names))
	for i, name := range t.names {
		said[i] = strconv.Itoa(t.of[name]) + " at " + hard(name)
	}
	return list(said)
}

// plain says how many of each: "2 brake, 1 steering".
func (t *tally) plain() string {
	said := make([]string, len(t.names))
	for i, name := range t.names {
		said[i] = strconv.Itoa(t.of[name]) + " " + name
	}
	return list(said)
}

// assemblyOf is the assembly that a position belongs to, by its name in a model.
func assemblyOf(local string) string {
	assembly, _, _ := strings.Cut(local, "/")
	return assembly
}

// allPrints ends a sentence that stands for what was counted.
func allPrints(n int) string {
	return fmt.Sprintf("--all prints %s.", plural(n, "it", "them"))
}
