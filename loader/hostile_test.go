package loader_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// Input made to be slow is answered all the same: each of these once took
// minutes, or would with a step that looks at everything for each value.
func TestHostileInput(t *testing.T) {
	circles := "old,new,source\n"
	kits := "source: notes\nsources: {notes: {kind: report, title: Notes}}\nbrands: {Tarnholt: }\nkinds: {kit: }\nparts:\n"
	for i := range 3000 {
		circles += fmt.Sprintf("Tarnholt z%d,Tarnholt z%d,notes\n", i, (i+1)%3000)
		kits += fmt.Sprintf("  - {number: Tarnholt z%d, kind: kit, contains: [{part: Tarnholt z%d}]}\n", i, (i+1)%3000)
	}
	tests := []struct {
		name  string
		files map[string]string
		first string // the first fault
		count int
	}{
		{"brackets", map[string]string{"z.yaml": strings.Repeat("[", 1<<20)}, "z.yaml:1:10004 bad-yaml", 1},
		{"mappings in mappings", map[string]string{"z.yaml": strings.Repeat("{a: ", 1<<18)}, "z.yaml:1:40003 bad-yaml", 1},
		{"lists in lists", map[string]string{"z.yaml": "parts: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000)},
			"z.yaml:1:9 wrong-shape", 1},
		{"fault at the end of a large file", map[string]string{"z.yaml": strings.Repeat("# a b\n", 150_000) + "a: b: c\n"},
			"z.yaml:150001:7 bad-yaml", 1},
		{"open quote in a large file", map[string]string{"z.yaml": "a: \"" + strings.Repeat("x y\n ", 100_000)},
			"z.yaml:100000:4 bad-yaml", 1},
		{"one long line of letters of two bytes", map[string]string{"z.yaml": "parts: [" + strings.Repeat("å, ",
			50_000) + "]"}, "z.yaml:1:9 wrong-shape", 5001}, // and the rest as one
		{"escapes", map[string]string{"z.yaml": strings.Repeat("\x1b\xff", 1<<19)}, "z.yaml:1:1 terminal-escape", 11},
		{"long circles", map[string]string{"kits.yaml": kits, "supersessions.csv": circles}, "kits.yaml:6:56 " +
			"kit-contains-itself", 2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			fsys := fstest.MapFS{}
			for name, body := range tt.files {
				fsys[name] = &fstest.MapFile{Data: []byte(body)}
			}
			_, probs := load(t, "", fsys)
			first, _, _ := strings.Cut(codesOf(probs), "\n")
			if first != tt.first || probs.Len() != tt.count {
				t.Errorf("got %q of %d, want %q of %d", first, probs.Len(), tt.first, tt.count)
			}
		})
	}
}
