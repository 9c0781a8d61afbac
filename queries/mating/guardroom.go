package mating

import (
	"fmt"

	"matewell/graph"
)

// GuardRoomCase is a tyre under its mudguard.
type GuardRoomCase struct {
	Guard, WasGuard Side // now and as built, kind guard-room
	Tyre, WasTyre   Side // now and as built, kind tyre
	// Sprung is true for a guard that does not go up and down with the wheel: the room that
	// was measured at it is not all that is left when the wheel comes up.
	Sprung bool
	Safety graph.Safety
}

// guardRead is how much less room than as built is no less, in mm: it is read to 1 mm.
const guardRead = 1.0

// JudgeGuardRoom judges, in one check "tyre under guard", whether a tyre turns free under a
// guard, by its radius and its width. As much room as built fits, and so does what leaves the
// tyre room to grow under a guard that moves with the wheel; none does not fit; anything else is
// unknown until it was turned through all of its travel. It makes no check where the room, or
// the size of the tyre, is not known. Source: geometry; room to grow: common practice, no source.
func JudgeGuardRoom(in GuardRoomCase) []Check {
	return judge(false, func(b *bench) {
		if _, ok := in.left(b.aside().check("tyre under guard"), in.Guard, in.Tyre); !ok {
			return
		}
		c := b.check("tyre under guard")
		now, _ := in.left(c, in.Guard, in.Tyre)
		was, built := in.left(c, in.WasGuard, in.WasTyre)
		in.room(c, "above it", now.radius, was.radius, built)
		in.room(c, "on either side", now.width, was.width, built)
		in.higher(c)
	})
}

// guardHigher is how much higher over the axle than the one built in a guard that moves with the wheel may stand,
// in mm, before somebody must look what it comes up to. Common practice, no source.
const guardHigher = 10.0

// higher judges what a guard that goes up with the wheel comes near at the end of the travel: what carries it, and
// what hangs there, was made for the one built in.
func (in GuardRoomCase) higher(c *check) {
	now, okNow := c.peekLength(in.Guard, "radius")
	was, okWas := c.peekLength(in.WasGuard, "radius")
	if more := now.minus(was); !in.Sprung && okNow && okWas && more.nominal > guardHigher+eps {
		c.settle(askOf(in.Guard, "travel", "room above it with the springs out and the wheel all the way up", "steel rule",
			"1 mm"))
		c.unknown("it stands %s higher over the wheel than the one built in: at the end of the travel it may meet what is "+
			"above it", mm(more.nominal))
	}
}

// left is the room around a tyre, above it and on either side, in mm.
func (in GuardRoomCase) left(c *check, guard, tyre Side) (extent, bool) {
	radius, okRadius := c.peekLength(guard, "radius")
	width, okWidth := c.peekLength(guard, "width")
	is, ok := tyreExtent(c, tyre)
	return extent{(width.nominal - is.width) / 2, radius.nominal - is.radius}, ok && okRadius && okWidth
}

func (in GuardRoomCase) room(c *check, where string, now, was float64, built bool) {
	switch {
	case now <= eps:
		c.Gap = mm(-now)
		c.no("the tyre is %s too large for the room %s: it touches the guard", mm(-now), where)
	case built && now >= was-guardRead-eps:
		c.fits("%s of room %s, no less than as built", mm(now), where)
	case !in.Sprung && now >= tyreRoom-eps:
		c.fits("%s of room %s", mm(now), where)
	default:
		c.settle(askOf(in.Guard, "room", "narrowest room to the tyre, turned through all of the travel", "steel rule",
			"1 mm"))
		words := fmt.Sprintf("only %s of room %s", mm(now), where)
		if built {
			words += ", " + mm(was) + " as built"
		}
		c.unknown("%s: a tyre grows, and a stone or a twig must pass", words)
	}
}
