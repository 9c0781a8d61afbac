package measure

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Pin is one contact of a connector.
type Pin struct {
	Number  string // "1", "A2", "85"
	Meaning string // "feed 12 V", "signal pulse"
}

// String is the pin as written: "1 feed 12 V".
func (p Pin) String() string { return p.Number + " " + p.Meaning }

func (p Pin) same(other Pin) bool {
	return strings.EqualFold(p.Number, other.Number) && strings.EqualFold(p.Meaning, other.Meaning)
}

// maxPinNumber is the bytes a pin number may have; a longer word is a meaning
// whose number was forgotten.
const maxPinNumber = 4

// parsePins reads "1 feed 12 V, 2 earth", sorted by number.
func parsePins(text string) ([]Pin, error) {
	var pins []Pin
	for _, item := range strings.Split(text, ",") {
		number, meaning, ok := strings.Cut(strings.TrimSpace(item), " ")
		if !ok || !isPinNumber(number) {
			return nil, fmt.Errorf(`%q is not a pin: write its number, a space, its meaning, "1 feed 12 V"`,
				strings.TrimSpace(item))
		}
		for _, p := range pins {
			if strings.EqualFold(p.Number, number) {
				return nil, fmt.Errorf("pin %q is written twice", number)
			}
		}
		pins = append(pins, Pin{Number: number, Meaning: meaning})
	}
	slices.SortFunc(pins, func(a, b Pin) int { return byNumber(a.Number, b.Number) })
	return pins, nil
}

// isPinNumber takes up to four ASCII letters and digits with a digit among
// them, or a single letter.
func isPinNumber(text string) bool {
	hasDigit := false
	for i := 0; i < len(text); i++ {
		b := text[i] | 0x20
		if !isDigit(text[i]) && (b < 'a' || b > 'z') {
			return false
		}
		hasDigit = hasDigit || isDigit(text[i])
	}
	return len(text) == 1 || hasDigit && len(text) <= maxPinNumber
}

// byNumber puts 2 before 10, and numbers before letters.
func byNumber(a, b string) int {
	x, errX := strconv.Atoi(a)
	y, errY := strconv.Atoi(b)
	switch {
	case errX == nil && errY == nil:
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
	case errX == nil:
		return -1
	case errY == nil:
		return 1
	}
	return cmp.Or(cmp.Compare(foldCase(a), foldCase(b)), cmp.Compare(a, b))
}
