package main

import (
	"os"
	"runtime/debug"
)

func main() {
	// A process lives for one answer: the first collection would come just before
	// its end. A load is bounded all the same.
	debug.SetGCPercent(800)
	os.Exit(run(systemEnv(), os.Args[1:]))
}
