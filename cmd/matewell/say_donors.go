package main

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/queries/donor"
	"matewell/queries/plan"
)

// unitsPage lists groups of assemblies with what it costs to make each fit.
func unitsPage(a donor.UnitsAnswer) page {
	s := section{Title: fmt.Sprintf("What to take whole from %s for %s", a.From, a.On)}
	s.Table.Columns = []string{"take", "brings", "besides", "work", "unknown", "misfits", "gained"}
	s.Rows.Columns = []string{"take", "parts", "saved", "crossing", "mismatches", "what", "id", "verdict", "why",
		"outcome", "besides", "work", "unknown", "command"}
	commands := section{Title: "To see how one of them is made to fit"}
	for _, u := range a.Units {
		name := strings.Join(u.Assemblies, ",")
		command := takeCommand(a, name)
		parts, work, unknown := "not settled", "", ""
		switch {
		case u.Outcome == plan.NoPlan:
			parts = "no plan does"
		case u.Cost != nil:
			parts, work, unknown = counted(u.Cost.Parts, "part"), u.Cost.Effort,
				strconv.Itoa(u.Cost.SafetyUnknowns+u.Cost.OtherUnknowns)
		}
		s.Table.add(breakAfter(name, ","), strconv.Itoa(u.Parts), parts, work, unknown, strconv.Itoa(len(u.Mismatches)),
			strconv.Itoa(u.Saved))
		rowsOfUnit(&s, u, name, []string{u.Outcome, parts, work, unknown, command})
		commands.Lines = append(commands.Lines, hard(command))
	}
	if len(a.Units) == 0 {
		s.Lines = []string{"The two have nothing to exchange: every place they share holds the same part."}
		return page{s}
	}
	s.After = []string{"Besides: what is to be found or made to make it fit, and the hardest work of it. Misfits: what " +
		"does not mate as it is " +
		"with what stays. Gained: joints that do not mate when one of the parts comes alone, and do when all come."}
	return page{s, commands}
}

// takeCommand is the command that plans one group.
func takeCommand(a donor.UnitsAnswer, name string) string {
	return fmt.Sprintf("matewell donor --on %s --from %s --take %s", a.On, a.From, name)
}

// rowsOfUnit adds the rows of a group in full: one for each misfit, or one without.
func rowsOfUnit(s *section, u donor.DonorUnit, name string, planned []string) {
	row := func(what, id, verdict, why string) {
		s.Rows.add(append([]string{name, strconv.Itoa(u.Parts), strconv.Itoa(u.Saved), strconv.Itoa(u.Crossing),
			strconv.Itoa(len(u.Mismatches)), what, id, verdict, why}, planned...)...)
	}
	for _, m := range u.Mismatches {
		row(m.What, m.ID, m.Verdict.String(), m.Why)
	}
	if len(u.Mismatches) == 0 {
		row("", "", "", "")
	}
}

// comparePage puts donors side by side, the smallest plan first.
func comparePage(a donor.DonorCompared) page {
	s := section{Title: fmt.Sprintf("Donors for %s: %s", a.On, list(a.Take))}
	s.Table = table{Columns: []string{"donor", "parts", "work", "cost", "unknown", "ready", "needs besides", "outcome"},
		Detail: "needs besides"}
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
