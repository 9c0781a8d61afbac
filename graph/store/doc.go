// Package store keeps the domain types of package graph in Cayley and gives
// them back through graph.Reader. It is the only package that imports Cayley:
// callers hand in and get domain types and never see a quad.
//
// A store keeps records whole, each bundle of them as one literal, with edges
// for what questions walk: see layout.go. An export writes every fact as quads
// of its own, the label being the source that says so: the predicates are in
// vocabulary.go, the identities in iri.go, and each domain type turns into quads
// and back in the file that carries its name, for export and import only.
package store
