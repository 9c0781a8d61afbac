package bike

import (
	"matewell/graph"
	"matewell/queries/machine"
)

// Scheme is the colour scheme that painted parts of a machine are taken to have.
type Scheme struct {
	// Name is empty where its variant was sold in none, and in what tells of parts where
	// none of them is painted.
	Name string `json:"scheme"`
	// How is SchemeNoted, SchemeThere or SchemeFirst; empty where only one may be.
	How string `json:"how,omitempty"`
	// By are the pieces that it was taken from, sorted.
	By []graph.PartID `json:"by,omitempty"`
}

// How a colour scheme is known.
const (
	SchemeNoted = "noted"           // its owner says so
	SchemeThere = "what is there"   // most of the pieces noted on it or in boxes have it
	SchemeFirst = "nothing says so" // the first of those that its variant was sold in
)

// schemeOf says how a scheme came to be taken.
func schemeOf(s *machine.Setup, scheme string, by []graph.PartID) Scheme {
	known := Scheme{Name: s.Scheme, By: by}
	switch {
	case len(by) > 0:
		known.How = SchemeThere
	case scheme != "":
		known.How = SchemeNoted
	case len(s.Variant.Schemes) > 1:
		known.How = SchemeFirst
	}
	return known
}
