package mating

import (
	"math"

	"matewell/graph/measure"
)

const (
	// padOver is how far a pad may reach beyond the band of the disc, in mm: what
	// reading both to 0.5 mm leaves. The readings are common practice, no source.
	padOver = 0.5
	// thinDisc is how much thinner than its slot a disc may be, in mm, before
	// somebody must see that the pistons stay in their seals with worn pads.
	// Common practice, no source.
	thinDisc = 1.0
)

// discInSlot judges a disc in the slot of its caliper.
func discInSlot(b *bench, m Meeting) {
	c := b.check("disc in slot")
	slot, okSlot := c.length(m.A, "disc-thickness")
	disc, okDisc := c.length(m.B, "thickness")
	if okDisc {
		discWear(c, m.B, disc, slot, okSlot)
		thinnerThanWorn(c, m, disc)
	}
	if okSlot && okDisc {
		room := slot.minus(disc)
		c.sizes(mm(slot.nominal)+" slot", mm(disc.nominal)+" disc", "")
		switch where := room.against(0, thinDisc); {
		case where == inside || same(room.nominal, 0):
			c.fits("a %s disc in a slot for %s", mm(disc.nominal), mm(slot.nominal))
		case where == below:
			c.Gap = mm(-room.nominal)
			c.no("the disc is %s too thick for the slot with new pads", c.Gap)
		case where == above:
			c.Gap = mm(room.nominal)
			c.settle(Ask{Position: m.A.Position, Part: m.A.Part, Feature: m.A.Feature.Name, Dim: "stroke",
				What: "how far the pistons stand out with worn pads", Where: label(m.A), Gauge: "vernier caliper",
				Accuracy: "0.5 mm"})
			c.unknown("the disc is %s thinner than the slot is made for: the pistons stand %s further out, and must still be "+
				"held with worn pads", c.Gap, mm(room.nominal/2))
		default:
			askTwo(c, m, "disc-thickness", "thickness")
			c.unknown("at the limits of their tolerances the disc may drag")
		}
	}
	discSize(b, m)
	padsOnBand(b, m)
}

// discSizeMuch is how far the diameter of a disc may differ from that of the disc built
// in, either way, before somebody must try how it brakes: the moment goes with the radius
// at which the pads press. Common practice, no source; the share is half of what the
// leverage of a brake may change.
const discSizeMuch = 0.10

// discSize judges how far the disc is from the size that the machine was built with,
// whatever caliper and bracket go with it.
func discSize(b *bench, m Meeting) {
	was, known := asBuilt(m, m.B.Feature.Kind)
	if !known {
		return
	}
	if len(m.B.Feature.Dims["diameter"]) == 0 || len(was.Feature.Dims["diameter"]) == 0 {
		return // what the diameter decides besides asks for it
	}
	c := b.check("disc size")
	now, okNow := c.peekLength(m.B, "diameter")
	built, okBuilt := c.peekLength(was, "diameter")
	if !okNow || !okBuilt {
		return
	}
	change := now.nominal/built.nominal - 1
	c.sizes(mm(now.nominal), mm(built.nominal), mm(math.Abs(now.nominal-built.nominal)))
	switch {
	case math.Abs(change) <= discSizeMuch+eps:
		c.fits("a %s disc where one of %s was built in", mm(now.nominal), mm(built.nominal))
	case change < 0:
		c.settle(askFor(m.B, "diameter"))
		c.unknown("a %s disc where one of %s was built in: the same hand stops it %.0f %% less", mm(now.nominal),
			mm(built.nominal), -100*change)
	default:
		c.settle(askFor(m.B, "diameter"))
		c.unknown("a %s disc where one of %s was built in: it bites %.0f %% harder, and must clear rim and leg",
			mm(now.nominal), mm(built.nominal), 100*change)
	}
}

// newDisc is how much thinner than its slot is made for a disc may be, in mm,
// and still count as new: the tolerance it is made to, which a reading to 0.01 mm
// tells from wear. Common practice, no source.
const newDisc = 0.1

// discWear judges the disc against the least thickness stamped on it. A disc as
// thick as the slot is made for is not worn, so its stamp need not be read.
func discWear(c *check, s Side, disc, slot span, okSlot bool) {
	least, ok := c.peekLength(s, "minimum")
	switch {
	case !ok && okSlot && disc.nominal >= slot.nominal-newDisc-eps:
	case !ok:
		c.ask(askFor(s, "minimum"))
	case disc.high < least.low-eps:
		c.no("the disc is worn out: %s, least %s", mm(disc.nominal), mm(least.nominal))
	case disc.low < least.high+eps:
		c.settle(askFor(s, "thickness"))
		c.unknown("the disc is at its least thickness, %s, or close to it: measure it", mm(least.nominal))
	}
}

// thinnerThanWorn tells when a disc is thinner than the one built in may wear to.
func thinnerThanWorn(c *check, m Meeting, disc span) {
	was, known := asBuilt(m, m.B.Feature.Kind)
	if !known {
		return
	}
	if least, ok := c.peekLength(was, "minimum"); ok && disc.nominal < least.nominal-eps {
		c.settle(askFor(m.B, "thickness"))
		c.unknown("%s thick, and the disc built in is worn out at %s: it takes less heat", mm(disc.nominal),
			mm(least.nominal))
	}
}

// padsOnBand keeps the pads on the braking band.
func padsOnBand(b *bench, m Meeting) {
	c := b.check("pads on disc")
	pad, okPad := c.length(m.A, "pad-height")
	band, okBand := c.length(m.B, "band")
	if !okPad || !okBand {
		return
	}
	over := pad.minus(band)
	c.sizes(mm(pad.nominal)+" pad", mm(band.nominal)+" band", "")
	switch where := over.against(-noLimit, padOver); {
	case where == inside || same(over.nominal, 0):
		c.fits("%s pads on a %s band", mm(pad.nominal), mm(band.nominal))
		notMuchLess(c, m, m.A, "pad-height", measure.Length, "lower pads brake less and wear sooner")
	case where == above:
		c.Gap = mm(over.nominal)
		c.no("the pads reach %s beyond the band: they wear a step and lift, and pads are not cut down: another disc or "+
			"another caliper", c.Gap)
	default:
		askTwo(c, m, "pad-height", "band")
		c.unknown("at the limits of their tolerances the pads may reach beyond the band")
	}
}
