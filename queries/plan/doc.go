// Package plan finds the smallest set of changes after which everything mates:
// an exact choice of one option a slot, under demands over small groups of
// slots, by costs of which the first that differs decides.
//
// It is pure: no graph, no parts, no joints. Callers turn positions into slots,
// candidate parts into options, joints, runs and stacks into demands, and read
// the plan back. It never trusts a caller's idea of what mates: only the
// combinations a demand lists are allowed.
//
// How it works. Options that can't be in any plan, or never in a cheapest one,
// go first (reduce.go, dominate.go); what is left falls into pieces that share
// no open question (pieces.go). Machines are trees with a few loops, so most
// pieces are sparse: those are settled by taking out one slot after the other
// (eliminate.go), which also counts the ties. A piece too tangled for that
// becomes clauses (encode.go), each cost a sum over them (sum.go) that is
// pressed down by a SAT solver (dense.go, sat.go) until it proves that nothing
// less exists. Both ways are exact and are tested against minisat+ and against
// trying everything. search.go puts the costs of the pieces in order.
//
// The solver is github.com/crillab/gophersat: pure Go, maintained. It is asked
// only whether clauses can hold. Its own optimiser was measured and is not
// used: on the published instance garden9x9 its default mode did not finish in
// 60 s, its cutting-planes mode called 24 the optimum where 20 is, and bounds
// past 2^30 overflow without a word. With our sums as clauses the same solver
// proves 20 in about a second. On made-up machines of 200 positions the
// solver alone needs 1 to 10 s and more, elimination 10 to 30 ms.
//
// Other ways weighed: go-air/gini has what gophersat lacks (a stop, clashes under
// assumptions) but could not be had to measure; the optimisers HiGHS, CBC and
// GLPK and the solver minisat+ are C or C++, and a program of one file should
// not need them; linear programming in Go (gonum) works in floating point, where
// "proved" would need a proof of its own.
package plan
