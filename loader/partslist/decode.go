package partslist

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The encodings that are told apart, by the names that a report uses.
const (
	utf8Plain   = "utf-8"
	utf8Mark    = "utf-8-bom"
	utf16Little = "utf-16le"
	utf16Big    = "utf-16be"
	latin1      = "latin-1"
	windows1252 = "windows-1252"
)

// byteTable is an encoding of one byte a character.
type byteTable struct {
	name  string
	table *charmap.Charmap
}

// byteTables are tried in this order; of two that read equally well the first
// is taken.
func byteTables() []byteTable {
	return []byteTable{{windows1252, charmap.Windows1252}, {"mac-roman", charmap.Macintosh}, {"cp850",
		charmap.CodePage850},
		{"cp437", charmap.CodePage437}, {"windows-1250", charmap.Windows1250}}
}

// decode turns the bytes of a text file into text, and says which encoding it
// was. Bytes that are no text at all are an error.
func decode(body []byte) (text, encoding string, err error) {
	switch {
	case bytes.HasPrefix(body, []byte("\xef\xbb\xbf")):
		return strings.ToValidUTF8(string(body[3:]), "\ufffd"), utf8Mark, nil
	case bytes.HasPrefix(body, []byte("\xff\xfe")):
		return fromUTF16(body[2:], false), utf16Little, nil
	case bytes.HasPrefix(body, []byte("\xfe\xff")):
		return fromUTF16(body[2:], true), utf16Big, nil
	}
	if big, ok := halfZeros(body); ok {
		return fromUTF16(body, big), map[bool]string{true: utf16Big, false: utf16Little}[big], nil
	}
	if at := bytes.IndexByte(body, 0); at >= 0 {
		return "", "", fmt.Errorf("this is no text: byte %d is zero", at+1)
	}
	if utf8.Valid(body) {
		return string(body), utf8Plain, nil
	}
	return fromBytes(body)
}

// halfZeros tells UTF-16 without a mark by the zero bytes beside Latin letters.
func halfZeros(body []byte) (big, ok bool) {
	n := min(len(body), 4096) &^ 1
	even, odd := 0, 0
	for i := 0; i < n; i += 2 {
		if body[i] == 0 {
			even++
		}
		if body[i+1] == 0 {
			odd++
		}
	}
	most := n / 2 * 7 / 10
	return even > odd, n >= 4 && (even > most && odd < n/20 || odd > most && even < n/20)
}

func fromUTF16(body []byte, big bool) string {
	units := make([]uint16, 0, len(body)/2)
	for i := 0; i+1 < len(body); i += 2 {
		lo, hi := body[i], body[i+1]
		if big {
			lo, hi = hi, lo
		}
		units = append(units, uint16(hi)<<8|uint16(lo))
	}
	return string(utf16.Decode(units))
}

// fromBytes picks the one-byte encoding in which the letters beyond ASCII make
// the most sense among their neighbours.
func fromBytes(body []byte) (string, string, error) {
	best, name, bestScore := "", "", -1<<30
	for _, t := range byteTables() {
		text, err := t.table.NewDecoder().String(string(body))
		if err != nil {
			continue
		}
		if score := plausible(text); score > bestScore {
			best, name, bestScore = text, t.name, score
		}
	}
	if name == windows1252 && !slices.ContainsFunc(body, func(b byte) bool { return 0x80 <= b && b < 0xa0 }) {
		name = latin1
	}
	return best, name, nil
}

// What words and prices of European lists hold beyond ASCII.
const (
	commonLetters = "äöüßéèêëàâçîïôûùœæøåñóíáúãõìòýšžčřěůąęłńśźżőűÄÖÜÉÈÀÇÅØÆÑŠŽČ"
	commonSigns   = "£€°½¼¾–—‘’“”„…«»²³µØø±×·•\u00a0§™®©"
)

// plausible weighs how well characters beyond ASCII sit among their neighbours:
// a small letter in a word is likely, a capital behind a small letter is not.
func plausible(text string) int {
	score := 0
	runes := []rune(text)
	for i, r := range runes {
		if r < utf8.RuneSelf {
			continue
		}
		before, behind := neighbour(runes, i-1), neighbour(runes, i+1)
		inWord := unicode.IsLetter(before) || unicode.IsLetter(behind)
		switch {
		case r == utf8.RuneError || unicode.IsControl(r):
			score -= 10
		case unicode.IsLetter(r) && unicode.IsUpper(r) && unicode.IsLower(before):
			score -= 4
		case strings.ContainsRune(commonLetters, r) && inWord:
			score += 3
		case unicode.IsLetter(r) && inWord && !strings.ContainsRune(commonSigns, r):
			score--
		case strings.ContainsRune(commonSigns, r) && !(unicode.IsLetter(before) && unicode.IsLetter(behind)):
			score += 2
		case strings.ContainsRune("‘’", r):
			score += 2
		default:
			score -= 4
		}
	}
	return score
}

func neighbour(runes []rune, i int) rune {
	if i < 0 || i >= len(runes) {
		return ' '
	}
	return runes[i]
}

// lineEnds says how lines end, and gives the text with "\n" alone.
func lineEnds(text string) (plain, kind string) {
	crlf := strings.Count(text, "\r\n")
	cr := strings.Count(text, "\r") - crlf
	lf := strings.Count(text, "\n") - crlf
	switch {
	case crlf >= cr && crlf >= lf && crlf > 0:
		kind = "crlf"
	case cr > lf:
		kind = "cr"
	default:
		kind = "lf"
	}
	text = strings.ReplaceAll(text, "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), kind
}
