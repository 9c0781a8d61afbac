package mating

import "strings"

// plainWashers are how thick the washers are that go under the heads of bolts, in mm by
// the nominal diameter of the thread. Source: ISO 7089, from memory.
var plainWashers = map[float64]float64{4: 0.8, 5: 1, 6: 1.6, 8: 1.6, 10: 2, 12: 2.5, 14: 2.5, 16: 3, 20: 3}

// isWideHead reports whether a head presses on more than its own width across flats.
func isWideHead(head string) bool {
	head = strings.ToLower(head)
	return strings.Contains(head, "flange") || strings.Contains(head, "washer")
}
