package fits

import (
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
)

// isGivenOtherwise reports whether somebody gives another value than was measured.
func isGivenOtherwise(part graph.Part, m graph.Measured) bool {
	f, _ := part.Feature(m.Feature)
	kind, _ := graph.FeatureKindNamed(f.Kind)
	spec, ok := kind.Dim(m.Dim)
	return ok && slices.ContainsFunc(f.Dims[m.Dim], func(r graph.Reading) bool {
		return !evidence.Agree(spec, r, graph.Reading{Text: m.Text, Method: m.With})
	})
}

// isNewOrOtherwise reports whether the book, without what was measured by others, gives
// no such value or another one: then a judgement may come out other than by the book.
func isNewOrOtherwise(book graph.Part, m graph.Measured) bool {
	f, _ := book.Feature(m.Feature)
	return len(f.Dims[m.Dim]) == 0 || isGivenOtherwise(book, m)
}
