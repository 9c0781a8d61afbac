package main

import (
	"fmt"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// notJudgedSection tells what decides at the changed places and was not judged,
// what one person can tell in one row; what does not decide is counted.
func notJudgedSection(left []examine.NotJudged) page.Section {
	s := page.Section{Title: "What was not judged"}
	s.Table = page.Table{Columns: []string{"where", "what", "why", "who can tell"}, Detail: "why"}
	s.Rows = page.Table{Columns: []string{"position", "feature", "dimension", "was", "now", "decides", "why",
		"who_can_tell"}}
	beside := 0
	at := map[[3]string]int{}
	for _, n := range left {
		s.Rows.Add(string(n.Position), n.Feature, n.Dim, n.Was, n.Now, yesNo(n.Decides), n.Why, n.WhoCanTell)
		if !n.Decides {
			beside++
			continue
		}
		key := [3]string{string(n.Position), n.Why, n.WhoCanTell}
		if i, have := at[key]; have {
			s.Table.Rows[i][1] += "\n" + openWords(n)
			continue
		}
		at[key] = len(s.Table.Rows)
		s.Table.Add(page.Place(n.Position), openWords(n), n.Why, n.WhoCanTell)
	}
	if beside > 0 {
		s.After = append(s.After, fmt.Sprintf("%d more %s and %s not decide; --format json lists %s.", beside,
			page.Plural(beside, "differs", "differ"), page.Plural(beside, "does", "do"), page.Plural(beside, "it", "them")))
	}
	return page.OnceOnly(s, "where")
}

// openWords is what was not judged, with what it was and is now.
func openWords(n examine.NotJudged) string {
	text := dimOfFeature(n.Feature, n.Dim)
	switch {
	case n.Was != "" && n.Now != "":
		return text + ": " + n.Now + ", was " + n.Was
	case n.Was != "":
		return text + ": was " + n.Was
	case n.Now != "":
		return text + ": now " + n.Now
	}
	return text
}

// withoutPlaces leaves out the places whose open points have a section of their
// own.
func withoutPlaces(unknown []examine.Outcome, left []examine.NotJudged) []examine.Outcome {
	return lists.Kept(unknown, func(o examine.Outcome) bool {
		return o.What != examine.OfPlace || !slices.ContainsFunc(left,
			func(n examine.NotJudged) bool { return string(n.Position) == o.ID })
	})
}

// differsSection tells in what new parts differ from those they replace, and what
// judged it.
func differsSection(differs []examine.Differs, all bool) page.Section {
	s := page.Section{Title: "What differs, and was judged"}
	s.Table = page.Table{Columns: []string{"where", "what", "was", "now", "judged by"}, Detail: "judged by"}
	var places page.Tally
	s.Rows = page.Table{Columns: []string{"position", "feature", "dimension", "was", "now", "judged_by"}}
	for _, d := range differs {
		s.Table.Add(page.Place(d.Position), dimOfFeature(d.Feature, d.Dim), d.Was, d.Now, strings.Join(d.JudgedBy, "; "))
		s.Rows.Add(string(d.Position), d.Feature, d.Dim, d.Was, d.Now, strings.Join(d.JudgedBy, "; "))
		places.Add(page.AssemblyOf(d.Position.Local()))
	}
	return page.Folded(page.OnceOnly(s, "where"), all, places.At()+". "+page.AllPrints(len(differs)))
}

func dimOfFeature(feature, dim string) string {
	switch {
	case feature == "":
		return "the whole part"
	case dim == "", dim == feature: // not "length of length"
		return feature
	}
	return dim + " of " + feature
}
