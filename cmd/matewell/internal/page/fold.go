package page

import (
	"fmt"
	"strconv"
	"strings"
)

// This file keeps long answers short: what a person must decide or do is printed,
// the rest is counted, and --all prints it too. JSON and CSV always have it all.

// OnceOnly is the section with what is alike on the left and on the right said once;
// see BothSides. For CSV all rows stay.
func OnceOnly(s Section, where string, both ...string) Section {
	s = KeptRows(s)
	s.Table = BothSides(s.Table, where, both...)
	return s
}

// KeptRows is the section with its rows kept for CSV, whatever becomes of its table.
func KeptRows(s Section) Section {
	if len(s.Rows.Columns) == 0 {
		s.Rows = s.Table
	}
	return s
}

// Folded is the section without its table, which a sentence stands for; without
// one the section is not printed at all. With all it is left as it is.
func Folded(s Section, all bool, instead string) Section {
	if all || len(s.Table.Rows) == 0 {
		return s
	}
	s = KeptRows(s)
	s.Table.Rows, s.Lines, s.After = nil, nil, nil
	if instead != "" {
		s.Lines = []string{instead}
	}
	return s
}

// Tally counts by name, in the order in which names first come.
type Tally struct {
	Names []string
	Of    map[string]int
}

func (t *Tally) Add(name string) {
	if t.Of == nil {
		t.Of = map[string]int{}
	}
	if t.Of[name] == 0 {
		t.Names = append(t.Names, name)
	}
	t.Of[name]++
}

// At says how many there are where: "11 at front-brake, 2 at fork".
func (t *Tally) At() string {
	said := make([]string, len(t.Names))
	for i, name := range t.Names {
		said[i] = strconv.Itoa(t.Of[name]) + " at " + Hard(name)
	}
	return List(said)
}

// Plain says how many of each: "2 brake, 1 steering".
func (t *Tally) Plain() string {
	said := make([]string, len(t.Names))
	for i, name := range t.Names {
		said[i] = strconv.Itoa(t.Of[name]) + " " + name
	}
	return List(said)
}

// AssemblyOf is the assembly that a position belongs to, by its name in a model.
func AssemblyOf(local string) string {
	assembly, _, _ := strings.Cut(local, "/")
	return assembly
}

// AllPrints ends a sentence that stands for what was counted.
func AllPrints(n int) string {
	return fmt.Sprintf("--all prints %s.", Plural(n, "it", "them"))
}
