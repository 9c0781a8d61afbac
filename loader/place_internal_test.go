package loader

import (
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"matewell/graph/diag"
)

// The place of every plain value is where its text stands, in bytes, whatever
// letters come before it on the line.
func TestPlacesCountBytes(t *testing.T) {
	body := "\xef\xbb\xbf# grå øre, 測定\r\n" +
		"sources: {notes: {kind: report, title: Måling på benken – 測定 5 µm, date: 2003}}\r\n" +
		"brands: {Tårnholt: , Ørsfjord: }\r\n" +
		"kinds:\r\n" +
		"  clip: {name: skrue 𝔘, source: notes}\r\n"
	var probs diag.List
	text := newText("x.yaml", []byte(body), &probs)
	root := parseYAML(text, &probs)
	if probs.Len() > 0 || root == nil {
		t.Fatal(probs.Err())
	}
	lines := strings.Split(strings.TrimPrefix(body, "\xef\xbb\xbf"), "\n")
	seen := 0
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		if n.Kind == yaml.ScalarNode && n.Value != "" {
			seen++
			pos := text.place(n.Line, n.Column)
			if rest := lines[pos.Line-1][pos.Col-1:]; !strings.HasPrefix(rest, n.Value) {
				t.Errorf("%s: %q, want %q", pos, rest, n.Value)
			}
		}
		for _, child := range n.Content {
			walk(child)
		}
	}
	walk(root)
	if seen < 15 {
		t.Errorf("only %d values", seen)
	}
}

func TestTextAt(t *testing.T) {
	var probs diag.List
	text := newText("x", []byte("ab\n\ncd\n"), &probs)
	tests := []struct{ offset, line, col int }{{0, 1, 1}, {1, 1, 2}, {2, 1, 3}, {3, 2, 1}, {4, 3, 1}, {5, 3, 2}, {7, 4, 1}}
	for _, tt := range tests {
		if got := text.at(tt.offset); got.Line != tt.line || got.Col != tt.col {
			t.Errorf("at(%d) = %s, want %d:%d", tt.offset, got, tt.line, tt.col)
		}
	}
}

// Places in lists: quotes, lists in a cell, and line ends within a value.
func TestPlacesInLists(t *testing.T) {
	body := "old,new,companions,reason\n" +
		"\"A 1\",  A 2 ,å 3;  å 4 x2,\"one\nline more\"\n" +
		"A 5,A 6,,\n"
	var probs diag.List
	rows, whole := supersessionTable().read(reading{text: newText("x.csv", []byte(body), &probs), List: &probs})
	if !whole || len(rows) != 2 || probs.Len() > 0 {
		t.Fatalf("%d rows, %v", len(rows), probs.Err())
	}
	tests := []struct {
		name string
		word word
		want string
	}{
		{"in quotes", rows[0].old, "x.csv:2:1"},
		{"behind spaces", rows[0].new, "x.csv:2:9"},
		{"first of a list", rows[0].companions[0].part, "x.csv:2:14"},
		{"second of a list, a two-byte letter before", rows[0].companions[1].part, "x.csv:2:21"},
		{"how many", rows[0].companions[1].quantity.word, "x.csv:2:27"},
		{"over two lines", rows[0].reason, "x.csv:2:29"},
		{"the row behind", rows[1].new, "x.csv:4:5"},
	}
	for _, tt := range tests {
		if got := tt.word.pos.String(); got != tt.want {
			t.Errorf("%s: %q is at %s, want %s", tt.name, tt.word.text, got, tt.want)
		}
	}
}
