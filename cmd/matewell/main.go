package main

import "os"

func main() {
	usualHeap()
	os.Exit(run(systemEnv(), os.Args[1:]))
}
