package store

import (
	"github.com/cayleygraph/quad"
)

// How records lie in a store. Its own terms never leave it: what an export says
// is in vocabulary.go.
//
// The node of a bundle -holds-> literal: a JSON array of records. A source,
// brand, kind, model, part, supersession, finding or bike is a bundle by itself,
// at the node of its identity. Records that are read together share bundles at
// a home: variants and assemblies at their model, positions at their assembly,
// joints, runs, circuits and stacks at their model, fitments at their part and
// once more at their assembly, since both ways are asked all the time and
// walking from one to the other would read every row for itself.
//
// From the node of a bundle edges lead to what questions walk from.
const layoutTerms = "https://matewell.example/store#"

const (
	// Bundle -> literal.
	termHolds quad.IRI = layoutTerms + "holds"
	// Followed by the name of a sort: record -> class, of sorts that are asked
	// for as a whole.
	termEvery quad.IRI = layoutTerms + "every/"
	// Followed by the name of a sort: bundle -> its home.
	termHome quad.IRI = layoutTerms + "home/"

	edgeVariantOf   quad.IRI = layoutTerms + "variant/of"    // -> model
	edgeAssemblyOf  quad.IRI = layoutTerms + "assembly/of"   // -> model
	edgePositionIn  quad.IRI = layoutTerms + "position/in"   // -> assembly
	edgePositionOf  quad.IRI = layoutTerms + "position/of"   // -> model
	edgeContains    quad.IRI = layoutTerms + "part/contains" // kit -> part
	edgeOffers      quad.IRI = layoutTerms + "kind/offers"   // kind -> feature kind
	edgeFitmentOf   quad.IRI = layoutTerms + "fitment/of"    // -> part
	edgeFitmentIn   quad.IRI = layoutTerms + "fitment/in"    // -> assembly
	edgeFitmentOn   quad.IRI = layoutTerms + "fitment/on"    // -> model of a variant
	edgeOld         quad.IRI = layoutTerms + "supersession/old"
	edgeNew         quad.IRI = layoutTerms + "supersession/new"
	edgeTouches     quad.IRI = layoutTerms + "touches/" // followed by the sort -> position
	edgeOf          quad.IRI = layoutTerms + "of/"      // followed by the sort -> model
	edgeFindingPart quad.IRI = layoutTerms + "finding/part"
	edgeFindingAt   quad.IRI = layoutTerms + "finding/at" // -> position
)

// edgesTo gathers edges, each once.
type edgesTo struct {
	from  quad.IRI
	quads []quad.Quad
	seen  map[[2]quad.IRI]bool
}

func (e *edgesTo) add(predicate, node quad.IRI) {
	key := [2]quad.IRI{predicate, node}
	if e.seen[key] {
		return
	}
	if e.seen == nil {
		e.seen = map[[2]quad.IRI]bool{}
	}
	e.seen[key] = true
	e.quads = append(e.quads, quad.Quad{Subject: e.from, Predicate: predicate, Object: node})
}

// edge adds an edge to the node of an identity; nothing for an empty one.
func edge[T identity](e *edgesTo, predicate quad.IRI, ids ...T) {
	for _, id := range ids {
		if id != "" {
			e.add(predicate, iri(id))
		}
	}
}
