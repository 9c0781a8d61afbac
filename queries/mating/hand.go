package mating

import (
	"fmt"

	"matewell/graph"
)

// HandCase is a part that is made for one side, and the place it is put on.
type HandCase struct {
	Part Side // kind hand
	// Built is the part that the place was built with, kind hand; zero where it has none.
	Built Side
	Side  string // of the position: "left", "right", "front", "rear"; empty when it has none
	// Cylinder is the one the position belongs to, 0 when it belongs to none.
	Cylinder int
	Safety   graph.Safety
}

// JudgeHand judges, in one check "hand", whether a part is made for the side and
// cylinder of its place: a left part on the right place is a no by its hand,
// whatever else of it measures right. On a place without a side, as that of a brake plate,
// it is held against the hand of the part built in. Source: common practice.
func JudgeHand(in HandCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("hand")
		in.side(c)
		in.cylinder(c)
	})
}

func (in HandCase) side(c *check) {
	hand, ok := c.word(in.Part, "hand")
	switch {
	case !ok:
	case in.Side == "":
		in.asBuilt(c, hand)
	case hand == "either":
		c.fits("made for either side")
	case !sideways(hand) && sideways(in.Side), sideways(hand) && !sideways(in.Side):
		// "front" says nothing of left and right.
		c.settle(askFor(in.Part, "hand"))
		c.unknown("made for the %s, on a place on the %s: see whether its hand matters there", hand, in.Side)
	case sameWords(hand, in.Side):
		c.fits("made for the %s", hand)
	default:
		c.sizes(hand, in.Side, "")
		c.no("made for the %s, put on the %s", hand, in.Side)
	}
}

// asBuilt judges a hand by that of the part built in: a mirrored one has its arm, stop or
// anchor on the wrong side.
func (in HandCase) asBuilt(c *check, hand string) {
	if in.Built.Feature.Kind == "" {
		c.fits("made for the %s; the place has no side", hand)
		return
	}
	was, ok := c.word(in.Built, "hand")
	switch {
	case !ok:
	case sameWords(hand, was):
		c.fits("made for the %s, as the one built in", hand)
	case hand == "either":
		c.fits("made for either side")
	case was == "either":
		c.settle(askFor(in.Part, "hand"))
		c.unknown("made for the %s, where one for either side was built in: see whether its hand matters there", hand)
	default:
		c.sizes(hand, was, "")
		c.no("made for the %s, where one for the %s was built in: what it carries comes on the wrong side", hand, was)
	}
}

func sideways(word string) bool { return word == "left" || word == "right" }

func (in HandCase) cylinder(c *check) {
	if in.Cylinder == 0 {
		return
	}
	made, ok := c.count(in.Part, "cylinder")
	switch {
	case !ok:
	case made == in.Cylinder:
		c.fits("made for cylinder %d", made)
	default:
		if c.Had == "" {
			c.sizes(fmt.Sprintf("cylinder %d", made), fmt.Sprintf("cylinder %d", in.Cylinder), "")
		}
		c.no("made for cylinder %d, put on cylinder %d", made, in.Cylinder)
	}
}
