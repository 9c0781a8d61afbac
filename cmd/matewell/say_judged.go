package main

import (
	"fmt"
	"slices"
	"strings"

	"matewell/queries/examine"
	"matewell/queries/lists"
)

// notJudgedSection tells what decides at the changed places and was not judged;
// what does not decide is counted.
func notJudgedSection(left []examine.NotJudged) section {
	s := section{Title: "What was not judged"}
	s.Table = table{Columns: []string{"where", "what", "was", "now", "why", "who can tell"}, Detail: "why"}
	s.Rows = table{Columns: []string{"position", "feature", "dimension", "was", "now", "decides", "why", "who_can_tell"}}
	beside := 0
	for _, n := range left {
		s.Rows.add(string(n.Position), n.Feature, n.Dim, n.Was, n.Now, yesNo(n.Decides), n.Why, n.WhoCanTell)
		if !n.Decides {
			beside++
			continue
		}
		s.Table.add(place(n.Position), dimOfFeature(n.Feature, n.Dim), n.Was, n.Now, n.Why, n.WhoCanTell)
	}
	if beside > 0 {
		s.After = append(s.After, fmt.Sprintf("%d more %s and %s not decide; --format json lists %s.", beside,
			plural(beside, "differs", "differ"), plural(beside, "does", "do"), plural(beside, "it", "them")))
	}
	return s
}

// withoutPlaces leaves out the places whose open points have a section of their
// own.
func withoutPlaces(unknown []examine.Outcome, left []examine.NotJudged) []examine.Outcome {
	return lists.Kept(unknown, func(o examine.Outcome) bool {
		return o.What != examine.OfPlace || !slices.ContainsFunc(left, func(n examine.NotJudged) bool { return string(n.Position) == o.ID })
	})
}

// differsSection tells in what new parts differ from those they replace, and what
// judged it.
func differsSection(differs []examine.Differs) section {
	s := section{Title: "What differs, and was judged"}
	s.Table = table{Columns: []string{"where", "what", "was", "now", "judged by"}, Detail: "judged by"}
	s.Rows = table{Columns: []string{"position", "feature", "dimension", "was", "now", "judged_by"}}
	for _, d := range differs {
		s.Table.add(place(d.Position), dimOfFeature(d.Feature, d.Dim), d.Was, d.Now, strings.Join(d.JudgedBy, "; "))
		s.Rows.add(string(d.Position), d.Feature, d.Dim, d.Was, d.Now, strings.Join(d.JudgedBy, "; "))
	}
	return s
}

func dimOfFeature(feature, dim string) string {
	switch {
	case feature == "":
		return "the whole part"
	case dim == "":
		return feature
	}
	return dim + " of " + feature
}
