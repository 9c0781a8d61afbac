package mating

import (
	"fmt"
	"math"
)

// overDraw is how much further a cable may be drawn than what it works needs,
// as a fraction, whatever else is known: the free play it starts with and what
// two rules misread. Common practice, no source.
const overDraw = 0.10

// cableDrawn judges what draws a cable against what the cable works: all of its
// way, and not so far that something bends or binds.
func cableDrawn(b *bench, m Meeting) {
	c := b.check("cable travel")
	pulls, okPulls := c.length(m.A, "travel")
	needs, okNeeds := c.length(m.B, "travel")
	counts(c, m, "cables", "cables", "cables", "one to open and one to close is another throttle than a single one")
	if !okPulls || !okNeeds {
		return
	}
	asDrawn(c, m, pulls)
	most := needs.times(1 + overDraw).low
	if limit, ok := c.peekLength(m.B, "most"); ok {
		most = max(most, limit.low)
	}
	switch room := pulls.minus(needs); {
	case room.high < -eps:
		gap(c, pulls, needs)
		c.no("it draws %s, %s are needed: it does not open or release all the way", mm(pulls.nominal), mm(needs.nominal))
	case room.low < -eps:
		askTwo(c, m, "travel", "travel")
		c.unknown("it draws %s, %s are needed: at the limits of their tolerances it may not do", mm(pulls.nominal),
			mm(needs.nominal))
	case pulls.high <= most+eps:
		c.fits("it draws %s, %s are needed", mm(pulls.nominal), mm(needs.nominal))
	default:
		gap(c, pulls, needs)
		c.settle(askFor(m.B, "most"))
		c.unknown("it draws %s, %s are needed: it may strain the cable or what it works", mm(pulls.nominal),
			mm(needs.nominal))
	}
}

// asDrawn asks about a lever that draws much more or less cable than the one built in at the
// same way of the hand: by as much as a brake's leverage must change before it is told.
func asDrawn(c *check, m Meeting, pulls span) {
	built, ok := asBuilt(m, m.A.Feature.Kind)
	if !ok {
		return
	}
	was, ok := c.peekLength(built, "travel")
	if !ok || was.nominal <= 0 {
		return
	}
	share := pulls.nominal / was.nominal
	if math.Abs(share-1) <= leverageMuch+eps {
		return
	}
	c.settle(askFor(m.A, "travel"))
	effect := fmt.Sprintf("the hand has %.0f %% of the way", 100*share)
	if share > 1 {
		effect = fmt.Sprintf("the same pull of the hand moves %.0f %% of the force", 100/share)
	}
	c.unknown("it draws %s where %s were drawn: %s", mm(pulls.nominal), mm(was.nominal), effect)
}

// ferrulePlay is how much wider the seat of a cable's outer may be, in mm. Common
// practice, no source.
const ferrulePlay = 0.5

// ferruleInSeat judges the end of a cable's outer in its stop or adjuster.
func ferruleInSeat(b *bench, m Meeting) {
	c := b.check("end of the outer")
	form, ok := alike(c, m, "form", "form", "it has nothing to sit in")
	switch {
	case !ok:
	case form == "threaded":
		male, okMale := c.thread(m.A, "thread")
		female, okFemale := c.thread(m.B, "thread")
		if okMale && okFemale {
			meetThreads(c, m.A, male, m.B, female)
		}
	default:
		inOver{"diameter", "diameter", 0, ferrulePlay, "it sits in its stop", "it does not go into its stop",
			"it can slip through its stop or cock in it"}.judge(c, m)
	}
}

// throatMatch is how far throats may stand off each other and still be drawn
// together by their rubbers, in mm. Common practice, no source.
const throatMatch = 1.0

// throatsMeet judges a row of carburettors against the stubs of the head or the
// mouths of the airbox: as many, and as far apart one by one.
func throatsMeet(b *bench, m Meeting) {
	c := b.check("throats in a row")
	countA, okA := c.count(m.A, "count")
	countB, okB := c.count(m.B, "count")
	if okA && okB && countA != countB {
		c.sizes(fmt.Sprintf("%d throats", countA), fmt.Sprintf("%d throats", countB), "")
		c.no("%d throats against %d", countA, countB)
		return
	}
	count := max(countA, countB)
	if okA && okB && count == 1 {
		c.fits("one throat")
	}
	for i := 1; i < min(count, 4); i++ {
		dim := fmt.Sprintf("spacing-%d", i)
		equalSize(c, m, dim, dim, throatMatch, fmt.Sprintf("from throat %d to %d", i, i+1))
	}
	if count > 4 {
		c.settle(lookAt(m.A, "count", "the middles of all throats, against those opposite"))
		c.unknown("only the first four of %d throats can be compared", count)
	}
}

// tankEnter is the room that what enters a tank wants in its opening, in mm.
// Common practice, no source.
const tankEnter = 0.2

// tankLoose is how much smaller than its opening a tap may be, in mm, or as much as that built in and tankMore: its
// seal lies round its body and must cover the opening. Common practice, no source.
const tankLoose, tankMore = 3.0, 1.0

// tapSeals asks about the seal of a tap much smaller than its opening.
func tapSeals(c *check, m Meeting) {
	body, okBody := c.peekLength(m.A, "body")
	opening, okOpening := c.peekLength(m.B, "opening")
	if !okBody || !okOpening {
		return
	}
	most, free := tankLoose, opening.minus(body)
	if built, known := builtRoom(c, m, "tap-inlet", "body", "tank-outlet", "opening"); known {
		most = max(most, built.nominal+tankMore)
	}
	if free.nominal > most+eps {
		c.settle(lookAt(m.A, "body", "whether its seal covers the opening all round"))
		c.unknown("a body of %s in an opening of %s: its seal may not cover the opening, and fuel that leaks burns",
			mm(body.nominal), mm(opening.nominal))
	}
}

// tapInTank judges a fuel tap or pump in the opening of a tank. Fuel that leaks
// burns: its seal is new every time.
func tapInTank(b *bench, m Meeting) {
	c := b.check("tap in tank")
	c.Renew = append(c.Renew, "new seal of the kind the maker gives for fuel")
	form, ok := alike(c, m, "form", "form", "one does not go on the other")
	inOver{"body", "opening", tankEnter, 1000, "it enters the tank", "it does not enter the tank", ""}.judge(c, m)
	tapSeals(c, m)
	switch {
	case !ok:
	case form == "threaded":
		male, okMale := c.thread(m.A, "thread")
		female, okFemale := c.thread(m.B, "thread")
		if okMale && okFemale {
			meetThreads(c, m.A, male, m.B, female)
		}
	default:
		equalSize(c, m, "spacing", "spacing", holeMatch, "between the bolts")
	}
}
