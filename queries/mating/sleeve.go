package mating

import (
	"math"

	"matewell/graph/measure"
	"matewell/queries/trade"
)

// pressSleeve is how much thicker than its bore a pressed sleeve may be, in mm:
// wrapped bushes reach 0.075 in H7 at 18 to 30 mm, solid ones in s6 0.048.
// Source: a bush maker's tolerance page, ISO 286.
const pressSleeve = 0.075

// sleeveOnShaft judges what goes through a sleeve, sleeveInBoreOf what it sits
// in. Both judge its wall.
func sleeveOnShaft(b *bench, m Meeting) {
	c := b.check("sleeve on shaft")
	sleeveWall(b, m.A)
	bore, okBore := c.length(m.A, "inside")
	shaft, okShaft := c.length(m.B, "diameter")
	if !okBore || !okShaft {
		return
	}
	play := bore.minus(shaft)
	c.sizes(mm(bore.nominal), mm(shaft.nominal), mm(math.Abs(play.nominal)))
	most := slidingPlay
	if q, err := measure.ParseQuantity(m.Allow, measure.Length); err == nil {
		most = q.High
	}
	switch where := play.against(0, most); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s sleeve on %s", mm(bore.nominal), mm(shaft.nominal))
	case where == astride:
		askTwo(c, m, "inside", "diameter")
		c.unknown("at the limits of their tolerances the sleeve may not go on, or be loose")
	case where == below:
		c.no("the sleeve, %s inside, does not go on %s", mm(bore.nominal), mm(shaft.nominal))
	default:
		c.no("the sleeve, %s inside, is %s loose on %s", mm(bore.nominal), c.Gap, mm(shaft.nominal))
	}
}

func sleeveInBoreOf(b *bench, m Meeting) {
	c := b.check("sleeve in bore")
	sleeveWall(b, m.A)
	outside, okOutside := c.length(m.A, "outside")
	hole, okHole := c.length(m.B, "diameter")
	if deep, ok := c.peekLength(m.B, "length"); ok {
		if long, okLong := c.length(m.A, "length"); okLong && long.high < deep.low-lengthRead {
			c.settle(askFor(m.A, "length"))
			c.unknown("the sleeve is %s long in a bore of %s: the rest of the bore carries nothing", mm(long.nominal),
				mm(deep.nominal))
		}
	}
	if !okOutside || !okHole {
		return
	}
	play := hole.minus(outside)
	c.sizes(mm(outside.nominal), mm(hole.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(-pressSleeve, slideFit); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s sleeve in a %s bore", mm(outside.nominal), mm(hole.nominal))
	case where == astride:
		askTwo(c, m, "outside", "diameter")
		c.unknown("at the limits of their tolerances the sleeve may not go in, or not hold")
	case where == below:
		c.no("the sleeve is %s too thick for the bore", c.Gap)
	default:
		c.no("the sleeve is %s too thin for the bore: it does not hold", c.Gap)
	}
}

// sleeveInClampOf judges a sleeve that makes a tube fill a pinch or bar clamp:
// both must be split to close, and it must be as long as the clamp. Common
// practice, no source.
func sleeveInClampOf(b *bench, m Meeting) {
	c := b.check("sleeve in clamp")
	sleeveWall(b, m.A)
	outside, okOutside := c.length(m.A, "outside")
	clamp, okClamp := c.length(m.B, "diameter")
	mustBeSplit(c, m.A, "a sleeve that is not split does not pass the grip on")
	mustBeSplit(c, m.B, "a clamp that is not split can't close on a sleeve")
	long, okLong := c.length(m.A, "length")
	grip, okGrip := c.length(m.B, "length")
	if okLong && okGrip && long.high < grip.low-lengthRead {
		c.no("the sleeve is %s long in a clamp of %s: it grips on an edge", mm(long.nominal), mm(grip.nominal))
	}
	if !okOutside || !okClamp {
		return
	}
	play := clamp.minus(outside)
	c.sizes(mm(outside.nominal)+" sleeve", mm(clamp.nominal)+" clamp", mm(math.Abs(play.nominal)))
	switch where := play.against(-clampMatch, clampMatch); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s sleeve in a %s clamp", mm(outside.nominal), mm(clamp.nominal))
	case where == astride:
		askTwo(c, m, "outside", "diameter")
		c.unknown("at the limits of their tolerances the clamp may not grip the sleeve all round")
	case where == below:
		c.no("the sleeve is %s too thick for the clamp", c.Gap)
	default:
		c.no("the sleeve is %s too thin for the clamp", c.Gap)
	}
}

// lengthRead is what two lengths read to 0.5 mm may differ by, in mm. The reading is
// common practice, no source.
const lengthRead = 0.5

func mustBeSplit(c *check, s Side, words string) {
	if split, ok := c.read(s, "split", measure.YesNo); ok && !split.Yes {
		c.no("%s", words)
	}
}

// canSleeve reports whether sleeves are made of a bore at all, and says so where none is.
func canSleeve(c *check, bore float64) bool {
	_, err := trade.SleeveWall(bore)
	if err != nil {
		c.no("nothing can be made to take up the room: no sleeve is made with a bore of %s", mm(bore))
	}
	return err == nil
}

// sleeveWall judges how thick a sleeve is: no thinner than anybody turns one,
// and as thick as ISO 3547 makes bushes of its bore. The latter is from memory,
// so between the two somebody must say.
func sleeveWall(b *bench, s Side) {
	c := b.check("sleeve wall")
	bore, okBore := c.length(s, "inside")
	outside, okOutside := c.length(s, "outside")
	if !okBore || !okOutside {
		return
	}
	wall := outside.minus(bore).times(0.5)
	enough, err := trade.SleeveWall(bore.nominal)
	if err != nil {
		c.cantTell("how thick a wall a sleeve of this bore wants", err)
		return
	}
	c.sizes(mm(wall.nominal)+" of wall", "at least "+mm(enough), "")
	switch {
	case wall.nominal <= 0:
		c.no("%s outside and %s inside is no sleeve", mm(outside.nominal), mm(bore.nominal))
	case wall.nominal >= enough-eps:
		c.fits("%s of wall, at least %s", mm(wall.nominal), mm(enough))
	case wall.nominal < leastWall-eps:
		c.no("%s of wall is too thin to turn: at least %s", mm(wall.nominal), mm(leastWall))
	default:
		c.settle(askFor(s, "outside"))
		c.unknown("%s of wall is thinner than bushes of that bore are made (%s by ISO 3547, from memory): the turner must "+
			"say",
			mm(wall.nominal), mm(enough))
	}
}
