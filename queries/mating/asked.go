package mating

import (
	"fmt"

	"matewell/graph"
)

// asked are the sides that say what the machine asks of the other one in a dimension:
// a tyre's load, the side a beam kicks up to. That belongs to the machine, so it is
// read off the part built in; a part put on in its stead may ask for more and never
// for less, so that both count. It asks for the dimension when nobody gave it, and
// open is true when only the part put on says it: it can't speak for the machine.
func asked(c *check, m Meeting, now Side, dim string) (sides []Side, open bool) {
	built, known := now, m.WasBuilt == nil
	for _, s := range m.WasBuilt {
		if s.Position == now.Position {
			built, known = s, true
		}
	}
	says := func(s Side) bool { return len(s.Feature.Dims[dim]) > 0 }
	switch {
	case known && (built.Part == now.Part || says(built) && !says(now)):
		return []Side{built}, false
	case known && says(built):
		return []Side{built, now}, false
	case says(now):
		return []Side{now}, true
	}
	c.ask(askFor(now, dim))
	return nil, false
}

// onlyNew says that nobody recorded what the machine asks in a dimension: only a part
// that was put on says something.
func onlyNew(c *check, now Side, dim, what string) {
	c.settle(Ask{Position: now.Position, Feature: now.Feature.Name, Dim: dim, What: what + " that the machine asks",
		Where: "the machine's manual, or the plate on it", Gauge: graph.ByEye, Accuracy: "book"})
	c.unknown("%s", fmt.Sprintf("only the new part says which %s is asked: nobody recorded what the machine asks", what))
}
