package examine

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/mating"
)

// UseLink is a reading that was judged by, as something that must hold.
func UseLink(use mating.Use) evidence.Link {
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
