package partslist_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/loader/partslist"
)

// lists holds parts lists as people keep them, and what must come out of each;
// its README says what is hard about which.
const lists = "../../testdata/import"

// makers are the ways of writing numbers that the README gives.
func makers() []graph.Brand {
	return []graph.Brand{
		{ID: "Hjelmark", Form: graph.NumberForm{Core: "AA.9999", Revision: "A"}},
		{ID: "Velmunt", Form: graph.NumberForm{Core: "0099999999"}},
		{ID: "Quellhorst", Form: graph.NumberForm{Core: "Q99.999"}},
	}
}

type wantFile struct {
	File      string
	Encoding  string
	LineEnd   string `json:"line_end"`
	Delimiter string
	Decimal   string
	Thousands string
	Language  string
	DateOrder string `json:"date_order"`
	Count     map[string]int
	Sheets    []struct {
		Sheet      *string
		Use        string
		HeaderRows *[]int `json:"header_rows"`
		Columns    map[string]string
		Rows       []map[string]any
	}
}

// TestLists reads each list and compares every row with what must come out of
// it. What the file does not tell must not be told either.
func TestLists(t *testing.T) {
	wanted, err := filepath.Glob(filepath.Join(lists, "expected", "*.json"))
	if err != nil || len(wanted) < 8 {
		t.Fatalf("%d lists found, %v", len(wanted), err)
	}
	for _, path := range wanted {
		var want wantFile
		body, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(body, &want); err != nil {
			t.Fatal(err)
		}
		t.Run(want.File, func(t *testing.T) {
			body, err := os.ReadFile(filepath.Join(lists, want.File))
			if err != nil {
				t.Fatal(err)
			}
			got, err := partslist.Read(want.File, body, partslist.Options{Brands: makers()})
			if err != nil {
				t.Fatal(err)
			}
			compareFile(t, got, want)
		})
	}
}

func compareFile(t *testing.T, got partslist.File, want wantFile) {
	t.Helper()
	if len(got.Sheets) != len(want.Sheets) {
		t.Fatalf("%d sheets, want %d", len(got.Sheets), len(want.Sheets))
	}
	first := got.Sheets[0]
	for _, c := range []struct{ what, got, want string }{
		{"encoding", got.Encoding, want.Encoding}, {"line end", got.LineEnd, want.LineEnd}, {"separator", got.Separator,
			want.Delimiter},
		{"decimal sign", first.Decimal, want.Decimal}, {"language", first.Language, want.Language},
	} {
		if c.got != c.want {
			t.Errorf("%s %q, want %q", c.what, c.got, c.want)
		}
	}
	if want.Thousands != "" && first.Thousands != want.Thousands {
		t.Errorf("thousands %q, want %q", first.Thousands, want.Thousands)
	}
	if want.DateOrder != "" && first.DateOrder != want.DateOrder {
		t.Errorf("date order %q, want %q", first.DateOrder, want.DateOrder)
	}
	count := map[string]int{}
	for i, s := range got.Sheets {
		w := want.Sheets[i]
		if string(s.Use) != w.Use {
			t.Errorf("sheet %q is for %q, want %q (%s)", s.Name, s.Use, w.Use, s.Why)
		}
		columns := map[string]string{}
		for _, c := range s.Columns {
			if c.Field != "" {
				columns[c.Letter] = string(c.Field)
			}
		}
		if w.Columns != nil && !maps.Equal(columns, w.Columns) {
			t.Errorf("columns %v, want %v", columns, w.Columns)
		}
		if w.HeaderRows != nil && !slices.Equal(s.HeaderRows, *w.HeaderRows) {
			t.Errorf("heading in rows %v, want %v", s.HeaderRows, *w.HeaderRows)
		}
		for _, row := range s.Rows {
			count[string(row.Is)]++
		}
		compareRows(t, s.Rows, w.Rows)
	}
	if !maps.Equal(count, want.Count) {
		t.Errorf("rows %v, want %v", count, want.Count)
	}
}

func compareRows(t *testing.T, got []partslist.Row, want []map[string]any) {
	t.Helper()
	if len(got) < len(want) {
		t.Errorf("%d rows, want %d", len(got), len(want))
		return
	}
	for i, w := range want {
		for _, fault := range differences(told(got[i]), w) {
			t.Errorf("row %d (%s): %s", i+1, got[i].Text, fault)
		}
	}
}

// told are the values of a row under the names of the wanted ones.
func told(r partslist.Row) map[string]any {
	m := map[string]any{"row": r.N, "is": string(r.Is)}
	put := func(key string, value any, given bool) {
		if given {
			m[key] = value
		}
	}
	put("number", r.Number, r.Number != "")
	put("maker", string(r.Maker), r.Maker != "")
	put("candidates", r.Candidates, r.Candidates != nil)
	put("name", r.Name, r.Name != "")
	put("quantity", r.Quantity, r.Counted)
	put("about", true, r.About)
	put("price", r.Price, r.Priced)
	put("currency", r.Currency, r.Currency != "")
	put("status", string(r.Status), r.Status != "")
	put("group", r.Group, r.Group != "")
	put("place", r.Place, r.Place != "")
	put("bought", r.Bought, r.Bought != "")
	put("ordered", r.Ordered, r.Ordered != "")
	put("arrived", r.Arrived, r.Arrived != "")
	put("frames", r.When.Frames, r.When.Frames != "")
	put("mark", r.When.Mark, r.When.Mark != "")
	put("years_list", r.When.List, r.When.List != nil)
	put("ask", r.Ask, r.Ask != nil)
	put("cannot", strings.Join(r.Cannot, "; "), r.Cannot != nil)
	put("cannot_torque", r.CannotTorque, r.CannotTorque != "")
	put("torque", r.Torque, r.Torque != "")
	put("how", strings.Join(r.How, "; "), r.How != nil)
	put("sum", r.Sum, r.Summed)
	switch {
	case r.When.All:
		m["years"] = "all"
	case r.When.From != 0 || r.When.To != 0:
		m["years"] = []any{orNull(r.When.From), orNull(r.When.To)}
	}
	if h := r.Hardware; h != nil {
		for key, value := range map[string]string{"kind": h.Kind, "thread": h.Thread, "length": h.Length, "head": h.Head,
			"class":  h.Class,
			"inside": h.Inside, "outside": h.Outside, "thickness": h.Thickness, "width": h.Width, "material": h.Material,
			"designation": h.Designation, "note": h.Note, "wrong_list": h.WrongList} {
			put(key, value, value != "")
		}
	}
	return m
}

func orNull(year int) any {
	if year == 0 {
		return nil
	}
	return year
}

// free are values that may be told though the list of what is wanted leaves
// them out: how a value was read, and questions.
var free = []string{"how", "note", "sum"}

func differences(got, want map[string]any) []string {
	var faults []string
	for _, key := range slices.Sorted(maps.Keys(want)) {
		if key == "continues" {
			continue
		}
		g, w := asText(got[key]), asText(want[key])
		if key == "name" {
			g, w = strings.ToLower(g), strings.ToLower(w)
		}
		if key == "candidates" {
			g, w = sortedOnce(got[key]), sortedOnce(want[key])
		}
		if g != w {
			faults = append(faults, fmt.Sprintf("%s %s, want %s", key, g, w))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(got)) {
		if _, wanted := want[key]; !wanted && !slices.Contains(free, key) {
			faults = append(faults, fmt.Sprintf("%s %s is told, and the file does not tell it", key, asText(got[key])))
		}
	}
	return faults
}

func asText(v any) string {
	text, _ := json.Marshal(v)
	return string(text)
}

func sortedOnce(v any) string {
	var list []string
	if err := json.Unmarshal([]byte(asText(v)), &list); err != nil {
		return asText(v)
	}
	slices.Sort(list)
	return asText(slices.Compact(list))
}

// "Where" over boxes and tins is where a part lies; over places of a machine it is where it goes.
func TestWhereOverBoxesIsTheBox(t *testing.T) {
	for where, want := range map[string]partslist.Field{"box 3": partslist.FieldBox, "tin": partslist.FieldBox,
		"front brake": partslist.FieldPlace} {
		list, err := partslist.Read("a.csv", []byte("Part No,What,Qty,Where\nVB.0150,hose,1,"+where+"\nVB.0151,lever,1,"+
			where+"\n"), partslist.Options{})
		if err != nil || list.Sheets[0].Columns[3].Field != want {
			t.Errorf("%q: %v %+v, want %s", where, err, list.Sheets, want)
		}
	}
}
