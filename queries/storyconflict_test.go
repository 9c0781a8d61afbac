package queries_test

import (
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/queries/conflicts"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// conflictsText shows contradictions: both sides with who says so, and what
// would settle it at what cost.
func conflictsText(a conflicts.ConflictsAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		open := ""
		if row.Open {
			open = " | open"
		}
		fmt.Fprintf(&b, "%s | %s | %s | %s%s\n", orDash(safetyText(row.Safety)), row.Sort, row.About, orDash(row.Covers),
			open)
		for _, s := range row.Sides {
			fmt.Fprintf(&b, "    %s%s\n", s.Says, sideVoices(s.Rank, s.Sources))
		}
		fmt.Fprintf(&b, "    to settle it: %s\n", row.Settle)
		if row.Cost != nil {
			fmt.Fprintf(&b, "        %s: %s\n", row.Cost.Effort, row.Cost.Why)
		}
	}
	if len(a.Rows) == 0 {
		return "nobody contradicts anybody\n"
	}
	return b.String()
}

func safetyText(classes []graph.Safety) string {
	var words []string
	for _, s := range classes {
		words = append(words, string(s))
	}
	return strings.Join(words, ", ")
}

func sideVoices(rank evidence.Rank, voices []evidence.Source) string {
	if len(voices) == 0 {
		return ""
	}
	var ids []string
	for _, v := range voices {
		ids = append(ids, v.ID+reprint(v))
	}
	return fmt.Sprintf(" (%s: %s)", rank, strings.Join(ids, "; "))
}

// swapText shows what a swap comes to: each outcome with what it was judged by,
// and where somebody says otherwise.
func swapText(a swap.SwapAnswer) string {
	var b strings.Builder
	for _, list := range [][]examine.Outcome{a.DoesNotMate, a.Unknown, a.WithChanges, a.Mates} {
		for _, o := range list {
			fmt.Fprintf(&b, "%s %s | %s: %s\n", o.What, o.ID, o.After, o.Why)
			for _, c := range o.Checks {
				for _, use := range c.Uses {
					fmt.Fprintf(&b, "    %s: %s of %s is %s (%s)\n", c.Rule, use.Dim, use.Part, use.Reading.Text, use.Reading.Source)
				}
			}
		}
	}
	for _, c := range a.Conflicts {
		var sides []string
		for _, s := range c.Sides {
			says := s.Says
			if s.Source != nil {
				says += fmt.Sprintf(" (%s, %s)", s.Source.ID, s.Source.Rank)
			}
			sides = append(sides, says)
		}
		fmt.Fprintf(&b, "conflict: %s: %s; to settle it: %s\n", c.About, strings.Join(sides, " / "), c.Settle)
	}
	fmt.Fprintf(&b, "in all: %s\n", a.Verdict)
	swapRest(&b, a)
	return b.String()
}
