package shelf

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/loader"
)

// loadOrReport reads files for a question. Warnings are left to "matewell
// check"; errors are printed and stop it.
func loadOrReport(ctx context.Context, e desk.Env, layers []loader.Layer) (graph.Facts, error) {
	var probs diag.List
	facts, err := LoadFiles(ctx, e, layers, &probs)
	if err == nil {
		err = ReportFaults(e, layers, &probs)
	}
	return facts, err
}

// streamOrReport is loadOrReport piece by piece.
func streamOrReport(ctx context.Context, e desk.Env, layers []loader.Layer, add func(graph.Facts) error) error {
	var probs diag.List
	BeThrifty(e, desk.RoomToStore)
	if err := loader.Stream(ctx, layers, &probs, add); err != nil {
		return err
	}
	return ReportFaults(e, layers, &probs)
}

// ReportFaults prints the errors in files that a question was to be answered from; what is
// only warned of keeps no answer back.
func ReportFaults(e desk.Env, layers []loader.Layer, probs *diag.List) error {
	if probs.Err() == nil {
		return nil
	}
	var errs diag.List
	errs.Add(slices.DeleteFunc(probs.Sorted(), func(d diag.Diagnostic) bool { return d.Severity != diag.Error })...)
	if err := diag.Print(e.Err, &errs, SourceOf(layers)); err != nil {
		return err
	}
	fmt.Fprintf(e.Err, "matewell: %s, no answer given\n", CountFaults(&errs))
	return desk.ErrSaid
}

// SourceOf gives the bytes of a file named in a fault.
func SourceOf(layers []loader.Layer) func(file string) []byte {
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

// CountFaults says how many faults there are: "2 errors, 1 warning".
func CountFaults(probs *diag.List) string {
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
