// Package examine says what a change touches, and whether it mates: joints, runs,
// rows along an axle, discs in calipers, chains, circuits, pairs, paint. Examine
// judges what the changes of one setup touch against another setup, ExamineAll the
// whole machine as it stands; each gives Outcomes, judged before and after. The
// numbers that a change moves are here too. The rules are in package mating.
package examine
