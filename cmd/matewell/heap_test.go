package main

import (
	"io/fs"
	"slices"
	"testing"
	"testing/fstest"
)

// TestHeapWhileReading: memory is spared before files are read, and room is
// made only after; what is kept from an earlier question needs no sparing.
func TestHeapWhileReading(t *testing.T) {
	e, _, errs := testEnv(t)
	var said []string
	e.Thrifty = func(int) { said = append(said, "thrifty") }
	e.Roomy = func() { said = append(said, "roomy") }
	e.DirFS = func(string) fs.FS { return fstest.MapFS{"sources.yaml": {Data: []byte(goodSources)}} }
	for _, want := range [][]string{{"thrifty", "roomy"}, {"roomy"}} {
		said = nil
		run(e, []string{"donor", "--data", "good", "--on", "gull", "--from", "tern", "--take", "fork"})
		if !slices.Equal(said, want) {
			t.Errorf("heap was made %q, want %q; it said:\n%s", said, want, errs)
		}
	}
}
