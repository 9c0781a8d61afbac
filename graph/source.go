package graph

import (
	"cmp"

	"matewell/graph/diag"
)

// SourceKind says what sort of source a claim comes from; it decides its rank.
type SourceKind string

// The kinds of source.
const (
	SourcePartsList   SourceKind = "factory parts list"
	SourceManual      SourceKind = "factory manual"
	SourceBulletin    SourceKind = "factory bulletin"
	SourceMeasurement SourceKind = "measurement"
	SourcePhoto       SourceKind = "fitted and photographed"
	SourceReport      SourceKind = "report"
	SourceSeller      SourceKind = "seller's text"
	SourceStandard    SourceKind = "standard"
	SourcePractice    SourceKind = "common practice"
	// SourcePlaced puts a part of a list where its name says that it belongs. Nobody has
	// said that it goes there.
	SourcePlaced SourceKind = "placed by name"
)

// SourceKinds are all kinds, in the order a person is offered them.
func SourceKinds() []SourceKind {
	return []SourceKind{SourcePartsList, SourceManual, SourceBulletin, SourceMeasurement,
		SourcePhoto, SourceReport, SourceSeller, SourceStandard, SourcePractice, SourcePlaced}
}

// Source is where claims come from.
type Source struct {
	ID    SourceID
	Kind  SourceKind
	Title string
	// Date is when it was published or written, as far as known: "2003",
	// "2003-02" or "2003-02-17"; empty when not known.
	Date string
	// Scope says for which machines it speaks; the zero Scope is all.
	Scope Scope
	// Origin is the source this one was taken from, empty when it is its own
	// origin. Sources of one origin count once.
	Origin SourceID
	Pos    diag.Pos
}

// Cite is one place that says something: the source and where in the files it
// was read from.
type Cite struct {
	Source SourceID `json:"source"`
	Pos    diag.Pos `json:"pos"`
}

// Compare orders by source, then place.
func (c Cite) Compare(o Cite) int {
	return cmp.Or(cmp.Compare(c.Source, o.Source), c.Pos.Compare(o.Pos))
}

// Reading is one source's value for one quantity, as written ("22.2 mm
// +0/-0.1"). Several readings of one quantity may disagree; all are kept.
type Reading struct {
	Text   string `json:"text"`
	Method string `json:"method"` // how it was measured, "vernier caliper"; empty when not said
	// Outranked is set by those who rank readings, never stored: somebody
	// measured otherwise on the very part, so this one decides nothing.
	Outranked bool `json:"outranked,omitempty"`
	// Settled is set with Outranked where two people measured otherwise, each by
	// themselves: then it decides nothing at a place with a safety class either.
	Settled bool `json:"settled,omitempty"`
	Cite
}
