package examine

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// useLink is a reading that was judged by, as something that must hold.
func useLink(use mating.Use) evidence.Link {
	where := string(use.Part)
	if where == "" {
		where = use.Position.Local()
	}
	text := fmt.Sprintf("%s of %s of %s is %s", use.Dim, use.Feature, where, use.Reading.Text)
	if use.Reading.Method != "" {
		text += ", " + use.Reading.Method
	}
	return evidence.Link{Kind: evidence.StepDimension, Text: text, Cites: []graph.Cite{use.Reading.Cite},
		WrongIf: "measured again it is another"}
}

// RuleLinks are what a rule judged by, and then what it came to.
func RuleLinks(rule string, verdict graph.Verdict, why string, uses []mating.Use) []evidence.Link {
	links := lists.Mapped(uses, useLink)
	return append(links, evidence.Link{Kind: evidence.StepRule, Text: fmt.Sprintf("%s: %s: %s", rule, verdict, why)})
}
