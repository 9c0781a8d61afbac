package diag

import (
	"bytes"
	"unicode/utf8"
)

// Steers reports a character that could drive a terminal: control characters (C0,
// DEL, C1), characters that turn the direction of writing, and separators that some
// programs take for the end of a line. Tab and the ends of lines are among them:
// let them through before.
func Steers(r rune) bool {
	switch {
	case r < ' ', r >= 0x7f && r <= 0x9f:
		return true
	case r == 0x061c, r == 0x200e, r == 0x200f, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true // direction marks, embeddings, overrides and isolates of Unicode annex 9
	case r == 0x2028, r == 0x2029:
		return true
	case r == 0xfeff: // a byte order mark anywhere but in front
		return true
	}
	return false
}

// Unseen reports whether the character at a byte of a text is one that nobody sees:
// blanks without width, fillers, tags. Joiners and the selectors of a variant are let
// through where scripts and pictures need them, which is never beside a letter or
// digit of ASCII.
//
// Source: Unicode, DerivedCoreProperties, Default_Ignorable_Code_Point, from memory.
func Unseen(text []byte, at int) bool {
	r, size := utf8.DecodeRune(text[at:])
	switch {
	case r == 0xad, r == 0x200b, r >= 0x2060 && r <= 0x2064, r >= 0x206a && r <= 0x206f, r >= 0x1d173 && r <= 0x1d17a:
		return true
	case r == 0x115f, r == 0x1160, r == 0x3164, r == 0xffa0, r == 0x17b4, r == 0x17b5, r == 0x180e,
		r >= 0xe0000 && r <= 0xe0fff:
		return true
	case r == 0x34f, r == 0x200c, r == 0x200d, r >= 0xfe00 && r <= 0xfe0f:
		const keycap = "\u20e3" // a digit in a box is the digit, a selector, and this
		after := text[at+size:]
		return at > 0 && plainLetter(text[at-1]) && !bytes.HasPrefix(after, []byte(keycap)) ||
			r < 0xfe00 && len(after) > 0 && plainLetter(after[0])
	}
	return false
}

func plainLetter(b byte) bool {
	return b >= '0' && b <= '9' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z'
}

// Hidden finds the first character of a text that no text may have: one that Steers,
// other than a tab and the ends of lines, or one that is Unseen. found is false when
// there is none.
func Hidden(text string) (r rune, steers, found bool) {
	body := []byte(text)
	for i, r := range text {
		switch {
		case r == '\t', r == '\n', r == '\r' && i+1 < len(body) && body[i+1] == '\n':
		case Steers(r):
			return r, true, true
		case r >= utf8.RuneSelf && Unseen(body, i):
			return r, false, true
		}
	}
	return 0, false, false
}
