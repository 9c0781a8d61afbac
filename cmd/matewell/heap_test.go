package main

import (
	"io/fs"
	"runtime"
	"runtime/debug"
	"slices"
	"testing"
	"testing/fstest"
	"time"
)

// TestHeapWhileReading: memory is spared before files are read, and room is
// made only after; what is kept from an earlier question needs no sparing.
func TestHeapWhileReading(t *testing.T) {
	e, _, errs := testEnv(t)
	var said []string
	e.Thrifty = func() { said = append(said, "thrifty") }
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

// TestRoomyHeapIsSpent: a question so large that something is collected is
// collected as usual from then on.
func TestRoomyHeapIsSpent(t *testing.T) {
	share := func() int {
		percent := debug.SetGCPercent(roomyGarbage)
		debug.SetGCPercent(percent)
		return percent
	}
	defer debug.SetGCPercent(share())
	roomyHeap()
	if got := share(); got != roomyGarbage {
		t.Fatalf("at first %d percent of garbage, want %d", got, roomyGarbage)
	}
	runtime.GC()
	for range 1000 { // a cleanup runs some time after the collection
		if share() == usualGarbage {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Errorf("after a collection %d percent of garbage, want %d", share(), usualGarbage)
}
