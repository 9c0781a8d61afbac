package queries_test

import (
	"fmt"
	"strings"

	"matewell/queries"
)

// whyText shows a trail: each step, who says so and where, and what would
// prove it wrong.
func whyText(a queries.WhyAnswer) string {
	var b strings.Builder
	for _, row := range a.Fits {
		fmt.Fprintf(&b, "%s | %s | %s: %s\n", row.Part, row.Covers, row.Verdict, row.Why)
		stepsText(&b, row.Steps)
		for _, c := range row.ContradictedBy {
			fmt.Fprintf(&b, "against: %s\n", c)
			stepsText(&b, c.Steps)
		}
	}
	for _, row := range a.Differ {
		fmt.Fprintf(&b, "%s | %s: %s\n", row.Position, row.Class, row.Why)
		for _, way := range []struct {
			name string
			*queries.Direction
		}{{"A on B", row.AOnB}, {"B on A", row.BOnA}} {
			if way.Direction != nil {
				fmt.Fprintf(&b, "%s: %s: %s\n", way.name, way.Verdict, way.Why)
				stepsText(&b, way.Steps)
			}
		}
	}
	return b.String()
}

func stepsText(b *strings.Builder, steps []queries.Step) {
	for _, s := range steps {
		fmt.Fprintf(b, "    %s: %s\n", s.Kind, s.Text)
		for _, source := range s.Sources {
			fmt.Fprintf(b, "        %s, %s, %s\n", source.ID, source.Rank, source.At)
		}
		if s.WrongIf != "" {
			fmt.Fprintf(b, "        wrong if %s\n", s.WrongIf)
		}
	}
}
