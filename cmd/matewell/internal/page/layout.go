package page

import (
	"bytes"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

const (
	gap          = 2 // what stands between two columns
	detailIndent = 6 // how far details are set in
)

// layout is one way to print a table.
type layout struct {
	Table
	widths      []int    // of the columns; 0 is no limit
	groups      []string // heading of each row's group; nil for none
	details     []string // what stands below each row; nil for none
	detailWidth int
	indent      int // how far rows are set in, below their headings
}

// look is what a terminal gets and a pipe does not.
type look struct{ ruled, colours bool }

// heading is what goes above a row: its group, when a new one begins.
func (l layout) heading(row int) string {
	if row >= len(l.groups) || row > 0 && l.groups[row] == l.groups[row-1] {
		return ""
	}
	return l.groups[row]
}

// wrapHeading breaks a heading into lines of the whole width.
func (l layout) wrapHeading(heading string) []string {
	return Wrap(heading, l.detailWidth+detailIndent, "  ")
}

// addDetails moves a column below the rows; named tells which column it was.
func (l *layout) addDetails(column string, named bool) {
	for i, text := range l.Take(column) {
		if i >= len(l.details) {
			l.details = append(l.details, "")
		}
		if text != "" && named {
			text = column + ": " + text
		}
		switch have := l.details[i]; {
		case have == "" || text == "":
			l.details[i] += text
		case strings.Contains(have, "\n"):
			l.details[i] += "\n" + text
		default:
			l.details[i] += "; " + text
		}
	}
}

// below are the lines of the details of a row.
func (l layout) below(row int) []string {
	if row >= len(l.details) || l.details[row] == "" {
		return nil
	}
	return Wrap(l.details[row], l.detailWidth, "  ")
}

// height is how many lines the rows take.
func (l layout) height() int {
	lines := 0
	for n, row := range l.Rows {
		if heading := l.heading(n); heading != "" {
			lines += len(l.wrapHeading(heading))
		}
		tallest := 0
		for i, cell := range row {
			tallest = max(tallest, len(Wrap(cell, l.widths[i], hanging(i))))
		}
		lines += tallest + len(l.below(n))
	}
	return lines
}

// hanging is what later lines of a cell start with: those of the first column
// are set in, so that the start of a row is seen.
func hanging(column int) string {
	if column == 0 {
		return "  "
	}
	return ""
}

// standIn starts the row that holds the place of a heading or of details while
// the columns are lined up.
const standIn = "\x01"

func (l layout) write(w io.Writer, look look) error {
	var rows [][]string
	var inserts []string
	insert := func(line string) {
		row := make([]string, len(l.Columns))
		row[0] = standIn
		rows, inserts = append(rows, row), append(inserts, line)
	}
	for n, row := range l.Rows {
		if heading := l.heading(n); heading != "" {
			for _, line := range l.wrapHeading(heading) {
				insert(bold(line, look.colours))
			}
		}
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = strings.Join(paint(Wrap(cell, l.widths[i], hanging(i)), cell, look.colours), "\n")
		}
		rows = append(rows, cells)
		for _, line := range l.below(n) {
			insert(strings.Repeat(" ", detailIndent) + line)
		}
	}
	heads := make([]string, len(l.Columns))
	for i, c := range l.Columns {
		heads[i] = strings.Join(Wrap(c, l.widths[i], ""), "\n")
	}
	text, err := lineUp(heads, rows, look.ruled)
	if err != nil {
		return err
	}
	return l.finish(w, text, inserts)
}

// finish writes the lines without the spaces that fill up the last column, and
// puts headings and details where their stand-ins are.
func (l layout) finish(w io.Writer, text string, inserts []string) error {
	var b strings.Builder
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, standIn) {
			line, inserts = inserts[0], inserts[1:]
		} else {
			line = strings.Repeat(" ", l.indent) + line
		}
		b.WriteString(strings.TrimRight(Soft(line), " \n"))
		b.WriteByte('\n')
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// lineUp has the library line up cells that are wrapped already.
func lineUp(heads []string, rows [][]string, ruled bool) (string, error) {
	var buf bytes.Buffer
	lines := tw.Lines{ShowHeaderLine: tw.Off, ShowTop: tw.Off, ShowBottom: tw.Off, ShowFooterLine: tw.Off}
	separators := tw.Separators{BetweenColumns: tw.Off, BetweenRows: tw.Off, ShowHeader: tw.Off}
	if ruled {
		lines.ShowHeaderLine, separators.ShowHeader = tw.On, tw.On
	}
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
		Alignment:  tw.CellAlignment{Global: tw.AlignLeft},
	}
	for i := range heads { // the last column has nothing to keep apart from
		right := strings.Repeat(" ", gap)
		if i == len(heads)-1 {
			right = ""
		}
		cell.Padding.PerColumn = append(cell.Padding.PerColumn, tw.Padding{Right: right, Overwrite: true})
	}
	out := tablewriter.NewTable(&buf,
		tablewriter.WithConfig(tablewriter.Config{Header: cell, Row: cell, Behavior: tw.Behavior{TrimSpace: tw.Off}}),
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: tw.BorderNone, Symbols: tw.NewSymbols(tw.StyleLight),
			Settings: tw.Settings{Lines: lines, Separators: separators},
		})))
	out.Header(heads)
	if err := out.Bulk(rows); err != nil {
		return "", err
	}
	err := out.Render()
	return buf.String(), err
}
