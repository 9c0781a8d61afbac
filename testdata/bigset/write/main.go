// Command write makes a large invented data set for measurements:
//
//	go run ./testdata/bigset/write -facts 1000000 DIR
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"

	"matewell/testdata/bigset"
)

func main() {
	facts := flag.Int("facts", 100_000, "about how many facts")
	seed := flag.Uint64("seed", 1, "the same seed gives the same files")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "write: name the folder to fill")
		os.Exit(2)
	}
	sum, err := bigset.Write(flag.Arg(0), bigset.Set{Facts: *facts, Seed: *seed})
	if err != nil {
		fmt.Fprintln(os.Stderr, "write:", err)
		os.Exit(1)
	}
	out := json.NewEncoder(os.Stdout)
	out.SetIndent("", "  ")
	if err := out.Encode(sum); err != nil {
		fmt.Fprintln(os.Stderr, "write:", err)
		os.Exit(1)
	}
}
