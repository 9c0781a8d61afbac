package main

import (
	"fmt"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// This file says first what an answer about changes comes to: the verdict, what
// stands in the way of riding, what was not judged, and what to get.

// mostInTheWay is how many of the things that stand in the way of riding the
// first lines name; the sections below them have all.
const mostInTheWay = 10

// standingLines are the first lines of a swap.
func standingLines(a swap.SwapAnswer) []string {
	lines := []string{verdictLine(a)}
	lines = append(lines, inTheWay(a)...)
	lines = append(lines, restOf(a)...)
	if open := notJudgedWords(a.NotJudged); open != "" {
		lines = append(lines, open)
	}
	return append(lines, toGetWords(a)...)
}

// restOf says, of a swap on somebody's own machine, that what it does not touch was not
// looked at: that may stand in the way of riding all the same.
func restOf(a swap.SwapAnswer) []string {
	if a.Bike == "" {
		return nil
	}
	return []string{fmt.Sprintf("Of what this touches; whether all of %s goes together: matewell bike %s", a.Bike, a.Bike)}
}

// verdictLine is the verdict as it stands, and with all that there is to get.
func verdictLine(a swap.SwapAnswer) string {
	ready := readyOf(a)
	switch {
	case a.Then == nil:
		return "In all: " + a.Verdict.String() + ". " + ready
	case a.Then.VerdictWords() == a.Verdict.String():
		return "In all: " + a.Verdict.String() + ", also with all that there is to get. " + ready
	}
	return fmt.Sprintf("In all: %s as it is; with all that there is to get: %s. %s", a.Verdict, a.Then.VerdictWords(),
		ready)
}

// readyOf says whether it may be ridden once all that there is to get is on, and
// where that differs, as it is.
func readyOf(a swap.SwapAnswer) string {
	switch {
	case a.Then != nil && a.Then.Ready && !a.Ready:
		return "Not ready to ride as it is: " + againstWords(a.NotReady) +
			"; with that on, nothing safety-relevant stands against it."
	case a.Then != nil:
		return readyWords(a.Then.Ready, a.Then.NotReady)
	}
	return readyWords(a.Ready, a.NotReady)
}

// verdictLeft is the verdict once all that there is to get is on.
func verdictLeft(a swap.SwapAnswer) graph.Verdict {
	if a.Then != nil {
		return a.Then.Verdict
	}
	return a.Verdict
}

// inTheWay names what stands in the way of riding once all that there is to get
// is on, worst first; left and right once.
func inTheWay(a swap.SwapAnswer) []string {
	t := page.Table{Columns: []string{"what", "verdict"}}
	outcomes := slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges)
	if a.Then != nil {
		outcomes = a.Then.Left
	}
	for _, o := range a.Before {
		if len(o.Safety) > 0 {
			t.Add(meetingName(o)+" (was so before)", o.After.String())
		}
	}
	for _, verdict := range []graph.Verdict{graph.DoesNotFit, graph.Unknown, graph.FitsWithChanges} {
		for _, o := range outcomes {
			if o.After == verdict && o.IsOpen() {
				name := meetingName(o)
				if o.What == examine.OfPlace {
					name += " (not all of it judged)"
				}
				t.Add(name, verdict.String())
			}
		}
		for _, n := range a.Numbers {
			if n.Verdict == verdict && verdict != graph.FitsWithChanges && n.Safety != graph.SafetyNone {
				t.Add(n.Name, verdict.String())
			}
		}
	}
	addWorst(&t, verdictLeft(a), outcomes)
	var lines []string
	rows := page.BothSides(t, "what").Rows
	for _, row := range rows[:min(len(rows), mostInTheWay)] {
		if line := "  " + row[1] + ": " + row[0]; !slices.Contains(lines, line) {
			lines = append(lines, line)
		}
	}
	if more := len(rows) - mostInTheWay; more > 0 {
		lines = append(lines, fmt.Sprintf("  and %d more, below", more))
	}
	return lines
}

// addWorst adds to what stands in the way what makes the verdict that the head says, where none
// of it does: it is no matter of safety.
func addWorst(t *page.Table, verdict graph.Verdict, outcomes []examine.Outcome) {
	isTold := slices.ContainsFunc(t.Rows, func(row []string) bool { return row[1] == verdict.String() })
	if isTold || len(t.Rows) == 0 || verdict != graph.DoesNotFit && verdict != graph.Unknown {
		return
	}
	for _, o := range outcomes {
		if o.After == verdict {
			t.Add(meetingName(o)+" (not a matter of safety)", verdict.String())
		}
	}
}

// notJudgedWords names the places where something that decides was not judged.
func notJudgedWords(left []examine.NotJudged) string {
	t := page.Table{Columns: []string{"where", "what"}}
	at := map[graph.PositionID]int{}
	for _, n := range left {
		if !n.Decides {
			continue
		}
		if _, have := at[n.Position]; !have {
			at[n.Position] = len(t.Rows)
			t.Add(n.Position.Local(), "")
		}
		row := t.Rows[at[n.Position]]
		row[1] = strings.TrimPrefix(row[1]+", "+dimOfFeature(n.Feature, n.Dim), ", ")
	}
	if len(t.Rows) == 0 {
		return ""
	}
	said := page.Join(page.BothSides(t, "where").Rows, func(row []string) string {
		return page.BreakAfter(row[0], "/") + " (" + row[1] + ")"
	})
	return "Not judged: " + said + "."
}

// toGetWords names the parts to get, and counts what is made or ordered by its
// sizes, and what is to be made or altered on parts that are there. What was there before is
// not to be got: it goes back.
func toGetWords(a swap.SwapAnswer) []string {
	var parts, back, made, work page.Tally
	for _, g := range a.Get {
		to, name := &made, g.What
		switch {
		case g.IsWork():
			for _, f := range g.Spec { // "bodywork/side-panel-left rear"
				at, _, _ := strings.Cut(f.Name, " ")
				work.Add(at)
			}
			continue
		case g.Part != "":
			if to, name = &parts, page.Hard(g.Part); isOldPart(a, g) {
				to = &back
			}
			if g.Name != "" {
				name += " " + strings.TrimPrefix(strings.TrimPrefix(g.Name, string(g.Part)), ", ")
			}
		}
		for range max(g.Quantity, 1) {
			to.Add(name)
		}
	}
	var lines []string
	if len(back.Names) > 0 {
		lines = append(lines, "To put back, as was there: "+times(&back)+".")
	}
	if len(parts.Names) > 0 {
		lines = append(lines, "To get: "+times(&parts)+".")
	}
	if len(made.Names) > 0 {
		lines = append(lines, "To make or order by size: "+times(&made)+".")
	}
	if len(work.Names) > 0 {
		lines = append(lines, "Points to make or alter: "+work.At()+".")
	}
	return lines
}

// isOldPart reports whether what is offered is what the swap takes off there.
func isOldPart(a swap.SwapAnswer, g swap.Get) bool {
	return slices.ContainsFunc(a.Swaps, func(l swap.SwapLine) bool { return l.Position == g.Position && l.Was == g.Part })
}

// times says how many of each: "2 x bracket, hose".
func times(t *page.Tally) string {
	said := make([]string, len(t.Names))
	for i, name := range t.Names {
		said[i] = name
		if n := t.Of[name]; n > 1 {
			said[i] = fmt.Sprintf("%d%sx %s", n, page.HardSpace, name)
		}
	}
	return strings.Join(said, "; ")
}
