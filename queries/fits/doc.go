// Package fits answers where a part fits, and what fits on a machine, from what
// sources say: listings, supersessions, kits, findings. The door is Fits.
package fits
