package bigset

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
)

// Findings writes so many findings about the parts of a set, as "matewell record"
// writes them: one in five is a measurement, one in forty was taken back. Whose
// they are stands in their names.
func Findings(to io.Writer, set Set, sum Summary, who string, n int) error {
	w := bufio.NewWriter(to)
	r := rand.New(rand.NewPCG(set.Seed, 2))
	fmt.Fprint(w, "# My own findings. Plain text: edit it, keep it under version control, pass it on.\nfindings:\n")
	for i := range n {
		finding(w, r, sum, who, i)
	}
	fmt.Fprint(w, "withdrawals:\n")
	for i := 0; i < n; i += 40 {
		fmt.Fprintf(w, "  - finding: %s\n    why: read off the wrong line\n    date: 2026-03-01\n", findingID(who, i))
	}
	return w.Flush()
}

func findingID(who string, i int) string { return fmt.Sprintf("%s-2026-02-%02d-%06d", who, 1+i%28, i) }

func finding(w io.Writer, r *rand.Rand, sum Summary, who string, i int) {
	model, year := modelName(r.IntN(sum.Models)), firstYear+r.IntN(years)
	a, p := r.IntN(assemblies), hardware+r.IntN(places-hardware)
	part := sharedNumber(r.IntN(200)/8*8 + placeKind(a, p)%8)
	fmt.Fprintf(w, "  - id: %s\n    part: %s\n", findingID(who, i), part)
	if i%5 == 0 {
		fmt.Fprintf(w, "    measured:\n      - feature: mount\n        dim: hole\n        value: %d.5 mm\n"+
			"        with: vernier caliper\n    method: measured\n", 6+r.IntN(6))
	} else {
		fmt.Fprintf(w, "    position: %s:assembly-%02d/place-%02d\n    on: [%[1]s/%[4]d/eu]\n", model, a, p, year)
		if i%3 == 0 {
			fmt.Fprint(w, "    verdict: fits with changes\n    changes:\n      - do: file the hole out a little\n"+
				"        effort: hand tools\n")
		} else {
			fmt.Fprint(w, "    verdict: fits\n")
		}
		fmt.Fprint(w, "    method: fitted\n")
	}
	fmt.Fprintf(w, "    date: 2026-02-%02d\n    by: %s\n", 1+i%28, who)
	fmt.Fprintf(w, "    note: tried on a bench in winter, number %d of that box\n", i)
}
