package examine

import (
	"slices"

	"matewell/graph"
)

func hasAnyFeature(x *Examiner, id graph.PositionID, part graph.Part) bool {
	return slices.ContainsFunc(x.Joints, func(j graph.Joint) bool {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if _, ok := part.Feature(ref.Feature); ok && ref.Position == id {
				return true
			}
		}
		return false
	})
}
