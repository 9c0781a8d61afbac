package main

import (
	"matewell/cmd/matewell/internal/page"
	"matewell/queries"
	"matewell/queries/swap"
)

// This file lays out what swap answers for a model year.

// swapReportPage lays out one answer after the other; when there are several, a
// summary of them stands first, and each title says which machine it is about.
func swapReportPage(r swap.SwapReport, all bool) page.Page {
	if len(r.Split) == 0 {
		return swapPage(r.Answers[0], all)
	}
	p := page.Page{swapSplitSection(r), splitSection(r.Split, r.SettledBy)}
	for _, a := range r.Answers {
		covers := page.Join(a.Covers, queries.Coverage.String)
		for i, s := range swapPage(a, all) {
			if i > 0 && !s.IsEmpty() {
				s.Title = covers + ": " + s.Title
			}
			p = append(p, s)
		}
	}
	return p
}

// swapSplitSection sums up the answers, a row for each.
func swapSplitSection(r swap.SwapReport) page.Section {
	s := page.Section{Title: "Swap on " + string(r.Split[0].Variant.Model()) + ": the answers differ"}
	s.Table.Columns = []string{"on", "in all", "safety"}
	for _, a := range r.Answers {
		s.Table.Add(page.Join(a.Covers, queries.Coverage.String), a.Verdict.String(), readyWords(a.Ready, a.NotReady))
	}
	for _, w := range r.Without {
		s.Table.Add(page.Hard(w.On), w.Why, "")
	}
	return s
}
