package store_test

import (
	"context"
	"strings"
	"testing"

	"matewell/graph/diag"
	"matewell/graph/store"
)

// Statements are held to what data files are held to, line by line.
func TestStatementsThatAreRefused(t *testing.T) {
	const feature = `<https://matewell.example/id/part/Tarnholt%201#feature/mount> `
	const kind = feature + `<https://matewell.example/terms#feature-kind> "tube" .` + "\n"
	tests := []struct{ name, text, want string }{
		{"a measure", kind + feature + `<https://matewell.example/terms#dim/diameter> "22.2 mm" .`, ""},
		{"a measure in the wrong unit", kind + feature + `<https://matewell.example/terms#dim/diameter> "22.2 kg" .`,
			"f.nq:2: error"},
		{"no measure", kind + feature + `<https://matewell.example/terms#dim/diameter> "wide" .`, "f.nq:2: error"},
		{"a dimension that is none", kind + feature + `<https://matewell.example/terms#dim/girth> "22 mm" .`,
			`no dimension "girth"`},
		{"a word that is no verdict", `<https://matewell.example/id/finding/f> <https://matewell.example/terms#verdict> "maybe" .`, `"maybe"`},
		{"nothing of a part", `<https://matewell.example/id/fitment/f> <https://matewell.example/terms#quantity> "0"^^<http://www.w3.org/2001/XMLSchema#integer> .`, "from 1 on"},
		{"an escape in a text", `<https://matewell.example/id/model/m> <https://schema.org/name> "a\u001B[2Jb" .`, "U+001B"},
		{"an escape in an identity", `<https://matewell.example/id/model/m%1B> <https://schema.org/name> "a" .`,
			"the subject holds character U+001B"},
		{"a blank that nobody sees", `<https://matewell.example/id/model/m> <https://schema.org/name> "a\u200Bb" .`,
			"U+200B, which can't be seen"},
		{"a joiner that a picture needs", `<https://matewell.example/id/model/m> <https://schema.org/name> "\U0001F468\u200D\U0001F527" .`, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var probs diag.List
			if _, err := store.ReadNQuads(context.Background(), strings.NewReader(tt.text+"\n"), "f.nq", &probs); err != nil {
				t.Fatal(err)
			}
			var errs []string
			for _, d := range probs.Sorted() {
				if d.Severity == diag.Error {
					errs = append(errs, d.String())
				}
			}
			got := strings.Join(errs, "\n")
			if tt.want == "" && got != "" || !strings.Contains(got, tt.want) {
				t.Errorf("errors %q, want %q", got, tt.want)
			}
		})
	}
}
