package queries

import (
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
)

// numberTrail is the trail of one figure of a swap: what it was worked out from
// before and after, by which formula, and what it came to.
func numberTrail(before, after *Setup, n Number) WhyTrail {
	t := WhyTrail{ID: n.AnswerID, About: n.Name + " of " + localName(n.About), Safety: n.Safety, Verdict: n.Verdict, Says: n.says()}
	used := map[string]int{}
	inputs := func(s *Setup, uses []mating.Use) []int {
		return mapped(usesByPlace(uses), func(group []mating.Use) int { return t.use(s, group, used) })
	}
	was, is := inputs(before, n.WasUses), inputs(after, n.Uses)
	law := t.add(Step{Kind: StepRule, Text: n.Formula + ", by " + n.Source})
	var came []int
	if n.Before != nil {
		came = append(came, t.add(Step{Kind: StepComputed, Text: "before: " + n.figure(n.Before)}, append(was, law)...))
	}
	if n.After != nil {
		came = append(came, t.add(Step{Kind: StepComputed, Text: "after: " + n.figure(n.After)}, append(is, law)...))
	}
	if n.Donor != nil {
		t.add(Step{Kind: StepComputed, Text: "on " + string(n.DonorOn) + " as built: " + n.figure(n.Donor)}, law)
	}
	if n.Words != "" {
		t.add(Step{Kind: StepComputed, Text: n.Words}, came...)
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
func (n Number) says() string {
	var words []string
	if n.Before != nil {
		words = append(words, n.figure(n.Before)+" before")
	}
	if n.After != nil {
		words = append(words, n.figure(n.After)+" after")
	} else {
		words = append(words, graph.Unknown.String()+" after")
	}
	if n.Change != "" {
		words = append(words, n.Change)
	}
	return strings.Join(words, ", ")
}

func (n Number) figure(v *float64) string {
	return strings.TrimSpace(strconv.FormatFloat(*v, 'f', -1, 64) + " " + n.Unit)
}
