package storetest

import (
	"pgregory.net/rapid"

	"matewell/graph"
)

// Random draws data sets in which everything refers to something that is
// there, every list is sorted as graph says, and the texts are awkward.
func Random() *rapid.Generator[graph.Facts] {
	return rapid.Custom(func(t *rapid.T) graph.Facts {
		d := &dice{t: t}
		d.sources = names[graph.SourceID](d, 1, 3)
		d.at = names[graph.PositionID](d, 1, 4)
		d.on = names[graph.VariantID](d, 1, 3)
		d.parts = names[graph.PartID](d, 1, 4)
		d.kinds = names[graph.KindID](d, 1, 2)
		f := graph.Facts{}
		d.addCatalogue(&f)
		d.addMachines(&f)
		d.addJoints(&f)
		d.addPeople(&f)
		return f
	})
}
