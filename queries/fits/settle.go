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
