package queries_test

import (
	"fmt"
	"strings"

	"matewell/queries/evidence"
	"matewell/queries/why"
)

// whyText shows trails: each step, who says so and where, what it was worked
// out from, and what would prove it wrong.
func whyText(a why.WhyAnswer) string {
	var b strings.Builder
	for _, t := range a.Trails {
		fmt.Fprintf(&b, "%s | %s: %s\n", t.About, orDash(t.Verdict.String()), t.Says)
		for _, step := range t.Steps {
			fmt.Fprintf(&b, "    %d %s: %s%s\n", step.Number, step.Kind, step.Text, fromText(step.From))
			voicesText(&b, step.Step)
		}
		for _, c := range t.ContradictedBy {
			fmt.Fprintf(&b, "against: %s\n", c)
			for _, step := range c.Steps {
				fmt.Fprintf(&b, "    %s: %s\n", step.Kind, step.Text)
				voicesText(&b, step)
			}
		}
		for _, settle := range t.Settle {
			fmt.Fprintf(&b, "to settle it: %s\n", settle)
		}
	}
	return b.String()
}

func fromText(from []int) string {
	if len(from) == 0 {
		return ""
	}
	return " <- " + strings.Trim(fmt.Sprint(from), "[]")
}

func voicesText(b *strings.Builder, s evidence.Step) {
	for _, source := range s.Sources {
		says := ""
		if source.Says != "" {
			says = source.Says + ", "
		}
		fmt.Fprintf(b, "        %s%s, %s, %s\n", says, source.ID, source.Rank, source.At)
	}
	if s.WrongIf != "" {
		fmt.Fprintf(b, "        wrong if %s\n", s.WrongIf)
	}
}
