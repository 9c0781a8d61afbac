package desk

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

// TestRoomyHeapIsSpent: a question so large that something is collected is
// collected as usual from then on.
func TestRoomyHeapIsSpent(t *testing.T) {
	defer debug.SetGCPercent(garbageShare())
	roomyHeap()
	if got := garbageShare(); got != roomyGarbage {
		t.Fatalf("at first %d percent of garbage, want %d", got, roomyGarbage)
	}
	runtime.GC()
	for range 1000 { // a cleanup runs some time after the collection
		if garbageShare() == usualGarbage {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Errorf("after a collection %d percent of garbage, want %d", garbageShare(), usualGarbage)
}

// garbageShare is how much garbage gathers just now before it is collected.
func garbageShare() int {
	percent := debug.SetGCPercent(roomyGarbage)
	debug.SetGCPercent(percent)
	return percent
}

// TestHeapIsThriftyOnceMuchIsInUse: a small set is read with the usual share, a large one
// thriftily; and not any more once something else was said.
func TestHeapIsThriftyOnceMuchIsInUse(t *testing.T) {
	defer debug.SetGCPercent(garbageShare())
	becomes := func(want, rounds int) bool {
		for range rounds { // a cleanup runs some time after the collection
			runtime.GC()
			if garbageShare() == want {
				return true
			}
			time.Sleep(time.Millisecond)
		}
		return false
	}
	thriftyHeap(muchInUse)
	if got := garbageShare(); got != usualGarbage {
		t.Fatalf("with little in use %d percent of garbage, want %d", got, usualGarbage)
	}
	much := make([]byte, muchInUse)
	if !becomes(thriftyGarbage, 200) {
		t.Errorf("with much in use %d percent of garbage, want %d", garbageShare(), thriftyGarbage)
	}
	thriftyHeap(100 * muchInUse)
	if !becomes(filledGarbage, 200) {
		t.Errorf("with much room %d percent of garbage, want %d", garbageShare(), filledGarbage)
	}
	thriftyHeap(muchInUse)
	UsualHeap()
	if becomes(thriftyGarbage, 20) { // each collects all that the tests keep
		t.Errorf("thrifty although the usual was asked for since")
	}
	runtime.KeepAlive(much)
}
