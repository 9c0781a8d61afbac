package page

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible puts a replacement character where text holds one that a terminal
// would obey, or that turns round how a line reads: nothing that comes from a
// file, an argument or another person's finding may rewrite the screen. Line
// ends and tabs stay, and so does SoftBreak, which is not printed.
func Visible(text string) string {
	if !strings.ContainsFunc(text, obeyed) {
		return text
	}
	return strings.Map(func(r rune) rune {
		if obeyed(r) {
			return utf8.RuneError
		}
		return r
	}, text)
}

func obeyed(r rune) bool {
	return r != '\n' && r != '\t' && string(r) != SoftBreak && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
}

// VisibleWriter is a stream on which everything comes out visible.
func VisibleWriter(to io.Writer) io.Writer { return visibleWriter{to} }

// visibleWriter is a stream that visible text goes to. A character that is cut
// by the end of one write is let through as it comes: whoever writes here
// writes whole lines.
type visibleWriter struct{ to io.Writer }

func (w visibleWriter) Write(p []byte) (int, error) {
	if _, err := io.WriteString(w.to, Visible(string(p))); err != nil {
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
