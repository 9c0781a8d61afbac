package loader

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"matewell/graph/diag"
)

// text is the content of one file with what is needed to name places in it. One
// goroutine uses it at a time.
// Columns count bytes from 1; a byte order mark does not count.
type text struct {
	name  string // with the layer's name in front
	body  []byte
	lines []int // offset at which each line starts
	ascii bool  // every byte is ASCII, so that runes and bytes are the same
	// last is the place that was asked for last: the next one is often further
	// on in the same line, which may be long.
	last struct{ line, runes, bytes int }
	// blanked is true when bytes of it were reported and blanked.
	blanked bool
}

// blankByte stands for a byte that was reported. It means nothing to YAML or CSV.
const blankByte = '_'

const byteOrderMark = "\xef\xbb\xbf"

// newText takes the content of a file. Bytes that are not UTF-8 and characters
// that could drive a terminal are reported, then blanked with as many
// blankBytes, so that the rest of the file can still be checked.
func newText(name string, body []byte, probs *diag.List) *text {
	t := &text{name: name, body: bytes.TrimPrefix(body, []byte(byteOrderMark)), lines: []int{0}, ascii: true}
	for i, b := range t.body {
		if b == '\n' {
			t.lines = append(t.lines, i+1)
		}
		if b >= utf8.RuneSelf {
			t.ascii = false
		}
	}
	t.clean(probs)
	return t
}

// at is the place of a byte offset.
func (t *text) at(offset int) diag.Pos {
	line := sort.SearchInts(t.lines, offset+1)
	return diag.Pos{File: t.name, Line: line, Col: offset - t.lines[line-1] + 1}
}

// place is the place of a line and a column that counts runes, both from 1.
func (t *text) place(line, runes int) diag.Pos {
	pos := diag.Pos{File: t.name, Line: line, Col: runes}
	if t.ascii || line < 1 || line > len(t.lines) {
		return pos
	}
	at := &t.last
	if at.line != line || at.runes > runes {
		at.line, at.runes, at.bytes = line, 1, 0
	}
	rest := t.body[t.lines[line-1]:]
	for ; at.runes < runes; at.runes++ {
		_, size := utf8.DecodeRune(rest[at.bytes:])
		at.bytes += size
	}
	pos.Col = at.bytes + 1
	return pos
}

// line is the text of a line, from 1, without its end.
func (t *text) line(line int) []byte {
	if line < 1 || line > len(t.lines) {
		return nil
	}
	rest := t.body[t.lines[line-1]:]
	if end := bytes.IndexByte(rest, '\n'); end >= 0 {
		rest = rest[:end]
	}
	return bytes.TrimSuffix(rest, []byte("\r"))
}

// within is a place with a line and a byte column that exist: some parsers
// count past the end.
func (t *text) within(line, col int) diag.Pos {
	line = max(1, min(line, len(t.lines)))
	return diag.Pos{File: t.name, Line: line, Col: max(1, min(col, len(t.line(line))+1))}
}

// maxSame is how many faults of one sort are told for one file's raw bytes: a
// file in another encoding would give one on every line.
const maxSame = 5

// utf16 reports whether a file starts as UTF-16 does: with its mark, or with a
// letter of ASCII in two bytes.
func utf16(body []byte) bool {
	if len(body) < 2 {
		return false
	}
	a, b := body[0], body[1]
	return a == 0xff && b == 0xfe || a == 0xfe && b == 0xff || a == 0 && b > 0 && b < utf8.RuneSelf ||
		b == 0 && a > 0 && a < utf8.RuneSelf
}

// lineFeeds is a file whose lines end with a carriage return alone, as some
// spreadsheets write them, with the ends that everything else has; any other stays.
func lineFeeds(body []byte) []byte {
	if bytes.IndexByte(body, '\r') < 0 || bytes.IndexByte(body, '\n') >= 0 {
		return body
	}
	return bytes.ReplaceAll(body, []byte("\r"), []byte("\n"))
}

func (t *text) clean(probs *diag.List) {
	notText, escapes, unseen := 0, 0, 0
	blank := func(offset, size int) {
		t.blanked = true
		for i := range size {
			t.body[offset+i] = blankByte
		}
	}
	for i := 0; i < len(t.body); {
		b := t.body[i]
		if b >= ' ' && b < 0x7f || b == '\n' || b == '\t' || b == '\r' && i+1 < len(t.body) && t.body[i+1] == '\n' {
			i++
			continue
		}
		r, size := utf8.DecodeRune(t.body[i:])
		switch {
		case r == utf8.RuneError && size <= 1:
			if notText++; notText <= maxSame {
				probs.Errorf(t.at(i), "not-utf8", "byte 0x%02X is not UTF-8 text", b).Hint = "save the file as UTF-8"
			}
			blank(i, 1)
			size = 1
		case diag.Steers(r):
			if escapes++; escapes <= maxSame {
				probs.Errorf(t.at(i), "terminal-escape", "character U+%04X%s could steer a terminal", r,
					runeName(r)).Hint = "take it out"
			}
			blank(i, size)
		case diag.Unseen(t.body, i):
			if unseen++; unseen <= maxSame {
				probs.Errorf(t.at(i), "invisible-character", "character U+%04X can't be seen, and makes two texts differ that "+
					"look alike", r).Hint = "take it out"
			}
			blank(i, size)
		}
		i += size
	}
}

// blankedIn reports whether a value may hold a byte that was reported: what else
// is wrong with it can't be told.
func (t *text) blankedIn(value string) bool {
	return t.blanked && strings.IndexByte(value, blankByte) >= 0
}

func runeName(r rune) string {
	names := map[rune]string{0: "null", '\r': "carriage return", 0x1b: "escape", 0x07: "bell", 0x08: "backspace",
		0x9b: "control sequence introducer", 0x202e: "right-to-left override", 0xfeff: "byte order mark"}
	if name, ok := names[r]; ok {
		return fmt.Sprintf(" (%s)", name)
	}
	return ""
}
