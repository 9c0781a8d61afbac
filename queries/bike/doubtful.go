package bike

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/swap"
)

// LookFirst is a piece on the machine that stays on it only once somebody looked at it,
// measured it or put it right: one that is leaking, seized, rough, or worn by nobody knows
// how much.
type LookFirst struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part"` // a new one, if it must be
	State    string           `json:"state"`
	// Job is the one that renews what is in it; empty where none is known.
	Job graph.JobID `json:"job,omitempty"`
}

// byClass orders rows by safety class, then position.
func byClass(a, b graph.Safety, at, other graph.PositionID) int {
	return cmp.Or(cmp.Compare(a.Place(), b.Place()), cmp.Compare(at, other))
}

// doubts say of those pieces that have a safety class why nobody rides yet.
func doubts(rows []LookFirst) []swap.Hindrance {
	classed := lists.Kept(slices.Clone(rows), func(row LookFirst) bool { return row.Safety != graph.SafetyNone })
	return lists.Mapped(classed, func(row LookFirst) swap.Hindrance {
		return swap.Judged(graph.Unknown, "piece at "+row.Position.Local(), row.State)
	})
}
