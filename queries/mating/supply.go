package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// fuseInHolder judges a fuse in its place. A stronger one than the place is made
// for lets the wire behind it burn; a weaker one blows.
func fuseInHolder(b *bench, m Meeting) {
	c := b.check("fuse")
	alike(c, m, "form", "form", "it does not go into the holder")
	fuse, okFuse := amount(c, m.A, "rating", measure.Current)
	place, okPlace := amount(c, m.B, "rating", measure.Current)
	if !okFuse || !okPlace {
		return
	}
	has, wants := unitText(fuse, measure.Current), unitText(place, measure.Current)
	switch diff := fuse.minus(place); diff.against(0, 0) {
	case inside:
		c.fits("%s, as the place is made for", has)
	case above:
		gap(c, fuse, place)
		c.Had, c.Wanted, c.Gap = has, wants, ""
		c.no("%s where %s belong: the wire burns before the fuse does", has, wants)
	case below:
		c.Had, c.Wanted, c.Gap = has, wants, ""
		c.no("%s where %s belong: it blows under the load", has, wants)
	default:
		askTwo(c, m, "rating", "rating")
		c.unknown("%s and %s may be one rating or not", has, wants)
	}
}

// statorOnRegulator judges what makes the current against what rectifies it.
func statorOnRegulator(b *bench, m Meeting) {
	c := b.check("stator and regulator")
	counts(c, m, "phases", "phases", "phases", "a winding is left out or shorted, and it burns")
	volts(c, m.A, m.B, "it overcharges or does not charge")
	if either(m, "field") {
		alike(c, m, "field", "field", "a winding that nothing feeds makes no current, and magnets can't be turned down")
	}
	power(c, m, "regulator")
}

// statorOnRectifier judges what makes the current against a rectifier that stands apart
// from the regulator.
func statorOnRectifier(b *bench, m Meeting) {
	c := b.check("stator and rectifier")
	counts(c, m, "phases", "phases", "phases", "a winding is left out or shorted, and it burns")
	power(c, m, "rectifier")
}

// statorOnFieldControl judges an alternator whose winding is fed against what feeds it.
func statorOnFieldControl(b *bench, m Meeting) {
	c := b.check("stator and field")
	volts(c, m.A, m.B, "it overcharges or does not charge")
	switch field, ok := c.word(m.A, "field"); {
	case !ok:
	case field == "winding":
		c.fits("its field is a winding, which it feeds")
	default:
		c.no("its field is made by %s: there is nothing to feed, and it charges unchecked", field)
	}
}

// power judges what is made against what the other side, called what, stands, where either
// is known.
func power(c *check, m Meeting, what string) {
	if !either(m, "power") {
		return
	}
	makes, okMakes := amount(c, m.A, "power", measure.Power)
	stands, okStands := amount(c, m.B, "power", measure.Power)
	switch {
	case !okMakes || !okStands:
	case makes.high <= stands.low+eps, same(makes.nominal, stands.nominal):
		c.fits("%s on a %s for %s", unitText(makes, measure.Power), what, unitText(stands, measure.Power))
	case makes.low > stands.high+eps:
		c.no("%s on a %s for %s: it overheats", unitText(makes, measure.Power), what,
			unitText(stands, measure.Power))
	default:
		askTwo(c, m, "power", "power")
		c.unknown("at the limits given the stator may be too strong for the %s", what)
	}
}

// regulatorOnBattery judges the charging voltage against what the battery's maker
// allows: too much boils one kind and burns another.
func regulatorOnBattery(b *bench, m Meeting) {
	c := b.check("charging")
	volts(c, m.A, m.B, "it overcharges or does not charge")
	ceiling, okCeiling := amount(c, m.A, "ceiling", measure.Voltage)
	allowed, okAllowed := amount(c, m.B, "ceiling", measure.Voltage)
	if !okCeiling || !okAllowed {
		return
	}
	limits := rangeText(allowed, measure.Voltage)
	charges := unitText(ceiling, measure.Voltage)
	switch within(ceiling, allowed, 0) {
	case inside:
		c.fits("charges to %s, the battery allows %s", charges, limits)
	case above:
		c.Had, c.Wanted = charges, limits
		c.no("charges to %s, the battery allows %s: it gasses, swells or burns", charges, limits)
	case below:
		c.Had, c.Wanted = charges, limits
		c.no("charges to %s, the battery wants %s: it is never full", charges, limits)
	default:
		askTwo(c, m, "ceiling", "ceiling")
		c.unknown("charges to %s, the battery allows %s: at the limits it may be outside", rangeText(ceiling,
			measure.Voltage), limits)
	}
}

// batteryLoose is how much smaller than its box a battery may be and be packed
// with foam, in mm. Common practice, no source.
const batteryLoose = 15.0

// batteryInBox judges a battery in its box: it must go in, and its plus pole must
// lie where the cable reaches. A smaller one is packed so that it can't move.
func batteryInBox(b *bench, m Meeting) {
	c := b.check("battery in box")
	small := false
	for _, dim := range []string{"length", "width", "height"} {
		has, okHas := c.length(m.A, dim)
		room, okRoom := c.length(m.B, dim)
		if !okHas || !okRoom {
			continue
		}
		switch free := room.minus(has); {
		case free.high < -eps:
			gap(c, has, room)
			c.no("its %s of %s does not go into %s", dim, mm(has.nominal), mm(room.nominal))
		case free.low < -eps:
			askTwo(c, m, dim, dim)
			c.unknown("at the limits of their tolerances its %s may not go in", dim)
		default:
			c.fits("%s %s in %s", dim, mm(has.nominal), mm(room.nominal))
			small = small || free.low > batteryLoose+usual(c, m, dim)
		}
	}
	if small {
		c.change(graph.EffortHandTools, "pack it so that it can't move, and nothing can fall on its poles",
			"it is smaller than its box")
	}
	plusSide(c, m)
}

// usual is how much room the battery built in leaves above it for its strap and poles, where
// both are known; nothing beside it.
func usual(c *check, m Meeting, dim string) float64 {
	if dim != "height" {
		return 0
	}
	room, known := builtRoom(c, m, "battery", dim, "battery-box", dim)
	if !known {
		return math.Inf(1) // as built, or nobody knows what belongs there
	}
	return max(0, room.nominal)
}

func plusSide(c *check, m Meeting) {
	has, okHas := c.word(m.A, "plus")
	wants, okWants := c.word(m.B, "plus")
	switch {
	case !okHas || !okWants:
	case has == wants:
		c.fits("plus on the %s", has)
	default:
		if c.Had == "" {
			c.sizes("plus on the "+has, "plus on the "+wants, "")
		}
		c.no("plus on the %s, the cable reaches to the %s: crossed or stretched cables short and burn", has, wants)
	}
}

// ignitionOnCoil judges an ignition coil on what switches it. A primary below
// what the switch allows burns it.
func ignitionOnCoil(b *bench, m Meeting) {
	c := b.check("ignition coil")
	volts(c, m.A, m.B, "it burns or gives no spark")
	counts(c, m, "leads", "leads", "plug leads on one coil", "a cylinder has no spark, or sparks out of time")
	primary, okPrimary := amount(c, m.A, "primary", measure.Resistance)
	allowed, okAllowed := amount(c, m.B, "primary", measure.Resistance)
	if !okPrimary || !okAllowed {
		return
	}
	has, limits := unitText(primary, measure.Resistance), rangeText(allowed, measure.Resistance)
	switch within(primary, allowed, 0) {
	case inside:
		c.fits("primary of %s, %s allowed", has, limits)
	case below:
		c.Had, c.Wanted = has, limits
		c.no("a primary of %s, %s allowed: it draws more than what switches it stands", has, limits)
	case above:
		c.Had, c.Wanted = has, limits
		c.no("a primary of %s, %s allowed: the spark is weak", has, limits)
	default:
		askTwo(c, m, "primary", "primary")
		c.unknown("a primary of %s, %s allowed: at the limits it may be outside", rangeText(primary, measure.Resistance),
			limits)
	}
}
