package examine

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// kindChecks judge whether what sits at a place of a machine is of a sort that goes there.
func kindChecks(x *Examiner, s *machine.Setup, id graph.PositionID) []mating.Check {
	seat := s.Seat(id)
	if !isOfAnotherKind(x, s, id) {
		return []mating.Check{{Rule: "kind of part", Verdict: graph.Fits, Why: "the kind that belongs here"}}
	}
	return []mating.Check{{Rule: "kind of part", Verdict: graph.DoesNotFit,
		Why: fmt.Sprintf("a part of kind %s does not go where a %s belongs", seat.Part.Kind, seat.Position.Kind),
		Had: string(seat.Part.Kind), Wanted: string(seat.Position.Kind)}}
}

// isOfAnotherKind reports whether a part is of another sort than belongs at its place,
// and has none of the features by which what belongs there meets others: a caliper with
// its bracket in one may stand for both. A kit that is listed at a place brings what
// belongs there, and what is made out of a part stays of its sort.
func isOfAnotherKind(x *Examiner, s *machine.Setup, id graph.PositionID) bool {
	seat := s.Seat(id)
	switch {
	case seat.Empty, seat.Part.Kind == seat.Position.Kind, hasAnyFeature(x, id, seat.Part):
		return false
	case seat.Made:
		return seat.Part.Kind != x.Before.Seat(id).Part.Kind
	}
	return !seat.Part.IsKit() || x.Built.Seat(id).Part.ID != seat.Part.ID
}

// isBesideItsKind reports whether a part is of another kind than belongs at its place and
// than was built in there. A kit brings what belongs there, and what is made out of a part
// stays of its sort.
func isBesideItsKind(seat, built machine.Seat) bool {
	kind := seat.Part.Kind
	return !seat.Empty && !seat.Made && !seat.Part.IsKit() && kind != "" && seat.Position.Kind != "" &&
		kind != seat.Position.Kind && (built.Empty || kind != built.Part.Kind)
}

// isInNewCircuit reports whether what sits at a place works by a fluid where nothing did:
// then its circuit judges the work that it does in the place of a cable and what that drew.
func isInNewCircuit(x *Examiner, id graph.PositionID) bool {
	return slices.ContainsFunc(x.Circuits, func(c graph.Circuit) bool {
		return queries.LocalName(string(c.ID)) == NewCircuit && slices.Contains(c.Places(), id)
	})
}

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
