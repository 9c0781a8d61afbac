package mating

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// isNut takes an inside thread for a nut when its part is one, or when somebody gave
// it a property class or a spanner size: a tapped hole has neither.
func isNut(c *check, s Side) bool {
	_, class := c.peek(s, "class", measure.Word)
	_, flats := c.peek(s, "across-flats", measure.Length)
	return s.PartKind.Ends("nut") || class || flats
}

// IsWeakerBolt reports whether a bolt is weaker than another, by the marks of their heads; not known where
// a mark is none, or says too little. Source: see trade.MayServe.
func IsWeakerBolt(marked, listed string) (weaker, known bool) {
	had, errHad := trade.ParseGrade(marked)
	needed, errNeeded := trade.ParseGrade(listed)
	if errHad != nil || errNeeded != nil {
		return false, false
	}
	serves := trade.MayServe(had, needed)
	return serves == trade.ServesNot, serves != trade.ServesOpen
}

// ServesOrder reports whether a bolt marked so may be taken where an order asks for a class in its words, "10.9, as
// listed". Words that name no class ask for none. Source: see trade.MayServe.
func ServesOrder(marked, ordered string) bool {
	class, _, _ := strings.Cut(ordered, ",")
	needed, err := trade.ParseGrade(class)
	if err != nil {
		return true
	}
	had, err := trade.ParseGrade(marked)
	return err == nil && trade.MayServe(had, needed) == trade.Serves
}

// IsLesserBolt reports whether a bolt has another thread than the one built in, or is not as strong, for
// all that their marks say. What is not recorded of both is not compared.
func IsLesserBolt(now, built graph.Feature) bool {
	text := func(f graph.Feature, dim string) string {
		if readings := f.Dims[dim]; len(readings) > 0 {
			return readings[0].Text
		}
		return ""
	}
	was, errWas := measure.Parse(text(built, "thread"), measure.Thread)
	is, errIs := measure.Parse(text(now, "thread"), measure.Thread)
	if errWas == nil && errIs == nil && !was.Equal(is) {
		return true
	}
	marked, listed := text(now, "class"), text(built, "class")
	if marked == "" || listed == "" || marked == listed {
		return false
	}
	weaker, known := IsWeakerBolt(marked, listed)
	return weaker || !known
}

// boltClass judges the bolt's strength: against the nut that carries it, and
// against the class that the joint lists. It makes no check for a tapped hole of
// which nobody said what bolt belongs in it.
func boltClass(b *bench, m Meeting) {
	nut := len(m.B.Feature.Dims["class"])+len(m.B.Feature.Dims["across-flats"]) > 0
	listed := listedClasses(m, m.B, m.bolt())
	if !nut && len(listed) == 0 {
		return
	}
	c := b.check("bolt class")
	bolt, okBolt := c.phrase(m.A, "class")
	for _, l := range listed {
		if okBolt {
			l.judge(c, m.A, bolt)
		}
	}
	if nut {
		nutCarries(c, m, bolt, okBolt)
	}
}

// classListed is where it says which class a bolt must have.
type classListed struct {
	side Side
	dim  string
}

// listedClass is the class that belongs in a thread or hole, else that of the
// bolt the joint was built with; false when nobody says either.
func listedClass(hole, built Side) (classListed, bool) {
	if len(hole.Feature.Dims["bolt-class"]) > 0 {
		return classListed{hole, "bolt-class"}, true
	}
	return classListed{built, "class"}, len(built.Feature.Dims["class"]) > 0
}

// listedClasses are where it says which class belongs in a thread or hole: by the
// hole, else by the bolt the joint was built with. A part with another hole that was
// put on says what it needs itself, and not that less will do than was built in: then
// both count. None when nobody says.
func listedClasses(m Meeting, hole, built Side) []classListed {
	var listed []classListed
	if l, ok := listedClass(hole, built); ok {
		listed = append(listed, l)
	}
	for _, was := range m.WasBuilt {
		if was.Position != hole.Position || was.isSame(hole) {
			continue
		}
		if l, ok := listedClass(was, built); ok && !slices.ContainsFunc(listed,
			func(have classListed) bool { return have.id() == l.id() }) {
			listed = append(listed, l)
		}
	}
	return listed
}

// id tells one place where a class is listed from another.
func (l classListed) id() string {
	return string(l.side.Position) + " " + string(l.side.Part) + " " + l.side.Feature.Name + " " + l.dim
}

// boltClasses judges every bolt of two patterns, or of a caliper on its lugs, by
// the class listed: by each side that lists one, else by the bolt that was built in
// at the same position. It makes no check while nobody lists one.
func boltClasses(b *bench, m Meeting) {
	var c *check
	for _, bolt := range m.Bolts {
		var built Side
		if m.Built != nil {
			for _, was := range m.Built.Bolts {
				if was.Position == bolt.Position {
					built = was
				}
			}
		}
		var listed []classListed
		for _, hole := range listingSides(m) {
			listed = append(listed, listedClasses(m, hole, built)...)
		}
		if len(listed) == 0 {
			continue
		}
		if c == nil {
			c = b.check("bolt class")
		}
		if class, ok := c.phrase(bolt, "class"); ok {
			for _, l := range listed {
				l.judge(c, bolt, class)
			}
		}
	}
}

// listingSides are the sides of a joint that say which class its bolts must have;
// the first while neither does.
func listingSides(m Meeting) []Side {
	var sides []Side
	for _, s := range []Side{m.A, m.B} {
		if len(s.Feature.Dims["bolt-class"]) > 0 {
			sides = append(sides, s)
		}
	}
	if len(sides) == 0 {
		return []Side{m.A}
	}
	return sides
}

// judge states whether a bolt of a class may stand where the listed one belongs.
// Source: ISO 898-1, ISO 3506-1.
func (l classListed) judge(c *check, bolt Side, had string) {
	wanted, ok := c.phrase(l.side, l.dim)
	if !ok {
		return
	}
	c.sizes(had, wanted, "")
	is, errHad := trade.ParseGrade(had)
	must, errWanted := trade.ParseGrade(wanted)
	switch {
	case strings.EqualFold(had, wanted):
		c.fits("class %s, as listed", had)
	case errHad != nil || errWanted != nil:
		c.settle(askFor(bolt, "class"))
		c.unknown("marked %s where %s is listed: no standard compares them", had, wanted)
	default:
		gradeServes(c, bolt, is, must)
	}
}

func gradeServes(c *check, bolt Side, is, must trade.Grade) {
	switch trade.MayServe(is, must) {
	case trade.Serves:
		c.fits("%s is no weaker than the %s listed; the joint's torque stays its own", gradeWords(is), must.Name)
	case trade.ServesNot:
		c.no("%s is weaker than the %s listed", gradeWords(is), gradeWords(must))
	default:
		c.settle(askFor(bolt, "class"))
		c.unknown("%s against %s: a T number is tensile strength only and proves no class", gradeWords(is),
			gradeWords(must))
	}
}

// gradeWords is a marking with what it stands for: "A2-70 (700 N/mm2, yields at
// 450)".
func gradeWords(g trade.Grade) string {
	text := fmt.Sprintf("%s (%.0f N/mm2", g.Name, g.Tensile)
	if g.Yield > 0 {
		text += fmt.Sprintf(", yields at %.0f", g.Yield)
	}
	return text + ")"
}

// nutCarries judges the nut's class against the bolt's. Source: ISO 898-2: it
// must not be below, or the nut strips before the bolt gives; a thin nut is no
// partner of any class.
func nutCarries(c *check, m Meeting, bolt string, okBolt bool) {
	nut, okNut := c.phrase(m.B, "class")
	if !okBolt || !okNut {
		return
	}
	if c.Had == "" && c.Wanted == "" {
		c.sizes(bolt, nut, "")
	}
	grade, err := trade.ParseGrade(bolt)
	mates, thin, known := trade.NutMates(nut, grade)
	switch {
	case thin:
		c.no("a class %s nut is a thin one: it locks another nut and carries no bolt", nut)
	case err != nil || !known:
		c.unknown("class %s against class %s: no rule to compare them", bolt, nut)
	case !mates && carriedAsBuilt(c, m, nut, grade):
		c.fits("class %s nut, as built, on a %s bolt, stronger than the one it carried: tighten it as listed for the "+
			"joint, never as for %s", nut, bolt, bolt)
	case !mates:
		c.no("a class %s nut is weaker than the %s bolt: the nut strips first", nut, bolt)
	default:
		c.fits("class %s nut on a %s bolt", nut, bolt)
	}
}

// carriedAsBuilt reports whether a nut is of the class built in, and carried the bolt built
// in, which was no stronger than the one there now: the joint is pulled no harder than it
// was, since its torque stays its own. Source: ISO 898-2, on what a nut is tested with.
func carriedAsBuilt(c *check, m Meeting, nut string, bolt trade.Grade) bool {
	if m.Built == nil {
		return false
	}
	built := *m.Built
	if built.A.Feature.Kind != "male-thread" {
		built.A, built.B = built.B, built.A
	}
	c = c.bench.aside().check(c.Rule)
	oldNut, okNut := c.peek(built.B, "class", measure.Word)
	oldBolt, okBolt := c.peek(built.A, "class", measure.Word)
	if !okNut || !okBolt || !strings.EqualFold(oldNut.Text, nut) {
		return false
	}
	was, err := trade.ParseGrade(oldBolt.Text)
	mates, thin, known := trade.NutMates(nut, was)
	return err == nil && mates && !thin && known && trade.MayServe(bolt, was) == trade.Serves
}

// shankRoom judges whether the plain part of the bolt runs into the thread. A
// standard bolt has a known length of thread (trade.StandardThread), so a bolt whose plain part nobody measured only
// needs
// measuring when that could be too little.
func shankRoom(c *check, bolt Side, length, clamped span, okClamped bool) {
	shank, ok := c.peekLength(bolt, "grip")
	if !ok {
		thread, okThread := c.thread(bolt, "thread")
		most := length.high - leastThread(thread.Nominal, length.high)
		if okThread && okClamped && most > clamped.low+eps {
			c.ask(askFor(bolt, "grip"))
		}
		return
	}
	if !okClamped {
		return
	}
	switch shank.minus(clamped).against(-noLimit, 0) {
	case above:
		c.no("the plain shank, %s, is longer than what it clamps, %s: it runs out of thread before it clamps",
			mm(shank.nominal), mm(clamped.nominal))
	case astride:
		c.unknown("the plain shank may be longer than what it clamps: measure both")
	}
}

// leastThread is how much thread a standard bolt has, in mm.
func leastThread(d, length float64) float64 {
	b, err := trade.StandardThread(d, length)
	if err != nil {
		return 0
	}
	return b
}
