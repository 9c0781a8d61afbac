// Package fits answers where a part fits, and what fits on a machine, from what
// sources say: listings, supersessions, kits, findings. The door is
// swap.Fits, one room up, which also measures; Said here is the word of the sources alone.
package fits
