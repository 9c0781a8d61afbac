package mating

import (
	"math"
	"strings"

	"matewell/graph/measure"
)

// bulbInHolder is rule 10: cap, power and voltage.
func bulbInHolder(b *bench, m Meeting) {
	c := b.check("bulb cap")
	bulb, okBulb := c.phrase(m.A, "cap")
	holder, okHolder := c.phrase(m.B, "cap")
	if okBulb && okHolder {
		c.sizes(bulb, holder, "")
		switch {
		case sameWords(bulb, holder):
			c.fits("%s cap", bulb)
		case sameWords(shortCap(bulb), shortCap(holder)):
			c.fits("%s in a %s holder: both are the cap %s", bulb, holder, shortCap(bulb))
		default:
			c.no("a %s cap does not go into a %s holder%s", bulb, holder, capTrap(bulb, holder))
		}
	}
	bulbPower(b, m)
	bulbVoltage(b, m)
}

// shortCap is a cap without the size that its full designation ends in, where there is
// only one of that size: P43t-38, P45t-41; and that of a lamp where its category is given,
// which is what is marked on it. Source: IEC 60061-1 and UN R37, from memory.
func shortCap(text string) string {
	for _, full := range []string{"P43t-38", "P45t-41"} {
		if short, _, _ := strings.Cut(full, "-"); strings.EqualFold(text, full) {
			return short
		}
	}
	if own, ok := capsByCategory()[strings.ToUpper(strings.TrimSpace(text))]; ok {
		return own
	}
	return text
}

// capsByCategory are the caps of lamps that are called by their category. Source: UN R37,
// from memory.
func capsByCategory() map[string]string {
	return map[string]string{"H1": "P14.5s", "H3": "PK22s", "H4": "P43t", "H7": "PX26d", "H11": "PGJ19-2",
		"HS1": "PX43t", "R2": "P45t", "S1": "BA20d", "S2": "BA20d", "P21W": "BA15s", "PY21W": "BAU15s", "P21/5W": "BAY15d",
		"R5W": "BA15s", "R10W": "BA15s", "T4W": "BA9s", "H6W": "BAX9s", "W3W": "W2.1x9.5d", "W5W": "W2.1x9.5d",
		"C5W": "SV8.5"}
}

// capTrap says why two caps are taken for one another. Source: UN R37 for which
// lamp has which cap; how they differ is common practice.
func capTrap(a, b string) string {
	bayonet := map[string]bool{"ba15s": true, "bay15d": true, "bau15s": true, "ba15d": true}
	if bayonet[strings.ToLower(a)] && bayonet[strings.ToLower(b)] {
		return ": both are 15 mm bayonets, but the pins or contacts sit differently; it must not be forced"
	}
	return ""
}

func bulbPower(b *bench, m Meeting) {
	c := b.check("bulb power")
	bulb, okBulb := c.read(m.A, "power", measure.Power)
	most, okMost := c.read(m.B, "power", measure.Power)
	if !okBulb || !okMost {
		return
	}
	has, limit := bulb.Quantity, most.Quantity
	c.sizes(has.String(), limit.String(), "")
	switch {
	case has.High <= limit.Low+eps || same(has.Nominal, limit.Nominal):
		c.fits("%s in a holder for %s", has, limit)
		notMuchLess(c, m, m.A, "power", measure.Power, "a weaker bulb may not be seen as it must be")
	case has.Low > limit.High+eps:
		c.Gap = measure.Format(has.Nominal-limit.Nominal, measure.Power)
		c.no("%s in a holder for %s: it overheats holder and wiring", has, limit)
	default:
		askTwo(c, m, "power", "power")
		c.unknown("at the limits given the bulb may be too strong for its holder")
	}
}

func bulbVoltage(b *bench, m Meeting) {
	c := b.check("bulb voltage")
	bulb, okBulb := c.read(m.A, "voltage", measure.Voltage)
	holder, okHolder := c.read(m.B, "voltage", measure.Voltage)
	if !okBulb || !okHolder {
		return
	}
	c.sizes(bulb.Quantity.String(), holder.Quantity.String(), "")
	if math.Abs(bulb.Quantity.Nominal-holder.Quantity.Nominal) <= 1+eps { // the accuracy asked for
		c.fits("%s", bulb.Quantity)
		return
	}
	c.no("a %s bulb on %s", bulb.Quantity, holder.Quantity)
}

// beamInTraffic judges which side the dipped beam kicks up to: it must be the
// near side, away from oncoming traffic.
func beamInTraffic(b *bench, m Meeting) {
	c := b.check("beam side")
	beam, okBeam := c.word(m.A, "kick")
	plates, open := asked(c, m, m.B, "kick")
	for _, plate := range plates {
		if traffic, ok := c.word(plate, "kick"); ok && okBeam {
			beamServes(c, beam, traffic)
		}
	}
	if open && okBeam {
		onlyNew(c, m.B, "kick", "side of the beam")
	}
}

// beamServes judges the side a beam kicks up to against the traffic of a market.
func beamServes(c *check, beam, traffic string) {
	c.sizes("kicks up to the "+beam, "must kick up to the "+traffic, "")
	switch {
	case beam == "both":
		c.sizes("for either side", "must kick up to the "+traffic, "")
		c.fits("made for either side of the road: set it for traffic that keeps %s", traffic)
	case beam == traffic:
		c.fits("kicks up to the %s, for traffic that keeps %s", beam, traffic)
	default:
		c.no("kicks up to the %s, for traffic that keeps %s: where it keeps %s, it dazzles what comes towards you",
			beam, beam, traffic)
	}
}
