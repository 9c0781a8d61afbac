package store_test

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/piprate/json-gold/ld"

	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

// TestJSONLDSaysTheSame: a JSON-LD processor that shares no code with ours
// turns the JSON-LD export into the N-Quads export.
func TestJSONLDSaysTheSame(t *testing.T) {
	s := memory(t, storetest.Sample())
	if got, want := nquadsByProcessor(t, jsonldOf(t, s)), lines(nquadsOf(t, s)); !slices.Equal(got, want) {
		for i := range min(len(got), len(want)) {
			if got[i] != want[i] {
				t.Fatalf("line %d\n got %s\nwant %s", i+1, got[i], want[i])
			}
		}
		t.Fatalf("%d lines, want %d", len(got), len(want))
	}
}

func jsonldOf(t *testing.T, s *store.Store) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := s.WriteJSONLD(context.Background(), &out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// nquadsByProcessor has the processor write N-Quads.
func nquadsByProcessor(t *testing.T, document []byte) []string {
	t.Helper()
	var doc any
	if err := json.Unmarshal(document, &doc); err != nil {
		t.Fatal(err)
	}
	options := ld.NewJsonLdOptions("")
	options.Format = "application/n-quads"
	text, err := ld.NewJsonLdProcessor().ToRDF(doc, options)
	if err != nil {
		t.Fatal(err)
	}
	return lines(text.(string))
}

// lines are those of a text that are no comments, sorted.
func lines(text string) []string {
	all := slices.DeleteFunc(strings.Split(strings.TrimSuffix(text, "\n"), "\n"),
		func(line string) bool { return strings.HasPrefix(line, "#") })
	slices.Sort(all)
	return all
}

// TestJSONLDIsRepeatable: two exports of the same facts are the same bytes.
func TestJSONLDIsRepeatable(t *testing.T) {
	one, two := jsonldOf(t, memory(t, storetest.Sample())), jsonldOf(t, memory(t, storetest.Sample()))
	if !bytes.Equal(one, two) {
		t.Error("two exports differ")
	}
}
