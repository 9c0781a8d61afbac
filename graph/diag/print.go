package diag

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strconv"
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
//
// What is said in the same words of several places is one slip: it stands at the
// first of them, with some of the others below. Of one code no more than mostAlike
// are written, and how many more there are. No line is longer than maxLine.
func Print(w io.Writer, list *List, sources func(file string) []byte) error {
	out := bufio.NewWriter(w)
	lines := sourceLines{read: sources, files: map[string][][]byte{}}
	slips, total := group(list.sorted())
	others := 0
	for code, n := range list.beyond {
		if total[code] > 0 {
			total[code] += n
		} else {
			others += n
		}
	}
	written, places := map[string]int{}, map[string]int{}
	for _, s := range slips {
		d := s.Diagnostic
		if written[d.Code] == mostAlike {
			written[d.Code]++ // told once
			fmt.Fprintf(out, "and %s more like it [%s]\n", grouped(total[d.Code]-places[d.Code]), visible(d.Code))
		}
		if written[d.Code] > mostAlike {
			continue
		}
		written[d.Code]++
		places[d.Code] += 1 + len(s.again)
		s.print(out, lines)
	}
	if others > 0 {
		fmt.Fprintf(out, "and %s more of other sorts\n", grouped(others))
	}
	return out.Flush()
}

// The most slips of one code that are written, the most other places of one
// slip, and the longest line, in characters.
const (
	mostAlike = 20
	mostAgain = 3
	maxLine   = 200
)

// slip is a diagnostic, with the other places of which the same is said.
type slip struct {
	Diagnostic
	again []Pos
}

// group puts together what is said in the same words, in the order of the first
// place, and counts what there is of each code.
func group(sorted []Diagnostic) (slips []*slip, total map[string]int) {
	total = map[string]int{}
	found := map[string]*slip{}
	for _, d := range sorted {
		total[d.Code]++
		key := strings.Join([]string{d.Severity.String(), d.Code, d.Message, d.Hint}, "\x00")
		if s := found[key]; s != nil && d.Code != "" {
			s.again = append(s.again, d.Pos)
			continue
		}
		found[key] = &slip{Diagnostic: d}
		slips = append(slips, found[key])
	}
	return slips, total
}

func (s *slip) print(out io.Writer, lines sourceLines) {
	fmt.Fprintln(out, line(s.Diagnostic))
	if s.Hint != "" {
		fmt.Fprintf(out, "    hint: %s\n", cut(visible(s.Hint), maxLine-10))
	}
	if line, ok := lines.at(s.Pos); ok {
		text, caret := excerpt(line, s.Pos.Col)
		fmt.Fprintf(out, "    %s\n", text)
		if caret != "" {
			fmt.Fprintf(out, "    %s\n", caret)
		}
	}
	for _, pos := range s.Related {
		fmt.Fprintf(out, "    see %s\n", cut(visible(pos.String()), maxLine-8))
	}
	for i, pos := range s.again {
		if i == mostAgain {
			fmt.Fprintf(out, "    and %s more like it\n", grouped(len(s.again)-mostAgain))
			break
		}
		fmt.Fprintf(out, "    so too %s\n", cut(visible(pos.String()), maxLine-11))
	}
}

// line is the diagnostic in one line that is not too long: its message is cut.
func line(d Diagnostic) string {
	whole := d.String()
	over := utf8.RuneCountInString(whole) - maxLine
	if over <= 0 {
		return whole
	}
	d.Message = cut(visible(d.Message), max(utf8.RuneCountInString(d.Message)-over, 20))
	return cut(d.String(), maxLine)
}

// cut shortens a text to so many characters.
func cut(text string, most int) string {
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most-1]) + "…"
}

// grouped writes a number with a comma between thousands.
func grouped(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
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
		end := []byte("\n")
		if bytes.IndexByte(content, '\n') < 0 {
			end = []byte("\r") // lines of a file that has no other ends
		}
		lines = bytes.Split(content, end)
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
