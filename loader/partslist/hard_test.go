package partslist_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"github.com/tealeg/xlsx/v3"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"matewell/graph"
	"matewell/loader/partslist"
)

func read(t *testing.T, name string, body []byte, opts partslist.Options) partslist.File {
	t.Helper()
	f, err := partslist.Read(name, body, opts)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// rowTold wants values of one row under the names of told; an empty map wants
// nothing.
func rowTold(t *testing.T, f partslist.File, row int, want map[string]any) {
	t.Helper()
	got := told(f.Sheets[0].Rows[row-1])
	for key, value := range want {
		if asText(got[key]) != asText(value) {
			t.Errorf("row %d: %s %s, want %s", row, key, asText(got[key]), asText(value))
		}
	}
}

func fields(s partslist.Sheet) string {
	var list []string
	for _, c := range s.Columns {
		list = append(list, string(c.Field))
	}
	return strings.Join(list, ",")
}

func TestSheetExportsUTF16WithTabs(t *testing.T) {
	text := "Part Number\tDescription\tOn hand\tUnit cost\r\n=\"0012345678\"\tFork seal \"inner\"\t2\t$12.50\r\n" +
		"0012345679\tDust cap\t2\t$1,200.00\r\n12345680\tWasher\t4\t$3\r\n"
	for _, order := range []unicode.Endianness{unicode.LittleEndian, unicode.BigEndian} {
		for _, mark := range []unicode.BOMPolicy{unicode.UseBOM, unicode.IgnoreBOM} {
			body, err := unicode.UTF16(order, mark).NewEncoder().Bytes([]byte(text))
			if err != nil {
				t.Fatal(err)
			}
			f := read(t, "stock.txt", body, partslist.Options{})
			if got := fields(f.Sheets[0]); got != "number,name,quantity,price" || f.Separator != "tab" || f.LineEnd != "crlf" {
				t.Errorf("%v: %s, %q, %q", order, got, f.Separator, f.LineEnd)
			}
			rowTold(t, f, 2, map[string]any{"number": "0012345678", "price": 12.5, "currency": "USD"})
			rowTold(t, f, 3, map[string]any{"price": 1200})
			rowTold(t, f, 4, map[string]any{"number": nil, "candidates": []string{"0012345680", "12345680"}})
		}
	}
}

func TestGermanShopList(t *testing.T) {
	body, err := charmap.Windows1252.NewEncoder().Bytes([]byte("\"Art.-Nr.\";\"Artikel\";\"Menge\";\"EK " +
		"€\";\"Bj.\";\"Lagerort\"\n" +
		"\"AB 12-345\";\"Bremssattel links\";\"1,00\";\"1.234,50 €\";\"ab 98\";\"Regal 1\"\n" +
		"\"AB 12-347\";\"Dichtsatz – groß\";\"2,5\";\"9,9 €\";\"bis 00\";\"Kiste „Motor“\"\n" +
		"\"AB 12-348 (ersetzt durch AB 12-349)\";\"Kolben Ø 52\";\"1\";\"–\";\"alle\";\"?\"\n" +
		"\"Zwischensumme\";\"\";\"\";\"1.344,30 €\";\"\";\"\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	f := read(t, "teile.csv", body, partslist.Options{})
	if got := fields(f.Sheets[0]); got != "number,name,quantity,price,years,box" || f.Encoding != "windows-1252" ||
		f.Sheets[0].Language != "de" {
		t.Errorf("%s, %q, %q", got, f.Encoding, f.Sheets[0].Language)
	}
	rowTold(t, f, 2, map[string]any{"number": "AB 12-345", "quantity": 1, "price": 1234.5, "currency": "EUR",
		"years": []any{1998, nil}})
	rowTold(t, f, 3, map[string]any{"name": "Dichtsatz – groß", "quantity": nil,
		"ask": []string{`quantity: "2,5" is no whole number`}, "years": []any{nil, 2000}})
	rowTold(t, f, 4, map[string]any{"number": "AB 12-348", "price": nil, "years": "all"})
	if got := f.Sheets[0].Rows[3].Newer; got != "AB 12-349" {
		t.Errorf("takes its place: %q", got)
	}
	rowTold(t, f, 5, map[string]any{"is": "total", "number": nil})
}

func TestNotesAndSeveralNumbers(t *testing.T) {
	f := read(t, "n.csv", []byte(`Part no,Description,Qty,Remarks
VB.0110,caliper,1,superseded by VB.0115
VB.0120,disc,1,"was VB.0119, still usable
see bulletin"
VB.0130,pads,1,NLS - use VB.0131 instead
VB.0140 / VB.0141,hose,1,either
VB.0150 -> VB.0155,master,1,
VB.0160,lever,1,
VB.0160,lever,2,
Part no,Description,Qty,Remarks
VB.0170,bolt,3,replaces VB.0169 & VB.0168
VB.0200,spring,1,now 10 mm longer
Sub-total,,12,
1x VB.0210,bush,,
Page 2,,,
`), partslist.Options{Brands: makers()})
	tests := []struct {
		row                  int
		number, newer, older string
		is                   partslist.Is
	}{
		{2, "VB.0110", "VB.0115", "", partslist.IsPart}, {3, "VB.0120", "", "VB.0119", partslist.IsPart}, {4, "VB.0130",
			"VB.0131", "", partslist.IsPart},
		{5, "", "", "", partslist.IsPart}, {6, "VB.0150", "VB.0155", "", partslist.IsPart}, {9, "", "", "",
			partslist.IsHeader},
		{10, "VB.0170", "", "VB.0169", partslist.IsPart}, {11, "VB.0200", "", "", partslist.IsPart}, {12, "", "", "",
			partslist.IsTotal},
		{13, "VB.0210", "", "", partslist.IsPart}, {14, "", "", "", partslist.IsNote},
	}
	for _, tt := range tests {
		r := f.Sheets[0].Rows[tt.row-1]
		if r.N != tt.row || r.Number != tt.number || r.Newer != tt.newer || r.Older != tt.older || r.Is != tt.is {
			t.Errorf("row %d: %s %q, newer %q, older %q, want %s %q, %q, %q", r.N, r.Is, r.Number, r.Newer, r.Older, tt.is,
				tt.number, tt.newer, tt.older)
		}
	}
	rowTold(t, f, 5, map[string]any{"candidates": []string{"VB.0140", "VB.0141"}})
	if r := f.Sheets[0].Rows[7]; r.SameAs != 7 || len(r.Contradicts) != 1 {
		t.Errorf("the same number again: as row %d, %q", r.SameAs, r.Contradicts)
	}
	if r := f.Sheets[0].Rows[9]; !slices.ContainsFunc(r.Ask, func(a string) bool {
		return strings.Contains(a,
			"VB.0168")
	}) {
		t.Errorf("the second number it replaces is not asked about: %q", r.Ask)
	}
}

// TestDigitsAloneAreNoMaker: that a number has as many digits as a maker's
// numbers does not say that it is that maker's.
func TestDigitsAloneAreNoMaker(t *testing.T) {
	brands := append(makers(), graph.Brand{ID: "Ombrell", Form: graph.NumberForm{Core: "99.999"}})
	f := read(t, "n.csv", []byte("Number,What\n24.871,lever\n24871,hose\nVB.0110,disc\nVB.0111,disc\n"),
		partslist.Options{Brands: brands})
	rowTold(t, f, 2, map[string]any{"number": "24.871", "maker": "Ombrell"})
	rowTold(t, f, 3, map[string]any{"number": "24871", "maker": nil})
}

// TestWorkbooks reads what a spreadsheet holds apart from what it shows: zeros
// that only the form of a cell gives, days, rich text, formulas, hidden sheets.
func TestWorkbooks(t *testing.T) {
	book := xlsx.NewFile()
	s, err := book.AddSheet("Bestand")
	if err != nil {
		t.Fatal(err)
	}
	row := func(values ...any) *xlsx.Row {
		r := s.AddRow()
		for _, v := range values {
			c := r.AddCell()
			switch v := v.(type) {
			case string:
				c.SetString(v)
			case int:
				c.SetInt(v)
			case float64:
				c.SetFloat(v)
			}
		}
		return r
	}
	row("Part no", "Name", "Qty", "Price", "Years")
	padded := row(30866950, "brake lever", 1, 14.2, 1998)
	padded.GetCell(0).NumFmt = "0000000000"
	row("0030866951", "fork seal", 2.0, 8.199999999999999, "98-01")
	eaten := row("", "hose", 1, 3.0, "")
	eaten.GetCell(0).SetFloatWithFormat(45000, "dd/mm/yyyy")
	long := row(123456789012.0, "long number", 1, 1.0, "")
	_ = long
	rich := row("", "rich", 1, 2.0, "")
	rich.GetCell(0).SetRichText([]xlsx.RichTextRun{{Text: "00308"}, {Text: "66952"}})
	sum := row("TOTAL", "", "")
	sum.GetCell(2).SetFormula("SUM(C2:C5)")
	hidden, err := book.AddSheet("old")
	if err != nil {
		t.Fatal(err)
	}
	hidden.Hidden = true
	hidden.AddRow().AddCell().SetString("scratch")
	var body bytes.Buffer
	if err := book.Write(&body); err != nil {
		t.Fatal(err)
	}
	f := read(t, "stock.xlsx", body.Bytes(), partslist.Options{Brands: makers()})
	if len(f.Sheets) != 2 || f.Sheets[0].Use != partslist.UseParts || f.Sheets[1].Use != partslist.UseIgnore {
		t.Fatalf("sheets %+v", f.Sheets)
	}
	rowTold(t, f, 2, map[string]any{"number": "0030866950", "maker": "Velmunt", "quantity": 1, "years": []any{1998, 1998}})
	rowTold(t, f, 3, map[string]any{"number": "0030866951", "quantity": 2, "price": 8.2, "years": []any{1998, 2001}})
	rowTold(t, f, 4, map[string]any{"number": nil, "cannot": "number: read as a date by a sheet programme"})
	rowTold(t, f, 5, map[string]any{"number": "123456789012"})
	rowTold(t, f, 6, map[string]any{"number": "0030866952"})
	rowTold(t, f, 7, map[string]any{"is": "total"})
}

func TestRefused(t *testing.T) {
	tests := []struct{ name, file, body, want string }{
		{"nothing in it", "a.csv", " \n \n", "empty"},
		{"an old workbook", "a.xls", "\xd0\xcf\x11\xe0rest", "old sort"},
		{"a page that is called a workbook", "a.xls", "<html><table>", "web page"},
		{"a picture", "a.csv", "\x89PNG\r\n", "picture"},
		{"bytes that are no text", "a.csv", "a;b\x00\x01\x02\x03c", "no text"},
		{"a text that is called a workbook", "a.xlsx", "Number;Name\n1;2\n", "no"},
		{"a packed file that is no workbook", "a.xlsx", "PK\x03\x04broken", "no workbook"},
		{"a quote that is never closed", "a.csv", "Part no,Desc\n\"VB.0110,x\n" + strings.Repeat("VB.0111,x\n", 60),
			"line 2: a quote"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := partslist.Read(tt.file, []byte(tt.body), partslist.Options{})
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want it to say %q", err, tt.want)
			}
		})
	}
}

// A workbook is bounded as a text is: in a cell, and in what it says to unpack to.
func TestWorkbooksHaveBounds(t *testing.T) {
	book := xlsx.NewFile()
	s, err := book.AddSheet("list")
	if err != nil {
		t.Fatal(err)
	}
	s.AddRow().AddCell().SetString("Part no")
	row := s.AddRow()
	row.AddCell().SetString("VB.0110")
	row.AddCell().SetString(strings.Repeat("x", 64<<10+1))
	var long bytes.Buffer
	if err := book.Write(&long); err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		body []byte
		want string
	}{
		"a cell of a book":             {long.Bytes(), "cell B2: a cell has 65537 bytes"},
		"sizes that run over together": {archive(t, 1<<63, 1<<63), "unpacks to"},
		"one that is small":            {archive(t, 10, 10), "no .xlsx workbook"},
	} {
		_, err := partslist.Read("a.xlsx", tt.body, partslist.Options{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: got %v, want it to say %q", name, err, tt.want)
		}
	}
}

// Cells that stand where no list has them are refused at once: the reader would make room
// for every row and column before them.
func TestWorkbooksReachNoFurtherThanLists(t *testing.T) {
	book := xlsx.NewFile()
	s, err := book.AddSheet("list")
	if err != nil {
		t.Fatal(err)
	}
	s.AddRow().AddCell().SetString("Part no")
	s.AddRow().AddCell().SetString("VB.0110")
	var whole bytes.Buffer
	if err := book.Write(&whole); err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct{ cell, row, want string }{
		"as it is":                {`r="A2"`, `r="2"`, ""},
		"a column past the last":  {`r="ZZZZZZZ2"`, `r="2"`, `cell "ZZZZZZZ2", which no sheet has`},
		"the last row of a sheet": {`r="A1048576"`, `r="1048576"`, "rows past 50000 are not read"},
		"a row that is no row":    {`r="A2"`, `r="99999999999"`, "rows past 50000 are not read"},
		"a type of its own":       {`r="A2"`, `r="2"><!DOCTYPE a [<!ENTITY b "c">]`, "things of its own"},
	} {
		body := withSheet(t, whole.Bytes(), func(sheet string) string {
			return strings.Replace(strings.Replace(sheet, `r="A2"`, tt.cell, 1), `r="2"`, tt.row, 1)
		})
		_, err := partslist.Read("a.xlsx", body, partslist.Options{})
		if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)) {
			t.Errorf("%s: got %v, want it to say %q", name, err, tt.want)
		}
	}
}

// withSheet is a workbook whose sheets are written otherwise.
func withSheet(t *testing.T, body []byte, other func(string) string) []byte {
	t.Helper()
	from, err := zip.NewReader(bytes.NewReader(body), int64(len(body)))
	if err != nil {
		t.Fatal(err)
	}
	var to bytes.Buffer
	z := zip.NewWriter(&to)
	for _, f := range from.File {
		content, err := fs.ReadFile(from, f.Name)
		if err != nil {
			t.Fatal(err)
		}
		text := string(content)
		if strings.HasPrefix(f.Name, "xl/worksheets/") {
			text = other(text)
		}
		w, err := z.Create(f.Name)
		if err == nil {
			_, err = w.Write([]byte(text))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return to.Bytes()
}

// archive is a packed file whose files say what they unpack to.
func archive(t *testing.T, sizes ...uint64) []byte {
	t.Helper()
	var body bytes.Buffer
	z := zip.NewWriter(&body)
	for i, size := range sizes {
		if _, err := z.CreateRaw(&zip.FileHeader{Name: string(rune('a' + i)), UncompressedSize64: size}); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return body.Bytes()
}

// What nobody sees goes out of a list that is taken in, since no data file may hold it.
func TestHiddenCharactersGo(t *testing.T) {
	f := read(t, "a.csv", []byte("Part no,Name\nVB.\u200b01\u206010,le\u00adver\u3164\nVB.0111,\u00a0cable\n"),
		partslist.Options{Brands: makers()})
	rowTold(t, f, 2, map[string]any{"number": "VB.0110", "name": "lever"})
	rowTold(t, f, 3, map[string]any{"number": "VB.0111", "name": "cable"})
}

func TestToldColumnsGoBeforeGuesses(t *testing.T) {
	body := []byte("A1,B1\nVB.0110,12\nVB.0120,14\nVB.0130,1\n")
	f := read(t, "a.csv", body, partslist.Options{Columns: map[string]partslist.Field{"B": partslist.FieldBox,
		"A": partslist.FieldNumber}})
	if got := fields(f.Sheets[0]); got != "number,box" {
		t.Errorf("got %s", got)
	}
}

// FuzzRead wants every input read or refused, and no number told twice over:
// rows are counted as they stand.
func FuzzRead(f *testing.F) {
	f.Add("a.csv", []byte("Part no;Name;Qty\nVB.0110;x;2x\n"))
	f.Add("a.csv", []byte("M8x1.25 x 30\t5+1\t2.4 kgm\r\n"))
	f.Add("a.csv", []byte("Number,Fits\n1,98-01 exc. 00\n2,VIN >012345\n3,early\n"))
	f.Fuzz(func(t *testing.T, name string, body []byte) {
		got, err := partslist.Read(name, body, partslist.Options{Brands: makers()})
		if err != nil {
			return
		}
		for _, s := range got.Sheets {
			for i, r := range s.Rows {
				if r.N != i+1 {
					t.Fatalf("row %d stands at %d", r.N, i+1)
				}
				if r.Number != "" && (r.Is != partslist.IsPart || len(r.Number) > 64) {
					t.Fatalf("row %d is %s and has the number %q", r.N, r.Is, r.Number)
				}
			}
		}
	})
}
