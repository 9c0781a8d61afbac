package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/wording"
	"matewell/loader/intake"
	"matewell/loader/partslist"
)

// importAnswer is what "matewell import" prints as JSON.
type importAnswer struct {
	File      string         `json:"file"`
	Name      string         `json:"name"` // of the list, as a source
	Into      string         `json:"into,omitempty"`
	Bike      string         `json:"bike,omitempty"` // whose boxes and bags
	Encoding  string         `json:"encoding,omitempty"`
	LineEnd   string         `json:"line_end,omitempty"`
	Separator string         `json:"separator,omitempty"`
	Sheets    []importSheet  `json:"sheets"`
	Parts     int            `json:"parts"`  // numbers that are declared
	Placed    int            `json:"placed"` // rows that found their place on a model
	Boxed     int            `json:"boxed"`  // rows that lie in a box of a bike
	Bagged    int            `json:"bagged"` // rows of hardware that lie in a bag of a bike
	Lacked    int            `json:"lacked"` // rows whose places on a bike are noted as empty: missing, or on order
	Left      []importLeft   `json:"left"`   // what was left out or is asked, in the order of the list
	Files     []importedFile `json:"files"`
}

// importSheet is one table of the list.
type importSheet struct {
	Sheet     string         `json:"sheet,omitempty"`
	Use       string         `json:"use"` // "parts", "ignore" or "ask"
	Why       string         `json:"why,omitempty"`
	Language  string         `json:"language,omitempty"`
	Decimal   string         `json:"decimal,omitempty"`
	Currency  string         `json:"currency,omitempty"`
	DateOrder string         `json:"date_order,omitempty"`
	Columns   []importColumn `json:"columns"`
	Rows      []importCount  `json:"rows"`
}

// importColumn says what a column was taken for.
type importColumn struct {
	Column  string `json:"column"`
	Heading string `json:"heading,omitempty"`
	Field   string `json:"field,omitempty"`
	By      string `json:"by,omitempty"` // "heading", "content", "told" or "empty"
	Example string `json:"example,omitempty"`
}

// importCount says how many rows are of one sort.
type importCount struct {
	Is    string `json:"is"`
	Count int    `json:"count"`
}

// importLeft is something of a row that was left out, or is asked.
type importLeft struct {
	Sheet   string   `json:"sheet,omitempty"`
	Row     int      `json:"row"`
	LeftOut string   `json:"left_out"`
	Why     string   `json:"why"`
	MayBe   []string `json:"may_be,omitempty"`
	Written string   `json:"written"`
}

func newImportAnswer(opts importOptions, list partslist.File, result intake.Result) importAnswer {
	a := importAnswer{File: opts.file, Name: opts.told.Name, Bike: opts.told.Bike, Encoding: list.Encoding,
		LineEnd: list.LineEnd, Separator: list.Separator,
		Sheets: []importSheet{}, Parts: result.Parts, Placed: result.Placed, Boxed: result.Boxed, Bagged: result.Bagged,
		Lacked: result.Lacked, Left: []importLeft{}, Files: []importedFile{}}
	for _, s := range list.Sheets {
		a.Sheets = append(a.Sheets, newImportSheet(s))
	}
	for _, l := range result.Left {
		a.Left = append(a.Left, importLeft{l.Sheet, l.Row, l.What, l.Why, l.MayBe, l.Text})
	}
	return a
}

func newImportSheet(s partslist.Sheet) importSheet {
	one := importSheet{Sheet: s.Name, Use: string(s.Use), Why: s.Why, Language: s.Language, Decimal: s.Decimal,
		Currency:  s.Currency,
		DateOrder: s.DateOrder, Columns: []importColumn{}, Rows: []importCount{}}
	counts := map[partslist.Is]int{}
	for _, r := range s.Rows {
		counts[r.Is]++
	}
	for _, is := range []partslist.Is{partslist.IsPart, partslist.IsHardware, partslist.IsContinuation,
		partslist.IsHeading, partslist.IsTotal, partslist.IsNote, partslist.IsGarbage, partslist.IsTitle, partslist.IsHeader,
		partslist.IsBlank} {
		if counts[is] > 0 {
			one.Rows = append(one.Rows, importCount{string(is), counts[is]})
		}
	}
	for i, c := range s.Columns {
		one.Columns = append(one.Columns, importColumn{c.Letter, c.Heading, string(c.Field), c.How, example(s.Rows, i)})
	}
	return one
}

// example is the first value of a column that a part has.
func example(rows []partslist.Row, column int) string {
	for _, r := range rows {
		if (r.Is == partslist.IsPart || r.Is == partslist.IsHardware) && column < len(r.Cells) && r.Cells[column] != "" {
			return r.Cells[column]
		}
	}
	return ""
}

// rows counts the parts and pieces of hardware that were found.
func (a importAnswer) rows() int {
	n := 0
	for _, s := range a.Sheets {
		for _, c := range s.Rows {
			if c.Is == string(partslist.IsPart) || c.Is == string(partslist.IsHardware) {
				n += c.Count
			}
		}
	}
	return n
}

// err is a failure when the list gave nothing.
func (a importAnswer) err() error {
	if a.rows() > 0 {
		return nil
	}
	return errors.New("no row of this list was taken for a part; say what a column holds with --column HEADING=FIELD")
}

// mostLeft is how many of the things left out are printed; all are in the file.
const mostLeft = 12

func (a importAnswer) page() page.Page {
	p := page.Page{{Lines: []string{a.sayFile()}}}
	for _, s := range a.Sheets {
		p = append(p, s.section())
	}
	if a.rows() == 0 {
		return p
	}
	p = append(p, page.Section{Lines: []string{a.sayTaken()}})
	left := page.Table{Columns: []string{"rows", "left out", "why", "may be"}, Detail: "may be"}
	groups := groupLeft(a.Left)
	for _, g := range groups[:min(len(groups), mostLeft)] {
		left.Add(g.rowNames(), g.LeftOut, g.Why, strings.Join(g.MayBe, ", "))
	}
	rows := page.Table{Columns: []string{"sheet", "row", "left out", "why", "may be", "written"}}
	for _, l := range a.Left {
		rows.Add(l.Sheet, strconv.Itoa(l.Row), l.LeftOut, l.Why, strings.Join(l.MayBe, ", "), l.Written)
	}
	last := page.Section{Table: left, Rows: rows}
	if len(a.Left) > 0 {
		last.Title = "Left out, or to be answered"
	}
	if more := len(groups) - mostLeft; more > 0 {
		last.After = append(last.After, fmt.Sprintf("And %d more%s.", more, a.whereLeft()))
	}
	return append(p, last, page.Section{Lines: a.sayFiles()})
}

func (a importAnswer) whereLeft() string {
	for _, f := range a.Files {
		if strings.HasSuffix(f.File, intake.LeftFile) {
			return ", all of them in " + f.File
		}
	}
	return ""
}

// leftGroup are rows of which the same is said.
type leftGroup struct {
	importLeft
	rows []int
}

// groupLeft puts together what is said in the same words, in the order of the
// list.
func groupLeft(left []importLeft) []*leftGroup {
	var groups []*leftGroup
	found := map[string]*leftGroup{}
	for _, l := range left {
		key := strings.Join(append([]string{l.Sheet, l.LeftOut, l.Why}, l.MayBe...), "\x00")
		if found[key] == nil {
			found[key] = &leftGroup{importLeft: l}
			groups = append(groups, found[key])
		}
		found[key].rows = append(found[key].rows, l.Row)
	}
	return groups
}

// mostRows is how many rows are named before the rest is counted.
const mostRows = 4

// rowNames are the rows, those in a row as one: "Parts 4-9, 12 and 20 more".
func (g *leftGroup) rowNames() string {
	if g.rows[0] == 0 {
		return "all"
	}
	var names []string
	for i := 0; i < len(g.rows); {
		j := i
		for j+1 < len(g.rows) && g.rows[j+1] == g.rows[j]+1 {
			j++
		}
		if len(names) == mostRows {
			names[mostRows-1] += fmt.Sprintf(" and %d more", len(g.rows)-i)
			break
		}
		names = append(names, strconv.Itoa(g.rows[i]))
		if j > i {
			names[len(names)-1] += "-" + strconv.Itoa(g.rows[j])
		}
		i = j + 1
	}
	return strings.TrimSpace(g.Sheet + " " + strings.Join(names, ", "))
}

func rowName(sheetName string, row int) string {
	if sheetName == "" {
		return strconv.Itoa(row)
	}
	return sheetName + " " + strconv.Itoa(row)
}

var separatorNames = map[string]string{";": "semicolons between values", "tab": "tabs between values",
	",": "commas between values", "|": "bars between values", "": "one column"}

var lineEndNames = map[string]string{"lf": "", "crlf": "", "cr": ", lines end as on an old Mac"}

func (a importAnswer) sayFile() string {
	if a.Encoding == "" {
		return fmt.Sprintf("%s: a workbook of %s", a.File, page.Counted(len(a.Sheets), "sheet"))
	}
	return fmt.Sprintf("%s: %s, %s%s", a.File, a.Encoding, cmp.Or(separatorNames[a.Separator],
		a.Separator+" between values"), lineEndNames[a.LineEnd])
}

func (s importSheet) section() page.Section {
	var out page.Section
	if s.Sheet != "" {
		out.Title = "Sheet " + s.Sheet
	}
	if s.Use == string(partslist.UseIgnore) {
		out.Lines = []string{"passed over: " + s.Why}
		return out
	}
	if s.Why != "" {
		out.Lines = []string{s.Why + "; say what a column holds with --column HEADING=FIELD"}
	}
	out.Table = page.Table{Columns: []string{"column", "heading", "taken for", "by", "such as"}}
	for _, c := range s.Columns {
		if c.Heading == "" && c.Field == "" && c.Example == "" {
			continue
		}
		out.Table.Add(c.Column, c.Heading, cmp.Or(c.Field, "nothing"), c.By, wording.Shortened(c.Example, 24))
	}
	var counts []string
	for _, c := range s.Rows {
		counts = append(counts, sayRows(c))
	}
	out.After = []string{"Rows: " + strings.Join(counts, ", ") + s.sayFigures() + "."}
	return out
}

func sayRows(c importCount) string {
	switch partslist.Is(c.Is) {
	case partslist.IsHardware, partslist.IsGarbage, partslist.IsBlank:
		return fmt.Sprintf("%d %s", c.Count,
			map[string]string{"garbage": "that are no part of a list"}[c.Is]+strings.TrimSuffix(c.Is, "garbage"))
	}
	return page.Counted(c.Count, c.Is)
}

func (s importSheet) sayFigures() string {
	var said []string
	if s.Decimal == "," {
		said = append(said, "decimal comma")
	}
	if s.Currency != "" {
		said = append(said, "prices in "+s.Currency)
	}
	if s.DateOrder != "" {
		said = append(said, map[string]string{"dmy": "day before month", "mdy": "month before day"}[s.DateOrder])
	}
	if said == nil {
		return ""
	}
	return "; " + strings.Join(said, ", ")
}

func (a importAnswer) sayTaken() string {
	said := []string{page.Counted(a.Parts, "number") + " declared"}
	for _, c := range []struct {
		n    int
		what string
	}{{a.Placed, "in their places"}, {a.Boxed, "in boxes of " + a.Bike}, {a.Bagged, "in bags of " + a.Bike},
		{a.Lacked, "missing on " + a.Bike}} {
		if c.n > 0 {
			said = append(said, page.Counted(c.n, "row")+" "+c.what)
		}
	}
	rows := map[string]bool{}
	for _, l := range a.Left {
		if l.Row > 0 {
			rows[rowName(l.Sheet, l.Row)] = true
		}
	}
	if len(rows) > 0 {
		said = append(said, page.Counted(len(rows), "row")+" with something left out or asked")
	}
	return strings.Join(said, ", ") + "."
}

func (a importAnswer) sayFiles() []string {
	if a.Into == "" {
		return []string{"Nothing was written: say where to with --to DIR."}
	}
	var lines []string
	changed := slices.ContainsFunc(a.Files, func(f importedFile) bool { return f.Change != "as it was" })
	if !changed {
		return []string{"Nothing changed in " + a.Into + "."}
	}
	for _, f := range a.Files {
		switch f.Change {
		case "changed":
			lines = append(lines, fmt.Sprintf("changed %s in %s/%s", page.Counted(f.Lines, "line"), a.Into, f.File))
		case "new":
			lines = append(lines, fmt.Sprintf("wrote %s/%s", a.Into, f.File))
		case "removed":
			lines = append(lines, fmt.Sprintf("removed %s/%s", a.Into, f.File))
		}
	}
	return lines
}
