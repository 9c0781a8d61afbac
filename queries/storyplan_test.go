package queries_test

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"matewell/graph"
	"matewell/queries/donor"
	"matewell/queries/plan"
)

// planAnswer asks for a plan: what comes from a donor, or what is fixed by hand.
func planAnswer(ctx context.Context, r graph.Reader, q asked) (any, string, error) {
	prefer, err := plan.ParsePrefer(cmp.Or(q.options["prefer"], "effort"))
	if err != nil {
		return nil, "", err
	}
	question := donor.DonorQuestion{On: q.options["on"], From: q.options["from"], Take: listed(q.options["take"]),
		Keep: listed(q.options["keep"]),
		// a proof, however busy the machine
		Prefer: prefer, Boxes: q.options["boxes"] != "", All: true, Time: 100 * time.Hour,
		DonorStays: q.options["donor-stays"] != ""}
	if question.Swaps, err = q.swaps(); err != nil {
		return nil, "", err
	}
	a, err := donor.Donor(ctx, r, question)
	return nil, planText(a), err // the command line fills its empty lists
}

func listed(words string) []string {
	if words == "" {
		return nil
	}
	return strings.Split(words, ",")
}

// planText writes the plans with one part a line.
func planText(a donor.DonorAnswer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, plans of that cost: %d\n", a.Outcome, a.Equal)
	for i, p := range a.Plans {
		c := p.Cost
		fmt.Fprintf(&b, "plan %d: unknown %d, %s, %d parts, %s, unpriced %d, ready %v\n", i+1, c.SafetyUnknowns, c.Effort,
			c.Parts, cmp.Or(c.Money, "no price known"), len(c.Unpriced), p.Ready())
		if c.OtherUnknowns > 0 {
			fmt.Fprintf(&b, "    left unknown besides: %d\n", c.OtherUnknowns)
		}
		for _, part := range p.Take {
			fmt.Fprintf(&b, "    take %s %s%s\n", part.Position.Local(), part.Part, emptyText(part))
		}
		for _, part := range p.Get {
			fmt.Fprintf(&b, "    get %s %s %s%s%s\n", part.Position.Local(), part.Part, part.Price, boxText(part),
				emptyText(part))
		}
		for _, part := range p.Off {
			fmt.Fprintf(&b, "    off %s %s\n", part.Position.Local(), part.Was)
		}
		for _, part := range p.LeftOut {
			fmt.Fprintf(&b, "    leave %s %s\n", part.Position.Local(), part.Part)
		}
		if after := p.DonorAfter; after != nil {
			fmt.Fprintf(&b, "    donor usable %v\n", after.Usable)
			for _, part := range after.Gets {
				fmt.Fprintf(&b, "        gets %s %s\n", part.Position.Local(), part.Part)
			}
			for _, part := range after.Lacks {
				fmt.Fprintf(&b, "        lacks %s\n", part.Position.Local())
			}
		}
		for _, g := range p.Make {
			fmt.Fprintf(&b, "    %s %s: %s\n", g.What, g.Position.Local(), g.Text)
		}
		for _, part := range p.Stay {
			if part.EmptyNow {
				fmt.Fprintf(&b, "    stays empty: %s\n", part.Position.Local())
			}
		}
	}
	if a.Clash != nil {
		for _, j := range slices.Concat(a.Clash.Joints, a.Clash.Also) {
			fmt.Fprintf(&b, "clash at %s: %s\n", j.ID, j.Text)
		}
		for _, open := range a.Clash.Opens {
			fmt.Fprintf(&b, "opens: %s\n", open)
		}
	}
	return b.String()
}

func emptyText(p donor.DonorPart) string {
	if p.EmptyNow {
		return ", empty now"
	}
	return ""
}

func boxText(p donor.DonorPart) string {
	if strings.HasPrefix(p.From, "box ") {
		return ", from " + p.From
	}
	return ""
}
