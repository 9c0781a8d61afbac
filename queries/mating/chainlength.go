package mating

import (
	"fmt"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// ChainCase is a chain over two sprockets, or a belt over two pulleys.
type ChainCase struct {
	Chain                 Side // kind chain or belt
	Front, Rear           Side // kind sprocket or pulley
	FrontPlane, RearPlane Side // kind sprocket-plane: the faces they mount on
	// FrontMount and RearMount are what the sprockets mount by, of kind
	// bolt-pattern or spline; zero when nobody said.
	FrontMount, RearMount Side
	// FrontPacked and RearPacked are how thick what lies behind the sprockets is, in
	// mm.
	FrontPacked, RearPacked float64
	// Centre is the distance from output shaft to axle that the adjusters
	// allow, "610-640 mm"; empty when nobody measured it.
	Centre []graph.Reading
	// NoLine leaves the chain line out, for a machine whose faces nobody
	// means to measure.
	NoLine bool
}

// isBelt reports whether what runs over both is a belt.
func (in ChainCase) isBelt() bool { return in.Chain.Feature.Kind == "belt" }

// JudgeChain judges a chain over both sprockets: "chain length", with the axle
// position it gives, "chain parity" when the number of links is odd, and "chain
// line". Whether the chain runs on each sprocket
// is a Meeting for Judge.
func JudgeChain(in ChainCase) []Check {
	return judge(false, func(b *bench) {
		chainLength(b, in)
		oddChain(b, in)
		if !in.NoLine {
			chainLine(b, in)
		}
	})
}

// oddChain judges a chain with an odd number of links: it can't be closed as it
// is. With one link out it may do.
func oddChain(b *bench, in ChainCase) {
	aside := b.aside().check("chain parity")
	links, ok := aside.count(in.Chain, "links")
	if !ok || links%2 == 0 {
		return
	}
	c := b.check("chain parity")
	links, _ = c.count(in.Chain, "links")
	c.sizes(fmt.Sprintf("%d links", links), "an even number", "1 link")
	pitch, okPitch := c.length(in.Chain, "pitch")
	front, okFront := c.count(in.Front, "teeth")
	rear, okRear := c.count(in.Rear, "teeth")
	room, okRoom := adjusterRoom(c, in)
	if okPitch && okFront && okRear && okRoom {
		centre, err := trade.ChainCentre(front, rear, links-1, pitch.nominal)
		if err == nil && exact(centre).against(room.low, room.high) == inside {
			c.change(graph.EffortHandTools, fmt.Sprintf("take one link out: %d links", links-1),
				"%d links are an odd number, which no joining link closes", links)
			return
		}
	}
	c.no("%d links are an odd number: no joining link closes it, and a cranked one carries about 35 %% less", links)
}

func chainLength(b *bench, in ChainCase) {
	c := b.check("chain length")
	pitch, okPitch := c.length(in.Chain, "pitch")
	links, okLinks := c.count(in.Chain, "links")
	front, okFront := c.count(in.Front, "teeth")
	rear, okRear := c.count(in.Rear, "teeth")
	room, okRoom := adjusterRoom(c, in)
	if !okPitch || !okFront || !okRear {
		return
	}
	wanted, orders := "", ""
	if okRoom {
		words, some := linksWanted(c, room, front, rear, pitch.nominal)
		if wanted = words; some {
			orders = words
		}
	}
	if !okLinks {
		return
	}
	c.Had, c.Wanted = fmt.Sprintf("%d links", links), wanted
	centre, err := trade.ChainCentre(front, rear, links, pitch.nominal)
	if err != nil {
		c.no("%d links do not go round %d and %d teeth", links, front, rear)
		return
	}
	if !okRoom {
		c.unknown("%d links on %d/%d put the axle %s from the output shaft", links, front, rear, tenth(centre))
		return
	}
	switch exact(centre).against(room.low-adjusterRead, room.high+adjusterRead) {
	case inside:
		c.fits("%d links on %d/%d put the axle %s from the output shaft, within the adjusters' %s",
			links, front, rear, tenth(centre), mmRange(room.low, room.high))
	case below:
		c.Gap = least(room.low - centre)
		c.no("%d links are too short: the axle would have to come %s further forward than it can", links, c.Gap)
		orderChain(c, in, orders)
	default:
		c.Gap = least(centre - room.high)
		shorten(c, in, room, front, rear, links, pitch.nominal, orders)
	}
}

// least prints a length to 0.1 mm, and never as nothing.
func least(v float64) string { return tenth(max(v, 0.1)) }

// adjusterRead is less than a tenth of a millimetre, to which such lengths are told: no
// chain is too long by that.
const adjusterRead = 0.04

// shorten judges a chain that is too long: it can be shortened by whole pairs.
func shorten(c *check, in ChainCase, room span, front, rear, links int, pitch float64, wanted string) {
	for n := links - 2 + links%2; n > 0; n -= 2 {
		centre, err := trade.ChainCentre(front, rear, n, pitch)
		if err != nil || centre < room.low-eps {
			break
		}
		if centre <= room.high+eps {
			c.change(graph.EffortHandTools, fmt.Sprintf("shorten the chain to %d links", n),
				"%d links are too long: the axle would go %s beyond the adjusters", links, c.Gap)
			return
		}
	}
	c.no("%d links put the axle %s beyond the adjusters, and no even number of links comes within them", links, c.Gap)
	orderChain(c, in, wanted)
}

func adjusterRoom(c *check, in ChainCase) (span, bool) {
	at := place{position: in.Rear.Position, part: in.Rear.Part, feature: "run", dim: "centre distance"}
	ask := Ask{Position: in.Rear.Position, Part: in.Rear.Part, Dim: "centre distance",
		What: "output shaft to axle, adjusters fully in and fully out", Where: label(in.Rear), Gauge: "steel tape",
		Accuracy: "1 mm"}
	v, ok := c.value(at, in.Centre, func() Ask { return ask }, measure.Length)
	if !ok {
		c.ask(ask)
	}
	return spanOf(v.Quantity), ok
}

// linksWanted is the even numbers of links that bring the axle within the
// adjusters, as words; false where there is none.
func linksWanted(c *check, room span, front, rear int, pitch float64) (string, bool) {
	shortest, err1 := trade.ChainLinks(front, rear, room.low, pitch)
	longest, err2 := trade.ChainLinks(front, rear, room.high, pitch)
	if err1 != nil || err2 != nil {
		return "", false
	}
	low, err1 := trade.EvenLinks(shortest)
	high, err2 := trade.EvenLinks(longest)
	if err1 != nil || err2 != nil {
		return "", false
	}
	if float64(high) > longest+1e-9 {
		high -= 2
	}
	switch {
	case high < low:
		return "no even number of links", false
	case high == low:
		return fmt.Sprintf("%d links", low), true
	}
	return fmt.Sprintf("%d-%d links, even", low, high), true
}

func orderChain(c *check, in ChainCase, wanted string) {
	if wanted != "" {
		c.order("chain", "chain, "+wanted, drivingSpec(c, in, "links", wanted, "pitch", "roller", "inner-width")...)
	}
}

// drivingSpec is how many links or teeth a chain or belt is to have, and what it has in common
// with the one there.
func drivingSpec(c *check, in ChainCase, counted, wanted string, dims ...string) []Field {
	spec := []Field{{counted, wanted}}
	for _, dim := range dims {
		if v, ok := c.peekLength(in.Chain, dim); ok {
			spec = append(spec, Field{dim, mm(v.nominal)})
		}
	}
	return spec
}
