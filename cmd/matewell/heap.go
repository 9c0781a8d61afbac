package main

import (
	"runtime"
	"runtime/debug"
)

// How much garbage, in percent of what is in use, gathers before it is
// collected. A process lives for one answer, and most come to 20 to 160 MB in all, of
// which little is in use at once. Memory that the system has not given yet costs: of a
// desk's machine half a millisecond a megabyte, of a virtual one several. Collecting a
// few megabytes costs two or three. With the usual share the first collection comes at
// 12 MB; on a virtual machine that took a fifth to a quarter off most answers against
// one at 36 MB, and halved their memory. A plan keeps much of what it fills: there the
// roomy share puts the first off to 128 MB. Reading files and building a store of them
// fills hundreds of megabytes: there a small machine needs the room more than the time.
// With the built-in data the thrifty share halves the memory and takes a quarter more
// work.
const (
	usualGarbage   = 300
	roomyGarbage   = 3200
	thriftyGarbage = 35
)

func usualHeap() { debug.SetGCPercent(usualGarbage) }

func thriftyHeap() { debug.SetGCPercent(thriftyGarbage) }

// planHeap is from how many bytes on a plan's garbage is collected however much room
// there is, so that a long search stays below 300 MB with all that is not on the heap.
const planHeap = 220 << 20

// roomyHeap lasts until the first collection. A question that comes to it is a
// large one, and is collected as usual from then on.
func roomyHeap() {
	debug.SetGCPercent(roomyGarbage)
	debug.SetMemoryLimit(planHeap)
	mark := &struct{ spent [64]byte }{} // large enough not to be packed together with what lives on
	runtime.AddCleanup(mark, func(percent int) { debug.SetGCPercent(percent) }, usualGarbage)
}
