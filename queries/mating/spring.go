package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// What a spring may be off what it works in. Common practice, no source.
const (
	springFree  = 0.3  // mm it must have in its tube, in all
	springLoose = 6.0  // mm in all: beyond that it buckles against its tube and rattles
	solidRoom   = 2.0  // mm between full travel and closed coils
	rateNear    = 0.05 // fraction of the rate it is made for: what grading and a tester leave
)

// springInRoom judges a coil spring in the leg, valve or clutch it works in: by
// diameter, by the preload its length gives, by its closed length, and by the
// rate that place is made for.
func springInRoom(b *bench, m Meeting) {
	c := b.check("spring in its bore")
	inOver{"outside", "bore", springFree, springLoose, "the spring stands free",
		"the spring is too thick", "the spring is too loose, it buckles and rubs"}.judge(c, m)
	if len(m.A.Feature.Dims["pieces"])+len(m.B.Feature.Dims["pieces"]) > 0 {
		counts(b.check("springs of a set"), m, "pieces", "pieces", "springs",
			"what they press is pressed too little, or aslant")
	}
	springLength(b, m)
	springRate(b, m)
}

func springLength(b *bench, m Meeting) {
	c := b.check("spring preload")
	length, okLength := c.length(m.A, "length")
	room, okRoom := c.length(m.B, "length")
	if !okLength || !okRoom {
		return
	}
	preload := length.minus(room)
	closed := springSolid(c, m, room)
	if preload.high < -eps {
		c.sizes(mm(length.nominal), mm(room.nominal), mm(-preload.nominal))
		c.no("the spring is %s too short: it stands loose", mm(-preload.nominal))
		return
	}
	wanted, ok := c.length(m.B, "preload")
	if !ok {
		return
	}
	// The spring, its room and the spacer are each read to 1 mm.
	switch where := within(preload, wanted, 1); {
	case where == inside && !closed:
		read := ""
		if preload.nominal < wanted.low-eps || preload.nominal > wanted.high+eps {
			read = ", and it is read to 1 mm"
		}
		c.fits("%s of preload, %s wanted%s", mm(preload.nominal), mmRange(wanted.low, wanted.high), read)
	case where == inside:
	case where == astride:
		askTwo(c, m, "length", "length")
		c.unknown("%s of preload, %s wanted: at the limits it may be outside", mmRange(preload.low, preload.high),
			mmRange(wanted.low, wanted.high))
	case where == below:
		short := wanted.low - preload.nominal
		c.sizes(mm(preload.nominal)+" preload", mmRange(wanted.low, wanted.high), mm(short))
		changeSpacer(c, m.A, fmt.Sprintf("make the spacer %s longer", mm(short)),
			fmt.Sprintf("%s of preload is %s too little", mm(preload.nominal), mm(short)))
	default:
		over := preload.nominal - wanted.high
		c.sizes(mm(preload.nominal)+" preload", mmRange(wanted.low, wanted.high), mm(over))
		changeSpacer(c, m.A, fmt.Sprintf("make the spacer %s shorter, if there is one that long", mm(over)),
			fmt.Sprintf("%s of preload is %s too much", mm(preload.nominal), mm(over)))
	}
}

// changeSpacer says that the spacer of a fork is cut to another length. Without a spacer
// there is nothing to cut, and the change is a spring of another length, as it is in the
// cups of a clutch, where none lies.
func changeSpacer(c *check, spring Side, do, why string) {
	if spring.PartKind != "" && spring.PartKind != "fork-spring" {
		c.no("%s: take a spring of the right length, where no spacer belongs", why)
		return
	}
	c.change(graph.EffortDrillShim, do+", else take a spring of the right length", "%s", why)
	c.Spacers = true
}

// springSolid judges the closed length against full travel; it reports whether
// the coils would close. A length that nobody gave is not judged while no travel
// is given either.
func springSolid(c *check, m Meeting, room span) bool {
	if len(m.A.Feature.Dims["solid"])+len(m.B.Feature.Dims["travel"]) == 0 {
		return false
	}
	solid, okSolid := c.length(m.A, "solid")
	travel, okTravel := c.length(m.B, "travel")
	if !okSolid || !okTravel {
		return false
	}
	left := room.minus(travel).minus(solid)
	switch left.against(solidRoom, noLimit) {
	case inside:
		return false
	case astride:
		c.settle(askFor(m.A, "solid"), askFor(m.B, "travel"))
		c.unknown("at the limits of their tolerances the coils may close before full travel")
	default:
		c.sizes(mm(solid.nominal)+" closed", mm(room.nominal-travel.nominal)+" at full travel", mm(math.Abs(left.nominal)))
		c.no("its coils close %s before full travel leaves %s", mm(max(0, solidRoom-left.nominal)), mm(solidRoom))
	}
	return true
}

// springRate compares the rate with the one the place is made for. A stiffer or
// softer one is a choice that needs setting up, never a plain fit.
func springRate(b *bench, m Meeting) {
	c := b.check("spring rate")
	rate, okRate := amount(c, m.A, "rate", measure.Stiffness)
	made, okMade := amount(c, m.B, "rate", measure.Stiffness)
	if !okRate || !okMade {
		return
	}
	near := rateNear * made.nominal
	switch diff := rate.minus(made); diff.against(-near, near) {
	case inside:
		c.fits("%s, made for %s", unitText(rate, measure.Stiffness), unitText(made, measure.Stiffness))
	case astride:
		askTwo(c, m, "rate", "rate")
		c.unknown("%s against %s: at the limits of their tolerances it may be another spring", unitText(rate,
			measure.Stiffness), unitText(made, measure.Stiffness))
	default:
		percent := math.Round(100 * diff.nominal / made.nominal)
		word := "stiffer"
		if percent < 0 {
			word = "softer"
		}
		c.sizes(unitText(rate, measure.Stiffness), unitText(made, measure.Stiffness), fmt.Sprintf("%g %%",
			math.Abs(percent)))
		c.settle(askOf(m.B, "sag", "sag with the rider on, and how it damps, on a careful trial", "steel tape", "5 mm"))
		c.unknown("%g %% %s than the place is made for: sag and damping decide, and no table tells them",
			math.Abs(percent), word)
	}
}
