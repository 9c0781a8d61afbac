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

// measureAgain names the readings that something was worked out from, the first of
// which settles it when it is another.
func measureAgain(steps []evidence.Step) string {
	i := slices.IndexFunc(steps, func(s evidence.Step) bool { return s.Kind == evidence.StepDimension })
	if i < 0 {
		return "offer the part up"
	}
	return "measure again: " + steps[i].Text
}
