package mating

import (
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// Layer is one thing that a bolt passes on its way to its thread.
type Layer struct {
	Side
	// Dim is the dimension that says how thick it is; empty takes that of its
	// kind: a washer's or a plate's thickness, an eye's or a row member's width,
	// one cheek of a clevis, the metal of a pattern or lug.
	Dim string
	// Beyond is true for what lies on top of the thickness measured at the thread
	// (its grip): the joint's own washers.
	Beyond bool
}

// BoltCase is a bolt, stud or axle with all that it passes: head, layers,
// thread. The engine hands in one for every bolt of a joint whose thread is
// described, with what the joint holds.
type BoltCase struct {
	Joint graph.JointID
	Bolt  Side // of kind male-thread; an axle's own thread for an axle
	// Through is what lies between head and thread, from the head on: both legs,
	// spacers and hub for an axle, washers, brackets and shims too. A layer that
	// nobody described keeps its position with an empty feature: it is asked for.
	Through []Layer
	// Into is the nut or tapped hole (female-thread), or a pattern or lug with a
	// thread (bolt-pattern, caliper-mount).
	Into Side
	// Root is the hole that the other end of a stud sits in (female-thread), whose grip
	// is how far it stands out there; zero for a bolt.
	Root Side
	// Sheared is true where what it holds pulls across it: a pivot, a lug, a
	// stay. An eye among the layers says so by itself.
	Sheared bool
	// Built is the same joint as the machine left its works, with as many layers
	// in the same order, a zero one for what was not there; nil when not known.
	Built *BoltCase
	// AsBuilt is true for the joint as the machine left its works: nothing in it is out
	// of the usual.
	AsBuilt bool
	// New and Uncut as in Meeting.
	New    graph.PositionID
	Uncut  []graph.PositionID
	Safety graph.Safety
	// Brief as in Meeting.
	Brief bool
}

// JudgeBolt judges a bolt against all that it passes. It gives the checks
// "thread", "thread engagement" (length, bottoming, a thread out of the nut),
// "bolt through" (it goes through every hole and knocks in none), "bolt class"
// when a class is listed or a nut carries it, "under the head", and "shank in shear" where it is
// sheared. What could not be judged of the joint as built for want of sizes is
// left out of the last and of "bolt through".
func JudgeBolt(in BoltCase) []Check {
	return judge(in.New != "" && in.New == in.Into.Position, func(b *bench) {
		b.brief = in.Brief
		c := b.check("thread")
		male, okMale := c.thread(in.Bolt, "thread")
		female, okFemale := c.thread(in.Into, "thread")
		if okMale && okFemale && !meetThreads(c, in.Bolt, male, in.Into, female) {
			return
		}
		in.engagement(b, male, female, okMale && okFemale)
		in.class(b)
		in.underHead(b)
		if in.knownAsBuilt(b, BoltCase.through) {
			in.through(b)
		}
		if in.knownAsBuilt(b, BoltCase.shear) {
			in.shear(b)
		}
	})
}

// BoltsOfBetween is the "thread engagement" of a bolt whose two sides are joined by
// something between them: that takes bolts of its own, made to its thickness and to
// what they pass.
func BoltsOfBetween(in BoltCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("thread engagement")
		for _, l := range in.Through {
			l.peekThick(c)
		}
		c.Taken = true
		c.fits("what goes between the two takes bolts of its own, made to its thickness")
	})
}

// knownAsBuilt reports whether something can be judged of the joint as built,
// which is taken for known where nobody says how that was.
func (in BoltCase) knownAsBuilt(b *bench, judge func(BoltCase, *bench)) bool {
	if !in.knowsBolt() {
		return true
	}
	aside := b.aside()
	aside.quiet = true
	judge(*in.Built, aside)
	for _, c := range aside.checks {
		if c.closed().Verdict == graph.Unknown {
			return false
		}
	}
	return true
}

// knowsBolt reports whether somebody recorded the bolt that the joint was built with.
func (in BoltCase) knowsBolt() bool { return in.Built != nil && len(in.Built.Bolt.Feature.Dims) > 0 }

func (in BoltCase) engagement(b *bench, male, female measure.ThreadSize, threaded bool) {
	c := b.check("thread engagement")
	t := threading{bolt: in.Bolt, into: in.Into, between: in.clamped, isBuilt: in.AsBuilt, stud: !in.Root.IsZero(),
		plain: in.plainRoom}
	if in.Built != nil {
		t.oldBolt, t.oldInto = in.Built.Bolt, in.Built.Into
		aside := b.aside().check("thread engagement")
		length, okLength := aside.peekLength(in.Built.Bolt, "length")
		built := *in.Built
		built.Built = in.Built // held against itself, its grip is what it clamps
		clamped, okClamped := built.clamped(aside)
		t.was, t.built = length.minus(clamped), okLength && okClamped
	}
	t.judge(c, male, female, threaded)
}

func (in BoltCase) class(b *bench) {
	m := Meeting{A: in.Bolt, B: in.Into}
	if in.Built != nil {
		m.Built = &Meeting{A: in.Built.Bolt, B: in.Built.Into}
		m.WasBuilt = []Side{in.Built.Bolt, in.Built.Into}
	}
	boltClass(b, m)
}

// clamped is how thick all is that the bolt passes: the thickness measured at its
// thread with what became thicker since, else all layers together.
func (in BoltCase) clamped(c *check) (span, bool) {
	total, ok := in.layered(c)
	if in.Root.IsZero() {
		return total.plus(in.washerWanted(c)), ok
	}
	buried, known := in.buried(c)
	return total.plus(buried), ok && known
}

// buried is how much of a stud sits in its hole: all of the one built in but what stood
// out of it; another one goes in as far.
func (in BoltCase) buried(c *check) (span, bool) {
	stud := in.Bolt
	if in.knowsBolt() {
		stud = in.Built.Bolt
	}
	length, okLength := c.length(stud, "length")
	out, okOut := c.length(in.Root, "grip")
	if !okLength || !okOut {
		return span{}, false
	}
	buried := length.minus(out)
	// more than its hole has thread for: what was measured is what lies between hole and nut
	if depth, ok := c.peekLength(in.Root, "depth"); ok && buried.nominal > depth.nominal+lengthRead {
		return depth, true
	}
	return buried, true
}

// plainRoom is how long the plain shank of a stud may be: as thick as what its nut clamps, and as much more as
// that of the one built in was, which may stand in a counterbore or begin below the face.
func (in BoltCase) plainRoom(c *check) (span, bool) {
	total, ok := in.layered(c)
	if !ok || in.Built == nil {
		return total, ok
	}
	aside := c.bench.aside().check(c.Rule)
	built := *in.Built
	built.Built = in.Built
	before, okBefore := built.layered(aside)
	shank, okShank := aside.peekLength(in.Built.Bolt, "grip")
	if more := shank.minus(before); okBefore && okShank && more.nominal > 0 {
		total = total.plus(more)
	}
	return total, ok
}

// layered is how thick what a bolt passes is, without what of a stud is buried.
func (in BoltCase) layered(c *check) (span, bool) {
	if total, ok := in.byGrip(c); ok {
		return total, true
	}
	var total span
	all := true
	for _, l := range in.Through {
		if l.IsZero() {
			continue
		}
		thick, ok := l.thick(c)
		total, all = total.plus(thick), all && ok
	}
	return total, all
}

// byGrip is what is clamped by the thickness measured at the thread. That was
// measured with the parts as built: of others it must be known how much thicker
// they are, and in another part with a thread it counts as long as the layers do
// not tell more.
func (in BoltCase) byGrip(c *check) (span, bool) {
	if in.Built == nil || len(in.Built.Through) != len(in.Through) {
		return span{}, false
	}
	total, ok := c.peekLength(in.Into, "grip")
	if !ok || !in.Into.isSame(in.Built.Into) && in.allThick(c) {
		return span{}, false
	}
	for i, l := range in.Through {
		was := in.Built.Through[i]
		switch {
		case l.IsZero() || !l.Beyond && l.isSame(was.Side) && !was.IsZero():
			continue
		case l.Beyond || was.IsZero():
			thick, okThick := l.thick(c)
			total, ok = total.plus(thick), ok && okThick
			continue
		case !in.Into.isSame(in.Built.Into):
			continue
		}
		now, okNow := l.peekThick(c)
		before, okBefore := was.peekThick(c)
		if !okNow || !okBefore {
			return span{}, false
		}
		total = total.plus(now).minus(before)
	}
	return total, ok
}

func (in BoltCase) allThick(c *check) bool {
	for _, l := range in.Through {
		if _, ok := l.peekThick(c); !ok && !l.IsZero() {
			return false
		}
	}
	return true
}

// thickDims say how thick a layer is, by its kind.
var thickDims = map[string]string{"washer": "thickness", "plate": "thickness", "eye": "width", "clevis": "cheek",
	"row-width": "width", "bolt-pattern": "thickness", "caliper-mount": "thickness", "banjo": "thickness",
	"sleeve": "length"}

func (l Layer) dim() string {
	if l.Dim != "" {
		return l.Dim
	}
	return thickDims[l.Feature.Kind]
}

func (l Layer) peekThick(c *check) (span, bool) {
	if l.dim() == "" {
		return span{}, false
	}
	return c.peekLength(l.Side, l.dim())
}

func (l Layer) thick(c *check) (span, bool) {
	dim := l.dim()
	if dim == "" {
		c.ask(Ask{Position: l.Position, Part: l.Part, Dim: "thickness", What: "thickness the bolt passes",
			Where: label(l.Side),
			Gauge: "vernier caliper", Accuracy: "0.1 mm"})
		return span{}, false
	}
	return c.length(l.Side, dim)
}

// boltHoles say how wide a layer's hole is, by its kind, and whether a bolt must
// fill it. The holes of patterns and lugs are judged where those meet.
var boltHoles = map[string]struct {
	dim  string
	snug bool
}{"washer": {"inside", false}, "eye": {"bore", true}, "clevis": {"bolt", true}, "banjo": {"eye", false},
	"sleeve": {"inside", true}}

// shank is what goes through the holes, in mm: the plain shank is as thick as
// the thread where nobody measured it (ISO 4014), and the thread must pass too.
type shank struct {
	bolt       Side
	fills      span // what lies in the hole once it is in
	thickest   span // what must pass
	isMeasured bool
}

func shankOf(c *check, bolt Side, thread measure.ThreadSize) shank {
	s := shank{bolt: bolt, fills: exact(thread.Nominal), thickest: exact(thread.Nominal)}
	if d, ok := c.peekLength(bolt, "shank"); ok {
		s.fills, s.isMeasured = d, true
		s.thickest = span{max(d.nominal, thread.Nominal), max(d.low, thread.Nominal), max(d.high, thread.Nominal)}
	}
	return s
}

// through judges the bolt in the hole of every layer that has one.
func (in BoltCase) through(b *bench) {
	holes := slices.DeleteFunc(slices.Clone(in.Through), func(l Layer) bool {
		_, known := boltHoles[l.Feature.Kind]
		return !known
	})
	if len(holes) == 0 {
		return
	}
	c := b.check("bolt through")
	thread, ok := c.thread(in.Bolt, "thread")
	if !ok {
		return
	}
	d := shankOf(c, in.Bolt, thread)
	for _, l := range holes {
		hole := boltHoles[l.Feature.Kind]
		play := coarsePlay(thread.Nominal)
		if hole.snug {
			play = pinPlay
		}
		if bore, ok := c.length(l.Side, hole.dim); ok {
			d.in(c, Meeting{Uncut: in.Uncut}, l.Side, hole.dim, bore, play)
		}
	}
}

// in judges one plain shank in one hole.
func (k shank) in(c *check, m Meeting, s Side, dim string, bore span, most float64) {
	d, play := mm(k.fills.nominal), bore.minus(k.fills)
	enters := bore.minus(k.thickest)
	switch where := play.against(0, most); {
	case enters.against(0, noLimit) == below && !same(enters.nominal, 0):
		c.Gap = mm(-enters.nominal)
		c.no("a %s bolt does not enter the %s hole of %s", mm(k.thickest.nominal), mm(bore.nominal), label(s))
	case where == inside || same(play.nominal, 0):
		c.fits("%s through the %s hole of %s", d, mm(bore.nominal), label(s))
	case where == astride:
		c.settle(askFor(k.bolt, "shank"), askFor(s, dim))
		c.unknown("at the limits of their tolerances a %s bolt may not enter the %s hole of %s, or knock in it", d,
			mm(bore.nominal), label(s))
	case !k.isMeasured:
		c.ask(askFor(k.bolt, "shank"))
		c.unknown("a plain shank as thick as its thread, %s, is loose in the %s hole of %s", d, mm(bore.nominal), label(s))
	case play.nominal/2 < leastWall-eps:
		c.Gap = mm(play.nominal)
		c.no("a %s bolt knocks in the %s hole of %s, with too little room for a bush", d, mm(bore.nominal), label(s))
	case isUncut(m, s):
		c.Gap = mm(play.nominal)
		c.no("a %s bolt is loose in the %s hole of %s; %s", d, mm(bore.nominal), label(s), uncutWords(s))
	default:
		c.Gap = mm(play.nominal)
		c.change(graph.EffortLatheWeld, "bush "+label(s)+" down to "+d, "a %s bolt is loose in the %s hole of %s", d,
			mm(bore.nominal), label(s))
		bushes(c, s, dim, k.fills.nominal, bore.nominal, throughLength)
	}
}

// shear judges whether the thread lies where two layers slide on each other, or
// in an eye that turns on it: there the plain shank must be. What a standard
// bolt has of thread (ISO 4014) tells when that is not so by itself.
func (in BoltCase) shear(b *bench) {
	plane, cut := in.lastPlane()
	if !cut {
		return
	}
	c := b.check("shank in shear")
	at, ok := BoltCase{Through: in.Through[:plane]}.clamped(c)
	grip, okGrip := c.peekLength(in.Bolt, "grip")
	if !ok {
		return
	}
	if !okGrip {
		c.ask(askFor(in.Bolt, "grip"))
		return
	}
	c.sizes(mm(grip.nominal)+" plain", "at least "+mm(at.nominal), mm(math.Max(0, at.nominal-grip.nominal)))
	switch where := grip.minus(at).against(-threadRunOut, noLimit); {
	case where == inside || same(grip.nominal, at.nominal):
		c.Gap = ""
		c.fits("the plain shank, %s, reaches past the last joint at %s", mm(grip.nominal), mm(at.nominal))
	case where == astride:
		c.settle(askFor(in.Bolt, "grip"))
		c.unknown("at the limits of the sizes the thread may lie in the joint")
	default:
		c.change(graph.EffortHandTools, "take a bolt with a plain shank of at least "+mm(at.nominal),
			"the thread starts %s before the last joint: it is weaker there, and wears what turns on it", c.Gap)
	}
}

// threadRunOut is how far a plain shank may end before the joint, in mm: it is
// read to 0.5 mm. Common practice, no source.
const threadRunOut = 0.5

// lastPlane is how many layers lie before the last joint that is sheared; false
// when none is.
func (in BoltCase) lastPlane() (int, bool) {
	sheared, solid := in.Sheared, []int{}
	for i, l := range in.Through {
		switch l.Feature.Kind {
		case "washer":
			continue
		case "eye":
			sheared = true
		}
		solid = append(solid, i)
	}
	if !sheared || len(solid) < 2 {
		return 0, false
	}
	return solid[len(solid)-1], true
}

// boltInEye, boltInClevis and boltInBore judge a bolt's shank in one thing it
// passes: the pivot of a lever, an eye, a fork.
func boltInEye(b *bench, m Meeting)    { boltInHole(b, m, "bore", pinPlay) }
func boltInClevis(b *bench, m Meeting) { boltInHole(b, m, "bolt", pinPlay) }

func boltInBore(b *bench, m Meeting) {
	most := slidingPlay
	if q, err := measure.ParseQuantity(m.Allow, measure.Length); err == nil {
		most = q.High
	}
	boltInHole(b, m, "diameter", most)
}

func boltInHole(b *bench, m Meeting, dim string, most float64) {
	c := b.check("bolt through")
	thread, okThread := c.thread(m.A, "thread")
	bore, okBore := c.length(m.B, dim)
	if !okThread || !okBore {
		return
	}
	d := shankOf(c, m.A, thread)
	c.sizes(mm(d.fills.nominal), mm(bore.nominal), "")
	d.in(c, m, m.B, dim, bore, most)
}

// underHead judges, in one check "under the head", a bolt with a plain head in the place
// of one with a flange or a washer head: that pressed on a ring twice as large, and the
// plain one beds in and lets its clamping go. A washer of its own makes up for it. It makes
// no check where no washer is wanted. Common practice, no source.
func (in BoltCase) underHead(b *bench) {
	if !in.wantsWasher(b.aside().check("under the head")) {
		return
	}
	c := b.check("under the head")
	in.wantsWasher(c)
	thread, ok := c.thread(in.Bolt, "thread")
	if !ok {
		return
	}
	c.change(graph.EffortHandTools, "put a hard washer for "+thread.String()+" under the head",
		"a plain head where a head with a flange was: it presses on less, beds in and comes loose")
}

// wantsWasher reports whether a bolt has a plain head where one with a flange was built
// in, and nothing lies under it.
func (in BoltCase) wantsWasher(c *check) bool {
	if in.Built == nil || slices.ContainsFunc(in.Through, func(l Layer) bool { return l.Feature.Kind == "washer" }) {
		return false
	}
	was, okWas := c.peek(in.Built.Bolt, "head", measure.Word)
	now, okNow := c.peek(in.Bolt, "head", measure.Word)
	return okWas && okNow && isWideHead(was.Text) && !isWideHead(now.Text)
}

// washerWanted is how thick the washer is that a plain head wants, in mm; zero for none.
func (in BoltCase) washerWanted(c *check) span {
	if !in.wantsWasher(c) {
		return span{}
	}
	thread, ok := c.peek(in.Bolt, "thread", measure.Thread)
	if !ok {
		return span{}
	}
	return exact(plainWasher(thread.Thread.Nominal))
}
