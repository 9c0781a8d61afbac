package examine

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/trade"
)

// quarterTurn is the turn of a drum at which cable pulls are compared, in
// degrees. A round figure of ours.
const quarterTurn = 90.0

// pull is a cable between two drums.
type pull struct {
	g                  *gauge
	upper, lower       float64 // radii, mm
	okUpper, okLower   bool
	nameUpper, nameLow string
}

// cables pairs the two seats of every cable that was touched.
func (x *Examiner) cables(s *machine.Setup) map[graph.PositionID][]graph.FeatureRef {
	seats := map[graph.PositionID][]graph.FeatureRef{}
	for _, j := range x.Known {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if s.KindOf(ends[0]) == "nipple" && s.KindOf(ends[1]) == "nipple-seat" {
				seats[ends[0].Position] = append(seats[ends[0].Position], ends[1])
			}
		}
	}
	return seats
}

// driverFirst puts the seat where the line's run begins first: the grip or
// lever, as far as a run says.
func (x *Examiner) driverFirst(line graph.PositionID, seats []graph.FeatureRef) []graph.FeatureRef {
	for _, run := range x.runs {
		if run.Line == line && len(seats) == 2 && run.From.Position == seats[1].Position {
			return []graph.FeatureRef{seats[1], seats[0]}
		}
	}
	return seats
}

func (x *Examiner) readPull(s *machine.Setup, seats []graph.FeatureRef) pull {
	in := pull{g: &gauge{s: s}, nameUpper: seats[0].Position.Local(), nameLow: seats[1].Position.Local()}
	in.upper, in.okUpper = in.radius(s.Side(seats[0]))
	in.lower, in.okLower = in.radius(s.Side(seats[1]))
	return in
}

func (in *pull) radius(seat mating.Side) (float64, bool) {
	v, ok := in.g.peek(seat, "pull-radius")
	return v.Quantity.Nominal, ok
}

// turn is how far the upper drum must turn for a quarter turn of the lower one.
func (in pull) turn() (float64, error) {
	if !in.okUpper || !in.okLower {
		return 0, errMissing
	}
	return trade.GripTurn(quarterTurn, in.lower, in.upper)
}

func (in pull) wound() (float64, error) {
	if !in.okUpper {
		return 0, errMissing
	}
	return trade.CablePull(in.upper, quarterTurn)
}

// turnWords says what another drum does to the hand. Source: the same cable on
// both drums.
func turnWords(before, after pull) string {
	was, errWas := before.turn()
	is, err := after.turn()
	switch {
	case errWas != nil || err != nil || was == is:
		return ""
	case is < was:
		return "less turn does the same: it answers quicker"
	}
	return "it takes more turn for the same: see that it still reaches its stop"
}

// CableNumbers are the pulls of every cable with a drum that was changed.
func (x *Examiner) CableNumbers() []Number {
	var all []Number
	cables := x.cables(x.After)
	for _, line := range lists.KeysOf(cables) {
		seats := x.driverFirst(line, cables[line])
		if len(seats) != 2 || !x.isChanged(seats[0].Position) && !x.isChanged(seats[1].Position) {
			continue
		}
		st := states[pull]{about: string(line), safety: x.After.Seat(line).Position.Safety, stock: x.readPull(x.Built, seats),
			before: x.readPull(x.Before, seats), after: x.readPull(x.After, seats)}
		if !st.before.okUpper && !st.after.okUpper {
			continue // a lever, not a drum
		}
		upper, lower := seats[0].Position.Local(), seats[1].Position.Local()
		for _, f := range []formula[pull]{
			{name: fmt.Sprintf("cable wound up by %g deg at %s", quarterTurn, upper), unit: "mm", decimals: 1,
				law: "radius x angle", source: "length of an arc", work: pull.wound},
			{name: fmt.Sprintf("turn of %s for %g deg at %s", upper, quarterTurn, lower), unit: "deg", decimals: 1,
				law: "angle x lower radius / upper radius", source: "the same cable on both drums", work: pull.turn,
				words: turnWords},
		} {
			f.gauge = func(in pull) *gauge { return in.g }
			all = append(all, st.number(f)...)
		}
	}
	return all
}
