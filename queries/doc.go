// Package queries answers the questions of the trade over a graph.Reader: what
// fits, what differs, what a part is, what an unlabelled part may be. Each question
// has a folder of its own. Here is what all of them share: how machines, places
// and parts are looked up by what a person typed, the errors when that fails, the
// identities of answers, which variants an answer covers, and the cautions.
//
// It knows no storage, no file format, no command line and no colours or
// columns: an answer is a plain struct with JSON tags, in a stable order.
//
// Two rules hold everywhere. An answer never says "fits" because something is
// missing: what nobody said is "unknown". And nothing is averaged: where two
// sources disagree, both are in the answer.
package queries
