// Package instoretest puts facts into a store for tests of questions. It is apart from
// demotest since whoever imports it is linked with the whole database.
package instoretest

import (
	"context"
	"testing"

	"matewell/graph"
	"matewell/graph/store"
)

// New puts facts into a store in memory: an answer must come out the same
// from there.
func New(t *testing.T, facts graph.Facts) graph.Reader {
	t.Helper()
	s, err := store.Memory()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := s.Put(context.Background(), facts, nil); err != nil {
		t.Fatal(err)
	}
	return s
}
