package differ

import (
	"fmt"

	"matewell/graph"
	"matewell/queries/evidence"
)

// DisputedDim is a measure of one part that voices disagree on.
type DisputedDim struct {
	Part    graph.PartID `json:"part"`
	Feature string       `json:"feature"`
	Dim     string       `json:"dim"`
	// Used is the voice that counted, Against are those that say otherwise,
	// best first; each with what it says.
	Used    evidence.Source   `json:"used"`
	Against []evidence.Source `json:"against"`
	Settle  string            `json:"settle"`
}

// String is the dispute in short: "spacing of mount of Tarnholt 207.4418c is
// 96 mm (f-0002, measured); against it 84 mm (parts-list-2003, factory
// document)".
func (d DisputedDim) String() string {
	text := fmt.Sprintf("%s of %s of %s is %s (%s, %s)", d.Dim, d.Feature, d.Part, d.Used.Says, d.Used.ID, d.Used.Rank)
	for _, s := range d.Against {
		text += fmt.Sprintf("; against it %s (%s, %s)", s.Says, s.ID, s.Rank)
	}
	return text
}

// disputedReadings are the readings of a dimension, some of which disagree with
// the first.
type disputedReadings struct {
	part     graph.Part
	feature  string
	dim      graph.DimSpec
	readings []graph.Reading
}
