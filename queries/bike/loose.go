package bike

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// LoosePart is hardware that does not belong to its bag's place, with what it
// may be.
type LoosePart struct {
	Item     string `json:"item"`
	Quantity int    `json:"quantity"`
	// Here are positions of this machine that take it, Elsewhere where other
	// machines have it; the second only when there is no first.
	Here      []graph.PositionID `json:"here,omitempty"`
	Elsewhere []evidence.Use     `json:"elsewhere,omitempty"`
	// Parts are the numbers with these measurements, sorted.
	Parts []graph.PartID `json:"parts,omitempty"`
	// Suits are threads of parts that were found on the machine and are not the
	// book's: hardware of another machine may belong to them.
	Suits []string `json:"suits,omitempty"`
	// Unread are dimensions that would tell the candidates apart.
	Unread []string `json:"unread,omitempty"`
	Text   string   `json:"text"` // all of it in a phrase
}

// looseTable is the known hardware of the kinds that lie in bags.
type looseTable struct {
	parts []graph.Part
	uses  map[graph.PartID][]evidence.Use
}

func hasThread(f graph.Feature, text string) bool {
	return slices.ContainsFunc(f.Dims["thread"],
		func(r graph.Reading) bool { return alike("thread", measure.Thread, r.Text, text) })
}

// looseText says what loose hardware may be.
func looseText(line LoosePart, full bool) string {
	switch {
	case full && len(line.Here) == 0:
		return "more than its place takes"
	case full:
		return "more than its place takes; the same goes to " + placesText(line.Here)
	case len(line.Here) > 0:
		return "goes to " + placesText(line.Here)
	case len(line.Suits) > 0 && !full:
		return "nothing the book lists here takes it; it suits the " + strings.Join(line.Suits, ", the ")
	case len(line.Elsewhere) > 0:
		on := []string{}
		at := []graph.PositionID{}
		for _, use := range line.Elsewhere {
			on, at = append(on, string(use.Coverage.Model)+" "+use.Covers), append(at, use.Position)
		}
		return "foreign: nothing here takes it; on " + strings.Join(lists.Unique(on),
			"; ") + " it is at " + placesText(lists.Unique(at))
	case len(line.Parts) > 0:
		return "known as " + string(line.Parts[0]) + ", which no machine lists"
	}
	return "no number in the graph has these measurements"
}
