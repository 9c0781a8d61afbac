package mating

import (
	"regexp"
	"strconv"

	"matewell/graph/measure"
)

// isNut takes an inside thread for a nut when somebody gave it a property class
// or a spanner size: a tapped hole has neither.
func isNut(c *check, s Side) bool {
	_, class := c.peek(s, "class", measure.Word)
	_, flats := c.peek(s, "across-flats", measure.Length)
	return class || flats
}

// boltClass judges the bolt's property class against the nut's. It makes no
// check for a tapped hole.
func boltClass(b *bench, m Meeting) {
	if len(m.B.Feature.Dims["class"]) == 0 && len(m.B.Feature.Dims["across-flats"]) == 0 {
		return
	}
	c := b.check("bolt class")
	bolt, okBolt := c.phrase(m.A, "class")
	nut, okNut := c.phrase(m.B, "class")
	if !okBolt || !okNut {
		return
	}
	c.sizes(bolt, nut, "")
	boltNumber, okBolt := classNumber(bolt)
	nutNumber, okNut := classNumber(nut)
	switch {
	case !okBolt || !okNut:
		c.unknown("class %s against class %s: no rule to compare them", bolt, nut)
	case nutNumber < boltNumber:
		// ISO 898-2: the nut's class must not be below the bolt's, or the
		// nut strips before the bolt gives.
		c.no("a class %s nut is weaker than the %s bolt: the nut strips first", nut, bolt)
	default:
		c.fits("class %s nut on a %s bolt", nut, bolt)
	}
}

// classNumber is a hundredth of the nominal tensile strength in N/mm2 of the
// bolt that a marking stands for: "10.9" and "10" give 10 (ISO 898-1, -2),
// "A2-70" gives 7 (ISO 3506-1).
func classNumber(class string) (int, bool) {
	m := regexp.MustCompile(`^(?:[aA][1-5]-(\d\d)|(\d{1,2})(?:\.\d)?)$`).FindStringSubmatch(class)
	if m == nil {
		return 0, false
	}
	if m[1] != "" {
		n, err := strconv.Atoi(m[1])
		return n / 10, err == nil
	}
	n, err := strconv.Atoi(m[2])
	return n, err == nil
}

// shankRoom judges whether the plain part of the bolt runs into the thread. A
// standard bolt of length l has at least 2 d + 6 mm of thread, 2 d + 12 mm
// above 125 mm (ISO 888), so a bolt whose plain part nobody measured only needs
// measuring when that could be too little.
func shankRoom(c *check, m Meeting, length, clamped span, okClamped bool) {
	shank, ok := c.peekLength(m.A, "grip")
	if !ok {
		thread, okThread := c.thread(m.A, "thread")
		most := length.high - leastThread(thread.Nominal, length.high)
		if okThread && okClamped && most > clamped.low+eps {
			c.ask(askFor(m.A, "grip"))
		}
		return
	}
	if !okClamped {
		return
	}
	switch shank.minus(clamped).against(-1e9, 0) {
	case above:
		c.no("the plain shank, %s, is longer than what it clamps, %s: it runs out of thread before it clamps",
			mm(shank.nominal), mm(clamped.nominal))
	case astride:
		c.unknown("the plain shank may be longer than what it clamps: measure both")
	}
}

func leastThread(d, length float64) float64 {
	if length <= 125 {
		return 2*d + 6
	}
	return 2*d + 12
}
