// Package swap answers what putting other parts on a machine implies. The doors
// are Swap for one machine, SwapEach for the variants of a year, and Judge, which
// gives the whole judgement of one setup against another and is what a plan is
// checked by. What would close the gaps is followed in the follow_ files.
package swap
