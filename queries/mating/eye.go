package mating

import (
	"math"
	"slices"

	"matewell/graph"
)

// What an eye may be off its clevis, in mm. Common practice, no source.
const (
	sidePlay   = 0.5 // between eye and cheeks, in all
	pinPlay    = 0.3 // of the bolt in the eye
	faceOff    = 2.0 // a bush can be faced by this much
	nipplePlay = 0.5 // of a cable end in its seat
)

// eyeInClevis judges the eye of a shock, rod or stay between two cheeks.
func eyeInClevis(b *bench, m Meeting) {
	c := b.check("eye in clevis")
	width, okWidth := c.length(m.A, "width")
	gap, okGap := c.length(m.B, "gap")
	if okWidth && okGap {
		eyeWidth(c, m, width, gap)
	}
	eyeBolt(b, m)
	boltReach(b, m)
	boltFills(b, m)
}

func eyeWidth(c *check, m Meeting, width, gap span) {
	play := gap.minus(width)
	c.sizes(mm(width.nominal)+" eye", mm(gap.nominal)+" gap", mm(math.Abs(play.nominal)))
	switch where := play.against(0, sidePlay); {
	case (where == inside || same(play.nominal, 0)) && hinges(m) && play.nominal < leastTurning-eps &&
		m.Built != nil && playWanted(c, m) >= leastTurning:
		c.settle(askFor(m.A, "width"), askFor(m.B, "gap"))
		c.unknown("a %s eye in a %s gap has no play to turn in: it may bind and not come back", mm(width.nominal),
			mm(gap.nominal))
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s eye in a %s gap", mm(width.nominal), mm(gap.nominal))
	case where == astride:
		askTwo(c, m, "width", "gap")
		c.unknown("at the limits of their tolerances the eye may jam or rattle")
	case where == above:
		thick := max(0.1, math.Floor((play.nominal-playWanted(c, m))*5+eps)/10)
		side := tenth(thick)
		c.change(graph.EffortHandTools, "pack each side with "+side, "the eye is %s too narrow for the gap", c.Gap)
		spec := []Field{{"count", "2"}, {"thickness", side}}
		if bolt, ok := c.peekLength(m.B, "bolt"); ok {
			spec = append(spec, Field{"bore", boltHole(bolt.nominal) + ", clear of a " + mm(bolt.nominal) +
				" bolt"})
		}
		spec = append(append(spec, Field{"outside", "as the eye's face: measure it"}), clampedMetal...)
		makes(c.order("spacer", "2 washers "+side+" thick", spec...), m.A, "width", mm(width.nominal+2*thick))
	case -play.nominal <= faceOff+eps:
		c.change(graph.EffortLatheWeld, "face "+mm(math.Ceil((playWanted(c, m)-play.nominal)*5-eps)/10)+
			" off each side of the bush",
			"the eye is %s too wide", c.Gap)
	default:
		c.no("the eye is %s too wide for the gap", c.Gap)
	}
}

// turningPlay is the play, in mm, that an eye is left which turns between its cheeks where
// nobody measured that of the pair built in; with less than leastTurning it may bind. Common
// practice, no source.
const turningPlay, leastTurning = 0.2, 0.1

// hinges reports whether the eye of a joint turns between its cheeks in use, and must come
// back by itself or under a foot: of levers, pedals, rests and stands. What else has an eye is
// clamped, or turns in a bush of its own. Common practice, no source.
func hinges(m Meeting) bool {
	return slices.Contains([]graph.KindID{"brake-lever", "clutch-lever", "clutch-blade", "brake-pedal", "gear-pedal",
		"footrest", "side-stand", "centre-stand"}, m.A.PartKind)
}

// playWanted is the play that packing or facing leaves between an eye and its cheeks: that of
// the pair built in, of what turns no less than it needs.
func playWanted(c *check, m Meeting) float64 {
	wanted := 0.0
	eye, okEye := asBuilt(m, "eye")
	clevis, okClevis := asBuilt(m, "clevis")
	if okEye && okClevis {
		width, okWidth := c.peekLength(eye, "width")
		gap, okGap := c.peekLength(clevis, "gap")
		play := gap.nominal - width.nominal
		switch {
		case okWidth && okGap && play >= 0 && play <= sidePlay && (!hinges(m) || play >= leastTurning-eps):
			return play
		case hinges(m) && okWidth && okGap && same(play, 0):
			return 0 // as the pair built in was read
		}
	}
	if hinges(m) {
		wanted = turningPlay
	}
	return wanted
}

// eyeLength is how long a bush for an eye is ordered.
func eyeLength(c *check, m Meeting) Field {
	if width, ok := c.peekLength(m.A, "width"); ok {
		return Field{"length", mm(width.nominal)}
	}
	return Field{"length", "as wide as the eye: measure it"}
}

func eyeBolt(b *bench, m Meeting) {
	c := b.check("bolt in eye")
	bore, okBore := c.length(m.A, "bore")
	bolt, okBolt := c.length(m.B, "bolt")
	if !okBore || !okBolt {
		return
	}
	play := bore.minus(bolt)
	c.sizes(mm(bore.nominal)+" eye", mm(bolt.nominal)+" bolt", mm(math.Abs(play.nominal)))
	switch where := play.against(0, pinPlay); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s bolt in a %s eye", mm(bolt.nominal), mm(bore.nominal))
	case where == astride:
		askTwo(c, m, "bore", "bolt")
		c.unknown("at the limits of their tolerances the bolt may not enter, or knock")
	case where == below:
		c.no("a %s bolt does not enter a %s eye", mm(bolt.nominal), mm(bore.nominal))
	case play.nominal/2 < leastWall-eps:
		c.no("a %s bolt knocks in a %s eye, with too little room for a bush", mm(bolt.nominal), mm(bore.nominal))
	// the eye of a shock has a bush anyway, that of a torque rod none
	case isUncut(m, m.A) && m.Safety == graph.SafetyBrake:
		c.no("a %s bolt knocks in a %s eye; %s", mm(bolt.nominal), mm(bore.nominal), uncutWords(m.A))
	default:
		c.change(graph.EffortLatheWeld, "bush the eye", "a %s bolt is loose in a %s eye", mm(bolt.nominal), mm(bore.nominal))
		bushes(c, m.A, "bore", bolt.nominal, bore.nominal, eyeLength(c, m))
	}
}

// nippleInSeat judges a cable end in lever, twist grip or arm.
func nippleInSeat(b *bench, m Meeting) {
	c := b.check("cable end")
	formA, okA := c.word(m.A, "form")
	formB, okB := c.word(m.B, "form")
	nipple, okNipple := c.length(m.A, "diameter")
	seat, okSeat := c.length(m.B, "diameter")
	if okA && okB && formA != formB {
		c.sizes(formA, formB, "")
		c.no("a %s end in a seat for a %s", formA, formB)
	}
	if !okNipple || !okSeat {
		return
	}
	play := seat.minus(nipple)
	if formA == formB {
		c.sizes(mm(nipple.nominal), mm(seat.nominal), mm(math.Abs(play.nominal)))
	}
	switch where := play.against(0, nipplePlay); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s end in a %s seat", mm(nipple.nominal), mm(seat.nominal))
	case where == astride:
		askTwo(c, m, "diameter", "diameter")
		c.unknown("at the limits of their tolerances the end may jam or pull out")
	case where == below:
		c.no("the end is %s too thick for its seat", mm(-play.nominal))
	default:
		c.no("the end is %s too thin for its seat: it can pull out", mm(play.nominal))
	}
}
