package page

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"matewell/graph/cell"
)

// Page is an answer laid out for reading, section after section.
type Page []Section

// Section is a title, some sentences, a table, and sentences after it. Each
// may be empty. Rows is the table in full, one value to a cell, for CSV; without
// it Table stands there too.
type Section struct {
	Title string
	Lines []string
	Table Table
	After []string
	Rows  Table
	// Aside is true for what other sections hold row by row: it is not in CSV.
	Aside bool
}

// Format is how an answer is printed. The zero value is a table.
type Format string

const (
	FormatTable    Format = "table"
	FormatJSON     Format = "json"
	FormatCSV      Format = "csv"
	FormatMarkdown Format = "markdown"
)

func Formats() []string {
	return []string{string(FormatTable), string(FormatJSON), string(FormatCSV), string(FormatMarkdown)}
}

// String, Set and Type make format a flag that refuses an unknown word.
func (f *Format) String() string { return string(*f) }
func (f *Format) Type() string   { return "FORM" }
func (f *Format) Set(word string) error {
	if !slices.Contains(Formats(), word) {
		return fmt.Errorf("want one of: %s", strings.Join(Formats(), ", "))
	}
	*f = Format(word)
	return nil
}

func (p Page) Write(w io.Writer, width int, colours bool) error {
	first := true
	blank := func() {
		if !first {
			fmt.Fprintln(w)
		}
		first = false
	}
	for _, s := range p {
		if s.IsEmpty() {
			continue
		}
		blank()
		if s.Title != "" {
			for _, line := range Wrap(s.Title, width, "  ") {
				fmt.Fprintln(w, bold(Soft(line), colours))
			}
		}
		writeLines(w, s.Lines, width)
		if len(s.Table.Rows) > 0 {
			if len(s.Lines) > 0 {
				fmt.Fprintln(w)
			}
			if err := s.Table.write(w, width, colours); err != nil {
				return err
			}
			if len(s.After) > 0 {
				fmt.Fprintln(w)
			}
		}
		writeLines(w, s.After, width)
	}
	return nil
}

func (s Section) IsEmpty() bool {
	return len(s.Lines) == 0 && len(s.Table.Rows) == 0 && len(s.After) == 0
}

func bold(text string, colours bool) string {
	if !colours {
		return text
	}
	return "\x1b[1m" + text + "\x1b[0m"
}

// writeLines writes sentences. One that starts with spaces is set in as far, and
// its later lines two further.
func writeLines(w io.Writer, lines []string, width int) {
	for _, line := range lines {
		set := setIn(line)
		room, hanging := width, ""
		if set != "" {
			room, hanging = max(width-len(set), min(width, 1)), "  "
		}
		for _, part := range Wrap(line, room, hanging) {
			fmt.Fprintln(w, set+Soft(part))
		}
	}
}

// setIn is what a line starts with that is set in below another.
func setIn(line string) string { return line[:len(line)-len(strings.TrimLeft(line, " "))] }

// WriteCSV writes the rows of every table under one head line (RFC 4180). With
// several tables the first column says which section a row is from.
func (p Page) WriteCSV(w io.Writer) error {
	var tables []Section
	var columns []string
	for _, s := range p {
		if len(s.Rows.Columns) > 0 {
			s.Table = s.Rows
		}
		if s.Aside || len(s.Table.Columns) == 0 || len(s.Table.Rows) == 0 && len(s.Rows.Columns) == 0 {
			continue
		}
		tables = append(tables, s)
		for _, c := range s.Table.Columns {
			if !slices.Contains(columns, c) {
				columns = append(columns, c)
			}
		}
	}
	several := len(tables) > 1
	out := csv.NewWriter(w)
	head := columns
	if several {
		head = append([]string{"section"}, columns...)
	}
	if err := out.Write(head); err != nil {
		return err
	}
	for _, s := range tables {
		for _, row := range s.Table.Rows {
			record := make([]string, len(columns))
			for i, c := range s.Table.Columns {
				record[slices.Index(columns, c)] = cell.Harmless(Soft(row[i]))
			}
			if several {
				record = append([]string{cell.Harmless(Soft(s.Title))}, record...)
			}
			if err := out.Write(record); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

func (p Page) WriteMarkdown(w io.Writer) error {
	first := true
	for _, s := range p {
		if s.IsEmpty() {
			continue
		}
		if !first {
			fmt.Fprintln(w)
		}
		first = false
		if s.Title != "" {
			fmt.Fprintf(w, "## %s\n\n", escapeMarkdown(Soft(s.Title)))
		}
		markdownLines(w, s.Lines)
		if len(s.Table.Rows) > 0 {
			if len(s.Lines) > 0 {
				fmt.Fprintln(w)
			}
			t := s.Table.WithoutEmptyColumns()
			markdownRow(w, t.Columns)
			fmt.Fprintln(w, "|"+strings.Repeat(" --- |", len(t.Columns)))
			for _, row := range t.Rows {
				markdownRow(w, row)
			}
			if len(s.After) > 0 {
				fmt.Fprintln(w)
			}
		}
		markdownLines(w, s.After)
	}
	return nil
}

// markdownLines writes sentences as a list, so that each keeps its own line; what
// is set in is a list below its line.
func markdownLines(w io.Writer, lines []string) {
	for _, line := range lines {
		set := setIn(line)
		fmt.Fprintf(w, "%s- %s\n", set, escapeMarkdown(Soft(line[len(set):])))
	}
}

func markdownRow(w io.Writer, cells []string) {
	fmt.Fprint(w, "|")
	for _, cell := range cells {
		fmt.Fprintf(w, " %s |", escapeMarkdown(Soft(cell)))
	}
	fmt.Fprintln(w)
}

// escapeMarkdown keeps what a fact says from being read as markup: emphasis, links and
// addresses that become links by themselves, entities, headings and quotes.
//
// Source: CommonMark 0.31.2, section 2.4, and GitHub Flavored Markdown 0.29, sections 4.10,
// 6.5 and 6.9, both from memory.
func escapeMarkdown(text string) string {
	text = strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "~", `\~`, "[", `\[`, "]", `\]`,
		"://", `:\//`, "www.", `www\.`, "@", `\@`, "&", "&amp;", "<", "&lt;", "\n", "<br>").Replace(text)
	if text != "" && strings.Contains("#>+-=", text[:1]) {
		return `\` + text
	}
	return text
}
