package mating

import "strings"

// plainWashers are how thick the washers are that go under the heads of bolts, in mm by
// the nominal diameter of the thread, the smallest first. Source: ISO 7089, from memory.
var plainWashers = [...]struct{ thread, thick float64 }{{4, 0.8}, {5, 1}, {6, 1.6}, {8, 1.6}, {10, 2}, {12, 2.5},
	{14, 2.5}, {16, 3}, {20, 3}, {24, 4}, {30, 4}, {36, 5}}

// plainWasher is how thick the washer for a thread is, in mm: of one that the standard has
// none for, as of 5/16 in, that of the next larger.
func plainWasher(nominal float64) float64 {
	for _, w := range plainWashers {
		if nominal <= w.thread {
			return w.thick
		}
	}
	return plainWashers[len(plainWashers)-1].thick
}

// isWideHead reports whether a head presses on more than its own width across flats.
func isWideHead(head string) bool {
	head = strings.ToLower(head)
	return strings.Contains(head, "flange") || strings.Contains(head, "washer")
}
