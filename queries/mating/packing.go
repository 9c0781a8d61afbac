package mating

import "matewell/queries/trade"

// mostPacking is the thickest ring or spacer, in mm, that packs out what bolts hold: beyond
// it the bolts bend, and what was centred by a spigot no longer is. Common practice, no
// source: what is thicker is a part of its own, with a spigot and a wall.
const mostPacking = 5.0

// mostRadialShim is the same under the feet of a radial caliper, which long bolts hold down
// on a wide face. Common practice, no source: such spacers are sold up to 10 mm.
const mostRadialShim = 10.0

// pastPacking leaves a check open where what would have to be put under a part is too
// thick for a ring or shim, and reports whether it did.
func pastPacking(c *check, under Side, thick, most float64, why string) bool {
	if thick <= most+eps {
		return false
	}
	c.settle(lookAt(under, "packing",
		"whether somebody qualified makes a part for it, with a spigot and bolts of its own"))
	c.unknown("%s: %s is too thick for a ring or spacer, %s at most; it would be a part of its own", why, mm(thick),
		mm(most))
	return true
}

// boltHole is the hole that a bolt of d mm goes through, as a shop drills it. Source: the
// fine series of ISO 273.
func boltHole(d float64) string { return mm(d + finePlay(d)) }

// ringFields are the sizes, but for thickness and holes, of a flat ring that lies under what
// is bolted to a pattern: its bore and its outside, with metal enough around the holes.
// Source: trade.EdgeNeeded, in steel.
func ringFields(c *check, s Side) []Field {
	fields := overSpigot(c, s)
	count, at, ok := patternSize(c, s)
	bolt, hole, okHole := holeOf(c, s)
	if tapped := bolt == hole; okHole && tapped {
		hole = bolt + finePlay(bolt)
	}
	n, err := trade.EdgeNeeded(bolt, hole, "steel")
	if !ok || !okHole || err != nil || count < 3 || len(s.Feature.Dims["spacing-2"]) > 0 {
		return fields
	}
	if len(fields) == 0 && at > 2*n.Enough {
		fields = append(fields, Field{"bore, at most", tenth(at - 2*n.Enough)})
	}
	return append(fields, Field{"outside, at least", tenthUp(at + 2*n.Enough)}, Field{"faces", "flat and parallel"})
}
