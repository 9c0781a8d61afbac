package main

import (
	"runtime"
	"runtime/debug"
	"syscall"
)

// heapRoom is how much of the heap, in bytes, is asked for in large pages: more
// than a long donor plan uses.
const heapRoom = 128 << 20

// leastHeap is how large the heap is at least, in bytes, at 100 percent of
// garbage before it is collected.
const leastHeap = 4 << 20

// roomyHeap makes the kernel hand the heap's first heapRoom bytes out in large
// pages, and has them used before anything is collected. A swap or a plan
// allocates tens of megabytes once and ends; fetched a small page at a time,
// they cost as much as the question itself. The room is address space only:
// nothing of it is touched before the heap grows into it. It costs a few
// milliseconds, more than a small question gains. Where the kernel has no large
// pages, nothing changes. A question that outgrows the room is collected as
// usual.
func roomyHeap() {
	usual := debug.SetGCPercent(100 * heapRoom / leastHeap)
	adviseLarge(make([]byte, heapRoom))
	runtime.GC() // hands the room back to the heap, advice and all
	runtime.AddCleanup(&struct{ once [64]byte }{}, func(percent int) { debug.SetGCPercent(percent) }, usual)
}

// adviseLarge asks for large pages; a kernel that refuses leaves small ones,
// which are as right, only slower.
func adviseLarge(room []byte) { _ = syscall.Madvise(room, syscall.MADV_HUGEPAGE) }
