package graph

import "slices"

// Places are the positions that take part in a joint: its two sides, its fasteners
// and what is renewed with it. Like those of a run, a circuit and a stack they are
// in the order of the data and may hold a position twice, or an empty one; a
// reader finds each of them At one of these.
func (j Joint) Places() []PositionID {
	return slices.Concat([]PositionID{j.A.Position, j.B.Position}, j.Fasteners, j.Renew)
}

// Places are the line of a run, its ends, the hot parts it passes, and what moves
// its ends or asks for more length.
func (r Run) Places() []PositionID {
	places := append([]PositionID{r.Line, r.From.Position, r.To.Position}, r.Hot...)
	for _, ref := range slices.Concat(r.MovedBy, r.LengthenedBy) {
		places = append(places, ref.Position)
	}
	return places
}

// Places are what feeds a circuit, what it feeds, and all its members.
func (c Circuit) Places() []PositionID { return slices.Concat(c.Feeds, c.Fed, c.Members) }

// Places are what a stack sits within, the feature it is centred by, and its row.
func (s Stack) Places() []PositionID {
	places := []PositionID{s.Within.Position, s.Centre.Position}
	for _, ref := range s.Row {
		places = append(places, ref.Position)
	}
	return places
}
