// Command write makes a large invented data set for measurements:
//
//	go run ./testdata/bigset/write -facts 1000000 DIR
//
// With -findings N it writes so many findings beside it, into DIR.findings.yaml.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"

	"matewell/testdata/bigset"
)

func main() {
	facts := flag.Int("facts", 100_000, "about how many facts")
	seed := flag.Uint64("seed", 1, "the same seed gives the same files")
	findings := flag.Int("findings", 0, "how many findings to write into DIR.findings.yaml, besides")
	who := flag.String("who", "gull", "whose findings")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "write: name the folder to fill")
		os.Exit(2)
	}
	set := bigset.Set{Facts: *facts, Seed: *seed}
	sum, err := bigset.Write(flag.Arg(0), set)
	if err == nil && *findings > 0 {
		err = writeFindings(flag.Arg(0)+".findings.yaml", set, sum, *who, *findings)
	}
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

func writeFindings(path string, set bigset.Set, sum bigset.Summary, who string, n int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	return errors.Join(bigset.Findings(f, set, sum, who, n), f.Close())
}
