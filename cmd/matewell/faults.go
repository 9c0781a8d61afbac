package main

import (
	"context"
	"fmt"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/loader"
	"matewell/queries/lists"
)

// loadOrReport reads files for a question. Warnings are left to "matewell
// check"; errors are printed and stop it.
func loadOrReport(ctx context.Context, e desk.Env, layers []loader.Layer) (graph.Facts, error) {
	var probs diag.List
	facts, err := loadFiles(ctx, e, layers, &probs)
	if err == nil {
		err = reportFaults(e, layers, &probs)
	}
	return facts, err
}

// streamOrReport is loadOrReport piece by piece.
func streamOrReport(ctx context.Context, e desk.Env, layers []loader.Layer, add func(graph.Facts) error) error {
	var probs diag.List
	beThrifty(e, desk.RoomToStore)
	if err := loader.Stream(ctx, layers, &probs, add); err != nil {
		return err
	}
	return reportFaults(e, layers, &probs)
}

// reportFaults prints the errors in files that a question was to be answered from; what is
// only warned of keeps no answer back.
func reportFaults(e desk.Env, layers []loader.Layer, probs *diag.List) error {
	if probs.Err() == nil {
		return nil
	}
	var errs diag.List
	errs.Add(lists.Kept(probs.Sorted(), func(d diag.Diagnostic) bool { return d.Severity == diag.Error })...)
	if err := diag.Print(e.Err, &errs, sourceOf(layers)); err != nil {
		return err
	}
	fmt.Fprintf(e.Err, "matewell: %s, no answer given\n", countFaults(&errs))
	return desk.ErrSaid
}

// sourceOf gives the bytes of a file named in a fault.
func sourceOf(layers []loader.Layer) func(file string) []byte {
	return func(file string) []byte {
		for i := len(layers) - 1; i >= 0; i-- {
			name, ok := strings.CutPrefix(file, layers[i].Name+"/")
			if layers[i].Name == "." {
				name, ok = file, true
			}
			if !ok {
				continue
			}
			if content, err := disk.ReadPlain(layers[i].FS, name, disk.MaxPlain); err == nil {
				return content
			}
		}
		return nil
	}
}

// countFaults says how many faults there are: "2 errors, 1 warning".
func countFaults(probs *diag.List) string {
	var counts []string
	for _, c := range []struct {
		n    int
		what string
	}{{probs.Errors(), "error"}, {probs.Warnings(), "warning"}} {
		switch {
		case c.n == 1:
			counts = append(counts, "1 "+c.what)
		case c.n > 1:
			counts = append(counts, fmt.Sprintf("%d %ss", c.n, c.what))
		}
	}
	if len(counts) == 0 {
		return "no faults"
	}
	return strings.Join(counts, ", ")
}
