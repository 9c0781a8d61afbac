package bike

import (
	"cmp"
	"context"
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

// doubtful are the pieces on the machine that are to be looked at first and for which
// nothing else is planned, by safety class, then position.
func (m *ownMachine) doubtful() []LookFirst {
	rows := []LookFirst{}
	for _, f := range m.bike.Found {
		seat := m.setup.Seat(f.Position)
		if _, planned := m.planned(f.Position); planned || seat.Empty || seat.State.Is != graph.Doubtful {
			continue
		}
		rows = append(rows, LookFirst{Position: f.Position, Name: seat.Position.Name, Safety: seat.Position.Safety,
			Part: seat.Part.ID, State: seat.State.Why})
	}
	slices.SortStableFunc(rows, func(x, y LookFirst) int { return byClass(x.Safety, y.Safety, x.Position, y.Position) })
	return rows
}

// byClass orders rows by safety class, then position.
func byClass(a, b graph.Safety, at, other graph.PositionID) int {
	return cmp.Or(cmp.Compare(a.Place(), b.Place()), cmp.Compare(at, other))
}

// withJobs names with each piece the job that renews what is in it.
func (m *ownMachine) withJobs(ctx context.Context, rows []LookFirst) ([]LookFirst, error) {
	if len(rows) == 0 {
		return rows, nil
	}
	jobs, err := m.r.Jobs(ctx)
	jobs = graph.JobsAt(jobs, m.positions)
	for i, row := range rows {
		at := slices.IndexFunc(jobs, func(j graph.Job) bool { return slices.Contains(j.Places, row.Position) })
		if at >= 0 {
			rows[i].Job = jobs[at].ID
		}
	}
	return rows, err
}

// doubts say of those pieces that have a safety class why nobody rides yet.
func doubts(rows []LookFirst) []swap.Hindrance {
	classed := lists.Kept(slices.Clone(rows), func(row LookFirst) bool { return row.Safety != graph.SafetyNone })
	return lists.Mapped(classed, func(row LookFirst) swap.Hindrance {
		return swap.Judged(graph.Unknown, "piece at "+row.Position.Local(), row.State)
	})
}
