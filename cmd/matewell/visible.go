package main

import (
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// visible puts a replacement character where text holds one that a terminal
// would obey, or that turns round how a line reads: nothing that comes from a
// file, an argument or another person's finding may rewrite the screen. Line
// ends and tabs stay, and so does softBreak, which is not printed.
func visible(text string) string {
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
	return r != '\n' && r != '\t' && string(r) != softBreak && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
}

// visibleWriter is a stream that visible text goes to. A character that is cut
// by the end of one write is let through as it comes: whoever writes here
// writes whole lines.
type visibleWriter struct{ to io.Writer }

func (w visibleWriter) Write(p []byte) (int, error) {
	if _, err := io.WriteString(w.to, visible(string(p))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// screen is where an answer goes that is not laid out as a page: as it is when
// it is piped, made visible for a person at a terminal.
func screen(e env) io.Writer {
	if e.OutTerm {
		return visibleWriter{e.Out}
	}
	return e.Out
}

// visiblePage is a page of which every text is.
func visiblePage(p page) page {
	clean := make(page, len(p))
	for i, s := range p {
		clean[i] = section{Title: visible(s.Title), Lines: visibleAll(s.Lines), After: visibleAll(s.After),
			Table: visibleTable(s.Table), Rows: visibleTable(s.Rows), Aside: s.Aside}
	}
	return clean
}

func visibleTable(t table) table {
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
		clean[i] = visible(text)
	}
	return clean
}
