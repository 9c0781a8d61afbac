package main

import (
	"fmt"
	"testing"

	"matewell/graph"
	"matewell/queries/evidence"
)

// A part that goes anywhere is listed by models, and said to be; with --all, and for CSV,
// at each place.
func TestManyUses(t *testing.T) {
	uses := make([]evidence.Use, manyUses+1)
	for i := range uses {
		uses[i].Position = graph.PositionID(fmt.Sprintf("m%d:a/p%d", i%3, i))
	}
	few := useSection("x", uses, false)
	if len(few.Table.Rows) != 3 || len(few.Rows.Rows) != len(uses) {
		t.Errorf("%d rows, and %d for CSV, want 3 and all", len(few.Table.Rows), len(few.Rows.Rows))
	}
	want := "501 places of 3 models, counted by model; --all prints them."
	if len(few.Lines) != 1 || few.Lines[0] != want {
		t.Errorf("it says %q, want %q", few.Lines, want)
	}
	for name, n := range map[string]int{"all": len(useSection("x", uses, true).Table.Rows),
		"not many": len(useSection("x", uses[1:], false).Table.Rows) + 1} {
		if n != len(uses) {
			t.Errorf("%s: %d rows, want each place", name, n)
		}
	}
}
