package examine

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// Word is what somebody says of the very part at the very place.
type Word struct {
	Earned Earned // EarnedListed or EarnedFound
	Of     string // the source or finding
}

// Earnings says of every changed place how its verdict was earned.
type Earnings struct {
	By        map[graph.PositionID]Earned
	Unknown   []Outcome // one for each place that has earned nothing, in their order
	Differs   []Differs
	NotJudged []NotJudged
}

func kindsOfChanged(x *Examiner) []graph.KindID {
	return lists.Mapped(x.After.Changed(), func(id graph.PositionID) graph.KindID { return x.After.Seat(id).Part.Kind })
}

// isBuiltHere reports whether a source lists the part here for this very machine:
// then nothing is new.
func isBuiltHere(x *Examiner, id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	return !seat.Empty && !built.Empty && seat.Part.ID == built.Part.ID && built.Source.ID != ""
}

// place gathers what is known of a changed place. What was there is the part
// before the change; where nothing was, what was built there.
func place(x *Examiner, id graph.PositionID, outcomes []Outcome, by map[mating.Use][]string, word Word) Place {
	seat, was := x.After.Seat(id), x.Before.Seat(id)
	if was.Empty {
		was = x.Built.Seat(id)
	}
	p := Place{Position: seat.Position, New: seat.Part, Kind: x.After.Library().Kind(seat.Part.Kind), Word: word.Earned,
		WordOf: word.Of,
		Same:   evidence.SameReading, Checked: slices.ContainsFunc(outcomes,
			func(o Outcome) bool { return isWorkedOut(o) && o.SpeaksOf(id) })}
	if !was.Empty {
		p.Old = was.Part
	}
	p.JudgedBy = func(feature, dim string) []string {
		return by[mating.Use{Position: id, Part: seat.Part.ID, Feature: feature, Dim: dim}]
	}
	return p
}

// judgedBy names, for each dimension without its reading, the checks and figures
// that were worked out from it.
func judgedBy(outcomes []Outcome, numbers []Number) map[mating.Use][]string {
	by := map[mating.Use][]string{}
	note := func(uses []mating.Use, name string) {
		for _, u := range uses {
			key := mating.Use{Position: u.Position, Part: u.Part, Feature: u.Feature, Dim: u.Dim}
			if !slices.Contains(by[key], name) {
				by[key] = append(by[key], name)
			}
		}
	}
	for _, o := range outcomes {
		if comparesNewWithNew(o) {
			continue
		}
		for _, c := range o.Checks {
			note(c.Uses, checkedBy(o))
		}
	}
	for _, n := range numbers {
		note(n.Uses, "figure: "+n.Name)
	}
	type pairing struct {
		uses []mating.Use
		name string
	}
	var held []pairing
	for _, o := range outcomes {
		if !comparesNewWithNew(o) {
			continue
		}
		for _, c := range o.Checks {
			held = append(held, pairing{heldElsewhere(c.Uses, by), checkedBy(o)})
		}
	}
	for _, p := range held {
		note(p.uses, p.name)
	}
	return by
}

// checkedBy names an outcome as what judged a dimension.
func checkedBy(o Outcome) string {
	return o.What + " " + queries.LocalName(o.ID) + ": " + o.After.String()
}

// heldElsewhere are the uses of a pair of new parts whose dimension another check
// or figure judges on one of the two: then the other is judged by being alike.
func heldElsewhere(uses []mating.Use, by map[mating.Use][]string) []mating.Use {
	return lists.Kept(slices.Clone(uses), func(u mating.Use) bool {
		return slices.ContainsFunc(uses, func(v mating.Use) bool {
			return v.Feature == u.Feature && v.Dim == u.Dim &&
				len(by[mating.Use{Position: v.Position, Part: v.Part, Feature: v.Feature, Dim: v.Dim}]) > 0
		})
	})
}

// comparesNewWithNew reports whether an outcome holds only new parts against one
// another, as a new spring on the left against the one on the right: that they are
// alike says nothing of whether they belong here, unless one of them is held
// against something else too.
func comparesNewWithNew(o Outcome) bool {
	return o.What == OfPair && !slices.ContainsFunc(o.Ends, func(e End) bool { return !e.Changed })
}

// isWorkedOut reports whether an outcome rests on a rule, and not on somebody's
// word or on nothing.
func isWorkedOut(o Outcome) bool {
	return !IsOfPart(o) && slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return len(c.Uses) > 0 })
}

// unknownPlace says that a place has earned nothing, and what to measure.
func unknownPlace(x *Examiner, id graph.PositionID, left []NotJudged) Outcome {
	check := mating.Check{Rule: "place", Verdict: graph.Unknown, Why: notJudgedWords(left)}
	for _, n := range left {
		if n.Decides && n.ask != nil {
			check.Measure = append(check.Measure, *n.ask)
		}
	}
	o := Outcome{What: OfPlace, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
	before := []mating.Check{{Rule: "place", Verdict: graph.Fits, Why: "what was there before"}}
	return x.Judged(o, before, []mating.Check{check})
}

// notJudgedWords name what decides and was not judged, in short.
func notJudgedWords(left []NotJudged) string {
	var names []string
	for _, n := range left {
		switch {
		case !n.Decides:
		case n.Feature == "":
			return n.Why
		case n.Dim == "":
			names = append(names, n.Feature)
		default:
			names = append(names, n.Dim+" of "+n.Feature)
		}
	}
	const most = 4
	if len(names) > most {
		names = append(names[:most], fmt.Sprintf("%d more", len(names)-most))
	}
	return "not judged: " + strings.Join(names, ", ")
}
