package swap

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// RenewRow is something that goes on new once the joint was opened.
type RenewRow struct {
	Position graph.PositionID `json:"position,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Quantity int              `json:"quantity,omitempty"`
	Text     string           `json:"text"`
	For      []graph.JointID  `json:"for"` // the joints that are opened
	// Work is true for what is done, and is nothing to have at hand.
	Work bool `json:"work,omitempty"`
	// Oil is true for what is filled into the leg at Position before it is shut.
	Oil bool `json:"-"`
	// Link is true for the link that closes a new chain, which goes by the chain's own maker.
	Link bool `json:"-"`

	washer bool
	// refills is whether what its place takes is used up: oil of a leg, coolant.
	refills bool
}

// IsWasher reports whether a rule asks for a washer that has no place of its own.
func (r RenewRow) IsWasher() bool { return r.washer }

// MeasureRow is something to measure before the answer can be settled.
type MeasureRow struct {
	mating.Ask
	For    []string `json:"for"` // outcomes and numbers that it would settle
	Safety bool     `json:"safety,omitempty"`
}

// renew lists what goes on new: what the facts say of the disturbed joints and
// of their fasteners, else what the rules say. What is replaced anyway is left
// out, and what was for something that is taken off for good.
func renew(x *judging, outcomes []examine.Outcome, fitted map[graph.PositionID]graph.PartID) []RenewRow {
	var rows []RenewRow
	add := func(row RenewRow, joint graph.JointID) {
		at := slices.IndexFunc(rows, func(r RenewRow) bool { return r.Position == row.Position && r.Text == row.Text })
		if at < 0 {
			rows, at = append(rows, row), len(rows)
		}
		rows[at].For = lists.Unique(append(rows[at].For, joint))
	}
	for _, o := range outcomes {
		if !o.Disturbed || isGone(x.After.Seat(o.Joint.A.Position)) || isGone(x.After.Seat(o.Joint.B.Position)) {
			continue
		}
		named := false
		ends := append(slices.Clone(o.Joint.Renew), o.Joint.Fasteners...)
		for _, id := range lists.Unique(append(ends, o.Joint.A.Position, o.Joint.B.Position)) {
			seat := x.After.Seat(id)
			_, replaced := fitted[id]
			replaced = replaced || isPoorWasher(seat, o)
			if !seat.Position.Renew && !slices.Contains(o.Joint.Renew, id) || seat.Empty || seat.Changed || replaced {
				continue
			}
			named = named || machine.HasKind(seat.Part, "washer")
			add(RenewRow{Position: id, Part: seat.Part.ID, Quantity: x.After.BoltsWanted(o.Joint, id),
				Text: machine.NameOf(seat.Part)}, o.Joint.ID)
		}
		for _, c := range o.Checks {
			for _, text := range c.Renew {
				if !named {
					add(RenewRow{Text: text, washer: c.Washer}, o.Joint.ID)
				}
			}
		}
	}
	rows = append(rows, services(x, outcomes, fitted)...)
	slices.SortStableFunc(rows, func(a, b RenewRow) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Text, b.Text))
	})
	return rows
}

func isGone(seat machine.Seat) bool { return seat.Empty && seat.Changed }

// isPoorWasher reports whether a washer does not go over the bolt that it lies under now:
// then a new one like it does not either.
func isPoorWasher(seat machine.Seat, o examine.Outcome) bool {
	return machine.HasKind(seat.Part, "washer") && slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Washer && c.Verdict == graph.DoesNotFit &&
			slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == seat.Position.ID && u.Dim == "inside" })
	})
}

// WithoutOrdered leaves out of what goes on new the bolts and seals for which others are
// ordered: the old ones are too short or too few, or don't go.
func WithoutOrdered(rows []RenewRow, gets []Get) []RenewRow {
	return lists.Kept(rows, func(r RenewRow) bool {
		return !slices.ContainsFunc(gets, func(g Get) bool {
			return (g.What == GetBolts || g.What == "seal") && g.Position == r.Position
		})
	})
}

// measureRows gathers what would settle the unknowns, what is safety-relevant
// first.
func measureRows(outcomes []examine.Outcome, numbers []examine.Number) []MeasureRow {
	var rows []MeasureRow
	add := func(ask mating.Ask, what string, safety bool) {
		at := slices.IndexFunc(rows, func(r MeasureRow) bool { return r.Ask == ask })
		if at < 0 {
			rows, at = append(rows, MeasureRow{Ask: ask}), len(rows)
		}
		rows[at].For = lists.Unique(append(rows[at].For, what))
		rows[at].Safety = rows[at].Safety || safety
	}
	for _, o := range outcomes {
		for _, c := range o.Checks {
			for _, ask := range c.Measure {
				add(ask, o.What+" "+queries.LocalName(o.ID), len(o.Safety) > 0)
			}
		}
	}
	for _, n := range numbers {
		for _, ask := range n.Measure {
			add(ask, n.Name, n.Safety != graph.SafetyNone)
		}
	}
	slices.SortStableFunc(rows, func(a, b MeasureRow) int {
		return cmp.Or(cmp.Compare(lists.Order(!a.Safety), lists.Order(!b.Safety)), cmp.Compare(a.Position, b.Position),
			cmp.Compare(a.Feature, b.Feature), cmp.Compare(a.Dim, b.Dim))
	})
	return rows
}
