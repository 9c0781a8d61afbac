package partslist

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/tealeg/xlsx/v3"
)

// The most that is read of a workbook: unpacked bytes, rows of a sheet, and
// columns. A list kept by hand has less.
const (
	maxUnpacked = 128 << 20
	maxRows     = 50_000
	maxColumns  = 200
)

// readWorkbook reads the sheets of a workbook (ISO/IEC 29500).
func readWorkbook(body []byte) (grids []grid, err error) {
	if err := fitsUnpacked(body); err != nil {
		return nil, err
	}
	defer func() { // the reader panics on some damaged files
		if r := recover(); r != nil {
			grids, err = nil, errors.New("the workbook is damaged; save it anew, as .xlsx or .csv")
		}
	}()
	file, err := xlsx.OpenBinary(body, xlsx.RowLimit(maxRows), xlsx.ColLimit(maxColumns))
	if err != nil {
		return nil, fmt.Errorf("the workbook can't be read: %w", err)
	}
	for _, s := range file.Sheets {
		g, err := readSheet(s, file.Date1904)
		if err != nil {
			return nil, fmt.Errorf("sheet %q: %w", s.Name, err)
		}
		grids = append(grids, g)
	}
	return grids, nil
}

// fitsUnpacked refuses an archive that unpacks to more than a list can hold.
func fitsUnpacked(body []byte) error {
	z, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		return fmt.Errorf("this is no workbook: %w", err)
	}
	total, workbook := uint64(0), false
	for _, f := range z.File {
		total += min(f.UncompressedSize64, maxUnpacked+1) // sizes that are made up must not run over
		workbook = workbook || f.Name == "xl/workbook.xml"
	}
	switch {
	case total > maxUnpacked:
		return fmt.Errorf("the workbook unpacks to %d bytes; more than %d are not read", total, maxUnpacked)
	case !workbook:
		return errors.New("this is no .xlsx workbook; save it as .xlsx or .csv")
	}
	for _, f := range z.File {
		if strings.HasPrefix(f.Name, "xl/worksheets/") && strings.HasSuffix(f.Name, ".xml") {
			if err := fitsSheet(f); err != nil {
				return err
			}
		}
	}
	return nil
}

// fitsSheet refuses a sheet that names a row or a column further out than a sheet has, or
// a row past the last that is read: the reader would make room for all before it. What is
// not well formed is left to the reader.
func fitsSheet(f *zip.File) error {
	content, err := f.Open()
	if err != nil {
		return fmt.Errorf("the workbook can't be read: %w", err)
	}
	defer content.Close()
	for d := xml.NewDecoder(content); ; {
		token, err := d.RawToken()
		if err != nil {
			return nil
		}
		switch t := token.(type) {
		case xml.Directive:
			return errors.New("a sheet of the workbook defines things of its own, which no list does; save it as .csv")
		case xml.StartElement:
			for _, a := range t.Attr {
				if (t.Name.Local == "row" || t.Name.Local == "c") && a.Name.Local == "r" {
					if err := withinSheet(a.Value); err != nil {
						return err
					}
				}
			}
		}
	}
}

// withinSheet refuses the name of a row or cell that lies too far out. A sheet has columns
// to XFD. Source: ISO/IEC 29500-1.
func withinSheet(name string) error {
	number := strings.TrimLeft(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") // of the row; in front the letters of the column
	if len(name)-len(number) > len("XFD") {
		return fmt.Errorf("a sheet of the workbook has a cell %.20q, which no sheet has", name)
	}
	if row, err := strconv.Atoi(cmp.Or(number, "1")); err != nil || row < 1 || row > maxRows {
		return fmt.Errorf("something stands at %.20q of a sheet; rows past %d are not read: delete what is below the list, "+
			"or save it as .csv", name, maxRows)
	}
	return nil
}

func readSheet(s *xlsx.Sheet, date1904 bool) (grid, error) {
	g := grid{name: s.Name, hidden: s.Hidden, wide: min(s.MaxCol, maxColumns)}
	err := s.ForEachRow(func(r *xlsx.Row) error {
		var row []cell
		err := r.ForEachCell(func(c *xlsx.Cell) error {
			column, _ := c.GetCoordinates()
			for len(row) <= column {
				row = append(row, cell{})
			}
			if n := shownBytes(c); n > maxCell {
				return fmt.Errorf("cell %s%d: %w", letter(column), r.GetCoordinate()+1, tooLong(n))
			}
			row[column] = workbookCell(c, date1904)
			return nil
		})
		for len(row) > 0 && row[len(row)-1] == (cell{}) {
			row = row[:len(row)-1]
		}
		at := r.GetCoordinate()
		for len(g.rows) < at {
			g.rows = append(g.rows, nil)
		}
		g.rows = append(g.rows, row)
		return err
	})
	for len(g.rows) > 0 && len(g.rows[len(g.rows)-1]) == 0 {
		g.rows = g.rows[:len(g.rows)-1]
	}
	return g, err
}

// shownBytes is how long the text of a cell is.
func shownBytes(c *xlsx.Cell) int {
	n := len(c.Value)
	for _, run := range c.RichText {
		n += len(run.Text)
	}
	return n
}

// workbookCell gives a cell as it is shown where that matters (zeros in front,
// days), and as it is stored elsewhere.
func workbookCell(c *xlsx.Cell, date1904 bool) cell {
	text := c.Value
	for _, run := range c.RichText {
		text += run.Text
	}
	if text = clean(text); text == "" {
		return cell{sum: c.Formula() != ""}
	}
	if c.Type() != xlsx.CellTypeNumeric && c.Type() != xlsx.CellTypeDate {
		return cell{text: text}
	}
	if c.IsTime() {
		if at, err := c.GetTime(date1904); err == nil {
			return cell{text: at.Format(time.DateOnly), typed: cellDate}
		}
	}
	if format := c.GetNumberFormat(); strings.HasPrefix(format, "00") {
		if shown, err := c.FormattedValue(); err == nil {
			return cell{text: clean(shown)}
		}
	}
	if n, err := c.Float(); err == nil {
		text = plainNumber(n)
	}
	return cell{text: text, typed: cellNumber}
}
