package page

import (
	"io"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter/pkg/twwidth"

	"matewell/graph"
)

// Table is rows under named columns. A cell may hold several lines. A space
// that a line must not be broken at is written with hard.
type Table struct {
	Columns []string
	Rows    [][]string
	// Group names the column whose values may stand above their rows, and
	// Detail the one whose values may stand below them, when a terminal is too
	// narrow for all columns side by side; More is moved below after it, with
	// its name. Empty for none.
	Group, Detail, More string
}

// Add appends one row, one cell for each column.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, cells) }

// write prints the table for reading. A width of 0 is no limit, and the plain
// form for a pipe: a line for each row, no line under the heads, no colour.
func (t Table) write(w io.Writer, width int, colours bool) error {
	t = t.WithoutEmptyColumns()
	if len(t.Columns) == 0 {
		return nil
	}
	if width == 0 {
		return layout{Table: t, widths: make([]int, len(t.Columns))}.write(w, look{})
	}
	best, found := layout{}, false
	for _, l := range t.layouts(width) {
		if l.widths != nil && (!found || l.height() < best.height()) {
			best, found = l, true
		}
	}
	for columns := 1; !found && columns < len(t.Columns)-1; columns++ {
		best = t.withLastBelow(columns, width)
		found = best.widths != nil
	}
	if !found {
		return t.writeBlocks(w, width, colours)
	}
	return best.write(w, look{ruled: true, colours: colours})
}

// layouts are the ways to lay the table out, the plainest first. Those that
// don't fit have no widths.
func (t Table) layouts(width int) []layout {
	var all []layout
	for _, grouped := range []bool{false, true} {
		for _, below := range [][]string{nil, {t.Detail}, {t.Detail, t.More}} {
			l := layout{Table: t, detailWidth: width - detailIndent}
			if grouped {
				l.groups = l.Take(t.Group)
				l.indent = 2
			}
			for i, column := range below {
				l.addDetails(column, i > 0)
			}
			if grouped && l.groups == nil || len(l.Columns) == 0 {
				continue
			}
			l.widths = l.fit(width - l.indent)
			all = append(all, l)
		}
	}
	return all
}

// withLastBelow has some of the last columns below the rows, with their names: for a
// table that nobody said of what may stand there. It has no widths where it does not
// fit.
func (t Table) withLastBelow(columns, width int) layout {
	l := layout{Table: t, detailWidth: width - detailIndent}
	for _, column := range t.Columns[len(t.Columns)-columns:] {
		l.addDetails(column, true)
	}
	for _, text := range l.details {
		if longestWord(text)+len(hanging(0)) > l.detailWidth {
			return l
		}
	}
	l.widths = l.fit(width)
	return l
}

// Take removes a column and gives its values, nil when there is no such column.
func (t *Table) Take(column string) []string {
	at := slices.Index(t.Columns, column)
	if at < 0 {
		return nil
	}
	values, rows := []string{}, [][]string{}
	for _, row := range t.Rows {
		values = append(values, row[at])
		rows = append(rows, slices.Delete(slices.Clone(row), at, at+1))
	}
	t.Columns, t.Rows = slices.Delete(slices.Clone(t.Columns), at, at+1), rows
	return values
}

// fit shares a width among the columns: a narrow column keeps what it needs,
// wide ones get equal parts of the rest, none less than its longest word. Nil
// when even the words don't fit.
func (t Table) fit(width int) []int {
	least, natural := make([]int, len(t.Columns)), make([]int, len(t.Columns))
	for i, head := range t.Columns {
		least[i], natural[i] = longestWord(head), twwidth.Width(head)
		for _, row := range t.Rows {
			least[i] = max(least[i], longestWord(row[i]))
			natural[i] = max(natural[i], longestLine(row[i]))
		}
	}
	if least[0] < natural[0] {
		least[0] = min(least[0]+len(hanging(0)), natural[0])
	}
	room := width - gap*(len(t.Columns)-1)
	for most := slices.Max(natural); most >= 0; most-- {
		total, widths := 0, make([]int, len(natural))
		for i := range widths {
			widths[i] = max(least[i], min(natural[i], most))
			total += widths[i]
		}
		if total <= room {
			return widths
		}
	}
	return nil
}

// writeBlocks prints one row after another, a line for each cell: for a
// terminal too narrow to hold the columns side by side.
func (t Table) writeBlocks(w io.Writer, width int, colours bool) error {
	var b strings.Builder
	for i, row := range t.Rows {
		if i > 0 {
			b.WriteByte('\n')
		}
		for j, cell := range row {
			if cell == "" {
				continue
			}
			b.WriteString(t.Columns[j] + ":\n")
			for _, line := range paint(Wrap(cell, max(width-2, 1), ""), cell, colours) {
				b.WriteString("  " + line + "\n")
			}
		}
	}
	_, err := io.WriteString(w, Soft(b.String()))
	return err
}

// WithoutEmptyColumns leaves out what would only be a head over nothing.
func (t Table) WithoutEmptyColumns() Table {
	var kept []int
	for i := range t.Columns {
		if slices.ContainsFunc(t.Rows, func(row []string) bool { return row[i] != "" }) {
			kept = append(kept, i)
		}
	}
	pick := func(cells []string) []string {
		var out []string
		for _, i := range kept {
			out = append(out, cells[i])
		}
		return out
	}
	slim := Table{Columns: pick(t.Columns), Group: t.Group, Detail: t.Detail, More: t.More}
	for _, row := range t.Rows {
		slim.Rows = append(slim.Rows, pick(row))
	}
	return slim
}

// paint colours the lines of a cell that is a verdict. The word stays: colour
// only repeats it.
func paint(lines []string, cell string, colours bool) []string {
	verdict, err := graph.ParseVerdict(Soft(strings.ReplaceAll(cell, "\n", " ")))
	if !colours || err != nil {
		return lines
	}
	codes := map[graph.Verdict]string{graph.Fits: "32", graph.FitsWithChanges: "36",
		graph.Unknown: "33", graph.DoesNotFit: "31"}
	painted := make([]string, len(lines))
	for i, line := range lines {
		painted[i] = "\x1b[" + codes[verdict] + "m" + line + "\x1b[0m"
	}
	return painted
}
