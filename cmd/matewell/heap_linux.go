package main

import (
	"runtime"
	"syscall"
)

// heapRoom is how much of the heap, in bytes, is asked for in large pages: more
// than a long donor plan uses before the first collection.
const heapRoom = 128 << 20

// roomyHeap makes the kernel hand the heap's first heapRoom bytes out in large
// pages. A swap or a plan allocates tens of megabytes once and ends; fetched a
// small page at a time, they cost as much as the question itself. The room is
// address space only: nothing of it is touched before the heap grows into it.
// It costs a few milliseconds, more than a small question gains. Where the
// kernel has no large pages, nothing changes.
func roomyHeap() {
	adviseLarge(make([]byte, heapRoom))
	runtime.GC() // hands the room back to the heap, advice and all
}

// adviseLarge asks for large pages; a kernel that refuses leaves small ones,
// which are as right, only slower.
func adviseLarge(room []byte) { _ = syscall.Madvise(room, syscall.MADV_HUGEPAGE) }
