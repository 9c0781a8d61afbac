package main

import (
	"matewell/queries"
	"matewell/queries/swap"
)

// This file lays out what swap answers for a model year.

// swapReportPage lays out one answer after the other; when there are several, a
// summary of them stands first, and each title says which machine it is about.
func swapReportPage(r swap.SwapReport, all bool) page {
	if len(r.Split) == 0 {
		return swapPage(r.Answers[0], all)
	}
	p := page{swapSplitSection(r), splitSection(r.Split, r.SettledBy)}
	for _, a := range r.Answers {
		covers := join(a.Covers, queries.Coverage.String)
		for i, s := range swapPage(a, all) {
			if i > 0 && !s.isEmpty() {
				s.Title = covers + ": " + s.Title
			}
			p = append(p, s)
		}
	}
	return p
}

// swapSplitSection sums up the answers, a row for each.
func swapSplitSection(r swap.SwapReport) section {
	s := section{Title: "Swap on " + string(r.Split[0].Variant.Model()) + ": the answers differ"}
	s.Table.Columns = []string{"on", "in all", "safety"}
	for _, a := range r.Answers {
		s.Table.add(join(a.Covers, queries.Coverage.String), a.Verdict.String(), readyWords(a.Ready, a.NotReady))
	}
	for _, w := range r.Without {
		s.Table.add(hard(w.On), w.Why, "")
	}
	return s
}
