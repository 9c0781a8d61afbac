package bike

import (
	"slices"

	"matewell/graph"
)

// What a bag's label is worth.
const (
	LabelNone        = "none"        // there is none
	LabelUnclear     = "unclear"     // it names nothing on this machine
	LabelAgrees      = "agrees"      // the contents are what it says
	LabelDecides     = "decides"     // it names one of several that match as well
	LabelContradicts = "contradicts" // the contents are something else
)

// gaugeVerb is what one does to learn a dimension: a mark is read.
func gaugeVerb(dim string) string {
	if dim == "class" || dim == "head" {
		return "read"
	}
	return "measure"
}

// placeName is the place of a bag that a position belongs to, else the position.
func placeName(p placing, id graph.PositionID) string {
	for _, place := range append([]BagPlace{*p.best}, p.ties...) {
		if slices.Contains(place.Positions, id) {
			return place.Name
		}
	}
	return id.Local()
}
