package graph

import "strings"

// shape is one way to write a number: the core, with or without revision and
// colour.
type shape struct{ core, revision, colour string }

// shapes are all ways, the one to take first in front.
func shapes(f NumberForm, separators []string) []shape {
	core, revision, colour := shape{core: f.Core}, shape{core: f.Core, revision: f.Revision},
		shape{core: f.Core, colour: f.Colour}
	both := shape{f.Core, f.Revision, f.Colour}
	if colourWasMarked(f, separators) {
		return []shape{core, colour, revision, both}
	}
	return []shape{core, revision, colour, both}
}

// colourWasMarked reports whether the separator that opens the colour, and no
// other part of the form, was written.
func colourWasMarked(f NumberForm, separators []string) bool {
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
// that leads to a match. Row i of the table says from which place of the key on
// the mask from its rune i matches, so that the work is mask times key.
func match(mask, key string) ([]slot, bool) {
	runes := []rune(mask)
	fits := make([][]bool, len(runes)+1)
	for i := range fits {
		fits[i] = make([]bool, len(key)+1)
	}
	fits[len(runes)][len(key)] = true
	for i := len(runes) - 1; i >= 0; i-- {
		for at := len(key); at >= 0; at-- {
			takes, skips := stands(runes[i], key, at)
			fits[i][at] = takes && fits[i+1][at+1] || skips && fits[i+1][at]
		}
	}
	if !fits[0][0] {
		return nil, false
	}
	slots, at := make([]slot, len(runes)), 0
	for i, r := range runes {
		takes, _ := stands(r, key, at)
		if !takes || !fits[i+1][at+1] {
			continue
		}
		if isPlaceholder(r) {
			slots[i] = slot(key[at])
		}
		at++
	}
	return slots, true
}

func isPlaceholder(r rune) bool { return r == '9' || r == 'A' || r == 'a' }

// stands says whether a rune of the mask can take the letter or digit at a
// place of the key, and whether it can do without one.
func stands(r rune, key string, at int) (takes, skips bool) {
	if !isPlaceholder(r) {
		return at < len(key) && NumberKey(string(r)) == key[at:at+1], true
	}
	return at < len(key) && (key[at] >= '0' && key[at] <= '9') == (r == '9'), false
}
