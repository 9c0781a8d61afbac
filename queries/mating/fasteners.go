package mating

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// fastenersInHoles judges what goes through the holes of two patterns. It makes
// no check while nobody has said anything about hole, thread or bolt on either
// side: the pattern alone is then all there is to compare. When a bracket is to
// go between the two, nothing need be done to their holes.
func fastenersInHoles(b *bench, m Meeting, between bool) {
	if len(m.Bolts) == 0 && fastenerDims(m.A)+fastenerDims(m.B) == 0 {
		return
	}
	c := b.check("bolts in holes")
	if between {
		m.Uncut = nil // nobody alters them
	}
	threadA, okA := c.peek(m.A, "thread", measure.Thread)
	threadB, okB := c.peek(m.B, "thread", measure.Thread)
	switch {
	case okA && okB:
		boltsInto(c, m, m.A, threadA.Thread)
		boltsInto(c, m, m.B, threadB.Thread)
		oneThreadOut(c, m)
	case okA:
		boltsThrough(c, m, m.A, threadA.Thread, m.B)
	case okB:
		boltsThrough(c, m, m.B, threadB.Thread, m.A)
	default:
		boltsAndNuts(c, m)
	}
	if between {
		c.said = slices.DeleteFunc(c.said, func(s saying) bool { return s.verdict == graph.FitsWithChanges })
		c.Do, c.Orders, c.Effort = nil, nil, graph.EffortNone
		c.fits("what goes between the two takes bolts to suit each")
	}
}

func fastenerDims(s Side) int { return len(s.Feature.Dims["hole"]) + len(s.Feature.Dims["thread"]) }

// boltsThrough judges bolts that go through clear holes into tapped ones.
func boltsThrough(c *check, m Meeting, tapped Side, thread measure.ThreadSize, clear Side) {
	boltsInto(c, m, tapped, thread)
	if hole, ok := c.length(clear, "hole"); ok {
		holeForBolt(c, m, clear, hole, thread.Nominal)
	}
}

func boltsInto(c *check, m Meeting, tapped Side, thread measure.ThreadSize) {
	for _, bolt := range m.Bolts {
		if t, ok := c.thread(bolt, "thread"); ok {
			meetThreads(c, bolt, t, tapped, thread)
		}
	}
}

// boltsAndNuts judges two clear sides held by bolts that go through both.
func boltsAndNuts(c *check, m Meeting) {
	holeA, okA := c.length(m.A, "hole")
	holeB, okB := c.length(m.B, "hole")
	d, known := boltDiameter(c, m)
	if !known && len(m.Bolts) > 0 {
		c.ask(askFor(m.Bolts[0], "thread"))
	}
	switch {
	case !okA || !okB:
	case known:
		holeForBolt(c, m, m.A, holeA, d)
		holeForBolt(c, m, m.B, holeB, d)
	case math.Abs(holeA.nominal-holeB.nominal) <= holesMatch(min(holeA.nominal, holeB.nominal))+eps:
		c.fits("%s and %s holes, one bolt goes through both", mm(holeA.nominal), mm(holeB.nominal))
	default:
		wider := m.A
		if holeB.nominal > holeA.nominal {
			wider = m.B
		}
		narrow, wide := min(holeA.nominal, holeB.nominal), max(holeA.nominal, holeB.nominal)
		if isUncut(m, wider) {
			c.no("%s and %s holes: a bolt that fills one is loose in the other; %s", mm(holeA.nominal), mm(holeB.nominal),
				uncutWords(wider))
			return
		}
		c.change(graph.EffortLatheWeld, "bush the wider holes down to "+mm(narrow),
			"%s and %s holes: a bolt that fills one is loose in the other", mm(holeA.nominal), mm(holeB.nominal))
		bushes(c, wider, "hole", narrow, wide, throughLength)
	}
}

// oneThreadOut judges two tapped sides: a bolt goes through one into the other.
func oneThreadOut(c *check, m Meeting) {
	if isUncut(m, m.A) && isUncut(m, m.B) {
		c.no("both sides are tapped; %s", uncutWords(m.A))
		return
	}
	side := "one side"
	if isUncut(m, m.A) {
		side = label(m.B)
	} else if isUncut(m, m.B) {
		side = label(m.A)
	}
	c.change(graph.EffortDrillShim, "drill the thread out of "+side, "both sides are tapped")
}

// isUncut reports whether a side's holes are left as they are.
func isUncut(m Meeting, s Side) bool { return slices.Contains(m.Uncut, s.Position) }

// uncutWords says why a hole is neither opened, nor bushed, nor bored, and who
// could say otherwise. Common practice: what carries a brake, the steering or a
// wheel is not altered on somebody's own account.
func uncutWords(s Side) string {
	return "the holes of " + label(s) + " carry brake, steering or wheel and are not altered: only its maker or a " +
		"licensed workshop can say otherwise"
}

// unturnedWords says why nothing is taken off a face that carries a brake or a wheel: what
// is left of its threads and feet, and the bolts in them, are as short as the maker found
// enough. Common practice, no source.
func unturnedWords(face string) string {
	return "nothing is machined off " + face + ": only its maker or a licensed workshop can say what it can spare"
}

// throughLength is how long a bush for a hole is ordered.
var throughLength = Field{"length", "as thick as the part is there: measure it"}

// holeMatch is how far two clear holes for one bolt may differ, in mm: the step
// between the medium and the coarse series of ISO 273 for M6 to M10 is 0.4 to
// 1 mm.
const holeMatch = 1.0

// holesMatch is how far two clear holes may differ of which the narrower has d mm: for
// thin ones, as of spokes, no more than the fine and the coarse series of ISO 273 do.
func holesMatch(d float64) float64 { return min(holeMatch, coarsePlay(d)-finePlay(d)) }

// holeForBolt judges one clear hole against the bolt's diameter.
func holeForBolt(c *check, m Meeting, s Side, hole span, d float64) {
	widest := d + coarsePlay(d)
	switch hole.against(d, widest) {
	case inside:
		c.fits("%s bolt through a %s hole", mm(d), mm(hole.nominal))
	case below:
		c.sizes("", "", "")
		c.Gap = mm(d - hole.nominal)
		if isUncut(m, s) {
			c.no("a %s bolt does not go through a %s hole; %s", mm(d), mm(hole.nominal), uncutWords(s))
			return
		}
		c.change(graph.EffortDrillShim, "open the holes of "+label(s)+" from "+mm(hole.nominal)+" to "+mm(d+finePlay(d)),
			"a %s bolt does not go through a %s hole", mm(d), mm(hole.nominal))
	case above:
		if isUncut(m, s) {
			c.no("a %s bolt is loose in a %s hole; %s", mm(d), mm(hole.nominal), uncutWords(s))
			return
		}
		c.change(graph.EffortLatheWeld, "bush the holes of "+label(s)+" down to "+mm(d),
			"a %s bolt is loose in a %s hole", mm(d), mm(hole.nominal))
		bushes(c, s, "hole", d, hole.nominal, throughLength)
	default:
		c.settle(askFor(s, "hole"))
		c.unknown("at the limit of its tolerance the hole may not suit a %s bolt", mm(d))
	}
}

// coarsePlay is the clearance of the coarse series of ISO 273 for a bolt of d
// mm; M5 to M10 as an open parts library reprints it, M12 up from memory.
func coarsePlay(d float64) float64 {
	switch {
	case d <= 5:
		return 0.8
	case d < 8:
		return 1
	case d < 12:
		return 2
	}
	return 2.5
}

// finePlay is the clearance of the fine series of ISO 273; the same sources.
func finePlay(d float64) float64 {
	switch {
	case d <= 5:
		return 0.3
	case d <= 8:
		return 0.4
	case d <= 10:
		return 0.5
	}
	return 1
}

// What spigot and recess may differ and still locate, in mm. Common practice, no source:
// spigotPlay is how loose they may be; spigotTight how much the spigot may be read thicker than
// the hole that goes over it, since a locating fit has no overlap (ISO 286, H7 over h6 or g6),
// and with more than spigotDoubt the one is drawn over the other by its bolts, and sits aslant.
const spigotPlay, spigotTight, spigotDoubt = 0.1, 0.02, 0.05

// spigot judges the locating diameter. When neither side mentions one there is
// none; when one does, the other must be measured.
func spigot(b *bench, m Meeting) {
	if len(m.A.Feature.Dims["spigot"])+len(m.B.Feature.Dims["spigot"]) == 0 {
		return
	}
	c := b.check("spigot")
	a, okA := c.length(m.A, "spigot")
	other, okB := c.length(m.B, "spigot")
	if !okA || !okB {
		return
	}
	diff := a.minus(other)
	c.sizes(mm(a.nominal), mm(other.nominal), mm(math.Abs(diff.nominal)))
	if !counterparts(c, m) {
		return
	}
	switch where := diff.against(-spigotPlay, spigotPlay); {
	case where == inside && tightSpigot(c, m, a.nominal, other.nominal): // it is said
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		c.fits("located on %s", mm(a.nominal))
	case where == astride:
		c.settle(askFor(m.A, "spigot"))
		c.settle(askFor(m.B, "spigot"))
		c.unknown("at the limits of their tolerances spigot and recess may not locate")
	default:
		offSpigot(c, m, a.nominal, other.nominal)
	}
}

// tightSpigot says of two locating diameters that are near each other whether the spigot is
// thicker than the hole that goes over it, or may be, as far as it was read; false where it is
// not. Where nobody knows which of them is the spigot it may be either.
func tightSpigot(c *check, m Meeting, a, b float64) bool {
	spigot, _, known := raised(c, m)
	over := a - b
	switch {
	case !known:
		over = math.Abs(over)
	case spigot.Position != m.A.Position || spigot.Feature.Name != m.A.Feature.Name:
		over = -over
	}
	switch {
	case over <= spigotTight+eps:
		return false
	case known && over > spigotDoubt+eps:
		offSpigot(c, m, a, b)
	default:
		c.settle(askFor(m.A, "spigot"), askFor(m.B, "spigot"))
		c.unknown("%s over %s by nominal sizes: the hole must not be smaller than the spigot; measure both to 0.01 mm",
			c.mm(min(a, b)), c.mm(max(a, b)))
	}
	return true
}

// offSpigot judges two locating diameters that differ: what is raised must go
// into the other. A hole that is too small goes over no spigot; one that is too
// large wants a ring, where there is room for its wall.
func offSpigot(c *check, m Meeting, a, b float64) {
	spigot, hole, known := raised(c, m)
	if !known {
		c.settle(askFor(m.A, "locates"), askFor(m.B, "locates"))
		c.unknown("locating diameters %s and %s: which of them is the spigot decides", mm(a), mm(b))
		return
	}
	over, into := a, b
	if hole.Position == m.A.Position && hole.Feature.Name == m.A.Feature.Name {
		over, into = b, a
	}
	switch {
	case into < over && isUncut(m, hole):
		c.no("the %s hole in the middle does not go over the %s spigot of %s; %s", mm(into), mm(over), label(spigot),
			uncutWords(hole))
	case into < over:
		c.change(graph.EffortLatheWeld, "bore "+label(hole)+" out to "+mm(over), "the %s hole in the middle does not go "+
			"over the %s spigot", mm(into), mm(over))
	case (into-over)/2 < leastWall-eps:
		c.no("the %s hole in the middle is loose on the %s spigot, and %s of wall is too little for a ring", mm(into),
			mm(over), mm((into-over)/2))
	default:
		c.change(graph.EffortLatheWeld, "turn a locating ring", "the %s hole in the middle is loose on the %s spigot",
			mm(into), mm(over))
		spec := append([]Field{{"inside", mm(over)}, {"outside", mm(into)}, {"length", "as high as the spigot: measure it"}},
			append(boreOver(sitsOn, over, 0), outsideFor(into)...)...)
		o := c.order("ring", "locating ring "+mm(over)+" inside, "+mm(into)+" outside",
			append(spec, sleeveFields(over, into)...)...)
		makes(o, hole, "spigot", mm(over))
	}
}

// raised tells the spigot from the hole that goes over it: as somebody said, else
// by what the parts are.
func raised(c *check, m Meeting) (spigot, hole Side, ok bool) {
	a, okA := c.peek(m.A, "locates", measure.Word)
	b, okB := c.peek(m.B, "locates", measure.Word)
	switch {
	case okA && a.Text == "raised", okB && b.Text == "recess", !okA && !okB && m.Over != "" && m.Over == m.B.Position:
		return m.A, m.B, true
	case okB && b.Text == "raised", okA && a.Text == "recess", !okA && !okB && m.Over != "" && m.Over == m.A.Position:
		return m.B, m.A, true
	}
	return m.A, m.B, false
}

// counterparts judges that of two locating diameters one is raised and the other
// a recess, as soon as somebody said it of one of them: two raised ones hold the
// faces apart, two recesses locate nothing.
func counterparts(c *check, m Meeting) bool {
	if !either(m, "locates") {
		return true
	}
	a, okA := c.word(m.A, "locates")
	b, okB := c.word(m.B, "locates")
	switch {
	case !okA || !okB || a != b:
		return true
	case a == "raised":
		c.no("a raised spigot on both: they hold the faces apart")
	default:
		c.no("a recess in both: nothing locates the one on the other")
	}
	return false
}
