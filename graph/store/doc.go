// Package store keeps the domain types of package graph in Cayley and gives
// them back through graph.Reader. It is the only package that imports Cayley:
// callers hand in and get domain types and never see a quad.
//
// One fact is one quad; its label is the source that says so. The predicates
// are in vocabulary.go, the identities in iri.go, and each domain type has its
// codec in the file that carries its name.
package store
