package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// SpokesCase is a set of spokes with the hub and the rim that it laces together.
type SpokesCase struct {
	Wire           Side // kind spokes
	HubEnd, RimEnd Side // of the set, kind bolt-pattern
	Hub, Rim       Side // the holes they go into, kind bolt-pattern
	Flanges        Side // of the hub, kind spoke-flanges; zero when nobody recorded it
	// Built is the same wheel as the machine left its works; nil when not known, or when
	// this is it.
	Built  *SpokesCase
	Safety graph.Safety
}

const (
	// spokeOff is how much longer or shorter than it comes to a spoke may be, in mm: its
	// nipple takes up so much. Common practice, no source.
	spokeOff = 2.0
	// spokeSame is how much they may differ, in mm, from those built in on the same circles:
	// more stands proud of its nipple into the tube, or lacks thread. Both are measured to
	// 0.5 mm. Common practice of wheel builders, no source.
	spokeSame = 1.0
	// spokeFrom is how far the length of a spoke as built may lie off that by the formula
	// and still tell how it is laced, in mm: circle and length are measured at a bend, and
	// rims are dimpled. Ours, no source.
	spokeFrom = 10.0
	// spokeLoose is how much smaller than its hole a wire or a nipple may be, in mm, and spokeRead
	// what a caliper misreads of either. Common practice of wheel builders, no source: holes are
	// drilled a few tenths over the wire.
	spokeLoose, spokeRead = 0.7, 0.1
	// mostCrossings is how many others a spoke crosses at the most.
	mostCrossings = 4
)

// JudgeSpokes judges, in the check "spoke count", whether hub, rim and both ends of the
// spokes have one number of holes and wires, in "spoke holes" and "spoke wire" whether wire and nipple go through
// theirs, fill them and are no thinner than those built in, and in the check "spoke length" whether they
// are as much longer or shorter than those built in as the circles of hub and rim ask.
// That makes no check where the lengths as built are not known. Source: geometry.
func JudgeSpokes(in SpokesCase) []Check {
	return judge(false, func(b *bench) {
		in.count(b)
		in.holes(b)
		in.strength(b)
		in.length(b)
	})
}

func (in SpokesCase) count(b *bench) {
	c := b.check("spoke count")
	wires, ok := c.count(in.Wire, "count")
	if !ok {
		return
	}
	off := false
	for _, s := range []Side{in.HubEnd, in.RimEnd, in.Hub, in.Rim} {
		holes, known := c.count(s, "count")
		if ok = ok && known; known && holes != wires {
			off = true
			c.no("%d spokes for %d holes of %s", wires, holes, label(s))
		}
	}
	if ok && !off {
		c.fits("%d spokes for as many holes in hub and rim", wires)
	}
}

// holes judges, where they are measured, whether wire and nipple go through hub and rim, and fill the holes.
func (in SpokesCase) holes(b *bench) {
	var c *check
	aside := b.aside().check("spoke holes")
	for _, of := range []func(SpokesCase) passage{
		func(in SpokesCase) passage { return passage{in.Wire, in.Hub, "thickness"} },
		func(in SpokesCase) passage { return passage{in.HubEnd, in.Hub, "hole"} },
		func(in SpokesCase) passage { return passage{in.RimEnd, in.Rim, "hole"} },
	} {
		one := of(in)
		if _, _, ok := one.sizes(aside); !ok {
			continue
		}
		if c == nil {
			c = b.check("spoke holes")
		}
		most := spokeLoose
		if in.Built != nil {
			if through, room, ok := of(*in.Built).sizes(aside); ok {
				most = max(most, room.nominal-through.nominal+spokeRead)
			}
		}
		one.judge(c, most)
	}
}

// passage is a wire or nipple, of the thickness dim, in a hole.
type passage struct {
	thick, hole Side
	dim         string
}

func (p passage) sizes(c *check) (through, room span, ok bool) {
	through, okThrough := c.length(p.thick, p.dim)
	room, okRoom := c.length(p.hole, "hole")
	return through, room, okThrough && okRoom
}

// judge holds the one against the other; it may lie at most so loose, in mm.
func (p passage) judge(c *check, most float64) {
	through, room, _ := p.sizes(c)
	switch free := room.minus(through); {
	case free.high < -eps:
		gap(c, through, room)
		c.no("%s go through no holes of %s in %s", mm(through.nominal), mm(room.nominal), label(p.hole))
	case free.low < -eps && !same(free.nominal, 0):
		c.settle(askFor(p.thick, p.dim), askFor(p.hole, "hole"))
		c.unknown("at the limits of the sizes %s may not go through %s in %s", mm(through.nominal), mm(room.nominal),
			label(p.hole))
	case free.nominal > most+eps:
		gap(c, through, room)
		c.settle(lookAt(p.thick, p.dim, "whether elbow and nipple fill their holes, on one spoke laced and drawn up"))
		c.unknown("%s lie %s loose in holes of %s in %s: an elbow that does not fill its hole works and breaks, a nipple "+
			"pulls through", mm(through.nominal), mm(free.nominal), mm(room.nominal), label(p.hole))
	default:
		c.fits("%s through %s", mm(through.nominal), mm(room.nominal))
	}
}

// strength holds the thickness of the wire against that of the one built in: what is thinner carries less.
func (in SpokesCase) strength(b *bench) {
	if in.Built == nil {
		return
	}
	was, ok := b.aside().check("spoke wire").length(in.Built.Wire, "thickness")
	if !ok {
		return
	}
	c := b.check("spoke wire")
	now, ok := c.length(in.Wire, "thickness")
	switch {
	case !ok:
	case now.nominal < was.nominal-spokeRead-eps:
		gap(c, now, was)
		c.settle(lookAt(in.Wire, "thickness", "whether its maker allows this gauge on this wheel"))
		c.unknown("%s wire where %s was built in: thinner wire carries less", mm(now.nominal), mm(was.nominal))
	default:
		c.fits("%s wire, %s as built", mm(now.nominal), mm(was.nominal))
	}
}

func (in SpokesCase) length(b *bench) {
	if in.Built == nil {
		return
	}
	was, ok := in.Built.wheel(b.aside().check("spoke length"))
	if !ok {
		return
	}
	c := b.check("spoke length")
	now, ok := in.wheel(c)
	if !ok {
		for _, dim := range []string{"left", "right"} {
			c.length(in.Flanges, dim)
		}
		return
	}
	if len(now.lengths) != len(was.lengths) || len(now.lengths) > 1 && !slices.Equal(now.each, was.each) {
		c.settle(askFor(in.Wire, "length"))
		c.unknown("%s where %s were built in: lace one of each and look", now.sorts(), was.sorts())
		return
	}
	if beside := math.Abs(now.dish-was.dish) / 2; beside > spokeOff+eps {
		c.settle(askFor(in.Flanges, "left"), askFor(in.Flanges, "right"), askFor(in.Wire, "length"))
		c.unknown("the flanges stand %s further to one side: the rim comes beside the middle unless the spokes of "+
			"each side are as long as that side asks", tenth(beside))
		return
	}
	least, most, ok := now.longer(was)
	if !ok {
		c.settle(askFor(in.Wire, "length"), askFor(in.Hub, "spacing"), askFor(in.Rim, "spacing"))
		c.unknown("the spokes built in are not as long as their hub and rim ask: measure length and both circles again")
		return
	}
	for i, long := range now.lengths {
		more := long - was.lengths[i]
		if now.circlesAs(was) && math.Abs(more) > spokeSame+eps && math.Abs(more) <= spokeOff+eps {
			c.settle(askFor(in.Wire, "length"))
			c.unknown("%s %s than those built in, in the same circles: past its nipple a spoke chafes the tube through, short "+
				"of it it lacks thread; lace one of each and look", tenth(math.Abs(more)), longerWord(more))
			continue
		}
		now.judge(c, in, more, least, most)
	}
}

// judge holds how much longer a spoke is than the one built in against how much longer it
// must be, by each way it may be laced.
func (w spokedWheel) judge(c *check, in SpokesCase, more, least, most float64) {
	switch {
	case more >= most-spokeOff-eps && more <= least+spokeOff+eps:
		c.fits("as long as the circles of hub and rim ask")
	case more > most+spokeOff+eps:
		c.Gap = tenth(more - most)
		c.no("the spokes are about %s too long for these circles of hub and rim", c.Gap)
	case more < least-spokeOff-eps:
		c.Gap = tenth(least - more)
		c.no("the spokes are about %s too short for these circles of hub and rim", c.Gap)
	default:
		c.settle(askFor(in.Wire, "length"))
		c.unknown("how long they must be hangs on how they are laced: count how many others each crosses")
	}
}

// spokedWheel is what the length of a wheel's spokes hangs on, in mm.
type spokedWheel struct {
	hub, rim float64 // radius of the circles of holes
	flange   float64 // middle of the row of holes to the middle of the wheel
	dish     float64 // how much further the left row stands from there than the right
	count    float64
	lengths  []float64 // of the spokes, shortest first
	each     []int     // how many of each length
}

func (in SpokesCase) wheel(c *check) (w spokedWheel, ok bool) {
	hub, okHub := c.length(in.Hub, "spacing")
	rim, okRim := c.length(in.Rim, "spacing")
	count, okCount := c.count(in.Wire, "count")
	sizes, okSizes := c.read(in.Wire, "length", measure.Sizes)
	left, okLeft := c.peekLength(in.Flanges, "left")
	right, okRight := c.peekLength(in.Flanges, "right")
	for _, s := range sizes.Sizes {
		w.lengths, w.each = append(w.lengths, s.Diameter), append(w.each, s.Count)
	}
	w.hub, w.rim, w.count = hub.nominal/2, rim.nominal/2, float64(count)
	w.flange, w.dish = (left.nominal+right.nominal)/2, left.nominal-right.nominal
	return w, okHub && okRim && okCount && okSizes && okLeft && okRight && count > 0
}

// circlesAs reports whether hub, rim and flanges measure as those of another wheel.
func (w spokedWheel) circlesAs(was spokedWheel) bool {
	return math.Abs(w.hub-was.hub) <= lengthRead && math.Abs(w.rim-was.rim) <= lengthRead &&
		math.Abs(w.flange-was.flange) <= lengthRead && math.Abs(w.dish-was.dish) <= lengthRead
}

func longerWord(by float64) string {
	if by < 0 {
		return "shorter"
	}
	return "longer"
}

// sorts says how many spokes there are of each length: "12 of 150 mm and 24 of 152 mm".
func (w spokedWheel) sorts() string {
	var words []string
	for i, l := range w.lengths {
		words = append(words, fmt.Sprintf("%d of %s", w.each[i], mm(l)))
	}
	return strings.Join(words, " and ")
}

// long is how long a spoke is that crosses so many others, by its circles:
//
//	l = sqrt(R^2 + r^2 + f^2 - 2 R r cos(720 deg k / n))
//
// Source: geometry; wheel builders' handbooks, from memory.
func (w spokedWheel) long(crossings int) float64 {
	angle := 4 * math.Pi * float64(crossings) / w.count
	return math.Sqrt(w.rim*w.rim + w.hub*w.hub + w.flange*w.flange - 2*w.rim*w.hub*math.Cos(angle))
}

// longer is how much longer the spokes of a wheel must be than those of another: least and
// most by each way in which those may be laced by their length; false where none is.
func (w spokedWheel) longer(was spokedWheel) (least, most float64, ok bool) {
	var mean float64
	for _, l := range was.lengths {
		mean += l / float64(len(was.lengths))
	}
	least, most = math.Inf(1), math.Inf(-1)
	for k := range mostCrossings + 1 {
		if math.Abs(was.long(k)-mean) > spokeFrom {
			continue
		}
		more := w.long(k) - was.long(k)
		least, most, ok = min(least, more), max(most, more), true
	}
	return least, most, ok
}
