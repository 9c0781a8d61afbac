package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// patternOnPattern is rule 3 for holes that bolt to holes: count, centres, what
// goes through them, and what locates the part.
func patternOnPattern(b *bench, m Meeting) {
	c := b.check("bolt pattern")
	patternMeets(c, m)
	fastenersInHoles(b, m, len(c.Orders) > 0)
	boltClasses(b, m)
	if len(c.Orders) == 0 { // else what goes between takes bolts of its own
		boltReach(b, m)
	}
	spigot(b, m)
}

// enoughBolts tells when two sides that meet have more holes than there are
// bolts: a disc of six holes in the place of one of five. Bolts left over are no
// fault.
func enoughBolts(c *check, holes, bolts int) {
	if bolts > 0 && bolts < holes {
		c.change(graph.EffortHandTools, fmt.Sprintf("fit %d bolts instead of %d", holes, bolts), "%d holes take %d bolts, "+
			"and there are %d", holes, holes, bolts)
	}
}

func patternMeets(c *check, m Meeting) {
	countA, okA := c.count(m.A, "count")
	countB, okB := c.count(m.B, "count")
	var spacingA, spacingB span
	var okSpacingA, okSpacingB bool
	if alone := okA && okB && countA == 1 && countB == 1; !alone {
		spacingA, okSpacingA = c.length(m.A, "spacing")
		spacingB, okSpacingB = c.length(m.B, "spacing")
	} else {
		c.fits("one hole on one")
	}
	if okA && okB && countA != countB {
		c.sizes(fmt.Sprintf("%d holes", countA), fmt.Sprintf("%d holes", countB), "")
		c.no("%d holes do not meet %d", countA, countB)
		adapter(c, "adapter", m)
		return
	}
	if okA && okB {
		enoughBolts(c, countA, m.BoltCount)
		fewerThanBuilt(c, m, countA)
	}
	if !okSpacingA || !okSpacingB {
		return
	}
	n := countA
	if !okA {
		n = countB
	}
	spacing{c: c, m: m, dim: "spacing", count: n}.meet(spacingA, spacingB)
	secondSpacing(c, m, n)
}

// fewerThanBuilt tells when two sides that meet have fewer holes than were built in: what
// five bolts clamped is then held by three.
func fewerThanBuilt(c *check, m Meeting, holes int) {
	was, known := asBuilt(m, m.A.Feature.Kind)
	if !known {
		return
	}
	if built, ok := c.peek(was, "count", measure.Count); ok && float64(holes) < built.Quantity.Nominal {
		c.sizes(fmt.Sprintf("%d bolts", holes), fmt.Sprintf("%g bolts", built.Quantity.Nominal), "")
		c.settle(askFor(m.A, "count"))
		c.unknown("held by %d bolts where %g held it: whether that holds, no rule says", holes, built.Quantity.Nominal)
	}
}

func secondSpacing(c *check, m Meeting, n int) {
	a, okA := c.peekLength(m.A, "spacing-2")
	b, okB := c.peekLength(m.B, "spacing-2")
	switch {
	case okA && okB:
		spacing{c: c, m: m, dim: "spacing-2", count: n}.meet(a, b)
	case okA:
		c.length(m.B, "spacing-2")
	case okB:
		c.length(m.A, "spacing-2")
	}
}

// spacing is one distance between holes, compared over two sides; count is 0
// when nobody knows how many holes there are.
type spacing struct {
	c     *check
	m     Meeting
	dim   string
	count int
	// order writes the order when the holes do not meet; nil takes adapter. It is true where
	// what would be ordered can't be told yet, and says so itself.
	order func() (open bool)
}

// Two calipers' readings of one distance may differ by twice the 0.1 mm asked
// for; no hole of the coarse series of ISO 273 up to M16 leaves a bolt more
// than 2.5 mm of play.
const (
	readingNoise = 0.2 // mm
	mostPlay     = 2.5 // mm
)

// meet compares the distance on both sides with the play the holes leave.
func (s spacing) meet(a, b span) {
	diff := a.minus(b)
	s.c.sizes(mm(a.nominal), mm(b.nominal), mm(math.Abs(diff.nominal)))
	slot := s.slots()
	play, known := s.play()
	switch {
	case same(diff.nominal, 0), diff.against(-readingNoise, readingNoise) == inside:
		s.c.Gap = ""
		s.c.fits("%s meet", s.words(a.nominal))
	case !known && diff.against(-mostPlay-slot, mostPlay+slot) != below && diff.against(-mostPlay-slot,
		mostPlay+slot) != above:
		s.askHoles()
		s.c.unknown("%s apart: the play of the bolts in their holes decides", s.c.Gap)
	case !known:
		s.differ(a, b)
	case diff.against(-play-slot, play+slot) == inside:
		s.c.fits("%s apart, but the holes leave %s of play", s.c.Gap, mm(play+slot))
	case diff.against(-play-slot, play+slot) == astride:
		s.askBoth()
		s.c.unknown("at the limits of their tolerances the holes may not meet: measure both")
	default:
		s.differ(a, b)
	}
}

func (s spacing) words(at float64) string {
	if s.count > 2 && !s.rectangle() {
		return fmt.Sprintf("%d holes on %s", s.count, mm(at))
	}
	return "holes " + mm(at) + " apart"
}

// slots is how far slotted holes let two parts move, in mm. A slot that nobody
// mentions is not there; among more than two holes it does not help, since the
// others hold.
func (s spacing) slots() float64 {
	total := 0.0
	if s.count > 2 {
		return total
	}
	for _, side := range []Side{s.m.A, s.m.B} {
		if slot, ok := s.c.peekLength(side, "slot"); ok {
			total += slot.nominal
		}
	}
	return total
}

// play is how far the bolts can shift in the clearance holes of both sides.
// Between two holes, or on a pitch circle, a clearance of x takes up a
// difference in spacing of x.
func (s spacing) play() (float64, bool) {
	d, ok := boltDiameter(s.c, s.m)
	total := 0.0
	for _, side := range []Side{s.m.A, s.m.B} {
		hole, okHole := s.c.peekLength(side, "hole")
		_, threaded := s.c.peek(side, "thread", measure.Thread)
		switch {
		case threaded: // a bolt has no play in its thread
		case okHole:
			total += max(0, hole.nominal-d)
		default:
			ok = false
		}
	}
	return min(total, mostPlay), ok
}

func (s spacing) askHoles() {
	for _, side := range []Side{s.m.A, s.m.B} {
		_, okHole := s.c.peekLength(side, "hole")
		_, threaded := s.c.peek(side, "thread", measure.Thread)
		if !okHole && !threaded {
			s.c.settle(askFor(side, "hole"))
		}
	}
	if _, ok := boltDiameter(s.c, s.m); !ok {
		s.c.settle(askFor(s.m.B, "thread"))
	}
}

func (s spacing) askBoth() {
	s.c.settle(askFor(s.m.A, s.dim))
	s.c.settle(askFor(s.m.B, s.dim))
}

// differ states that the holes do not meet and what would join them: a bracket
// between two pairs of holes. More holes than two take an adapter plate or
// ring, which is a part of its own and not a change to this one.
func (s spacing) differ(a, b span) {
	why := fmt.Sprintf("holes %s apart do not meet holes %s apart: %s out", mm(a.nominal), mm(b.nominal), s.c.Gap)
	if s.count > 2 && !s.rectangle() {
		why = fmt.Sprintf("holes on a %s circle do not meet holes on a %s circle: %s out", mm(a.nominal), mm(b.nominal),
			s.c.Gap)
	}
	switch {
	case s.count > 2:
		s.c.no("%s", why)
		adapter(s.c, "adapter", s.m)
		return
	case s.order != nil:
		if s.order() {
			return
		}
	default:
		adapter(s.c, "bracket", s.m)
	}
	if len(s.c.Orders) == 0 { // none can be made
		s.c.no("%s", why)
		return
	}
	s.c.change(graph.EffortLatheWeld, "make a bracket from one hole pattern to the other", "%s", why)
}

// rectangle reports whether the holes have two distances instead of a circle.
func (s spacing) rectangle() bool {
	return len(s.m.A.Feature.Dims["spacing-2"])+len(s.m.B.Feature.Dims["spacing-2"]) > 0
}

// boltDiameter is that of what goes through the holes, in mm: the thread cut in
// a side, else the thread of a bolt.
func boltDiameter(c *check, m Meeting) (float64, bool) {
	for _, side := range append([]Side{m.A, m.B}, m.Bolts...) {
		if t, ok := c.peek(side, "thread", measure.Thread); ok {
			return t.Thread.Nominal, true
		}
	}
	return 0, false
}

// adapter writes the order for what goes between two patterns, once for a check;
// none for what can't be made.
func adapter(c *check, kind string, m Meeting) {
	if len(c.Orders) > 0 {
		return
	}
	words := noRoomBetween(c, m)
	if words == "" && kind == "adapter" && !m.Direct {
		words = noRingBetween(c, m)
	}
	if words != "" {
		c.no("%s", words)
		return
	}
	a, b := patternWords(c, m.A), patternWords(c, m.B)
	spec := []Field{{"to suit " + label(m.A), a}, {"to suit " + label(m.B), b}}
	spec = append(append(spec, holesIn(c, m.A)...), holesIn(c, m.B)...)
	if shift, ok := shiftOf(c, m); ok {
		spec = append(spec, Field{"offset, face to face", shift})
	}
	spec = append(append(spec, metalFields(c, m.A, m.B)...), plateFinish)
	plate, thick := plateMade(c, m)
	if kind == "adapter" {
		spec = append(spec, thick...)
	}
	o := c.order(kind, fmt.Sprintf("%s between %s and %s", kind, a, b), spec...)
	o.Between = true
	o.Stands = append([]graph.Feature{patternMade(c, "a-side", m.A), patternMade(c, "b-side", m.B)}, plate...)
}

// patternMade is what an adapter has for a pattern: clear holes for a tapped one,
// tapped holes for a clear one.
func patternMade(c *check, name string, s Side) graph.Feature {
	f := feature(name, s.Feature.Kind)
	for _, dim := range []string{"style", "count", "spacing", "spacing-2", "disc", "offset"} {
		if r := s.Feature.Dims[dim]; len(r) > 0 {
			f.Dims[dim] = r[:1]
		}
	}
	if _, tapped := c.peek(s, "thread", measure.Thread); tapped {
		f.Dims["hole"] = clearFor(c, s)
	} else {
		f.Dims["thread"] = tapFor(c, s)
	}
	if r := s.Feature.Dims["spigot"]; len(r) > 0 { // an adapter locates on both sides
		f.Dims["spigot"] = r[:1]
	}
	return f
}

// plateMade is the metal of an adapter, no thicker than its threads ask for in
// steel, and the field that says so; nothing when too little is known.
func plateMade(c *check, m Meeting) ([]graph.Feature, []Field) {
	need, most, largest := 0.0, 0.0, 0.0
	for _, s := range []Side{m.A, m.B} {
		bolt, hole, ok := holeOf(c, s)
		if !ok {
			return nil, nil
		}
		if _, tapped := c.peek(s, "thread", measure.Thread); !tapped {
			need = max(need, bolt)
		}
		if hole > most {
			most, largest = hole, bolt
		}
	}
	at, ok := holesApart(c, m.A, m.B, 0)
	n, err := trade.EdgeNeeded(largest, most, "steel")
	claims, errEngaged := trade.Engagement("steel", "", need)
	if !ok || err != nil || errEngaged != nil || need == 0 {
		return nil, nil
	}
	thick := claims[0].Diameters * need
	return []graph.Feature{feature("metal", "plate", "thickness", mm(thick), "material", "steel", "edge",
			tenthUp(n.Enough), "between", mm(at))},
		[]Field{{"thickness, at least", tenthUp(thick) + " in steel, for its threads; what it carries then sits as much " +
			"further out"}}
}

// overSpigot is the bore of what goes between two patterns of which one locates
// on a spigot; nothing when nobody mentions one.
func overSpigot(c *check, s Side) []Field {
	if spigot, ok := c.peekLength(s, "spigot"); ok {
		return []Field{{"bore", "over the " + mm(spigot.nominal) + " spigot"}}
	}
	return nil
}

func shiftOf(c *check, m Meeting) (string, bool) {
	a, okA := c.peekLength(m.A, "offset")
	b, okB := c.peekLength(m.B, "offset")
	return mm(b.nominal - a.nominal), okA && okB
}

// packingWords is what a ring that lies under a part must suit: the holes of the pattern it
// lies on, clear for the bolts that pass it. Tapped, it would be held by its own threads,
// and the part on it clamped by nothing.
func packingWords(c *check, s Side) string {
	words := holesWords(c, s)
	t, tapped := c.peek(s, "thread", measure.Thread)
	switch hole, ok := c.peekLength(s, "hole"); {
	case tapped:
		return words + ", " + boltHole(t.Thread.Nominal) + " clear for " + t.Thread.String() + ", not tapped"
	case ok:
		return words + ", " + mm(hole.nominal) + " clear"
	}
	return words
}

// patternWords is a pattern as one would order it: "2 holes 96 mm apart, 8.5 mm".
func patternWords(c *check, s Side) string {
	text := holesWords(c, s)
	if t, ok := c.peek(s, "thread", measure.Thread); ok {
		return text + ", tapped " + t.Thread.String()
	}
	if hole, ok := c.peekLength(s, "hole"); ok {
		text += ", " + mm(hole.nominal) + " clear"
	}
	return text
}

// holesWords are the holes of a pattern: how many, and where.
func holesWords(c *check, s Side) string {
	count, okCount := c.peek(s, "count", measure.Count)
	at, okAt := c.peekLength(s, "spacing")
	text := "2 holes"
	if okCount {
		text = measure.Format(count.Quantity.Nominal, measure.Count) + " holes"
	}
	switch {
	case okAt && count.Quantity.Nominal > 2 && len(s.Feature.Dims["spacing-2"]) == 0:
		text += " on a " + mm(at.nominal) + " circle"
	case okAt:
		text += " " + mm(at.nominal) + " apart"
	}
	if second, ok := c.peekLength(s, "spacing-2"); ok {
		text += " and " + mm(second.nominal)
	}
	return text
}
