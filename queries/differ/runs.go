package differ

import (
	"fmt"
	"slices"
	"strings"

	"matewell/queries"
	"matewell/queries/lists"
)

func sameMarkets(runs []PartRun) bool {
	first := runs[0].Coverages[0].Markets
	for _, r := range runs {
		for _, c := range r.Coverages {
			if !slices.Equal(c.Markets, first) {
				return false
			}
		}
	}
	return true
}

// runText is "2001-2002, 2003 early"; with the markets when they differ.
func runText(coverages []queries.Coverage, markets bool) string {
	return strings.Join(lists.Mapped(coverages, func(c queries.Coverage) string {
		text := c.Years()
		if markets {
			text += " " + strings.Join(c.Markets, ", ")
		}
		if c.Mark != "" {
			text += " " + c.Mark
		}
		return text
	}), ", ")
}

// summaryOf counts the positions, each by the worst of its rows, and says it in a
// line.
func summaryOf(a DifferAnswer) DifferSummary {
	s := DifferSummary{}
	at := map[string]Class{}
	for _, row := range a.Rows {
		if class, have := at[row.Position]; have {
			at[row.Position] = class.worst(row.Class)
			continue
		}
		at[row.Position] = row.Class
	}
	s.Positions = len(at)
	var words []string
	for _, class := range classes() {
		n := 0
		for _, worst := range at {
			if worst == class {
				n++
			}
		}
		if n > 0 {
			s.Classes = append(s.Classes, ClassCount{Class: class, Positions: n})
			words = append(words, fmt.Sprintf("%d %s", n, class))
		}
	}
	s.Text = fmt.Sprintf("%d positions compared: %s", s.Positions, strings.Join(words, ", "))
	switch s.Positions {
	case 0:
		s.Text = "no position to compare"
	case 1:
		s.Text = strings.Replace(s.Text, "positions", "position", 1)
	}
	return s
}
