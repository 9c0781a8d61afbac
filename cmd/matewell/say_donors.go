package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/queries/donor"
	"matewell/queries/plan"
)

// unitsPage lists groups of assemblies with what it costs to make each fit; again are the
// words of the command that plans one of them, but for what it takes.
func unitsPage(a donor.UnitsAnswer, again []string) page.Page {
	s := page.Section{Title: fmt.Sprintf("What to take whole from %s for %s", a.From, a.On)}
	s.Table.Columns = []string{"take", "brings", "besides", "work", "unknown", "misfits", "gained"}
	s.Rows.Columns = []string{"take", "parts", "saved", "crossing", "mismatches", "what", "id", "verdict", "why",
		"outcome", "besides", "work", "unknown", "command"}
	commands, unproved := page.Section{Title: "To see how one of them is made to fit"}, false
	for _, u := range a.Units {
		name := strings.Join(u.Assemblies, ",")
		parts, work, unknown := "not settled", "", ""
		switch {
		case u.Outcome == plan.NoPlan:
			parts = "no plan does"
		case u.Cost != nil:
			parts, work, unknown = page.Counted(u.Cost.Parts, "part"), u.Cost.Effort,
				strconv.Itoa(u.Cost.SafetyUnknowns+u.Cost.OtherUnknowns)
			if u.Outcome != plan.ProvedSmallest {
				parts, unproved = parts+" so far", true
			}
		}
		s.Table.Add(page.BreakAfter(name, ","), strconv.Itoa(u.Parts), parts, work, unknown, strconv.Itoa(len(u.Mismatches)),
			strconv.Itoa(u.Saved))
		rowsOfUnit(&s, u, name, []string{u.Outcome, parts, work, unknown,
			strings.Join(again, " ") + " --take " + page.ShellWord(name)})
		commands.Lines = slices.Concat(commands.Lines, continued(again, commandColumns),
			takeLines(u.Assemblies, commandColumns))
	}
	if len(a.Units) == 0 {
		s.Lines = []string{"The two have nothing to exchange: every place they share holds the same part."}
		return page.Page{s}
	}
	s.After = []string{"Besides: what is to be found or made to make it fit, and the hardest work of it. Misfits: what " +
		"does not mate as it is " +
		"with what stays. Gained: joints that do not mate when one of the parts comes alone, and do when all come."}
	if unproved {
		s.After = append(s.After, "So far: nothing proves that no plan needs less; with a longer --time there may be one.")
	}
	return page.Page{s, commands}
}

// commandColumns is how wide a line of a command is at most, where it can be broken.
const commandColumns = 79

// takeLines are the flags that take some assemblies, in lines of at most so many columns,
// as many to a flag as there is room for; a longer name keeps a line of its own.
func takeLines(names []string, columns int) []string {
	const flag, more = "--take ", ` \`
	var lines []string
	line := ""
	for i, name := range names {
		room := columns
		if i < len(names)-1 {
			room -= len(more)
		}
		switch {
		case line == "":
			line = flag + name
		case len(line)+len(",")+len(name) <= room:
			line += "," + name
		default:
			lines, line = append(lines, page.Hard(line+more)), flag+name
		}
	}
	return append(lines, page.Hard(line))
}

// continued is the beginning of a command in lines of at most so many columns, broken
// between its words as a shell reads on; a longer word keeps a line of its own.
func continued(words []string, columns int) []string {
	const more = ` \`
	var lines []string
	line := words[0]
	for _, word := range words[1:] {
		if len(line)+len(" ")+len(word)+len(more) <= columns {
			line += " " + word
			continue
		}
		lines, line = append(lines, page.Hard(line+more)), word
	}
	return append(lines, page.Hard(line+more))
}

// rowsOfUnit adds the rows of a group in full: one for each misfit, or one without.
func rowsOfUnit(s *page.Section, u donor.DonorUnit, name string, planned []string) {
	row := func(what, id, verdict, why string) {
		s.Rows.Add(append([]string{name, strconv.Itoa(u.Parts), strconv.Itoa(u.Saved), strconv.Itoa(u.Crossing),
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
func comparePage(a donor.DonorCompared) page.Page {
	s := page.Section{Title: fmt.Sprintf("Donors for %s: %s", a.On, page.List(a.Take))}
	s.Table = page.Table{Columns: []string{"donor", "parts", "work", "cost", "unknown", "ready", "needs besides",
		"outcome"}, Detail: "needs besides"}
	for _, d := range a.Donors {
		if d.Cost == nil {
			s.Table.Add(page.Hard(d.From), "", "", "", "", "", d.Why, d.Outcome)
			continue
		}
		cost := d.Cost.Money
		if len(d.Cost.Unpriced) > 0 {
			cost = strings.TrimSpace(cost + fmt.Sprintf(" + %d unpriced", len(d.Cost.Unpriced)))
		}
		s.Table.Add(page.Hard(d.From), strconv.Itoa(d.Cost.Parts), d.Cost.Effort, cost, strconv.Itoa(d.Cost.SafetyUnknowns),
			yesNo(d.Ready), page.List(d.Needs), d.Outcome)
	}
	return page.Page{s}
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
