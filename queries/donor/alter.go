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
var altering = []string{"drill", "open the holes", "peg off", "bore ", "weld", "cut ", "face ", "trim",
	"turned to", "grind", "alter"}

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

// isRuledOut reports whether the changes that an outcome asks for would alter what
// is not to be altered. Work that names the place of one of the ends is done there;
// work that names none may be done at any of them.
func isRuledOut(p *planner, o examine.Outcome) bool {
	for _, c := range o.Checks {
		if !alters(c) {
			continue
		}
		if p.q.ReversibleAll || slices.ContainsFunc(c.Do, func(do string) bool { return altersSpared(p, do, o.Ends) }) {
			return true
		}
	}
	return false
}

// sparesSpacers reports whether the spacers beside the ends of an outcome are not to be
// altered: others are made then.
func sparesSpacers(p *planner, o examine.Outcome) bool {
	if p.q.ReversibleAll {
		return true
	}
	for id := range p.spared {
		if examine.IsSpacer(p.before.Seat(id)) && slices.ContainsFunc(o.Ends,
			func(e examine.End) bool { return e.Position.Assembly() == id.Assembly() }) {
			return true
		}
	}
	return false
}

func altersSpared(p *planner, do string, ends []examine.End) bool {
	return isAltering(do) &&
		slices.ContainsFunc(workedOn(do, ends), func(id graph.PositionID) bool { return p.spared[id] })
}

// workedOn are the places of the ends at which some work is done.
func workedOn(do string, ends []examine.End) []graph.PositionID {
	var named, all []graph.PositionID
	for _, e := range ends {
		all = append(all, e.Position)
		if namesPlace(do, e.Position.Local()) {
			named = append(named, e.Position)
		}
	}
	if len(named) > 0 {
		return named
	}
	return all
}

// namesPlace reports whether a text names a place, and not another whose name begins
// with it.
func namesPlace(text, place string) bool {
	for from := 0; ; {
		i := strings.Index(text[from:], place)
		if i < 0 {
			return false
		}
		end := from + i + len(place)
		if end == len(text) || !strings.ContainsRune("-/abcdefghijklmnopqrstuvwxyz0123456789", rune(text[end])) {
			return true
		}
		from = end
	}
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
