package page

import (
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible puts a replacement character where text holds one that a terminal
// would obey, or that turns round how a line reads: nothing that comes from a
// file, an argument or another person's finding may rewrite the screen. Line
// ends and tabs stay, and so does SoftBreak, which is not printed.
func Visible(text string) string {
	if !strings.ContainsFunc(text, obeyed) && utf8.ValidString(text) {
		return text
	}
	return strings.Map(func(r rune) rune { // which has one of its own for a byte that is no text
		if obeyed(r) {
			return utf8.RuneError
		}
		return r
	}, text)
}

func obeyed(r rune) bool {
	return r != '\n' && r != '\t' && string(r) != SoftBreak &&
		(unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp))
}

// VisibleWriter is a stream on which everything comes out visible.
func VisibleWriter(to io.Writer) io.Writer { return &visibleWriter{to: to} }

// visibleWriter is a stream that visible text goes to.
type visibleWriter struct {
	to  io.Writer
	cut []byte // the beginning of a character of which the rest is still to come
}

func (w *visibleWriter) Write(p []byte) (int, error) {
	text := append(w.cut, p...)
	end := len(text)
	for back := 1; back < utf8.UTFMax && back <= len(text); back++ {
		if at := len(text) - back; utf8.RuneStart(text[at]) {
			if !utf8.FullRune(text[at:]) {
				end = at
			}
			break
		}
	}
	w.cut = slices.Clone(text[end:])
	if _, err := io.WriteString(w.to, Visible(string(text[:end]))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// VisiblePage is a page of which every text is.
func VisiblePage(p Page) Page {
	clean := make(Page, len(p))
	for i, s := range p {
		clean[i] = Section{Title: Visible(s.Title), Lines: visibleAll(s.Lines), After: visibleAll(s.After),
			Table: visibleTable(s.Table), Rows: visibleTable(s.Rows), Aside: s.Aside}
	}
	return clean
}

func visibleTable(t Table) Table {
	t.Columns = visibleAll(t.Columns)
	rows := make([][]string, len(t.Rows))
	for i, row := range t.Rows {
		rows[i] = visibleAll(row)
	}
	t.Rows = rows
	return t
}

func visibleAll(texts []string) []string {
	clean := make([]string, len(texts))
	for i, text := range texts {
		clean[i] = Visible(text)
	}
	return clean
}
