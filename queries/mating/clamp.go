package mating

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// clampMatch is how far a clamp's bore and the tube in it may differ and still
// grip all round, in mm. Common practice, no source: clamps are bored 0 to
// 0.05 mm over the tube, and a reading is good to 0.02 mm on each side.
const clampMatch = 0.1

// smallHose is up to which bore, in mm, a rubber hose is pushed over a thicker pipe. What
// is larger is moulded to its pipe. Common practice, no source.
const smallHose = 12.0

// barKinds are the kinds of part on whose tubes several clamps sit side by side.
var barKinds = []graph.KindID{"handlebar", "clip-on"}

// steeringClamps are the kinds of part whose clamps carry the steering, whatever the places
// say: a bar or leg that turns or slips in one can't be steered. Common practice, no source.
var steeringClamps = []graph.KindID{"yoke-upper", "yoke-lower", "bar-cap", "riser"}

// mostSleeveWall is the thickest wall, in mm, of a split sleeve that a clamp still closes
// on its tube, outside the steering. Common practice, no source. A bracket that carries a
// lamp alone is sleeved thicker.
const (
	mostSleeveWall = 4.0
	mostLampSleeve = 6.0
)

// clampOnTube is rule 6: one clamp on one tube. Upper and lower clamps are two
// meetings, since a fork tube may have two diameters.
func clampOnTube(b *bench, m Meeting) {
	c := b.check("clamp on tube")
	clamp, okClamp := c.length(m.A, "diameter")
	tube, okTube := c.length(m.B, "diameter")
	gripLength(b, m)
	if !okClamp || !okTube {
		return
	}
	play := clamp.minus(tube)
	c.sizes(mm(clamp.nominal)+" clamp", mm(tube.nominal)+" tube", mm(math.Abs(play.nominal)))
	switch where := play.against(-clampMatch, clampMatch); {
	case where == inside || same(play.nominal, 0):
		c.Gap = ""
		c.fits("a %s clamp on a %s tube", mm(clamp.nominal), mm(tube.nominal))
		mustClose(c, m)
	case where == astride:
		askTwo(c, m, "diameter", "diameter")
		c.unknown("at the limits of their tolerances the clamp may not grip all round")
	case where == below && m.Direct && clamp.nominal <= smallHose+eps && -play.low <= hoseStretch*tube.nominal+eps:
		c.Gap = ""
		c.fits("a %s hose pushed on a %s pipe", mm(clamp.nominal), mm(tube.nominal))
	case where == below:
		c.no("the tube is %s too thick for the clamp; a clamp is not bored out", c.Gap)
	default:
		sleeveInClamp(c, m, clamp.nominal, tube.nominal)
	}
}

// mustClose judges a clamp where one was built in that is split, for a bolt to draw it shut:
// a bore that is not split grips nothing. Source: geometry.
func mustClose(c *check, m Meeting) {
	was, known := asBuilt(m, m.A.Feature.Kind)
	if !known {
		return
	}
	if split, ok := c.peek(was, "split", measure.YesNo); !ok || !split.Yes {
		return
	}
	if split, ok := c.read(m.A, "split", measure.YesNo); ok && !split.Yes {
		c.sizes("not split", "split", "")
		c.no("the clamp is not split: no bolt draws it shut on the tube")
	}
}

// sleeveInClamp judges a tube that is too thin. Common practice, no source: a
// sleeve holds only when it is split and as long as the clamp, and the clamp
// itself must be split so that it closes on the sleeve.
func sleeveInClamp(c *check, m Meeting, clamp, tube float64) {
	if m.Steers || slices.Contains(steeringClamps, m.A.PartKind) {
		c.no("the tube is %s too thin for the clamp, and a clamp that carries the steering is not sleeved", c.Gap)
		return
	}
	if (clamp-tube)/2 < leastWall-eps {
		c.no("the tube is %s too thin: too loose to grip, too little room for a sleeve of %s wall", c.Gap, mm(leastWall))
		return
	}
	most := mostSleeveWall
	if m.A.PartKind == "headlamp-bracket" {
		most = mostLampSleeve
	}
	if (clamp-tube)/2 > most+eps {
		c.no("the tube is %s too thin: a sleeve of %s wall does not grip, %s at most", c.Gap, mm((clamp-tube)/2), mm(most))
		return
	}
	if !canSleeve(c, tube) {
		return
	}
	if split, ok := c.peek(m.A, "split", measure.YesNo); ok && !split.Yes {
		c.no("the tube is %s too thin, and a bore that is not split can't close on a sleeve", c.Gap)
		return
	} else if !ok {
		c.ask(askFor(m.A, "split"))
	}
	length, okLength := c.length(m.A, "length")
	free, okFree := c.length(m.B, "length")
	if okLength && okFree && free.high < length.low-eps {
		c.no("the tube is %s too thin, and only %s of it is free for a sleeve %s long", c.Gap, mm(free.nominal),
			mm(length.nominal))
		return
	}
	c.change(graph.EffortLatheWeld, "turn a split sleeve over the full length of the clamp", "the tube is %s too thin "+
		"for the clamp", c.Gap)
	if okLength {
		spec := append(append(boreOver(sitsOn, tube, 0), outsideFor(clamp)...), sleeveFields(tube, clamp)...)
		o := c.order("sleeve", "split sleeve "+mm(tube)+" inside, "+mm(clamp)+" outside, "+mm(length.nominal)+" long",
			append([]Field{{"inside", mm(tube)}, {"outside", mm(clamp)}, {"length", mm(length.nominal)},
				{"split", "one side, over the full length"}}, spec...)...)
		o.Place = m.B.Position
		o.Stands = []graph.Feature{feature("sleeve", "sleeve", "inside", mm(tube), "outside", mm(clamp), "length",
			mm(length.nominal), "split", "yes")}
	}
}

// gripLength judges whether the tube is free over the whole clamp. It makes no
// check while nobody has given a length on either side.
func gripLength(b *bench, m Meeting) {
	if len(m.A.Feature.Dims["length"])+len(m.B.Feature.Dims["length"]) == 0 {
		return
	}
	c := b.check("grip length")
	clamp, okClamp := c.length(m.A, "length")
	tube, okTube := c.length(m.B, "length")
	if !okClamp || !okTube {
		return
	}
	c.sizes(mm(clamp.nominal)+" clamp", mm(tube.nominal)+" free", "")
	short := clamp.minus(tube)
	switch where := short.against(-noLimit, 0); {
	case where == inside || same(short.nominal, 0):
		c.fits("%s of tube for a clamp %s long", mm(tube.nominal), mm(clamp.nominal))
		notMuchLess(c, m, m.A, "length", measure.Length, "it holds by as much less")
		if slices.Contains(barKinds, m.B.PartKind) {
			notMuchLess(c, m, m.B, "length", measure.Length, "what sits there side by side may lack room")
		}
	case where == astride:
		askTwo(c, m, "length", "length")
		c.unknown("at the limits of their tolerances the clamp may grip on a bend or end")
	default:
		c.Gap = mm(short.nominal)
		c.no("only %s of tube is free for a clamp %s long", mm(tube.nominal), mm(clamp.nominal))
	}
}
