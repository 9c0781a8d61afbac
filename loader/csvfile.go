package loader

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"

	"matewell/graph/diag"
)

// column is one column of a list, read into a T.
type column[T any] struct {
	name   string
	must   bool
	read   func(r reading, w word, into *T)
	schema func() schema // of one cell
}

// cell reads a column that holds one value.
func cell[T, V any](name string, s scalar[V], at func(*T) *V) column[T] {
	return column[T]{name: name, schema: s.cellSchema, read: func(r reading, w word, into *T) {
		if r.blankedIn(w.text) {
			s.spoil(at(into), w)
			return
		}
		v, ok := s.check(r, w)
		if *at(into) = v; !ok {
			s.spoil(at(into), w)
		}
	}}
}

// cells reads a column that holds a list, separated by semicolons.
func cells[T, V any](name string, s scalar[V], at func(*T) *[]V) column[T] {
	return cellList(name, s, at, false)
}

// sourceCells reads the sources of a row. One that can't be read stays, so that
// the row is not said to name none.
func sourceCells[T any](at func(*T) *[]word) column[T] { return cellList("source", name(), at, true) }

func cellList[T, V any](name string, s scalar[V], at func(*T) *[]V, keepSpoilt bool) column[T] {
	return column[T]{name: name, schema: textSchema, read: func(r reading, w word, into *T) {
		offset := 0
		for _, part := range strings.SplitAfter(w.text, ";") {
			text := strings.TrimSuffix(part, ";")
			one := word{strings.TrimSpace(text), w.pos}
			one.pos.Col += offset + len(text) - len(strings.TrimLeft(text, " \t"))
			offset += len(part)
			if one.text == "" {
				r.Errorf(one.pos, "empty-value", "nothing is written between two semicolons")
				continue
			}
			var v V
			ok := false
			if !r.blankedIn(one.text) {
				v, ok = s.check(r, one)
			}
			if !ok {
				s.spoil(&v, one)
			}
			if ok || keepSpoilt {
				*at(into) = append(*at(into), v)
			}
		}
	}}
}

func textSchema() schema { return schema{"type": "string"} }

// rowSchema describes a row of a list as an object with a key for each column.
func (t table[T]) rowSchema(is string, words map[string]string) schema {
	properties, required := schema{}, []any{}
	for _, c := range t.columns {
		properties[c.name] = c.schema().with("description", words[c.name])
		if c.must {
			required = append(required, c.name)
		}
	}
	return schema{"type": "object", "description": is, "properties": properties, "required": required,
		"additionalProperties": false}
}

// needed makes a column one that must be there and filled in every row.
func needed[T any](c column[T]) column[T] { c.must = true; return c }

// table reads a list (RFC 4180) whose first line names the columns, in any
// order. at is where the place of a row is kept.
type table[T any] struct {
	columns []column[T]
	at      func(*T) *diag.Pos
}

// read gives the rows of a file. The result of false says that a part of the
// file could not be read.
func (t table[T]) read(r reading) (rows []T, whole bool) {
	whole = t.each(r, func(row *T) { rows = append(rows, *row) })
	return rows, whole
}

// each visits the rows one by one, as read does.
func (t table[T]) each(r reading, visit func(row *T)) (whole bool) {
	c := csv.NewReader(bytes.NewReader(r.body))
	c.FieldsPerRecord = -1
	c.ReuseRecord = true
	var header []*column[T]
	whole = true
	for {
		record, err := c.Read()
		switch {
		case errors.Is(err, io.EOF):
			return whole
		case err != nil:
			whole = false
			csvFault(r, err)
		case blank(record):
		case header == nil:
			header = t.header(r, c, record)
		case len(record) != len(header):
			line, col := c.FieldPos(min(len(header), len(record)-1))
			r.Errorf(diag.Pos{File: r.name, Line: line, Col: col}, "wrong-column-count",
				"%d values where the first line names %d columns", len(record), len(header)).Hint =
				"a value that holds a comma needs double quotes round it"
		default:
			row := t.row(r, c, record, header)
			visit(&row)
		}
	}
}

func blank(record []string) bool {
	for _, value := range record {
		if strings.TrimSpace(value) != "" {
			return false
		}
	}
	return true
}

func csvFault(r reading, err error) {
	var parse *csv.ParseError
	if !errors.As(err, &parse) {
		r.Errorf(diag.Pos{File: r.name}, "bad-csv", "%v", err)
		return
	}
	pos := r.within(parse.Line, parse.Column)
	if at, open := openQuote(r.text, parse.StartLine); open && errors.Is(parse.Err, csv.ErrQuote) {
		r.Errorf(at, "bad-csv", "this quote is never closed, or closed amid a value").Hint = quoteHint
		return
	}
	r.Errorf(pos, "bad-csv", "%v", parse.Err).Hint = quoteHint
}

const quoteHint = `a value with quotes in it is written "so ""quoted"" here"`

// openQuote is the place of the quote that is still open at the end of a line.
func openQuote(t *text, line int) (diag.Pos, bool) {
	start, open := 0, false
	for i, b := range t.line(line) {
		if b == '"' {
			start, open = i, !open
		}
	}
	return diag.Pos{File: t.name, Line: line, Col: start + 1}, open
}

// header matches the first line to the columns; an unknown column is reported
// and then passed over.
func (t table[T]) header(r reading, c *csv.Reader, record []string) []*column[T] {
	header := make([]*column[T], len(record))
	seen := make(map[string]diag.Pos)
	var names []string
	for i := range t.columns {
		names = append(names, t.columns[i].name)
	}
	for i, raw := range record {
		title := strings.TrimSpace(raw)
		line, col := c.FieldPos(i)
		pos := diag.Pos{File: r.name, Line: line, Col: col}
		if before, twice := seen[title]; twice {
			r.Errorf(pos, "duplicate-key", "column %q is given twice", title).Related = []diag.Pos{before}
			continue
		}
		seen[title] = pos
		for j := range t.columns {
			if t.columns[j].name == title {
				header[i] = &t.columns[j]
			}
		}
		if header[i] == nil {
			d := r.Errorf(pos, "unknown-key", "there is no column %q", title)
			d.Hint = nearOrList(title, names)
			if len(record) == 1 && strings.Contains(title, ";") {
				d.Hint = "columns are separated by commas"
				return header
			}
		}
	}
	for _, column := range t.columns {
		if _, given := seen[column.name]; column.must && !given {
			r.Errorf(diag.Pos{File: r.name, Line: 1, Col: 1}, "missing-key", "the first line lacks the column %q", column.name)
		}
	}
	return header
}

func (t table[T]) row(r reading, c *csv.Reader, record []string, header []*column[T]) T {
	var row T
	line, col := c.FieldPos(0)
	*t.at(&row) = diag.Pos{File: r.name, Line: line, Col: col}
	for i, raw := range record {
		if header[i] == nil {
			continue
		}
		line, col := c.FieldPos(i)
		text := strings.TrimSpace(raw)
		w := word{text, diag.Pos{File: r.name, Line: line, Col: col + len(raw) - len(strings.TrimLeft(raw, " \t"))}}
		switch {
		case text != "":
			r.key = header[i].name
			header[i].read(r, w, &row)
		case header[i].must:
			r.Errorf(diag.Pos{File: r.name, Line: line, Col: col}, "missing-key", "the row lacks %q", header[i].name)
		}
	}
	return row
}
