package why

import (
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// numberTrail is the trail of one figure of a swap: what it was worked out from
// before and after, by which formula, and what it came to.
func numberTrail(before, after *machine.Setup, n examine.Number) WhyTrail {
	t := WhyTrail{ID: n.AnswerID, About: n.Name + " of " + queries.LocalName(n.About), Safety: n.Safety,
		Verdict: n.Verdict, Says: says(n)}
	used := map[string]int{}
	inputs := func(s *machine.Setup, uses []mating.Use) []int {
		return lists.Mapped(swap.UsesByPlace(uses), func(group []mating.Use) int { return t.use(s, group, used) })
	}
	was, is := inputs(before, n.WasUses), inputs(after, n.Uses)
	law := t.add(evidence.Step{Kind: evidence.StepRule, Text: n.Formula + ", by " + n.Source})
	var came []int
	if n.Before != nil {
		came = append(came, t.add(evidence.Step{Kind: evidence.StepComputed, Text: "before: " + figure(n, n.Before)},
			append(was, law)...))
	}
	if n.After != nil {
		came = append(came, t.add(evidence.Step{Kind: evidence.StepComputed, Text: "after: " + figure(n, n.After)},
			append(is, law)...))
	}
	if n.Donor != nil {
		t.add(evidence.Step{Kind: evidence.StepComputed,
			Text: "on " + string(n.DonorOn) + " as built: " + figure(n, n.Donor)}, law)
	}
	if n.Words != "" {
		t.add(evidence.Step{Kind: evidence.StepComputed, Text: n.Words}, came...)
	}
	for _, ask := range n.Measure {
		t.settle(ask)
	}
	for _, differ := range n.Differ {
		t.Settle = append(t.Settle, "sources differ: measure "+differ)
	}
	return t
}

// says is "23.14 before, 19.13 after, -17.4 %".
func says(n examine.Number) string {
	var words []string
	if n.Before != nil {
		words = append(words, figure(n, n.Before)+" before")
	}
	if n.After != nil {
		words = append(words, figure(n, n.After)+" after")
	} else {
		words = append(words, graph.Unknown.String()+" after")
	}
	if n.Change != "" {
		words = append(words, n.Change)
	}
	return strings.Join(words, ", ")
}

func figure(n examine.Number, v *float64) string {
	return strings.TrimSpace(strconv.FormatFloat(*v, 'f', -1, 64) + " " + n.Unit)
}
