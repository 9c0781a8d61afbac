package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// newFluid says of each circuit that the change opens what goes in again, and
// what proves that it holds. Which fluid is judged by the circuit; to bleed, and
// to hold the lever down and look, is common practice, no source: the maker's
// manual says how.
func (x *judging) newFluid(outcomes []examine.Outcome) []RenewRow {
	var rows []RenewRow
	for _, circuit := range outcomes {
		if circuit.What != examine.OfCircuit || !slices.ContainsFunc(circuit.Ends, x.takesFluid) {
			continue
		}
		row := RenewRow{Position: circuit.Ends[0].Position, For: lists.Unique(x.openedIn(circuit, outcomes))}
		if len(row.For) == 0 {
			continue
		}
		which := circuit.Why
		if circuit.After != graph.Fits {
			which = "settle first which: " + which
		}
		row.Text = "new fluid (" + which + "); bleed it; then with the lever held down hard nothing may sink or weep"
		rows = append(rows, row)
	}
	return rows
}

// openedIn are the joints of a circuit that fluid comes out of when the change is
// made.
func (x *judging) openedIn(circuit examine.Outcome, outcomes []examine.Outcome) []graph.JointID {
	var opened []graph.JointID
	in := func(id graph.PositionID) bool {
		return slices.ContainsFunc(circuit.Ends, func(e examine.End) bool { return e.Position == id })
	}
	for _, o := range outcomes {
		wet := o.Disturbed && (in(o.Joint.A.Position) || in(o.Joint.B.Position)) &&
			(slices.Contains(wetKinds(), x.After.KindOf(o.Joint.A)) || slices.Contains(wetKinds(), x.After.KindOf(o.Joint.B)))
		if wet {
			opened = append(opened, o.Joint.ID)
		}
	}
	return opened
}

// wetKinds are the features that fluid goes through.
func wetKinds() []string { return []string{"port", "banjo", "screwed-end"} }

// takesFluid reports whether an end of a circuit has a feature that fluid goes
// through, or says which fluid it takes.
func (x *judging) takesFluid(e examine.End) bool {
	return slices.ContainsFunc(x.After.Seat(e.Position).Part.Features, func(f graph.Feature) bool {
		return f.Kind == "fluid" || slices.Contains(wetKinds(), f.Kind)
	})
}
