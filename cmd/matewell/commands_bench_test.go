package main

import (
	"strings"
	"testing"
	"time"
)

// BenchmarkCommands is whole commands on the built-in data, once it has been read:
// those that put the most questions. With -cpuprofile it tells what they spend.
func BenchmarkCommands(b *testing.B) {
	for _, line := range []string{
		"differ skerry-620/2002 skerry-620/2004",
		"differ skerry-620/2002 skerry-620/2004 --picture years.svg --force",
		"bike missing box-find",
		"bike build box-find",
		"bike shop box-find",
		"bike box-find --sheet sheet.html --force",
		"bike winter-project --sheet sheet.html --force",
	} {
		b.Run(line, func(b *testing.B) {
			e, out, errs := testEnv(b)
			e.Now = time.Now
			b.Chdir(b.TempDir())
			run(e, []string{"bike"}) // reads the data and keeps it
			for b.Loop() {
				out.Reset()
				if code := run(e, strings.Fields(line)); code != exitAnswered && code != exitUnsafe {
					b.Fatalf("exit %d: %s", code, errs)
				}
			}
		})
	}
}
