package mating

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// plainWashers are how thick the washers are that go under the heads of bolts, in mm by
// the nominal diameter of the thread. Source: ISO 7089, from memory.
var plainWashers = map[float64]float64{4: 0.8, 5: 1, 6: 1.6, 8: 1.6, 10: 2, 12: 2.5, 14: 2.5, 16: 3, 20: 3}

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

// isWideHead reports whether a head presses on more than its own width across flats.
func isWideHead(head string) bool {
	head = strings.ToLower(head)
	return strings.Contains(head, "flange") || strings.Contains(head, "washer")
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
	return exact(plainWashers[thread.Thread.Nominal])
}
