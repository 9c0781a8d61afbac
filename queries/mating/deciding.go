package mating

import (
	"strings"

	"matewell/graph/measure"
)

// sizeAt is where a text gives the size of a reading, as written or as a rule prints it;
// below zero where it does not.
func sizeAt(text, reading string) int {
	at := wholeAt(text, reading)
	if v, err := measure.Parse(reading, measure.Length); err == nil {
		if printed := wholeAt(text, mm(spanOf(v.Quantity).nominal)); printed >= 0 && (at < 0 || printed < at) {
			at = printed
		}
	}
	return at
}

// wholeAt is where a text holds a size that is not part of a longer number or word.
func wholeAt(text, size string) int {
	if size == "" {
		return -1
	}
	inside := func(c byte) bool {
		return c == '.' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
	}
	for from := 0; from < len(text); {
		at := strings.Index(text[from:], size)
		if at < 0 {
			return -1
		}
		at += from
		end := at + len(size)
		if (at == 0 || !inside(text[at-1])) && (end == len(text) || text[end] == '.' || !inside(text[end])) {
			return at
		}
		from = at + 1
	}
	return -1
}
