// Package evidence says who says so, and how it ranks. A Source is one voice; of
// several claims about one part at one place, judged by Evidence.Judge, the best
// one wins and the others are named. Chains of supersession, the readings of a
// part ranked best first, findings and the steps of a trail are here too, since
// every question speaks in them.
package evidence
