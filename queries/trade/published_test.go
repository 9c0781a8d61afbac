package trade

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// The published tables live outside the package, each with its source in its
// first lines.
const published = "../../testdata/published"

// rows reads a published table as one map a row; it fails on an empty one.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(published, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, error %v", name, len(all), err)
	}
	var out []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, key := range all[0] {
			row[key] = record[i]
		}
		out = append(out, row)
	}
	return out
}

func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(published, name))
	if err == nil {
		err = json.Unmarshal(text, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func num(t *testing.T, text string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func whole(t *testing.T, text string) int { return int(num(t, text)) }

// near fails unless got is within tolerance of want; it never passes NaN.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

// must gives the value of a formula that has to accept its input.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
