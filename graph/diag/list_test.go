package diag_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph/diag"
)

func TestPosString(t *testing.T) {
	tests := []struct {
		name string
		pos  diag.Pos
		want string
	}{
		{"whole place", diag.Pos{File: "demo/fitments.csv", Line: 2, Col: 9}, "demo/fitments.csv:2:9"},
		{"line only", diag.Pos{File: "demo/fitments.csv", Line: 2}, "demo/fitments.csv:2"},
		{"file only", diag.Pos{File: "demo/fitments.csv"}, "demo/fitments.csv"},
		{"column without line", diag.Pos{File: "demo/fitments.csv", Col: 9}, "demo/fitments.csv"},
		{"nowhere", diag.Pos{}, "-"},
		{"line without file", diag.Pos{Line: 2, Col: 9}, "-"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.pos.String(); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestListIsSortedAndUnique(t *testing.T) {
	var list diag.List
	at := func(file string, line, col int) diag.Pos { return diag.Pos{File: file, Line: line, Col: col} }
	list.Warnf(at("b.yaml", 1, 1), "odd", "w")
	list.Errorf(at("b.yaml", 1, 1), "bad", "e")
	list.Errorf(at("a.csv", 10, 1), "bad", "ten")
	list.Errorf(at("a.csv", 9, 2), "bad", "nine, two")
	list.Errorf(at("a.csv", 9, 1), "bad", "nine, one")
	list.Errorf(at("a.csv", 9, 1), "bad", "nine, one")
	list.Errorf(at("a.csv", 9, 1), "bad", "nine, one").Hint = "not the same: it has a hint"
	list.Errorf(diag.Pos{}, "bad", "nowhere")
	var got []string
	for _, d := range list.Sorted() {
		got = append(got, d.String())
	}
	want := []string{
		"-: error: nowhere [bad]",
		"a.csv:9:1: error: nine, one [bad]",
		"a.csv:9:1: error: nine, one [bad]",
		"a.csv:9:2: error: nine, two [bad]",
		"a.csv:10:1: error: ten [bad]",
		"b.yaml:1:1: error: e [bad]",
		"b.yaml:1:1: warning: w [odd]",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if list.Len() != 7 || list.Errors() != 6 || list.Warnings() != 1 {
		t.Errorf("counts %d, %d, %d, want 7, 6, 1", list.Len(), list.Errors(), list.Warnings())
	}
}

func TestErr(t *testing.T) {
	var list diag.List
	if err := list.Err(); err != nil {
		t.Errorf("empty list: %v", err)
	}
	list.Warnf(diag.Pos{}, "odd", "only a warning")
	if err := list.Err(); err != nil {
		t.Errorf("warnings alone: %v", err)
	}
	list.Errorf(diag.Pos{File: "b.csv", Line: 1}, "bad", "second")
	list.Errorf(diag.Pos{File: "a.csv", Line: 1}, "bad", "first %d", 1)
	err := list.Err()
	if err == nil {
		t.Fatal("two faults and no error")
	}
	if want := "a.csv:1: error: first 1 [bad]\nb.csv:1: error: second [bad]"; err.Error() != want {
		t.Errorf("got %q, want %q", err, want)
	}
}

func TestRecordedDiagnosticCanBeCompleted(t *testing.T) {
	var list diag.List
	first := list.Errorf(diag.Pos{File: "a.csv", Line: 1}, "bad", "x")
	for range 100 { // the list grows; the first one must stay the recorded one
		list.Warnf(diag.Pos{File: "b.csv"}, "odd", "y")
	}
	first.Hint = "late"
	first.Related = []diag.Pos{{File: "c.csv", Line: 3}}
	sorted := list.Sorted()
	if sorted[0].Hint != "late" || len(sorted[0].Related) != 1 {
		t.Errorf("got %+v", sorted[0])
	}
	sorted[0].Related[0].Line = 99
	if got := list.Sorted()[0].Related[0].Line; got != 3 {
		t.Errorf("a caller changed the list: line %d", got)
	}
	var other diag.List
	other.Add(sorted...)
	if other.Len() != list.Len() {
		t.Errorf("Add kept %d of %d", other.Len(), list.Len())
	}
}

func TestZeroSeverityIsError(t *testing.T) {
	var list diag.List
	list.Add(diag.Diagnostic{Message: "forgot to say how bad"})
	if list.Err() == nil {
		t.Error("a diagnostic with no severity does not fail")
	}
}

func TestDidYouMean(t *testing.T) {
	tests := []struct {
		name  string
		names []string
		want  string
	}{
		{"none", nil, ""},
		{"one", []string{"caliper"}, `did you mean "caliper"?`},
		{"two", []string{"a", "b"}, `did you mean "a" or "b"?`},
		{"three", []string{"a", "b", "c"}, `did you mean "a", "b" or "c"?`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := diag.DidYouMean(tt.names...); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// TestManyFaults: a file of nothing but faults is told by its first thousands, and
// remains at fault.
func TestManyFaults(t *testing.T) {
	var l diag.List
	for i := range 20000 {
		l.Warnf(diag.Pos{File: "a.yaml", Line: i + 1}, "w", "warning %d", i)
	}
	for i := range 20000 {
		l.Errorf(diag.Pos{File: "a.yaml", Line: i + 1}, "e", "error %d", i).Hint = "mend it"
	}
	sorted := l.Sorted()
	if len(sorted) != 10002 || l.Errors() != 5001 || l.Warnings() != 5001 || l.Err() == nil {
		t.Errorf("%d kept: %d errors, %d warnings, %v", len(sorted), l.Errors(), l.Warnings(), l.Err() != nil)
	}
	var other diag.List
	other.Add(sorted...)
	if other.Errors() != 5001 && other.Err() == nil {
		t.Error("handed on, they are no faults any more")
	}
	if !strings.Contains(l.Err().Error(), "15,000 more errors are not told") {
		t.Error("nothing says that more were found")
	}
}
