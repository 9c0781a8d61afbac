package main

import "os"

func main() {
	usualHeap()
	e, done := systemEnv()
	code := run(e, os.Args[1:])
	done()
	os.Exit(code)
}
