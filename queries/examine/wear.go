package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// wearConnections are the places where a part may wear towards a limit of its own.
func wearConnections(x *Examiner, at []graph.PositionID) []Connection {
	var all []Connection
	for _, id := range at {
		if !x.asksFor([]graph.PositionID{id}) || !mayWear(x, id) {
			continue
		}
		reads := func() map[graph.PositionID][]string {
			var names []string
			for _, l := range graph.WearLimits() {
				names = append(names, l.Kind+"."+l.Dim, l.Kind+"."+l.By)
			}
			return map[graph.PositionID][]string{id: lists.Unique(names)}
		}
		all = append(all, Connection{What: OfWear, ID: string(id), Places: []graph.PositionID{id}, reads: reads,
			around: x.Connections, touched: true, remedy: only(id),
			judge: func(x *Examiner) (Outcome, bool) { return wear(x, id) }})
	}
	return all
}

// mayWear reports whether what sits at a place, or what belongs there, has something
// that wears towards a limit.
func mayWear(x *Examiner, id graph.PositionID) bool {
	belongs := x.After.Library().Kind(x.After.Seat(id).Position.Kind)
	return slices.ContainsFunc(graph.WearLimits(), func(l graph.WearLimit) bool {
		return hasAt(x, id, l.Kind) ||
			slices.ContainsFunc(belongs.Features, func(f graph.KindFeature) bool { return f.Kind == l.Kind })
	})
}

// wear judges a part against its own limits; false where nothing of it is beyond one,
// for then there is nothing to tell.
func wear(x *Examiner, id graph.PositionID) (Outcome, bool) {
	was, is := x.checks(OfWear+string(id), func(s *machine.Setup) []mating.Check { return wearChecks(s, id) })
	if mating.Worst(is) <= graph.Fits {
		return Outcome{}, false
	}
	o := Outcome{What: OfWear, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
	return x.Judged(o, was, is), true
}

func wearChecks(s *machine.Setup, id graph.PositionID) []mating.Check {
	seat := s.Seat(id)
	if seat.Empty {
		return nil
	}
	return mating.JudgeWear(lists.Mapped(seat.Part.Features, func(f graph.Feature) mating.Side {
		return mating.Side{Position: id, Part: seat.Part.ID, PartKind: seat.Part.Kind, Feature: f}
	})...)
}
