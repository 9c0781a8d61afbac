package mating

import (
	"fmt"
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// PlateCase is the metal of a bracket, ring or adapter that joins two hole
// patterns. The engine hands in one for everything of that sort that is fitted,
// ordered or altered.
type PlateCase struct {
	// Plate is its metal (kind plate). Before it is made, what is not known of it
	// may be absent; what two patterns leave no room for is refused all the same.
	Plate Side
	A, B  Side // the two patterns, kind bolt-pattern or caliper-mount
	// Apart is how far the second pattern lies beside the first, in the plate's
	// plane, mm: the shift of a bracket. It only counts between pairs of holes;
	// circles have one centre.
	Apart  float64
	Safety graph.Safety
}

// JudgePlate judges whether there is enough metal: "metal between holes" and
// "metal to edge". Sources: trade.EdgeRules; below the least of them it can't be,
// up to the rule for tabs and brackets (in aluminium the aircraft one) it is
// somebody's word with a rule's name to it.
func JudgePlate(in PlateCase) []Check {
	return judge(false, func(b *bench) {
		in.between(b)
		in.edge(b)
		in.thick(b)
	})
}

func (in PlateCase) between(b *bench) {
	c := b.check("metal between holes")
	need, wide, ok := in.need(c)
	apart, okApart := c.peekLength(in.Plate, "between")
	if !okApart {
		at, known := holesApart(c, in.A, in.B, in.Apart)
		if apart, okApart = exact(at), known; !known {
			c.ask(askFor(in.Plate, "between"))
		}
	}
	if !okApart || wide == 0 {
		return
	}
	c.sizes(mm(apart.nominal)+" centre to centre", "", "")
	if apart.high < wide-eps {
		c.Wanted = "at least " + mm(wide)
		c.no("the holes run into one another: %s from centre to centre, and together they take up %s",
			mm(apart.nominal), mm(wide))
		return
	}
	if ok {
		need.judge(c, in.Plate, "between", apart, need.LeastPitch, need.EnoughPitch, "from hole to hole")
	}
}

func (in PlateCase) edge(b *bench) {
	c := b.check("metal to edge")
	need, _, ok := in.need(c)
	edge, okEdge := c.length(in.Plate, "edge")
	if ok && okEdge {
		c.sizes(mm(edge.nominal)+" to the edge", "", "")
		need.judge(c, in.Plate, "edge", edge, need.Least, need.Enough, "from the hole's centre to the edge")
	}
}

// thick judges whether the plate is thick enough to hold a thread for each of the
// patterns that has clear holes. A thinner one may do with nuts behind it, which
// nobody here can see.
func (in PlateCase) thick(b *bench) {
	c := b.check("metal to tap")
	thick, okThick := c.length(in.Plate, "thickness")
	material, okMaterial := c.word(in.Plate, "material")
	tapped := false
	for _, s := range []Side{in.A, in.B} {
		bolt, _, ok := holeOf(c, s)
		if _, has := c.peek(s, "thread", measure.Thread); has || !ok || !okThick || !okMaterial {
			continue
		}
		tapped = true
		claims, err := trade.Engagement(material, "", bolt)
		if err != nil {
			c.cantTell("how thick it must be", err)
			continue
		}
		least := claims[0].Diameters * bolt
		c.sizes(mm(thick.nominal)+" thick", "at least "+mm(least), "")
		if thick.low >= least-eps {
			c.fits("%s thick, enough to tap for the bolts of %s", mm(thick.nominal), label(s))
			continue
		}
		c.settle(askFor(in.Plate, "thickness"))
		c.unknown("%s thick where a thread for the bolts of %s wants %s: thicker, or nuts behind it", mm(thick.nominal),
			label(s), mm(least))
	}
	if !tapped && okThick && okMaterial {
		c.fits("neither side is bolted to threads in it")
	}
}

// edgeNeed is a trade.EdgeNeed with the words for it.
type edgeNeed struct{ trade.EdgeNeed }

func (n edgeNeed) judge(c *check, s Side, dim string, is span, least, enough float64, words string) {
	c.Wanted = "at least " + mm(enough)
	switch {
	case is.low >= enough-eps:
		c.fits("%s %s, at least %s by %s", mm(is.nominal), words, mm(enough), n.EnoughBy)
	case is.high < least-eps:
		c.Gap = mm(least - is.nominal)
		c.no("only %s %s: less than the %s that the mildest rule asks (%s)", mm(is.nominal), words, mm(least),
			n.LeastBy)
	default:
		c.Gap = mm(math.Max(0, enough-is.nominal))
		c.settle(askFor(s, dim))
		c.unknown("%s %s: enough by %s (%s), too little by %s (%s): somebody who answers for it must say",
			mm(is.nominal), words, n.LeastBy, mm(least), n.EnoughBy, mm(enough))
	}
}

// need is what the larger of the two holes asks, and how far two holes that just
// touch lie apart.
func (in PlateCase) need(c *check) (need edgeNeed, wide float64, ok bool) {
	boltA, holeA, okA := holeOf(c, in.A)
	boltB, holeB, okB := holeOf(c, in.B)
	for i, known := range []bool{okA, okB} {
		if !known {
			c.ask(askFor([]Side{in.A, in.B}[i], "hole"))
		}
	}
	if !okA || !okB {
		return edgeNeed{}, 0, false
	}
	wide = (holeA + holeB) / 2
	if holeB > holeA {
		boltA, holeA = boltB, holeB
	}
	material, okMaterial := c.word(in.Plate, "material")
	if !okMaterial {
		return edgeNeed{}, wide, false
	}
	n, err := trade.EdgeNeeded(boltA, holeA, material)
	if err != nil {
		c.cantTell("how much metal the holes want", err)
	}
	return edgeNeed{n}, wide, err == nil
}

// holeOf is the bolt and the hole of a pattern, in mm. A tapped hole is as wide
// as its thread; of a clear hole nobody measured the bolt of, the bolt is what
// ISO 273 leaves.
func holeOf(c *check, s Side) (bolt, hole float64, ok bool) {
	if t, tapped := c.peek(s, "thread", measure.Thread); tapped {
		return t.Thread.Nominal, t.Thread.Nominal, true
	}
	h, ok := c.peekLength(s, "hole")
	if !ok {
		return 0, 0, false
	}
	bolt = h.nominal
	for _, d := range []float64{16, 14, 12, 10, 8, 6, 5, 4} {
		if d <= h.nominal+eps {
			bolt = d
			break
		}
	}
	return bolt, h.nominal, true
}

// holesApart is how far the nearest two holes of two patterns lie apart when the
// patterns are turned so that they are as far apart as can be. Two circles have
// one centre; two pairs of holes lie beside each other by apart. False where
// that can't be told. Source: geometry.
func holesApart(c *check, a, b Side, apart float64) (float64, bool) {
	countA, atA, okA := patternSize(c, a)
	countB, atB, okB := patternSize(c, b)
	switch {
	case !okA || !okB || countA < 2 || countB < 2:
		return 0, false
	case countA == 2 && countB == 2:
		return math.Hypot((atA-atB)/2, apart), true
	case len(a.Feature.Dims["spacing-2"])+len(b.Feature.Dims["spacing-2"]) > 0:
		return 0, false
	}
	half := math.Pi / float64(lcm(countA, countB))
	return math.Sqrt(atA*atA+atB*atB-2*atA*atB*math.Cos(half)) / 2, true
}

func patternSize(c *check, s Side) (count int, at float64, ok bool) {
	count = 2
	if s.Feature.Kind == "bolt-pattern" {
		v, known := c.peek(s, "count", measure.Count)
		if !known {
			return 0, 0, false
		}
		count = int(v.Quantity.Nominal)
	}
	spacing, ok := c.peekLength(s, "spacing")
	return count, spacing.nominal, ok && count <= 1000
}

func lcm(a, b int) int {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// noRoomBetween says why no flat ring or plate can join two patterns of holes, two
// pairs in one line among them; empty when one can, or when too little is known.
func noRoomBetween(c *check, m Meeting) string {
	countA, _, okA := patternSize(c, m.A)
	countB, _, okB := patternSize(c, m.B)
	if !okA || !okB {
		return ""
	}
	at, ok := holesApart(c, m.A, m.B, 0)
	_, holeA, _ := holeOf(c, m.A)
	_, holeB, _ := holeOf(c, m.B)
	least := leastHoles * max(holeA, holeB) // of one alone where nobody measured the other
	if !ok || least == 0 {
		return ""
	}
	if at >= least-eps {
		return ""
	}
	what := "no ring"
	if countA == 2 && countB == 2 {
		what = "no flat bracket"
	}
	return what + " joins them: its holes would lie " + tenth(at) + " from centre to centre, and " + tenth(least) +
		" is the least that any rule allows"
}

// leastToBore is how far a hole's centre lies at least from the bore by which a ring goes
// over a spigot, in diameters of the hole: no bolt pulls towards it. Common practice, no
// source.
const leastToBore = 1.0

// noRingBetween says why no ring joins two patterns of more than two holes that have
// metal enough between them: nobody measured what would tell, or the holes of one break
// into the bore by which it goes over a spigot. Empty where one can be made.
func noRingBetween(c *check, m Meeting) string {
	if _, ok := holesApart(c, m.A, m.B, 0); !ok {
		for _, s := range []Side{m.A, m.B} {
			for _, dim := range []string{"count", "spacing"} {
				if len(s.Feature.Dims[dim]) == 0 {
					c.ask(askFor(s, dim))
				}
			}
		}
		return "whether a ring can join them is not known: its holes may run into one another"
	}
	for _, s := range []Side{m.A, m.B} {
		if _, _, ok := holeOf(c, s); !ok {
			c.ask(askFor(s, "hole"))
			return "whether a ring can join them is not known: nobody measured the holes of " + label(s)
		}
	}
	for _, over := range []Side{m.A, m.B} {
		spigot, ok := c.peekLength(over, "spigot")
		for _, s := range []Side{m.A, m.B} {
			_, hole, _ := holeOf(c, s)
			_, at, _ := patternSize(c, s)
			if edge := (at - spigot.nominal) / 2; ok && edge < leastToBore*hole-eps {
				return "no ring joins them: over the " + mm(spigot.nominal) + " spigot the holes on " + mm(at) +
					" would lie " + tenth(edge) + " from its bore, and " + tenth(leastToBore*hole) + " is the least"
			}
		}
	}
	return ""
}

// metalFields says how much metal a shop must leave in what joins two patterns,
// in steel and in aluminium: from hole to hole and from hole to edge. Nothing
// when a hole was not measured. Source: trade.EdgeNeeded.
func metalFields(c *check, a, b Side) []Field {
	boltA, holeA, okA := holeOf(c, a)
	boltB, holeB, okB := holeOf(c, b)
	if !okA || !okB {
		return nil
	}
	if holeB > holeA {
		boltA, holeA = boltB, holeB
	}
	var between, edge []string
	for _, material := range []string{"steel", "aluminium"} {
		n, err := trade.EdgeNeeded(boltA, holeA, material)
		if err != nil {
			return nil
		}
		between = append(between, fmt.Sprintf("%s in %s", tenthUp(n.EnoughPitch), material))
		edge = append(edge, fmt.Sprintf("%s in %s", tenthUp(n.Enough), material))
	}
	return []Field{{"material", "steel or aluminium of a known grade: the shop says which, and how thick"},
		{"hole to hole, at least", strings.Join(between, ", ")}, {"hole's centre to edge, at least", strings.Join(edge,
			", ")}}
}

// holesClash says that the holes of two pairs leave too little metal between them
// while the caliper stays in line with its lugs, and how far it must be carried
// round its disc instead: a need of the order. Source: geometry; EN 1993-1-8
// table 3.3 for the least distance.
func holesClash(c *check, leg, caliper Side, by float64) []Field {
	at, hole, ok := bracketHoles(c, leg, caliper, by)
	if !ok || at >= leastHoles*hole-eps {
		return nil
	}
	return []Field{{"not in line with the lugs", "the holes would lie " + tenth(at) + " from centre to centre, too " +
		"close: carry the caliper at least " +
		tenthUp(aroundDisc(c, leg, caliper, by, leastHoles*hole)) + " round the disc, where there is room for it"}}
}

// holesOverlap says why no bracket that keeps a caliper in line with its lugs can
// be made: its holes would run into one another. Empty when one can, or when too
// little is known. Source: geometry.
func holesOverlap(c *check, leg, caliper Side, by float64) string {
	at, hole, ok := bracketHoles(c, leg, caliper, by)
	_, holeA, okA := holeOf(c, leg)
	_, holeB, okB := holeOf(c, caliper)
	if !ok || !okA || !okB || at >= (holeA+holeB)/2-eps {
		return ""
	}
	return "no bracket in line with the lugs joins them: its holes would run into one another, " +
		tenth(at) + " from centre to centre where they take up " +
		tenth((holeA+holeB)/2) + "; one that carries the caliper at least " +
		tenthUp(aroundDisc(c, leg, caliper, by, leastHoles*hole)) + " round the disc is for a brake specialist to draw"
}

// leastHoles is how far two holes lie apart at least, in diameters of the hole.
// Source: EN 1993-1-8 table 3.3.
const leastHoles = 2.2

// bracketHoles is how far the nearest holes of a bracket lie apart that carries a
// caliper by as much further out, and the larger of the two holes, in mm.
func bracketHoles(c *check, leg, caliper Side, by float64) (at, hole float64, ok bool) {
	by = inPlane(c, leg, by)
	at, ok = holesApart(c, leg, caliper, by)
	_, holeA, okA := holeOf(c, leg)
	_, holeB, okB := holeOf(c, caliper)
	return at, max(holeA, holeB), ok && okA && okB
}

// inPlane is how far a bracket that carries a caliper further from the axle carries
// it in the plane of its holes: not at all where the bolts point to the axle.
func inPlane(c *check, leg Side, by float64) float64 {
	if style, ok := c.peek(leg, "style", measure.Word); ok && strings.EqualFold(style.Text, "radial") {
		return 0
	}
	return by
}

// aroundDisc is how far a caliper must at least be carried round its disc for all
// of its holes to lie need mm from those of the leg. Over that little of its round
// the disc counts as straight. Source: geometry.
func aroundDisc(c *check, leg, caliper Side, by, need float64) float64 {
	_, a, _ := patternSize(c, leg)
	_, b, _ := patternSize(c, caliper)
	by = inPlane(c, leg, by)
	const step = 0.1
	for s := 0.0; ; s += step {
		least := math.Inf(1)
		for _, x := range []float64{-a / 2, a / 2} {
			for _, y := range []float64{s - b/2, s + b/2} {
				least = min(least, math.Hypot(x-y, by))
			}
		}
		if least >= need-eps {
			return s
		}
	}
}

// tenthUp is a length in mm, up to the next tenth.
func tenthUp(v float64) string { return tenth(math.Ceil(v*10-1e-6) / 10) }
