// Package queries answers the questions of the trade over a graph.Reader: what
// fits, what differs, what a part is, what an unlabelled part may be. There is
// one file per question, or a few that share its name.
//
// It knows no storage, no file format, no command line and no colours or
// columns: an answer is a plain struct with JSON tags, in a stable order.
//
// Two rules hold everywhere. An answer never says "fits" because something is
// missing: what nobody said is "unknown". And nothing is averaged: where two
// sources disagree, both are in the answer.
package queries
