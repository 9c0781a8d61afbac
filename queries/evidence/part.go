package evidence

import (
	"slices"

	"matewell/graph"
)

// PartCites are all citations of a part and its readings.
func PartCites(p graph.Part) []graph.Cite {
	cites := slices.Clone(p.Said)
	for _, f := range p.Features {
		for _, readings := range f.Dims {
			for _, r := range readings {
				cites = append(cites, r.Cite)
			}
		}
	}
	for _, r := range p.Price {
		cites = append(cites, r.Cite)
	}
	return cites
}

// PartLine is a part in one line.
type PartLine struct {
	ID       graph.PartID `json:"id"`
	Name     string       `json:"name,omitempty"`
	Kind     graph.KindID `json:"kind"`
	Core     string       `json:"core"`
	Revision string       `json:"revision,omitempty"`
	Colour   string       `json:"colour,omitempty"`
}

// LineOfPart is a part as an answer shows it.
func LineOfPart(p graph.Part) *PartLine {
	return &PartLine{ID: p.ID, Name: p.Name, Kind: p.Kind, Core: p.Number.Core,
		Revision: p.Number.Revision, Colour: p.Number.Colour}
}
