package desk

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync/atomic"
)

// How much garbage, in percent of what is in use, gathers before it is
// collected. A process lives for one answer, and most come to 20 to 160 MB in all, of
// which little is in use at once. Memory that the system has not given yet costs: of a
// desk's machine half a millisecond a megabyte, of a virtual one several. Collecting a
// few megabytes costs two or three. With the usual share the first collection comes at
// 12 MB; on a virtual machine that took a fifth to a quarter off most answers against
// one at 36 MB, and halved their memory. A plan keeps much of what it fills: there the
// roomy share puts the first off to 128 MB. Reading files and building a store of them
// fills hundreds of megabytes of a large set: there a small machine needs the room more than
// the time. The thrifty share begins once something is in use: with the built-in data that
// takes a quarter less work than being thrifty from the start, and no more memory. It is
// what fills a room, between thriftyGarbage and filledGarbage.
const (
	usualGarbage   = 300
	roomyGarbage   = 3200
	thriftyGarbage = 35
	filledGarbage  = 150 // where there is room for more
)

// The rooms, in bytes of heap, that reading a set of a million facts may fill: on its own,
// or while a store is made of it. Besides them a process takes some 80 MB.
const (
	RoomToRead  = 220 << 20
	RoomToStore = 460 << 20
)

// UsualHeap collects as most answers do best.
func UsualHeap() {
	heapTurn.Add(1)
	debug.SetGCPercent(usualGarbage)
}

// muchInUse is from how many bytes in use on garbage is collected thriftily.
const muchInUse = 20 << 20

// heapTurn counts how often was said anew when to collect: what waits for a collection
// looks whether it is still meant.
var heapTurn atomic.Int64

// thriftyHeap collects as usual while little is in use, then as a room allows.
func thriftyHeap(room int) {
	UsualHeap()
	thriftyOnce(heapTurn.Load(), room)
}

// thriftyOnce looks after each collection how much is in use.
func thriftyOnce(turn int64, room int) {
	mark := &struct{ spent [64]byte }{} // large enough not to be packed together with what lives on
	runtime.AddCleanup(mark, func(turn int64) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		if heapTurn.Load() != turn {
			return
		}
		if used := int(live[0].Value.Uint64()); used >= muchInUse {
			debug.SetGCPercent(min(max((room-used)/(used/100), thriftyGarbage), filledGarbage))
		}
		thriftyOnce(turn, room)
	}, turn)
}

// planHeap is from how many bytes on a plan's garbage is collected however much room
// there is, so that a long search stays below 300 MB with all that is not on the heap.
const planHeap = 220 << 20

// roomyHeap lasts until the first collection. A question that comes to it is a
// large one, and is collected as usual from then on.
func roomyHeap() {
	heapTurn.Add(1)
	debug.SetGCPercent(roomyGarbage)
	debug.SetMemoryLimit(planHeap)
	mark := &struct{ spent [64]byte }{} // large enough not to be packed together with what lives on
	runtime.AddCleanup(mark, func(percent int) { debug.SetGCPercent(percent) }, usualGarbage)
}
