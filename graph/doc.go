// Package graph holds the domain of matewell: models and their variants,
// positions, parts with mating features, joints, runs, circuits, stacks,
// supersessions, findings, sources and the user's own bikes.
//
// It knows no storage, no file format and no command line. Callers never see
// quads: package graph/store keeps these types in Cayley and gives them back
// through the Reader interface.
package graph
