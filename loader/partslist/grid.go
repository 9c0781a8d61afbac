package partslist

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"matewell/graph/diag"
)

// grid is a table of cells before anything is made of it. Row 1 is rows[0].
type grid struct {
	name   string // of the sheet; empty in a CSV file
	hidden bool
	rows   [][]cell
	wide   int // columns that a spreadsheet counts, filled or not
}

// cell is one cell, trimmed.
type cell struct {
	text  string
	typed cellType
	sum   bool // a formula without a stored value
}

type cellType int

const (
	cellText   cellType = iota
	cellNumber          // a number that a spreadsheet holds as one
	cellDate            // a day that a spreadsheet holds as one, as 2006-01-02
)

// width is the largest number of cells of a row.
func (g grid) width() int {
	most := g.wide
	for _, row := range g.rows {
		most = max(most, len(row))
	}
	return most
}

func (g grid) at(row, column int) cell {
	if row < 0 || row >= len(g.rows) || column < 0 || column >= len(g.rows[row]) {
		return cell{}
	}
	return g.rows[row][column]
}

// letter names a column as spreadsheets do: A, B ... Z, AA.
func letter(column int) string {
	name := ""
	for column++; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// clean trims a value, and takes out what no data file may hold: characters that a
// terminal would obey, or that nobody sees.
func clean(text string) string {
	text = strings.Map(func(r rune) rune {
		if r == '\u00a0' || r == '\u202f' || r == '\u2009' {
			return ' '
		}
		return r
	}, text)
	if _, _, found := diag.Hidden(text); found {
		var b strings.Builder
		body := []byte(text)
		for i, r := range text {
			if r == '\n' || r == '\t' || !diag.Steers(r) && !diag.Unseen(body, i) {
				b.WriteRune(r)
			}
		}
		text = b.String()
	}
	return strings.TrimSpace(text)
}

// The separators that are told apart, by the names that a report uses.
var separators = [...]struct {
	name string
	r    rune
}{{";", ';'}, {"tab", '\t'}, {",", ','}, {"|", '|'}}

// readCSV takes a text apart, with whichever separator gives the most even
// columns.
func readCSV(text string) (grid, string, error) {
	if rest, ok := strings.CutPrefix(text, "sep="); ok && len(rest) > 1 && rest[1] == '\n' {
		g, err := readSeparated(rest[2:], rune(rest[0]), 1)
		return g, rest[:1], err
	}
	var best grid
	name, bestScore := "", 0.0
	var fault error // of any separator: all stumble over the same quote
	for _, s := range separators {
		g, err := readSeparated(text, s.r, 0)
		if err != nil {
			fault = err
			continue
		}
		if score := evenness(g); score > bestScore {
			best, name, bestScore = g, s.name, score
		}
	}
	if name != "" {
		return best, name, nil
	}
	g, err := readSeparated(text, '\x01', 0)
	if err == nil && len(g.rows) > 1 && fault == nil {
		return g, "", nil
	}
	if fault != nil {
		err = fault
	}
	return g, "", err
}

// evenness is how many rows have the same number of cells, more than one, with
// a little for more cells. Rows of nothing don't count.
func evenness(g grid) float64 {
	counts := map[int]int{}
	filled := 0
	for _, row := range g.rows {
		if !emptyRow(row) {
			filled++
			counts[len(row)]++
		}
	}
	best := 0.0
	for n, rows := range counts {
		if n > 1 {
			best = max(best, float64(rows)/float64(filled)+float64(min(n, 12))/100)
		}
	}
	return best
}

func emptyRow(row []cell) bool {
	for _, c := range row {
		if c.text != "" || c.sum {
			return false
		}
	}
	return true
}

// textFormula is how a sheet programme is told to leave a number as it stands.
var textFormula = lazily(`^="([^"]*)"$`)

// maxSwallowed is how many lines a quoted value may run over. More are a quote
// that was never closed.
const maxSwallowed = 30

// readSeparated reads records (RFC 4180, with quotes amid a value let pass).
// Blank lines are rows, so that row numbers are those of the file.
func readSeparated(text string, separator rune, skipped int) (grid, error) {
	var g grid
	for range skipped {
		g.rows = append(g.rows, nil)
	}
	if line := openQuote(text, separator); line > 0 {
		return g, quoteFault(line, "and not closed to the end of the file")
	}
	c := csv.NewReader(strings.NewReader(text))
	c.Comma, c.FieldsPerRecord, c.LazyQuotes = separator, -1, true
	width := 0       // of the first row of more than one cell
	next, at := 1, 0 // the line that follows what was read, and its offset
	for {
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			for range strings.Count(text[at:], "\n") {
				g.rows = append(g.rows, nil)
			}
			return g, nil
		}
		if err != nil {
			return g, fmt.Errorf("row %d: %w", len(g.rows)+1, err)
		}
		line, _ := c.FieldPos(0)
		for range line - next {
			g.rows = append(g.rows, nil)
		}
		end := int(c.InputOffset())
		next, at = next+strings.Count(text[at:end], "\n"), end
		if inside := strings.Count(strings.Join(record, ""), "\n"); inside > maxSwallowed {
			return g, quoteFault(line, fmt.Sprintf("and not closed for %d lines", inside))
		}
		if width == 0 && len(record) > 1 {
			width = len(record)
		}
		row, err := separatedRow(c, record, width, separator)
		if err != nil {
			return g, err
		}
		g.rows = append(g.rows, row)
	}
}

// separatedRow is the cells of the record that c read last; width is that of the
// first row of more than one cell.
func separatedRow(c *csv.Reader, record []string, width int, separator rune) ([]cell, error) {
	row := make([]cell, len(record))
	for i, value := range record {
		line, _ := c.FieldPos(i)
		if len(value) > maxCell {
			return nil, fmt.Errorf("line %d: %w", line, tooLong(len(value)))
		}
		if swallows(value, i, width, separator) {
			return nil, quoteFault(line, "and closed only in a later row")
		}
		row[i].text = clean(value)
		if m := textFormula().FindStringSubmatch(row[i].text); m != nil {
			row[i].text = m[1]
		}
	}
	return row, nil
}

// maxCell is the most bytes of a cell.
const maxCell = 64 << 10

func tooLong(n int) error {
	return fmt.Errorf("a cell has %d bytes; what is no list has such cells, and more than %d are not read", n, maxCell)
}

func quoteFault(line int, how string) error {
	return fmt.Errorf("line %d: a quote is opened here %s; close it, or take it out; a value with quotes in it is "+
		"written \"so \"\"quoted\"\" here\"", line, how)
}

// openQuote is the line of a quote that opens a value and is closed nowhere; 0 when
// there is none.
func openQuote(text string, separator rune) int {
	line, opened, start := 1, 0, true
	for i := 0; i < len(text); i++ {
		b := text[i]
		switch {
		case b == '\n':
			line++
			start = true
		case b == '"' && opened == 0:
			if start {
				opened = line
			}
			start = false
		case b == '"' && i+1 < len(text) && text[i+1] == '"':
			i++
		case b == '"' && (i+1 == len(text) || text[i+1] == '\n' || rune(text[i+1]) == separator):
			opened = 0
		case opened == 0:
			start = rune(b) == separator
		}
	}
	return opened
}

// swallows says whether a value of several lines has taken in the rest of its row,
// and rows behind it: they have as many separators as rows have, and in one of them
// another quote opens. before is how many cells the row has before it.
func swallows(value string, before, width int, separator rune) bool {
	lines := strings.Split(value, "\n")
	if len(lines) < 2 || width < 2 || !strings.Contains(value, string(separator)+`"`) && !strings.Contains(value, "\n\"") {
		return false
	}
	count := func(line string) int { return strings.Count(line, string(separator)) }
	rest := count(lines[0])
	return rest > 0 && before+rest == width-1 ||
		slices.ContainsFunc(lines[1:], func(line string) bool { return count(line) >= width-1 })
}
