package examine

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// Kinds says where a part of another sort was put, with none of the features
// that the position needs.
func (x *Examiner) Kinds() []Outcome {
	var all []Outcome
	for _, id := range x.After.Changed() {
		seat, was := x.After.Seat(id), x.Before.Seat(id)
		if seat.Empty || seat.Part.Kind == seat.Position.Kind || seat.Part.Kind == was.Part.Kind ||
			x.hasAnyFeature(id, seat.Part) {
			continue
		}
		o := Outcome{What: OfKind, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
		is := []mating.Check{{Rule: "kind of part", Verdict: graph.DoesNotFit,
			Why: fmt.Sprintf("a part of kind %s does not go where a %s belongs", seat.Part.Kind, seat.Position.Kind),
			Had: string(seat.Part.Kind), Wanted: string(seat.Position.Kind)}}
		all = append(all, x.Judged(o, []mating.Check{{Rule: "kind of part", Verdict: graph.Fits,
			Why: "the kind that belongs here"}}, is))
	}
	return all
}

func (x *Examiner) hasAnyFeature(id graph.PositionID, part graph.Part) bool {
	return slices.ContainsFunc(x.Joints, func(j graph.Joint) bool {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if _, ok := part.Feature(ref.Feature); ok && ref.Position == id {
				return true
			}
		}
		return false
	})
}
