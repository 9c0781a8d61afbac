package main

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/donor"
)

// unitsPage lists groups of assemblies with what lies across each cut.
func unitsPage(a donor.UnitsAnswer) page {
	s := section{Title: fmt.Sprintf("What to take whole from %s for %s", a.From, a.On)}
	s.Table = table{Columns: []string{"take", "parts", "put right by it", "joints cut", "mismatches", "what does not mate across the cut"}, Detail: "what does not mate across the cut"}
	s.Rows = table{Columns: []string{"take", "parts", "saved", "crossing", "mismatches", "what", "id", "verdict", "why"}}
	for _, u := range a.Units {
		name := strings.Join(u.Assemblies, ",")
		s.Table.add(breakAfter(name, ","), strconv.Itoa(u.Parts), strconv.Itoa(u.Saved), strconv.Itoa(u.Crossing), strconv.Itoa(len(u.Mismatches)),
			eachOnLine(u.Mismatches, func(m donor.CutMismatch) string {
				return fmt.Sprintf("%s %s (%s): %s", m.What, localJoint(graph.JointID(m.ID)), m.Verdict, m.Why)
			}))
		for _, m := range u.Mismatches {
			s.Rows.add(name, strconv.Itoa(u.Parts), strconv.Itoa(u.Saved), strconv.Itoa(u.Crossing), strconv.Itoa(len(u.Mismatches)), m.What, m.ID, m.Verdict.String(), m.Why)
		}
		if len(u.Mismatches) == 0 {
			s.Rows.add(name, strconv.Itoa(u.Parts), strconv.Itoa(u.Saved), strconv.Itoa(u.Crossing), "0", "", "", "", "")
		}
	}
	if len(a.Units) == 0 {
		s.Lines = []string{"The two have nothing to exchange: every place they share holds the same part."}
	}
	s.After = []string{"Put right by it: joints that do not mate when one of the parts comes alone, and do when all come.",
		"Plan one of them with: matewell donor --on " + string(a.On) + " --from " + string(a.From) + " --take ..."}
	return page{s}
}

// comparePage puts donors side by side, the smallest plan first.
func comparePage(a donor.DonorCompared) page {
	s := section{Title: fmt.Sprintf("Donors for %s: %s", a.On, list(a.Take))}
	s.Table = table{Columns: []string{"donor", "parts", "work", "cost", "unknown", "ready", "needs besides", "outcome"}, Detail: "needs besides"}
	for _, d := range a.Donors {
		if d.Cost == nil {
			s.Table.add(hard(d.From), "", "", "", "", "", d.Why, d.Outcome)
			continue
		}
		cost := d.Cost.Money
		if len(d.Cost.Unpriced) > 0 {
			cost = strings.TrimSpace(cost + fmt.Sprintf(" + %d unpriced", len(d.Cost.Unpriced)))
		}
		s.Table.add(hard(d.From), strconv.Itoa(d.Cost.Parts), d.Cost.Effort, cost, strconv.Itoa(d.Cost.SafetyUnknowns),
			yesNo(d.Ready), list(d.Needs), d.Outcome)
	}
	return page{s}
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
