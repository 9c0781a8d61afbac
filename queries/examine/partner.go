package examine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// withPartners are places that are changed, and those that make a pair with one of them
// and hold another part than as built already: whichever of a left and a right, or of the
// two yokes, comes last completes what both do to the machine, as a longer leg that moves
// the axle with the second one. Sorted, each once.
func withPartners(s *machine.Setup, changed []graph.PositionID) []graph.PositionID {
	if s.Bike == nil {
		return changed
	}
	all := slices.Clone(changed)
	for _, f := range s.Bike.Found {
		now, built := s.Seat(f.Position), s.BuiltAt(f.Position)
		if now.Empty || now.IsSame(built) || slices.Contains(changed, f.Position) {
			continue
		}
		if slices.ContainsFunc(changed, func(id graph.PositionID) bool { return isPartner(s, id, f.Position) }) {
			all = append(all, f.Position)
		}
	}
	return lists.Unique(all)
}

func isPartner(s *machine.Setup, a, b graph.PositionID) bool {
	isYoke := func(id graph.PositionID) bool {
		return machine.HasKind(s.Seat(id).Part, "yoke-offset") || machine.HasKind(s.BuiltAt(id).Part, "yoke-offset")
	}
	return machine.OtherSide(a) == b || isYoke(a) && isYoke(b)
}

// loadFound reads what sits where somebody noted it on their own machine.
func loadFound(ctx context.Context, s *machine.Setup) error {
	if s.Bike == nil {
		return nil
	}
	return s.Load(ctx, lists.Mapped(s.Bike.Found, func(f graph.Fitted) graph.PositionID { return f.Position })...)
}
