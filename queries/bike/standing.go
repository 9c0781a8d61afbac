package bike

import (
	"slices"

	"matewell/queries/swap"
)

// uniqueHindrances says each once.
func uniqueHindrances(all []swap.Hindrance) []swap.Hindrance {
	var kept []swap.Hindrance
	for _, h := range all {
		if !slices.Contains(kept, h) {
			kept = append(kept, h)
		}
	}
	return kept
}
