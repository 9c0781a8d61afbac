package main

import (
	"os"

	"matewell/cmd/matewell/internal/desk"
)

func main() {
	desk.UsualHeap()
	e, done := desk.SystemEnv()
	code := run(e, os.Args[1:])
	done()
	os.Exit(code)
}
