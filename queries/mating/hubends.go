package mating

import "math"

// HubEnds are the end faces of a hub, from which the inset of what is bolted to it counts.
// A row touches the inner rings of its bearings, which lie inside of them or stand proud.
type HubEnds struct {
	Hub         Side // kind hub-row: between, and width over the end faces
	Left, Right Side // its seats, kind bearing-seat: depth
}

// beyond is how far an end face stands further out than the face that the row touches, of a
// hub that adds so much to its row. Where the hub was not measured over its ends they lie
// by the depths of its seats; where those are not known either, where its row ends. A
// deeper seat on one side has its face further out there, with two bearings alike. Source:
// geometry.
func (h HubEnds) beyond(c *check, row func() (span, bool), left bool) span {
	width, okWidth := c.peekLength(h.Hub, "width")
	between, okBetween := c.peekLength(h.Hub, "between")
	onLeft, okLeft := c.peekLength(h.Left, "depth")
	onRight, okRight := c.peekLength(h.Right, "depth")
	seats, okSeats := onLeft.plus(between).plus(onRight).nominal, okBetween && okLeft && okRight
	over := width.nominal
	if !okWidth {
		over = seats
	}
	if !okWidth && !okSeats {
		return span{}
	}
	touched, ok := row()
	out := (over - touched.nominal) / 2
	if !ok || math.Abs(out) <= lengthRead+eps {
		out = 0 // as it was read
	}
	deeper := (onLeft.nominal - onRight.nominal) / 2
	switch {
	case !okSeats || math.Abs(seats-over) > hubOff:
	case left:
		out += deeper
	default:
		out -= deeper
	}
	return exact(out)
}
