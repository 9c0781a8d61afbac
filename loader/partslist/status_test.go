package partslist_test

import (
	"fmt"
	"strings"
	"testing"

	"matewell/loader/partslist"
)

// What a cell says of the state by itself holds under any heading; a yes or a no means what
// the heading asks. Common practice of lists, no source.
func TestStatus(t *testing.T) {
	tests := []struct{ heading, cell, status, box, note, asked string }{
		{"Got", "yes", "have", "", "", ""},
		{"Got", "no", "missing", "", "", ""},
		{"Missing", "yes", "missing", "", "", ""},
		{"Missing", "no", "have", "", "", ""},
		{"Missing", "MISSING", "missing", "", "", ""},
		{"Missing", "have", "have", "", "", ""},
		{"Still needed", "done", "have", "", "", ""},
		{"Still needed", "x", "missing", "", "", ""},
		{"Have / missing", "have", "have", "", "", ""},
		{"Have / missing", "MISSING", "missing", "", "", ""},
		{"Have / missing", "yes", "", "", "", `"yes" may mean got or missing`},
		{"Have / missing", "x", "", "", "", `"x" may mean got or missing`},
		{"Status", "to order", "missing", "", "", ""},
		{"Status", "on order", "ordered", "", "", ""},
		{"Status", "have, box 3", "have", "box 3", "", ""},
		{"Status", "in the blue crate", "", "", "in the blue crate", "not understood"},
		{"Status", "in crate 7", "have", "crate 7", "", ""},
		{"Status", "Bag 4", "have", "Bag 4", "", ""},
		{"Status", "missing (lent to a friend)", "missing", "", "lent to a friend", ""},
		{"Status", "have: chipped", "have", "", "chipped", ""},
		{"Status", "fehlt", "missing", "", "", ""},
		{"Fehlt", "ja", "missing", "", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.heading+" "+tt.cell, func(t *testing.T) {
			list := "Part no;Name;" + tt.heading + "\nVB.0141;brake disc;have\nVB.0142;axle;missing\nVB.0143;hose;" +
				tt.cell + "\n"
			got, err := partslist.Read("list.csv", []byte(list), partslist.Options{Brands: makers()})
			if err != nil {
				t.Fatal(err)
			}
			rows := got.Sheets[0].Rows
			row := rows[len(rows)-1]
			if string(row.Status) != tt.status || row.Box != tt.box || row.Note != tt.note {
				t.Errorf("got %q in %q, note %q", row.Status, row.Box, row.Note)
			}
			if asked := strings.Join(row.Ask, "\n"); (tt.asked == "") != (asked == "") || !strings.Contains(asked, tt.asked) {
				t.Errorf("asked %s", fmt.Sprint(row.Ask))
			}
		})
	}
}

// A row without a number that names the size of a fastener is hardware, in a list of numbers too.
func TestHardwareAmongNumbers(t *testing.T) {
	list := "Part no;Name;Qty\nVB.0141;brake disc;1\n;M6x20 bolts;12\n;mystery bracket;1\n"
	got, err := partslist.Read("list.csv", []byte(list), partslist.Options{Brands: makers()})
	if err != nil {
		t.Fatal(err)
	}
	rows := got.Sheets[0].Rows
	bolts, bracket := rows[len(rows)-2], rows[len(rows)-1]
	if bolts.Is != partslist.IsHardware || bolts.Hardware.Thread != "M6x1" || bolts.Quantity != 12 ||
		len(bolts.Cannot) > 0 {
		t.Errorf("the bolts: %+v", bolts)
	}
	if bracket.Is != partslist.IsPart || len(bracket.Cannot) == 0 {
		t.Errorf("the bracket: %+v", bracket)
	}
}
