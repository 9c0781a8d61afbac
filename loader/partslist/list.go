package partslist

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"strings"
)

// MaxFile is the largest file that is read, in bytes.
const MaxFile = 16 << 20

// Read understands a list. The name tells by its ending whether it is a
// workbook. An error says why the whole file is refused.
func Read(name string, body []byte, opts Options) (File, error) {
	switch {
	case len(body) > MaxFile:
		return File{}, fmt.Errorf("the file has %d bytes; more than %d are not read", len(body), MaxFile)
	case len(bytes.TrimSpace(body)) == 0:
		return File{}, errors.New("the file is empty")
	}
	if why := notAList(body); why != "" {
		return File{}, errors.New(why)
	}
	if bytes.HasPrefix(body, []byte("PK\x03\x04")) {
		return readBook(body, opts)
	}
	if ext := strings.ToLower(path.Ext(name)); ext == ".xlsx" || ext == ".xlsm" {
		return File{}, errors.New("the name says workbook, and the content is none; save it again as .xlsx or .csv")
	}
	return readText(body, opts)
}

// notAList knows files of other sorts by how they begin.
func notAList(body []byte) string {
	for _, s := range []struct{ magic, why string }{
		{"\xd0\xcf\x11\xe0", "this is a workbook of the old sort, or one with a password: save it as .xlsx without a " +
			"password, or as .csv"},
		{"%PDF", "this is a PDF: copy its table into a sheet and save that as .csv"},
		{"\x89PNG", "this is a picture"}, {"\xff\xd8\xff", "this is a picture"}, {"GIF8", "this is a picture"},
		{"{\\rtf", "this is a text document: copy its table into a sheet and save that as .csv"},
		{"\x1f\x8b", "this is a packed file: unpack it first"},
	} {
		if bytes.HasPrefix(body, []byte(s.magic)) {
			return s.why
		}
	}
	head := bytes.ToLower(bytes.TrimSpace(body[:min(len(body), 512)]))
	if bytes.HasPrefix(head, []byte("<!doctype html")) || bytes.HasPrefix(head, []byte("<html")) || bytes.HasPrefix(head,
		[]byte("<?xml")) {
		return "this is a web page or an XML file, whatever its name says: save the table as .xlsx or .csv"
	}
	return ""
}

func readBook(body []byte, opts Options) (File, error) {
	grids, err := readWorkbook(body)
	if err != nil {
		return File{}, err
	}
	var file File
	for _, g := range grids {
		if opts.Sheet != "" && !strings.EqualFold(opts.Sheet, g.name) {
			file.Sheets = append(file.Sheets, Sheet{Name: g.name, Use: UseIgnore, Why: "another sheet was asked for"})
			continue
		}
		file.Sheets = append(file.Sheets, understand(g, opts))
	}
	return file, nil
}

func readText(body []byte, opts Options) (File, error) {
	text, encoding, err := decode(body)
	if opts.Encoding != "" {
		text, encoding, err = decodeAs(body, opts.Encoding)
	}
	if err != nil {
		return File{}, err
	}
	plain, ends := lineEnds(text)
	g, separator, err := readCSV(plain)
	if err != nil {
		return File{}, err
	}
	for len(g.rows) > 0 && len(g.rows[len(g.rows)-1]) == 0 {
		g.rows = g.rows[:len(g.rows)-1]
	}
	if g.width() > maxColumns || len(g.rows) > maxRows {
		return File{}, fmt.Errorf("%d rows of %d cells are no list kept by hand; at most %d of %d are read", len(g.rows),
			g.width(), maxRows, maxColumns)
	}
	return File{Encoding: encoding, LineEnd: ends, Separator: separator, Sheets: []Sheet{understand(g, opts)}}, nil
}

// decodeAs reads bytes in the encoding that somebody named.
func decodeAs(body []byte, name string) (string, string, error) {
	for _, t := range byteTables() {
		if strings.EqualFold(name, t.name) || strings.EqualFold(name, latin1) && t.name == windows1252 {
			text, err := t.table.NewDecoder().String(string(body))
			return text, strings.ToLower(name), err
		}
	}
	if strings.HasPrefix(strings.ToLower(name), "utf") {
		return decode(body)
	}
	return "", "", fmt.Errorf("no encoding is called %q: utf-8, utf-16, latin-1, windows-1252, windows-1250, "+
		"mac-roman, cp850 or cp437", name)
}

// reader understands the rows of one sheet.
type reader struct {
	grid
	opts    Options
	sheet   *Sheet
	header  []int
	heads   []string
	first   int // the first row below the heading, from 0
	numbers *numbers
	figures figures
	means   sense
	group   string
	under   string
	seen    map[string]int // row of each number
}

// understand makes a sheet of a grid.
func understand(g grid, opts Options) Sheet {
	s := Sheet{Name: g.name, Use: UseParts}
	r := &reader{grid: g, opts: opts, sheet: &s, seen: map[string]int{}}
	r.header = findHeader(g)
	r.heads = headings(g, r.header)
	if len(r.header) > 0 {
		r.first = r.header[len(r.header)-1] + 1
	}
	for _, row := range r.header {
		s.HeaderRows = append(s.HeaderRows, row+1)
	}
	if len(r.header) == 0 && len(opts.Columns) == 0 && pasted(g) {
		understandPasted(r)
		return s
	}
	s.Columns, s.Language = assign(g, r.header, r.heads, opts)
	if why, ask := r.useless(); why != "" {
		s.Use, s.Why = UseIgnore, why
		if ask {
			s.Use = UseAsk
		}
		if !ask {
			return s
		}
	}
	r.learn()
	for i := range g.rows {
		row := row(r, i)
		s.Rows = append(s.Rows, row)
	}
	r.outliers()
	return s
}

// useless says why a sheet is no list of parts; ask when it might be one.
func (r *reader) useless() (why string, ask bool) {
	has := func(f Field) bool { return r.columnOf(f) >= 0 }
	if !has(FieldNumber) && !has(FieldSize) && !has(FieldQuantity) && r.addresses() {
		return "addresses", false
	}
	if has(FieldNumber) || has(FieldSize) || has(FieldName) && (has(FieldQuantity) || has(FieldPrice) ||
		has(FieldStatus) || has(FieldPlace)) {
		return "", false
	}
	filledRows := 0
	for _, row := range r.rows {
		if !emptyRow(row) {
			filledRows++
		}
	}
	switch {
	case filledRows == 0:
		return "empty", false
	case r.hidden:
		return "hidden, and no column of it holds part numbers", false
	}
	return "no column holds part numbers, sizes, or names with how many", true
}

// addresses knows an address book by its headings.
func (r *reader) addresses() bool {
	for _, c := range r.sheet.Columns {
		for _, word := range strings.Fields("phone tel telephone address email mail telefon adresse anschrift web website") {
			if HasWord(Fold(c.Heading), word) {
				return true
			}
		}
	}
	return false
}

func (r *reader) columnOf(f Field) int {
	for i, c := range r.sheet.Columns {
		if c.Field == f {
			return i
		}
	}
	return -1
}

// texts are the values of the column of a field, below the heading.
func (r *reader) texts(f Field) []string {
	var list []string
	for _, at := range r.columnsOf(f) {
		for i := r.first; i < len(r.rows); i++ {
			if c := r.at(i, at); c.text != "" {
				list = append(list, c.text)
			}
		}
	}
	return list
}

func (r *reader) columnsOf(f Field) []int {
	var list []int
	for i, c := range r.sheet.Columns {
		if c.Field == f {
			list = append(list, i)
		}
	}
	return list
}

// learn finds what holds for whole columns: how numbers and amounts are
// written, the currency, and the order of days.
func (r *reader) learn() {
	s := r.sheet
	r.numbers = newNumbers(r.opts, r.texts(FieldNumber))
	amounts := append(r.texts(FieldPrice), r.texts(FieldTotal)...)
	if len(amounts) == 0 {
		amounts = r.texts(FieldSize)
	}
	r.figures = learnFigures(amounts)
	if s.Decimal, s.Thousands = r.figures.decimal, r.figures.thousands; s.Decimal == "" && len(r.texts(FieldSize)) > 0 {
		s.Decimal = learnFigures(r.texts(FieldTorque)).decimal
	}
	if r.name != "" { // a workbook stores numbers as such
		s.Decimal, s.Thousands = "", ""
		if r.figures.decimal == "" {
			r.figures.decimal = "."
		}
	}
	if at := r.columnOf(FieldPrice); at >= 0 {
		s.Currency = headingCurrency(r.heads[at], s.Language)
	}
	counts := map[string]int{}
	for _, text := range amounts {
		if _, code, ok := r.figures.price(text, s.Language); ok && code != "" {
			counts[code]++
		}
	}
	if len(counts) == 1 && s.Currency == "" {
		for code := range counts {
			s.Currency = code
		}
	}
	var days []string
	for _, f := range []Field{FieldBought, FieldOrdered, FieldArrived} {
		days = append(days, r.texts(f)...)
	}
	s.DateOrder = dateOrder(days)
	if at := r.columnOf(FieldStatus); at >= 0 {
		r.means = senseOf(r.heads[at])
	}
}

// outliers asks about years that lie far from all others of the column: a year
// of two digits may be meant otherwise.
func (r *reader) outliers() {
	var years []int
	for i := range r.sheet.Rows {
		years = append(years, r.sheet.Rows[i].When.all()...)
	}
	if len(years) < 5 {
		return
	}
	for i := range r.sheet.Rows {
		row := &r.sheet.Rows[i]
		if all := row.When.all(); len(all) == 1 && loneYear(all[0], years) {
			row.ask(fmt.Sprintf("years: %02d is outside the years of the others", all[0]%100))
		}
	}
}

// far is how many years lie between a year and the nearest of the others before
// it is asked about.
const far = 15

func loneYear(year int, others []int) bool {
	near := 0
	for _, o := range others {
		if o != year && o-year < far && year-o < far {
			near++
		}
	}
	same := 0
	for _, o := range others {
		if o == year {
			same++
		}
	}
	return near == 0 && same*3 < len(others)
}
