package main

import "os"

func main() {
	os.Exit(run(systemEnv(), os.Args[1:]))
}
