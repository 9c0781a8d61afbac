// Package worksheet gathers what a person takes to the bench for a piece of work:
// how the machine was told, what to lay out, tools, the order, every joint that is
// opened with its fasteners and torque, threads to clean, what to try afterwards.
// It judges nothing: what mates is the answer of the swap or plan it is made from.
// The doors are ForSwap and ForPlan.
package worksheet
