package mating

import (
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// TyreRoomCase is a tyre on a machine of which nobody recorded the room that it turns in.
type TyreRoomCase struct {
	Tyre, Was Side // now and as built, kind tyre
	// Yoke and Leg are, in front, what sets how far apart the legs stand (kind yoke-offset)
	// and one of their tubes (kind tube); zero behind, and where nobody said.
	Yoke, Leg Side
	Safety    graph.Safety
}

// tyreLarger is how much wider a tyre may be, or how much further out it may reach, than
// the one built in before its room must be measured, in mm: as much as two makers' tyres
// of one size differ. Common practice, no source.
const tyreLarger = 5.0

// JudgeTyreRoom judges, in one check "tyre room", a tyre and whatever rim it is on against
// the one built in: the legs, the arm, the mudguard and the chain stay where they are. As
// large fits; a larger one is unknown until the room is measured, and does not fit where it
// is wider than the tubes of the legs stand apart. It makes no check where no size can be
// read. Source: geometry.
func JudgeTyreRoom(in TyreRoomCase) []Check {
	return judge(false, func(b *bench) {
		c := b.aside().check("tyre room")
		now, okNow := tyreExtent(c, in.Tyre)
		was, okWas := tyreExtent(c, in.Was)
		if !okNow || !okWas {
			return
		}
		c = b.check("tyre room")
		now, _ = tyreExtent(c, in.Tyre)
		was, _ = tyreExtent(c, in.Was)
		wider, taller := now.width-was.width, now.radius-was.radius
		if free, ok := betweenLegs(c, in); ok && now.width > free+eps {
			c.sizes(mm(now.width), mm(free), mm(now.width-free))
			c.no("the tyre is %s wide, and the tubes of the fork stand %s apart", mm(now.width), mm(free))
			return
		}
		if wider <= tyreLarger+eps && taller <= tyreLarger+eps {
			c.fits("hardly larger than the tyre built in, or smaller")
			return
		}
		c.sizes(mm(now.width), mm(was.width)+" as built", "")
		c.settle(askOf(in.Tyre, "room", "narrowest room to legs or arm, mudguard and chain, through all of the travel",
			"steel rule", "1 mm"))
		c.unknown("%s wide, %s from the axle, %s and %s as built: nobody recorded the room it turns in", mm(now.width),
			mm(now.radius), mm(was.width), mm(was.radius))
	})
}

// extent is how wide a tyre is and how far it reaches from the axle, in mm.
type extent struct{ width, radius float64 }

// tyreExtent is that of a tyre as measured, else by its size.
func tyreExtent(c *check, s Side) (extent, bool) {
	text, ok := c.peek(s, "size", measure.Word)
	if !ok {
		return extent{}, false
	}
	rim, width, aspect, ok := tyreSize(strings.ToUpper(text.Text))
	e := extent{width, rim*25.4/2 + width*aspect/100}
	if section, measured := c.peekLength(s, "section"); measured {
		e.width = section.nominal
	}
	if radius, measured := c.peekLength(s, "radius"); measured {
		e.radius = radius.nominal
	}
	return e, ok
}

// betweenLegs is how far apart the tubes of a fork stand at the most, in mm.
func betweenLegs(c *check, in TyreRoomCase) (float64, bool) {
	spacing, okSpacing := c.peekLength(in.Yoke, "spacing")
	tube, okTube := c.peekLength(in.Leg, "diameter")
	return spacing.nominal - tube.nominal, okSpacing && okTube
}
