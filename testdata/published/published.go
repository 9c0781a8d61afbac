// Package published reads the tables beside it for tests: values printed by
// others, each file naming its source at its head. Nothing here is in the
// program.
package published

import (
	"embed"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"testing"
)

//go:embed *.csv *.json *.opb
var files embed.FS

// Rows gives the rows of a CSV table in their order, each as its cells by the
// name of their column. It fails the test for a table without rows.
func Rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d lines, error %v", name, len(all), err)
	}
	rows := make([]map[string]string, len(all)-1)
	for i, cells := range all[1:] {
		rows[i] = map[string]string{}
		for j, column := range all[0] {
			rows[i][column] = cells[j]
		}
	}
	return rows
}

// By gives the rows of a CSV table by what stands in one column.
func By(t testing.TB, name, column string) map[string]map[string]string {
	t.Helper()
	by := map[string]map[string]string{}
	for _, row := range Rows(t, name) {
		by[row[column]] = row
	}
	return by
}

// Number reads a number as a table prints it, with a decimal point.
func Number(t testing.TB, text string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Text is a whole file.
func Text(t testing.TB, name string) []byte {
	t.Helper()
	text, err := files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// JSON decodes a whole file.
func JSON(t testing.TB, name string, into any) {
	t.Helper()
	if err := json.Unmarshal(Text(t, name), into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// Assignment is a problem of pairing rows with columns: what each pair costs,
// and the least that a pairing can cost together.
type Assignment struct {
	Cost [][]float64
	Opt  float64
}

// Assignments gives the problems of assignment.json by name; it fails the test
// when the 8x8 of Christofides, Graph Theory (1975), is not among them.
func Assignments(t testing.TB) map[string]Assignment {
	t.Helper()
	var cases map[string]Assignment
	JSON(t, "assignment.json", &cases)
	if _, ok := cases["christofides8x8"]; !ok {
		t.Fatalf("the 8x8 is not among the %d cases", len(cases))
	}
	return cases
}
