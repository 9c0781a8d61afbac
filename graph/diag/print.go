package diag

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Print writes the sorted list for a person. Each diagnostic is one line,
//
//	fitments.csv:2:9: error: part "X" names no model [no-model]
//
// then, each indented by four spaces, its hint, the line of the source with a
// caret below the column, and the related places. The caller writes the last
// line, since it alone knows what was not done.
//
// Sources gives the bytes of a file, nil when it has none; a nil function means
// that no source is shown. Columns count bytes from 1, behind a byte order
// mark. Control characters are made visible, so that a damaged file can't
// rewrite the terminal.
func Print(w io.Writer, list *List, sources func(file string) []byte) error {
	out := bufio.NewWriter(w)
	lines := sourceLines{read: sources, files: map[string][][]byte{}}
	for _, d := range list.Sorted() {
		fmt.Fprintln(out, d)
		if d.Hint != "" {
			fmt.Fprintf(out, "    hint: %s\n", visible(d.Hint))
		}
		if line, ok := lines.at(d.Pos); ok {
			text, caret := excerpt(line, d.Pos.Col)
			fmt.Fprintf(out, "    %s\n", text)
			if caret != "" {
				fmt.Fprintf(out, "    %s\n", caret)
			}
		}
		for _, pos := range d.Related {
			fmt.Fprintf(out, "    see %s\n", visible(pos.String()))
		}
	}
	return out.Flush()
}

// sourceLines splits each file once.
type sourceLines struct {
	read  func(file string) []byte
	files map[string][][]byte
}

func (s sourceLines) at(pos Pos) (string, bool) {
	if s.read == nil || pos.File == "" || pos.Line <= 0 {
		return "", false
	}
	lines, ok := s.files[pos.File]
	if !ok {
		content := bytes.TrimPrefix(s.read(pos.File), []byte("\xef\xbb\xbf"))
		lines = bytes.Split(content, []byte("\n"))
		s.files[pos.File] = lines
	}
	if pos.Line > len(lines) {
		return "", false
	}
	line := strings.TrimSuffix(string(lines[pos.Line-1]), "\r")
	return line, strings.TrimSpace(line) != ""
}

// How many characters of a long line are shown before and behind the column.
const (
	showBefore = 60
	showBehind = 100
)

// excerpt gives the line as it can be shown and the caret line below it, which
// keeps tabs and has one space for each other character. The caret is empty
// when the column is not known.
func excerpt(line string, col int) (text, caret string) {
	at := min(max(col-1, 0), len(line))
	for at > 0 && at < len(line) && !utf8.RuneStart(line[at]) {
		at--
	}
	before, behind := []rune(line[:at]), []rune(line[at:])
	head, tail := "", ""
	if len(before) > showBefore {
		before, head = before[len(before)-showBefore:], "…"
	}
	if len(behind) > showBehind {
		behind, tail = behind[:showBehind], "…"
	}
	left := head + visible(string(before))
	text = left + visible(string(behind)) + tail
	if col <= 0 {
		return text, ""
	}
	blank := strings.Map(func(r rune) rune {
		if r == '\t' {
			return r
		}
		return ' '
	}, left)
	return text, blank + "^"
}

// visible puts a replacement character where a control character other than a
// tab stands.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			return utf8.RuneError
		}
		return r
	}, text)
}
