package main

import "runtime/debug"

// usualGarbage and thriftyGarbage are how much garbage, in percent of what is
// in use, gathers before it is collected. A process lives for one answer: the
// first collection would come just before its end, so the usual share is large.
// Reading files and building a store of them fills hundreds of megabytes: there
// a small machine needs the room more than the time. With the built-in data the
// small share halves the memory and takes a quarter more work.
const (
	usualGarbage   = 800
	thriftyGarbage = 50
)

func usualHeap() { debug.SetGCPercent(usualGarbage) }

func thriftyHeap() { debug.SetGCPercent(thriftyGarbage) }
