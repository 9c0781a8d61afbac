package part

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// mostApart is how many dimensions tell parts apart at most: more nobody compares.
const mostApart = 4

// apartDim is a dimension of a feature that tells parts of one kind apart.
type apartDim struct {
	feature, dim string
	always       bool // is told even where all found have the same
}

// tellApart says of each part what tells it from the others of its kind that were found,
// what was asked left out. What is marked on a part and decides what it bears, as the
// property class of a bolt, is told of all: two that look alike are not one.
func (w *wanted) tellApart(parts []FoundPart, known map[graph.PartID]graph.Part) {
	kinds := map[graph.KindID][]int{}
	for i, f := range parts {
		kinds[f.Kind] = append(kinds[f.Kind], i)
	}
	for _, alike := range kinds {
		dims := w.apartDims(parts, alike, known)
		for _, i := range alike {
			p := known[parts[i].Part]
			for _, d := range dims {
				if text := textOf(p, d); text != "" {
					name := d.dim
					if d.feature != parts[i].Feature && d.feature != d.dim {
						name = d.feature + " " + name
					}
					parts[i].Apart = lists.Unique(append(parts[i].Apart, name+" "+text))
				}
			}
		}
	}
}

// apartDims are the dimensions in which some parts of a kind differ, what is always told
// first, then those of the feature that was measured.
func (w *wanted) apartDims(parts []FoundPart, alike []int, known map[graph.PartID]graph.Part) []apartDim {
	var all []apartDim
	seen := map[apartDim]bool{}
	for _, i := range alike {
		for _, f := range known[parts[i].Part].Features {
			kind, _ := graph.FeatureKindNamed(f.Kind)
			for _, spec := range kind.Dims {
				d := apartDim{f.Name, spec.Name, spec.Accuracy == "marking" && !spec.Looks}
				isAsked := f.Name == parts[i].Feature && parts[i].asked[spec.Name]
				if len(f.Dims[spec.Name]) > 0 && !isAsked && !seen[d] && spec.Type != measure.Torque {
					seen[d] = true
					all = append(all, d)
				}
			}
		}
	}
	all = lists.Kept(all, func(d apartDim) bool {
		values := lists.Unique(lists.Mapped(alike, func(i int) string { return textOf(known[parts[i].Part], d) }))
		return d.always || len(values) > 1
	})
	first := func(d apartDim) int {
		switch {
		case d.always:
			return 0
		case slices.ContainsFunc(alike, func(i int) bool { return parts[i].Feature == d.feature }):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b apartDim) int { return cmp.Compare(first(a), first(b)) })
	return all[:min(mostApart, len(all))]
}

// textOf is what a part has in a dimension, as written first; empty where nobody wrote it.
func textOf(p graph.Part, d apartDim) string {
	f, _ := p.Feature(d.feature)
	return strings.TrimSpace(evidence.FirstText(f.Dims[d.dim]))
}
