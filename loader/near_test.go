package loader_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph/diag"
	"matewell/loader"
)

// misspelt is a set of one model whose list names a place that is not there in every row.
func misspelt(rows int) fstest.MapFS {
	var positions, list strings.Builder
	list.WriteString("model,position,part,quantity,years,source\n")
	for i := range rows {
		fmt.Fprintf(&positions, "          place-%05d: {kind: plate}\n", i)
		list.WriteString("skerry-620,frame/plaec-00001,Tarnholt 1001,1,,list\n")
	}
	return fstest.MapFS{
		"all.yaml": {Data: []byte(`source: list
sources:
  list: {kind: factory parts list, title: Parts list, date: 2003-02}
brands:
  Tarnholt: {number: {core: "9999"}}
kinds:
  plate: {name: plate}
parts:
  - {number: Tarnholt 1001, kind: plate, name: plate}
models:
  skerry-620:
    maker: Tarnholt
    name: Skerry 620
    variants:
      - {year: 2003, market: eu}
    assemblies:
      frame:
        name: Frame
        positions:
` + positions.String())},
		"fitments.csv": {Data: []byte(list.String())},
	}
}

// BenchmarkMisspelt is a list that misspells one place in every row: a name is held
// against the others once, so that ten times the rows take ten times as long, not a
// hundred times.
func BenchmarkMisspelt(b *testing.B) {
	for _, rows := range []int{300, 3000} {
		b.Run(fmt.Sprint(rows), func(b *testing.B) {
			layers := []loader.Layer{{FS: misspelt(rows)}}
			for b.Loop() {
				var probs diag.List
				if _, err := loader.Load(b.Context(), layers, &probs); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestHintInEveryRow sees that each row with a name that is not there says which is meant.
func TestHintInEveryRow(t *testing.T) {
	const rows = 120
	var probs diag.List
	if _, err := loader.Load(t.Context(), []loader.Layer{{FS: misspelt(rows)}}, &probs); err != nil {
		t.Fatal(err)
	}
	hints := 0
	for _, d := range probs.Sorted() {
		if d.Code == "unknown-position" && strings.Contains(d.Hint, `"frame/place-00001"`) {
			hints++
		}
	}
	if hints != rows {
		t.Errorf("%d of %d rows say which place is meant: %v", hints, rows, probs.Sorted()[:1])
	}
}
