package mating

import (
	"math"
	"strings"

	"matewell/graph"
)

// What pads may differ from their seat, in mm. Common practice, no source: both
// are read to 0.1 mm.
const (
	plateOff = 0.4 // play of a backing plate in its guide
	padRead  = 0.2 // what the two readings of a thickness may be off together
	padThin  = 1.5 // thinner than the seat is made for: the pistons stand further out
	pinOff   = 0.5 // pin in its hole
)

// padInCaliper judges a pad by outline, plate, thickness and pin.
func padInCaliper(b *bench, m Meeting) {
	padOutline(b, m)
	padPlate(b, m)
	padThickness(b, m)
	padPin(b, m)
}

func padOutline(b *bench, m Meeting) {
	c := b.check("pad outline")
	is, okIs := c.phrase(m.A, "outline")
	must, okMust := c.phrase(m.B, "outline")
	if !okIs || !okMust {
		return
	}
	c.sizes(is, must, "")
	if strings.EqualFold(strings.Join(strings.Fields(is), " "), strings.Join(strings.Fields(must), " ")) {
		c.fits("outline %s", is)
		return
	}
	c.no("outline %s where %s goes", is, must)
}

func padPlate(b *bench, m Meeting) {
	c := b.check("pad plate")
	plate, okPlate := c.length(m.A, "plate")
	guide, okGuide := c.length(m.B, "plate")
	if !okPlate || !okGuide {
		return
	}
	play := guide.minus(plate)
	c.sizes(mm(plate.nominal), mm(guide.nominal), mm(math.Abs(play.nominal)))
	switch where := play.against(0, plateOff); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s plate in its guide", mm(plate.nominal))
	case where == astride:
		askTwo(c, m, "plate", "plate")
		c.unknown("at the limits of the sizes the plate may jam or rattle in its guide")
	case where == below && -play.nominal <= padRead+eps:
		askTwo(c, m, "plate", "plate")
		c.unknown("the plate is %s too thick for its guide, as much as two readings may be off: measure both", c.Gap)
	case where == below:
		c.no("the plate is %s too thick for its guide", c.Gap)
	default:
		c.no("the plate is %s too thin for its guide: it tips and jams", c.Gap)
	}
}

func padThickness(b *bench, m Meeting) {
	c := b.check("pad thickness")
	pad, okPad := c.length(m.A, "thickness")
	room, okRoom := c.length(m.B, "thickness")
	if !okPad || !okRoom {
		return
	}
	over := pad.minus(room)
	c.sizes(mm(pad.nominal), mm(room.nominal), mm(math.Abs(over.nominal)))
	switch where := over.against(-padThin, 0); {
	case where == inside || same(over.nominal, 0):
		c.Gap = ""
		c.fits("%s thick, with room for %s beside a new disc", mm(pad.nominal), mm(room.nominal))
	case where == astride:
		askTwo(c, m, "thickness", "thickness")
		c.unknown("at the limits of the sizes the pads may not go over the disc")
	case where == above && over.nominal <= padRead+eps:
		askTwo(c, m, "thickness", "thickness")
		c.unknown("%s thicker than there is room for, as much as two readings may be off: measure both", c.Gap)
	case where == above:
		c.no("%s too thick: the pads do not go over a new disc", c.Gap)
	default:
		c.settle(askFor(m.A, "thickness"))
		c.unknown("%s thinner than the caliper is made for: the pistons stand as much further out, and must still be held "+
			"with worn pads", c.Gap)
	}
}

func padPin(b *bench, m Meeting) {
	c := b.check("pad pin")
	hole, okHole := c.length(m.A, "pin")
	pin, okPin := c.length(m.B, "pin")
	if !okHole || !okPin {
		return
	}
	play := hole.minus(pin)
	c.sizes(mm(hole.nominal)+" hole", mm(pin.nominal)+" pin", mm(math.Abs(play.nominal)))
	switch where := play.against(0, pinOff); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s pin through a %s hole", mm(pin.nominal), mm(hole.nominal))
	case where == astride:
		askTwo(c, m, "pin", "pin")
		c.unknown("at the limits of the sizes the pin may not enter, or be loose")
	case where == below:
		c.no("a %s pin does not go through a %s hole", mm(pin.nominal), mm(hole.nominal))
	default:
		c.no("a %s pin is loose in a %s hole: the pad hangs skew", mm(pin.nominal), mm(hole.nominal))
	}
}

// BleedCase is a caliper or cylinder and the side of the machine it sits on.
type BleedCase struct {
	Screw  Side   // kind bleed-screw
	Side   string // "left" or "right"; empty when the place has none
	Safety graph.Safety
}

// JudgeBleed judges, in one check "bleed screw", whether the bleed screw stands at
// the top on the side where the part is put: air rises, and a screw at the bottom
// lets none out. Source: common practice.
func JudgeBleed(in BleedCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("bleed screw")
		top, ok := c.word(in.Screw, "top")
		switch {
		case !ok:
		case top == "either":
			c.fits("a bleed screw at the top on either side")
		case in.Side == "":
			c.settle(askFor(in.Screw, "top"))
			c.unknown("its bleed screw is at the top on the %s, and nobody said which side it is put on", top)
		case top == in.Side:
			c.fits("its bleed screw is at the top on the %s", in.Side)
		default:
			c.sizes("at the top on the "+top, "put on the "+in.Side, "")
			c.no("put on the %s its bleed screw stands at the bottom: air stays in it", in.Side)
		}
	})
}
