package mating

import (
	"fmt"
	"strings"

	"matewell/queries/trade"
)

const (
	// beltPitch is how far the pitches of belt and pulley may differ, in mm, as read with a
	// caliper. The pitches of curvilinear belts are whole millimetres, 8 and 14 the usual
	// ones: ISO 13050, from memory.
	beltPitch = 0.2
	// beltRoom is by how much a pulley may be wider than the belt it was made for, in mm:
	// between flanges it is 2 to 4. Common practice, no source.
	beltRoom = 5.0
)

// beltOnPulley judges a toothed belt on the teeth of one pulley: pitch, profile and width.
// The profile is compared by its word: what makers call theirs says no standard.
func beltOnPulley(b *bench, m Meeting) {
	c := b.check("belt on pulley")
	equalSize(c, m, "pitch", "pitch", beltPitch, "pitch")
	profile, okProfile := c.phrase(m.A, "profile")
	cut, okCut := c.phrase(m.B, "profile")
	switch {
	case !okProfile || !okCut:
	case strings.EqualFold(profile, cut):
		c.fits("profile %s", profile)
	default:
		c.sizes(profile, cut, "")
		c.no("a belt of profile %s in teeth for %s: it climbs, and jumps under load", profile, cut)
	}
	width, okWidth := c.length(m.A, "width")
	face, okFace := c.length(m.B, "width")
	if !okWidth || !okFace {
		return
	}
	room := face.minus(width)
	switch {
	case room.high < -eps:
		c.sizes(mm(width.nominal), mm(face.nominal), mm(-room.nominal))
		c.no("the belt is %s wider than the pulley: it rides on its flange, or hangs over", mm(-room.nominal))
	case room.low < -eps, room.nominal <= eps:
		askTwo(c, m, "width", "width")
		c.unknown("belt and pulley are of one width: nothing is left for it to run free, measure both")
	case room.high > beltRoom+eps:
		c.sizes(mm(width.nominal), mm(face.nominal), mm(room.nominal))
		askTwo(c, m, "width", "width")
		c.unknown("the pulley is %s wider than the belt: made for a wider one, which carries more and is led by it",
			mm(room.nominal))
	default:
		c.fits("a belt of %s on a pulley %s wide", mm(width.nominal), mm(face.nominal))
	}
}

// JudgeBelt judges a toothed belt over both pulleys: "belt length", with the axle position
// it gives, and "belt line". It can't be shortened, and its number of teeth may be odd.
func JudgeBelt(in ChainCase) []Check {
	return judge(false, func(b *bench) {
		beltLength(b, in)
		if !in.NoLine {
			chainLine(b, in)
		}
	})
}

func beltLength(b *bench, in ChainCase) {
	c := b.check("belt length")
	pitch, okPitch := c.length(in.Chain, "pitch")
	teeth, okTeeth := c.count(in.Chain, "teeth")
	front, okFront := c.count(in.Front, "teeth")
	rear, okRear := c.count(in.Rear, "teeth")
	room, okRoom := adjusterRoom(c, in)
	if !okPitch || !okTeeth || !okFront || !okRear {
		return
	}
	wanted := ""
	if okRoom {
		wanted = teethWanted(room, front, rear, pitch.nominal)
	}
	c.Had, c.Wanted = fmt.Sprintf("%d teeth", teeth), wanted
	centre, err := trade.ChainCentre(front, rear, teeth, pitch.nominal)
	switch {
	case err != nil:
		c.no("a belt of %d teeth does not go round %d and %d", teeth, front, rear)
		return
	case !okRoom:
		c.unknown("%d teeth on %d/%d put the axle %s from the output shaft", teeth, front, rear, tenth(centre))
		return
	}
	switch exact(centre).against(room.low-adjusterRead, room.high+adjusterRead) {
	case inside:
		c.fits("%d teeth on %d/%d put the axle %s from the output shaft, within the adjusters' %s",
			teeth, front, rear, tenth(centre), mmRange(room.low, room.high))
	case below:
		c.Gap = least(room.low - centre)
		c.no("a belt of %d teeth is too short: the axle would have to come %s further forward than it can", teeth, c.Gap)
		orderBelt(c, in, wanted)
	default:
		c.Gap = least(centre - room.high)
		c.no("a belt of %d teeth is too long: the axle would go %s beyond the adjusters, and a belt is not shortened",
			teeth, c.Gap)
		orderBelt(c, in, wanted)
	}
}

// teethWanted is the numbers of teeth that bring the axle within the adjusters, as words;
// empty where there is none.
func teethWanted(room span, front, rear int, pitch float64) string {
	low, errLow := trade.ChainLinks(front, rear, room.low, pitch)
	high, errHigh := trade.ChainLinks(front, rear, room.high, pitch)
	if errLow != nil || errHigh != nil {
		return ""
	}
	switch from, to := wholeUp(low), -wholeUp(-high); {
	case to < from:
		return ""
	case to == from:
		return fmt.Sprintf("%.0f teeth", from)
	default:
		return fmt.Sprintf("%.0f-%.0f teeth", from, to)
	}
}

func orderBelt(c *check, in ChainCase, wanted string) {
	if wanted == "" {
		return
	}
	spec := drivingSpec(c, in, "teeth", wanted, "pitch", "width")
	if profile, ok := c.phrase(in.Chain, "profile"); ok {
		spec = append(spec, Field{"profile", profile})
	}
	c.order("belt", "belt, "+wanted, spec...)
}
