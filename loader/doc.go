// Package loader reads hand-written data sets, YAML for what is nested and CSV
// for long lists, and makes graph.Facts of them. Every fault it finds carries
// the file, line and byte column; all faults of all files are reported in one
// run, and a set with an error gives no facts at all.
//
// It works in two passes. The first turns each file into raw items that keep
// their places (files.go, yamlfile.go, csvfile.go and the form of each concept).
// The second resolves names, merges what several files say of one thing, and
// checks it all together (world.go and one file per concept).
//
// It does not know how facts are stored, nor any question that is asked of them.
package loader
