package loader

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// plainFindings are findings files whose lines tell by themselves where an item ends.
var plainFindings = []string{
	"findings:\n- id: a\n- id: b # second\n",
	"# mine\nfindings:\n  - id: a\n    note: |\n      - id: no\n      withdrawals:\n  - id: 'b'\n" +
		"    photos: [\"a, b\", c]\n" +
		"\n# taken back\nwithdrawals:\n- finding: a\n  why: \"no: it - was\"\n",
	"findings:\r\n  -   id: a\r\n      changes:\r\n        - do: x\r\n  - id: b\r\n",
	"findings:\n  - note: text that\n      runs - on\n    id: \"a\"\n    on: [{bike: gull}]\nwithdrawals:\n",
	"withdrawals:\n  - finding: a\n    why: b\nfindings:\n  - id: a\n    \"on\": [x]\n    by: o'hara\n" +
		"    note: >-\n      x\n\n      y",
}

// oddFindings are files that only a reader of YAML understands.
var oddFindings = []string{
	"findings: [{id: a}]\n", "findings:\n- id: a\n---\nfindings:\n- id: b\n", "source: x\nfindings:\n- id: a\n",
	"findings:\n- note: \"a\n  - id: b\"\n  id: a\n", "findings:\n- &x\n  id: a\n- *x\n", "- id: a\n",
	"findings:\n- {id: a,\n  by: b}\n",
	"findings:\n- id: \"a\\x62\"\n", "\ufefffindings:\n- id: a\n", "findings:\n\t- id: a\n",
	"findings:\n- id: a\nfindings:\n- id: b\n",
}

// checkLines compares what the lines tell with what a reader of YAML reads.
func checkLines(t *testing.T, content []byte) {
	lines, ok := ScanFindings(content)
	var v any
	root, err := topLevel(content)
	if !ok || err != nil || yaml.Unmarshal(content, &v) != nil {
		return
	}
	var want, got []string
	for i := 0; i+1 < len(root.Content); i += 2 {
		for _, item := range root.Content[i+1].Content {
			want = append(want, fmt.Sprintf("%s %s line %d", root.Content[i].Value, idOf(item), item.Line))
		}
	}
	for _, item := range lines.items {
		first := bytes.TrimLeft(content[item.from+lines.lists[item.list].margin+1:item.to], " ")
		if len(first) == 0 || first[0] == '\n' || first[0] == '\r' || first[0] == '#' {
			return // the dash stands alone; YAML counts from what follows
		}
		got = append(got, fmt.Sprintf("%s %s line %d", lines.lists[item.list].key, item.id, item.line))
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q:\nby lines %q\nby YAML  %q", content, got, want)
	}
}

func TestScanFindings(t *testing.T) {
	for _, text := range plainFindings {
		lines, ok := ScanFindings([]byte(text))
		if !ok || lines.Items() == 0 {
			t.Errorf("not plain: %q", text)
		}
		checkLines(t, []byte(text))
	}
	for _, text := range oddFindings {
		if _, ok := ScanFindings([]byte(text)); ok {
			t.Errorf("plain: %q", text)
		}
	}
}

// FuzzScanFindings: whatever the lines of a file tell, a reader of YAML says the same.
func FuzzScanFindings(f *testing.F) {
	for _, text := range slices.Concat(plainFindings, oddFindings) {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, content []byte) { checkLines(t, content) })
}

// What was added since marks were taken is known again, and nothing else is.
func TestFindingsSince(t *testing.T) {
	for _, text := range plainFindings {
		if !strings.HasSuffix(text, "\n") {
			continue
		}
		before, _ := ScanFindings([]byte(text))
		marks := before.Marks()
		for _, more := range []additions{{}, {findingsKey: {"- id: new\n  by: c\n"}},
			{withdrawalsKey: {"- finding: a\n  why: x\n"}},
			{findingsKey: {"- id: n1\n", "- id: n2\n"}, withdrawalsKey: {"- finding: b\n  why: x\n"}}} {
			var after bytes.Buffer
			if err := before.writeWith(&after, more); err != nil {
				t.Fatal(err)
			}
			checkLines(t, after.Bytes())
			since, ok := FindingsSince(after.Bytes(), marks)
			added := len(more[findingsKey]) + len(more[withdrawalsKey])
			if !ok || since.Items() != added {
				t.Errorf("%q\nand then\n%q: %v, want %d more", text, after.String(), ok, added)
				continue
			}
			whole, _ := ScanFindings(after.Bytes())
			if fmt.Sprint(since.lists) != fmt.Sprint(whole.lists) {
				t.Errorf("%q: lists %v, by the whole file %v", after.String(), since.lists, whole.lists)
			}
			for _, item := range since.items {
				if !slices.Contains(whole.items, item) {
					t.Errorf("%q: item %v is none of %v", after.String(), item, whole.items)
				}
			}
		}
		changed := []byte(strings.Replace(text, "id: ", "id: x", 1))
		if _, ok := FindingsSince(changed, marks); ok && !strings.HasPrefix(text, "withdrawals") {
			t.Errorf("%q: a change is not seen", text)
		}
	}
}

// A piece says of each of its lines where it stands in the whole file, and what
// speaks of one finding is in one piece.
func TestFindingPieces(t *testing.T) {
	var b strings.Builder
	b.WriteString("findings:\n")
	for i := range 6000 {
		fmt.Fprintf(&b, "  - id: f-%d\n    note: %s\n", i%5990, strings.Repeat("x", 80))
	}
	b.WriteString("withdrawals:\n")
	for i := range 500 {
		fmt.Fprintf(&b, "  - finding: f-%d\n    why: no\n", i*11)
	}
	whole := strings.Split(b.String(), "\n")
	lines, ok := ScanFindings([]byte(b.String()))
	if !ok {
		t.Fatal("not plain")
	}
	in := map[string]int{}
	items := 0
	pieces := lines.pieces()
	for i, group := range pieces {
		items += len(group)
		piece := lines.piece(group)
		for n, line := range strings.Split(strings.TrimSuffix(string(piece.content), "\n"), "\n") {
			if strings.HasPrefix(line, " ") && whole[piece.lines[n]-1] != line {
				t.Fatalf("line %d of piece %d is %q, and in the file %q", n+1, i, line, whole[piece.lines[n]-1])
			}
		}
		for _, at := range group {
			id := lines.items[at].id
			if was, seen := in[id]; seen && was != i {
				t.Fatalf("%s is in pieces %d and %d", id, was, i)
			}
			in[id] = i
		}
	}
	if items != 6500 || len(pieces) < 3 {
		t.Errorf("%d items in %d pieces", items, len(pieces))
	}
}
