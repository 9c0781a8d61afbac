package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/mating"
)

// altering are the words of work that can't be undone on the part it is done to. Of a
// spacer another is made: to take something off it only saves that.
var altering = []string{"drill", "open the holes", "peg off", "bore ", "machined", "weld", "cut ", "face ", "trim",
	"turned to", "turned off", "grind", "alter"}

// alters reports whether a check asks for work on a part that is there, such as a
// hole drilled or a face machined. What is made anew and put between leaves both
// parts as they are, also where one might work on a part instead.
func alters(c mating.Check) bool {
	if c.Verdict != graph.FitsWithChanges || c.Effort < graph.EffortDrillShim {
		return false
	}
	return slices.ContainsFunc(c.Do, func(do string) bool {
		return isAltering(do) && (len(c.Orders) == 0 || !strings.Contains(do, ", or "))
	})
}

func isAltering(do string) bool {
	return slices.ContainsFunc(altering, func(word string) bool { return strings.Contains(strings.ToLower(do), word) })
}

// isSpared reports whether an outcome is about a part that is not to be altered.
func isSpared(p *planner, o examine.Outcome) bool {
	return p.q.ReversibleAll || slices.ContainsFunc(o.Ends, func(e examine.End) bool { return p.spared[e.Position] })
}

// isRuledOut reports whether the changes that an outcome asks for would alter what
// is not to be altered.
func isRuledOut(p *planner, o examine.Outcome) bool {
	return isSpared(p, o) && slices.ContainsFunc(o.Checks, alters)
}

// ruledOutText says which work is ruled out; empty when none is.
func ruledOutText(p *planner, o examine.Outcome) string {
	if !isRuledOut(p, o) {
		return ""
	}
	var do []string
	for _, c := range o.Checks {
		if alters(c) {
			do = append(do, c.Do...)
		}
	}
	return "; it takes work that can't be undone: " + strings.Join(do, "; ")
}
