package fits

import (
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// jointFeatures are the names of the features at the position that meet
// something, sorted.
func jointFeatures(at graph.PositionID, joints []graph.Joint) []string {
	var names []string
	for _, j := range joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if ref.Position == at {
				names = append(names, ref.Feature)
			}
		}
	}
	return lists.Unique(names)
}

// openDimension picks the dimension that is most worth measuring: one with
// readings that disagree, else a needed one without a reading, else the first
// needed one.
func openDimension(part graph.Part, features []string) (feature, dim string, ok bool) {
	best := 0
	for _, name := range features {
		f, _ := part.Feature(name)
		kind, _ := graph.FeatureKindNamed(f.Kind)
		for _, spec := range kind.Dims {
			readings := f.Dims[spec.Name]
			worth := 0
			switch {
			case slices.ContainsFunc(readings, func(r graph.Reading) bool { return !evidence.Agree(spec, readings[0], r) }):
				worth = 4
			case spec.Must && len(readings) == 0:
				worth = 3
			case spec.Must && spec.Type.Measured():
				worth = 2
			case spec.Must:
				worth = 1 // a word that anybody can see
			}
			if worth > best {
				best, feature, dim, ok = worth, name, spec.Name, true
			}
		}
	}
	return feature, dim, ok
}
