package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// settling is how a conflict is settled, as far as its cost goes.
type settling struct {
	part     graph.PartID
	at       []graph.PositionID // where the part sits
	number   bool               // a number is read where the part sits
	measured bool               // the part is measured by itself
	look     string             // a look that takes nothing apart, in words
}

// inPlace are dimensions that are measured, counted or read with the part on the machine and
// nothing taken off, by kind of feature and dimension. Common practice, no source.
var inPlace = map[string]string{
	"disc-rim.thickness": "on the machine: a micrometer reaches the disc beside its caliper",
	"disc-rim.minimum":   "a look at the disc where it is: it is stamped on it",
	"disc-rim.runout":    "on the machine: a dial gauge against the disc, the wheel turned by hand",
	"chain.links":        "on the machine: turn the wheel and count",
	"sprocket.teeth":     "on the machine: turn the wheel and count",
	"tyre.size":          "a look at the side of the tyre where it is",
	"tyre.load":          "a look at the side of the tyre where it is",
	"tyre.speed":         "a look at the side of the tyre where it is",
}

// mostOff is how many other things may have to come off before the graph is no
// longer taken to know the cost: a frame is measured where it stands.
const mostOff = 12

func costOf(s settling, loose map[graph.PartID]string, above map[graph.PositionID][]graph.PositionID) *SettleCost {
	switch {
	case s.measured && loose[s.part] != "":
		return &SettleCost{Effort: graph.EffortNone, Why: loose[s.part]}
	case s.look != "":
		return &SettleCost{Effort: graph.EffortNone, Why: s.look}
	case len(s.at) == 0:
		return nil
	}
	off := comesOff(s.at[0], above)
	if len(off) > mostOff {
		return nil
	}
	where := s.at[0].Local()
	switch {
	case s.number && len(off) == 0:
		return &SettleCost{Effort: graph.EffortNone, Why: "a look at " + where + ", nothing sits in front of it"}
	case len(off) == 0:
		return &SettleCost{Effort: graph.EffortHandTools, Why: "nobody said that anything else comes off to get at " + where}
	}
	const named = 3
	names := strings.Join(lists.Mapped(off[:min(len(off), named)], func(id graph.PositionID) string { return id.Local() }),
		", ")
	if len(off) > named {
		names += fmt.Sprintf(" and %d more", len(off)-named)
	}
	return &SettleCost{Effort: graph.EffortHandTools, Why: fmt.Sprintf("to get at %s, first take off %s", where, names)}
}

// comesOff is what must come off before a position can be taken off, sorted.
func comesOff(at graph.PositionID, above map[graph.PositionID][]graph.PositionID) []graph.PositionID {
	seen := map[graph.PositionID]bool{}
	next := slices.Clone(above[at])
	for len(next) > 0 {
		id := next[0]
		next = next[1:]
		if !seen[id] && id != at {
			seen[id] = true
			next = append(next, above[id]...)
		}
	}
	return lists.KeysOf(seen)
}
