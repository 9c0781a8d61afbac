package diag_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"matewell/graph/diag"
)

// TestPrintTellsOneSlipOnce: what is said in the same words of several places
// stands once, with the other places; the rest is counted.
func TestPrintTellsOneSlipOnce(t *testing.T) {
	var list diag.List
	for line := 2; line <= 7; line++ {
		list.Errorf(diag.Pos{File: "f.csv", Line: line, Col: 1}, "unknown-model", "no model is called %q", "m2")
	}
	list.Errorf(diag.Pos{File: "f.csv", Line: 3, Col: 4}, "unknown-model", "no model is called %q", "m3")
	var out bytes.Buffer
	if err := diag.Print(&out, &list, nil); err != nil {
		t.Fatal(err)
	}
	want := `f.csv:2:1: error: no model is called "m2" [unknown-model]
    so too f.csv:3:1
    so too f.csv:4:1
    so too f.csv:5:1
    and 2 more like it
f.csv:3:4: error: no model is called "m3" [unknown-model]
`
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}

// TestPrintCapsWhatIsAlike: a list of a hundred thousand wrong numbers is told by
// twenty of them and a count.
func TestPrintCapsWhatIsAlike(t *testing.T) {
	var list diag.List
	for line := 1; line <= 100_000; line++ {
		list.Errorf(diag.Pos{File: "f.csv", Line: line, Col: 1}, "unknown-part", "no part has the number %q",
			fmt.Sprint("T ", line))
	}
	list.Warnf(diag.Pos{File: "z.yaml", Line: 1}, "odd", "another sort stands whole")
	var out bytes.Buffer
	if err := diag.Print(&out, &list, nil); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 22 || lines[20] != "and 99,980 more like it [unknown-part]" || !strings.HasPrefix(lines[21],
		"z.yaml:1: warning") {
		t.Errorf("%d lines, the last %q", len(lines), lines[max(0, len(lines)-2):])
	}
}

func TestPrintKeepsLinesShort(t *testing.T) {
	var list diag.List
	long := strings.Repeat("ä long word ", 60)
	d := list.Errorf(diag.Pos{File: "f.csv", Line: 1, Col: 300}, "bad-value", "%q is no value", long)
	d.Hint = long
	d.Related = []diag.Pos{{File: strings.Repeat("deep/", 80) + "f.csv", Line: 1}}
	var out bytes.Buffer
	if err := diag.Print(&out, &list, func(string) []byte { return []byte(long) }); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 200 {
			t.Errorf("%d characters: %s", n, line)
		}
	}
	if first, _, _ := strings.Cut(out.String(), "\n"); !strings.HasSuffix(first, "[bad-value]") {
		t.Errorf("the code is cut off: %s", first)
	}
}
