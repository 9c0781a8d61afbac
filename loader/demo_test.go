package loader_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"matewell/graph/diag"
	"matewell/loader"
)

// TestDemo loads the demo data and prints every fault it has.
func TestDemo(t *testing.T) {
	const dir = "../data-demo"
	var probs diag.List
	facts, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "data-demo", FS: os.DirFS(dir)}},
		&probs)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	sources := func(file string) []byte {
		body, _ := os.ReadFile("../" + file)
		return body
	}
	if err := diag.Print(&out, &probs, sources); err != nil {
		t.Fatal(err)
	}
	if probs.Len() > 0 {
		t.Logf("%d errors, %d warnings\n%s", probs.Errors(), probs.Warnings(), out.String())
	}
	if probs.Err() != nil {
		t.Fail()
	}
	t.Log(strings.TrimSpace(summary(facts)))
}
