// Command matewell answers, on the command line, whether motorcycle parts mate
// well: what fits where, what differs, and who says so.
//
// It only reads what was typed, opens a graph, asks one question of package
// queries and prints the answer. It knows no rule of the trade and no quad.
package main
