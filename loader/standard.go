package loader

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader/standard"
)

// standardName is in front of the places in the standard set.
const standardName = "standard-kinds"

// Standard is the layer of the kinds of part, and of the jobs on them, that ship
// with the program. It belongs below every data set that does not define all its
// kinds itself.
func Standard() Layer { return Layer{Name: standardName, FS: standard.FS()} }

// StandardSet is what the standard set says, alone: its kinds, jobs and sources,
// each sorted by identity.
func StandardSet(ctx context.Context) (graph.Facts, error) {
	var probs diag.List
	files, err := readLayers(ctx, newGrammar(), []Layer{Standard()}, &probs)
	if err != nil {
		return graph.Facts{}, err
	}
	w := newWorld()
	w.files = files
	for _, f := range files {
		w.Add(f.faults.Sorted()...)
	}
	w.resolve()
	if err := w.Err(); err != nil {
		return graph.Facts{}, fmt.Errorf("loader: standard kinds: %w", err)
	}
	return graph.Facts{Kinds: w.kinds.own(), Jobs: w.jobs.own(), Sources: w.sources.own()}, nil
}

// keepUsed leaves out the standard kinds that nothing else of the facts is of, the
// standard jobs on kinds that sit nowhere, and their sources with the last of them.
func keepUsed(w *world, f *graph.Facts) {
	used := map[graph.KindID]bool{}
	for _, p := range w.positions.items {
		if !p.origin.base {
			used[p.value.kind] = true
		}
	}
	f.Jobs = jobsOn(f.Jobs, used)
	for _, d := range w.parts.items {
		if !d.origin.base {
			used[d.value.own] = true
		}
	}
	for _, b := range f.Bikes {
		for _, bag := range b.Bags {
			for _, item := range bag.Contents {
				used[item.Kind] = true
			}
		}
	}
	f.Kinds = slices.DeleteFunc(f.Kinds, func(k graph.Kind) bool { return OnlyStandard(k.Said) && !used[k.ID] })
	cited := map[graph.SourceID]bool{}
	for _, k := range f.Kinds {
		addCited(cited, k.Said)
	}
	for _, j := range f.Jobs {
		addCited(cited, j.Said)
	}
	f.Sources = slices.DeleteFunc(f.Sources, func(s graph.Source) bool { return isStandard(s.Pos) && !cited[s.ID] })
}

// jobsOn leaves out the standard jobs on kinds that sit nowhere, and of each that stays
// the kinds that do not.
func jobsOn(jobs []graph.Job, sit map[graph.KindID]bool) []graph.Job {
	var kept []graph.Job
	for _, j := range jobs {
		if OnlyStandard(j.Said) {
			j.Kinds = slices.DeleteFunc(slices.Clone(j.Kinds), func(id graph.KindID) bool { return !sit[id] })
			if len(j.Kinds) == 0 {
				continue
			}
		}
		kept = append(kept, j)
	}
	return kept
}

func addCited(cited map[graph.SourceID]bool, said []graph.Cite) {
	for _, c := range said {
		cited[c.Source] = true
	}
}

// OnlyStandard reports whether nothing but the standard set says something.
func OnlyStandard(said []graph.Cite) bool {
	for _, c := range said {
		if !isStandard(c.Pos) {
			return false
		}
	}
	return len(said) > 0
}

// isStandardSource reports whether a source is one of the standard set, which nobody's
// own lines cite.
func isStandardSource(name string) bool { return strings.HasPrefix(name, "standard-") }

func isStandard(at diag.Pos) bool { return strings.HasPrefix(at.File, standardName+"/") }
