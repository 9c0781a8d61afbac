package graph

import "strings"

// shape is one way to write a number: the core, with or without revision and
// colour.
type shape struct{ core, revision, colour string }

// shapes are all ways, the one to take first in front.
func (f NumberForm) shapes(separators []string) []shape {
	core, revision, colour := shape{core: f.Core}, shape{core: f.Core, revision: f.Revision},
		shape{core: f.Core, colour: f.Colour}
	both := shape{f.Core, f.Revision, f.Colour}
	if f.colourWasMarked(separators) {
		return []shape{core, colour, revision, both}
	}
	return []shape{core, revision, colour, both}
}

// colourWasMarked reports whether the separator that opens the colour, and no
// other part of the form, was written.
func (f NumberForm) colourWasMarked(separators []string) bool {
	mark := strings.TrimRightFunc(f.Colour, isSlot)
	if i := strings.IndexFunc(f.Colour, isSlot); i >= 0 {
		mark = f.Colour[:i]
	}
	if mark == "" || strings.Contains(f.Core+f.Revision, mark) {
		return false
	}
	for _, s := range separators {
		if strings.Contains(s, mark) {
			return true
		}
	}
	return false
}

// isSlot reports whether a rune of a mask is written as a letter or digit.
func isSlot(r rune) bool { return NumberKey(string(r)) != "" }

func (s shape) read(key string) (Number, bool) {
	ends, ok := match(s.core+s.revision+s.colour, key)
	if !ok {
		return Number{}, false
	}
	masks := [...]string{s.core, s.revision, s.colour}
	var printed [len(masks)]string
	at := 0
	for i, mask := range masks {
		var b strings.Builder
		for _, r := range mask {
			b.WriteString(ends[at].print(r))
			at++
		}
		printed[i] = b.String()
	}
	return Number{Text: printed[0] + printed[1] + printed[2], Core: printed[0],
		Revision: bare(printed[1]), Colour: bare(printed[2])}, true
}

// bare cuts the separators off both ends.
func bare(text string) string {
	return strings.TrimFunc(text, func(r rune) bool { return !isSlot(r) })
}

// slot is what the number has at one rune of the mask; 0 when the rune is a
// literal.
type slot byte

func (s slot) print(mask rune) string {
	switch {
	case s == 0:
		return string(mask)
	case mask == 'a':
		return strings.ToLower(string(rune(s)))
	}
	return string(rune(s))
}

// match lays the letters and digits of a number on a mask. A literal letter or
// digit of the mask may be left out of the number; it is read as itself when
// that leads to a match.
func match(mask, key string) ([]slot, bool) {
	if mask == "" {
		return nil, key == ""
	}
	r := []rune(mask)[0]
	rest := mask[len(string(r)):]
	take := func(s slot, key string) ([]slot, bool) {
		tail, ok := match(rest, key)
		return append([]slot{s}, tail...), ok
	}
	first := byte(0)
	if key != "" {
		first = key[0]
	}
	switch {
	case r == '9' || r == 'A' || r == 'a':
		isDigit := first >= '0' && first <= '9'
		if first == 0 || isDigit != (r == '9') {
			return nil, false
		}
		return take(slot(first), key[1:])
	case isSlot(r) && first != 0 && NumberKey(string(r)) == string(rune(first)):
		if slots, ok := take(0, key[1:]); ok {
			return slots, true
		}
	}
	return take(0, key)
}
