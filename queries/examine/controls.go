package examine

import (
	"matewell/graph"
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
func cables(x *Examiner, s *machine.Setup) map[graph.PositionID][]graph.FeatureRef {
	seats := map[graph.PositionID][]graph.FeatureRef{}
	for _, i := range x.withKind(s, "nipple") {
		j, a, b := &x.Known[i], kindOn(x, s, i, 0), kindOn(x, s, i, 1)
		if a == "nipple" && b == "nipple-seat" {
			seats[j.A.Position] = append(seats[j.A.Position], j.B)
		}
		if b == "nipple" && a == "nipple-seat" {
			seats[j.B.Position] = append(seats[j.B.Position], j.A)
		}
	}
	return seats
}

// driverFirst puts the seat where the line's run begins first: the grip or
// lever, as far as a run says.
func driverFirst(x *Examiner, line graph.PositionID, seats []graph.FeatureRef) []graph.FeatureRef {
	for _, run := range x.runs {
		if run.Line == line && len(seats) == 2 && run.From.Position == seats[1].Position {
			return []graph.FeatureRef{seats[1], seats[0]}
		}
	}
	return seats
}

func readPull(x *Examiner, s *machine.Setup, seats []graph.FeatureRef) pull {
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
