package mating

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

const (
	// banjoPlay is how much wider than its bolt an eye may be, in mm, so that
	// the washers still cover it. Common practice, no source.
	banjoPlay = 0.6
	// banjoEngage is how much thread of a banjo bolt must carry, in d. No
	// published figure was found; 0.8 d is the height of a nut that carries
	// its bolt (ISO 898-2), and what the usual 20 mm and 30 mm bolts give
	// under one and two eyes.
	banjoEngage = nutHeight
	// A sealing washer nobody measured is 1.0 to 1.5 mm thick. Common
	// practice, no source.
	thinWasher, thickWasher = 1.0, 1.5
)

// banjoOnPort is rule 2 for an eye held by a hollow bolt.
func banjoOnPort(b *bench, m Meeting) {
	seat(b, m, "flat washer")
	c := b.check("banjo eye")
	eye, okEye := c.length(m.A, "eye")
	thread, okThread := c.thread(m.B, "thread")
	if okEye && okThread {
		banjoEye(c, m, eye, thread)
	}
	banjos := 1 // an eye that nobody counted is the only one
	if v, ok := c.peek(m.B, "banjos", measure.Count); ok {
		banjos = max(1, int(v.Quantity.Nominal))
	}
	sealingWashers(b, m, thread.Nominal, banjos+1)
	banjoBolt(b, m, banjos)
}

// seat judges how a line end and its port seal against each other.
func seat(b *bench, m Meeting, has string) {
	c := b.check("port seat")
	if has == "" {
		word, ok := c.word(m.A, "seat")
		if has = word; !ok {
			has = ""
		}
	}
	wants, ok := c.word(m.B, "seat")
	if !ok || has == "" {
		return
	}
	c.sizes(has, wants, "")
	if has == wants {
		c.fits("both seal with %s", has)
		return
	}
	c.no("the line seals with %s, the port with %s: it will leak", has, wants)
}

func banjoEye(c *check, m Meeting, eye span, thread measure.ThreadSize) {
	play := eye.minus(exact(thread.Nominal))
	c.sizes(mm(eye.nominal), thread.String(), "")
	switch where := play.against(0, banjoPlay); {
	case where == inside || same(play.nominal, 0):
		c.fits("a %s eye on an %s bolt", mm(eye.nominal), thread)
	case where == astride:
		c.settle(askFor(m.A, "eye"))
		c.unknown("at the limits of its tolerance the eye may not suit the bolt")
	case where == below:
		c.Gap = mm(-play.nominal)
		c.no("an %s bolt does not go through a %s eye; an eye is never drilled", thread, mm(eye.nominal))
	default:
		c.Gap = mm(play.nominal)
		c.no("a %s eye is too wide for an %s bolt: the washers do not cover it", mm(eye.nominal), thread)
	}
}

// sealingWashers counts the washers: one more than there are eyes, and new.
// Source for the count: common practice.
func sealingWashers(b *bench, m Meeting, d float64, want int) {
	c := b.check("sealing washers")
	size := ""
	if d > 0 {
		size = ", " + mm(d) + " inside"
	}
	c.newWasher(fmt.Sprintf("%d new sealing washers%s", want, size))
	if len(m.Washers) == 0 {
		c.fits("%d new washers, one on each face", want)
		return
	}
	for _, w := range m.Washers {
		hole, ok := c.length(w, "inside")
		if ok && d > 0 && exact(0).plus(hole).minus(exact(d)).against(0, banjoPlay) != inside {
			c.no("a washer of %s inside does not suit a %s bolt", mm(hole.nominal), mm(d))
		}
	}
	sealMetal(b, m)
	c.sizes(washers(len(m.Washers)), washers(want), "")
	if len(m.Washers) == want {
		c.fits("%d new washers, one on each face", want)
		return
	}
	c.routine(graph.EffortHandTools, fmt.Sprintf("fit %d new sealing washers", want),
		"%s where %d belong: one more than there are eyes", washers(len(m.Washers)), want)
}

// sealMetals are soft enough to seal a flat face by themselves, and none is harmed by a
// fluid. Common practice, no source.
var sealMetals = []string{"copper", "aluminium"}

// sealMetal judges what the washers are of, where somebody said so: the usual soft
// metals seal alike; what has rubber or fibre in it must suit the fluid, which only
// its maker tells.
func sealMetal(b *bench, m Meeting) {
	said := slices.DeleteFunc(slices.Clone(m.Washers), func(w Side) bool { return len(w.Feature.Dims["material"]) == 0 })
	if len(said) == 0 {
		return
	}
	c := b.check("seal material")
	for _, w := range said {
		of, ok := c.word(w, "material")
		switch soft := slices.ContainsFunc(sealMetals, func(metal string) bool { return strings.Contains(of, metal) }); {
		case !ok:
		case soft:
			c.fits("%s seals a flat face", of)
		default:
			c.settle(lookAt(w, "material", "whether its maker gives it for this fluid"))
			c.unknown("a washer of %s: copper and aluminium seal a banjo, of others only the maker can tell", of)
		}
	}
}

func washers(n int) string {
	if n == 1 {
		return "1 washer"
	}
	return fmt.Sprintf("%d washers", n)
}

// banjoBolt judges thread and length of the bolts. Without a bolt there is
// nothing to judge, but its length is told.
func banjoBolt(b *bench, m Meeting, banjos int) {
	c := b.check("banjo bolt")
	thread, okThread := c.thread(m.B, "thread")
	depth, okDepth := c.length(m.B, "depth")
	eye, okEye := c.length(m.A, "thickness")
	if !okThread || !okDepth || !okEye {
		return
	}
	stack, measured := washerStack(c, m, banjos+1)
	grip := eye.times(float64(banjos)).plus(stack)
	least := grip.plus(exact(banjoEngage * thread.Nominal))
	most := grip.plus(depth).minus(exact(tipPitches * thread.Pitch))
	if most.nominal < least.nominal-eps {
		c.no("only %s of thread in the port: too shallow for 0.8 d and a tip 2 pitches off the bottom", mm(depth.nominal))
		return
	}
	lengths := mmRange(up(least.nominal), math.Floor(most.nominal*2+eps)/2)
	text := fmt.Sprintf("banjo bolt %s, %s under the head", thread, lengths)
	order := func(bolt Side) {
		o := c.order("banjo bolt", text, Field{"thread", thread.String()}, Field{"length under the head", lengths},
			Field{"takes", eyeWords(banjos)}, Field{"material", "bored through for the fluid, and of no softer metal than the " +
				"one there: no plain bolt stands for it"})
		makes(o, bolt, "thread", thread.String())
		makes(o, bolt, "length", lengths)
	}
	if len(m.Bolts) == 0 {
		c.Wanted = lengths
		c.fits("needs a %s for %s", text, eyeWords(banjos))
		return
	}
	for _, bolt := range m.Bolts {
		t, okBolt := c.thread(bolt, "thread")
		if okBolt && !meetThreads(c, bolt, t, m.B, thread) {
			order(bolt)
			continue
		}
		length, ok := c.length(bolt, "length")
		if !ok || !okBolt {
			continue
		}
		banjoLength(c, m, boltRoom{length, least, most, measured}, eyeWords(banjos), func() { order(bolt) })
	}
}

// up rounds to the next half millimetre.
func up(v float64) float64 { return math.Ceil(v*2-eps) / 2 }

// washerStack is how thick the sealing washers are together, and whether each was
// measured.
func washerStack(c *check, m Meeting, n int) (total span, measured bool) {
	if len(m.Washers) == 0 {
		return usualWasher().times(float64(n)), false
	}
	total, measured = thicknessOf(c, m.Washers)
	return total.times(float64(n) / float64(len(m.Washers))), measured
}

// thicknessOf adds up some sealing washers, and reports whether each was measured.
func thicknessOf(c *check, washers []Side) (total span, measured bool) {
	measured = true
	for _, w := range washers {
		t, ok := c.peekLength(w, "thickness")
		if !ok {
			t, measured = usualWasher(), false
		}
		total = total.plus(t)
	}
	return total, measured
}

func usualWasher() span { return span{(thinWasher + thickWasher) / 2, thinWasher, thickWasher} }

func eyeWords(banjos int) string {
	if banjos == 1 {
		return "one banjo"
	}
	return fmt.Sprintf("%d banjos", banjos)
}

// boltRoom is a banjo bolt's length with the least and the most that will do, and
// whether the washers that decide both were measured.
type boltRoom struct {
	length, least, most span
	measured            bool
}

func banjoLength(c *check, m Meeting, r boltRoom, eyes string, order func()) {
	length, least, most := r.length, r.least, r.most
	c.sizes(mm(length.nominal), mmRange(least.nominal, most.nominal), "")
	washers := ""
	if !r.measured && len(m.Washers) > 0 {
		washers = fmt.Sprintf(", with washers of %s that nobody measured", mmRange(thinWasher, thickWasher))
	}
	switch {
	case length.low >= least.high-eps && length.high <= most.low+eps,
		length.against(least.nominal, most.nominal) == inside && len(m.Washers) == 0:
		c.fits("a %s bolt carries %s%s", mm(length.nominal), eyes, washers)
	case length.high < least.low-eps:
		c.Gap = mm(least.nominal - length.nominal)
		c.no("a %s bolt is %s too short for %s", mm(length.nominal), c.Gap, eyes)
		order()
	case length.low > most.high+eps:
		c.Gap = mm(length.nominal - most.nominal)
		c.no("a %s bolt is %s too long for %s: it bottoms before it seals", mm(length.nominal), c.Gap, eyes)
		order()
	default:
		washer := Ask{Dim: "thickness", What: "thickness of the sealing washers", Where: label(m.B), Gauge: "micrometer",
			Accuracy: "0.01 mm"}
		for _, w := range m.Washers {
			if len(w.Feature.Dims["thickness"]) == 0 {
				washer = askFor(w, "thickness")
			}
		}
		c.settle(washer)
		c.unknown("a %s bolt is close to the limit for %s: the washers decide", mm(length.nominal), eyes)
	}
}
