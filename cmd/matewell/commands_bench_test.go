package main

import (
	"strings"
	"testing"
	"time"
)

const donorLine = "donor --from fjeld-750/2003/eu "

// BenchmarkCommands is whole commands on the built-in data, once it has been read:
// those that put the most questions. With -cpuprofile it tells what they spend.
func BenchmarkCommands(b *testing.B) {
	for _, line := range []string{
		"version",
		"fits 207.4418b",
		"swap --on skerry-620/2002/eu front-brake/master-cylinder=207.7003",
		"differ skerry-620/2001/eu skerry-620/2006/eu",
		"differ skerry-620/2002 skerry-620/2004",
		"differ skerry-620/2002 skerry-620/2004 --picture years.svg --force",
		"bike winter-project",
		"bike bags winter-project",
		"bike missing winter-project",
		"bike build box-find",
		"bike shop box-find",
		"bike box-find --sheet sheet.html --force",
		"bike winter-project --sheet sheet.html --force",
		"job front-calipers --on skerry-620/2003/eu/late",
		donorLine + "--on skerry-620/2002/eu --take front-brake/master-cylinder",
		donorLine + "--on skerry-620/2002/eu --take clutch/lever --take clutch/release",
		"donor --on skerry-620/2005/eu --from fjeld-750/2004/eu --take front-brake/caliper-left " +
			"--take front-brake/caliper-right --keep fork",
		donorLine + "--on skerry-620/2003/eu/late --take front-wheel/wheel",
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
