package machine

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
)

// choice is the part that a machine is taken to have at a position as built.
type choice struct {
	part   graph.PartID // empty when no source says
	why    string
	source evidence.Source
	others []graph.PartID
}

// rival is one of several parts that sources name at one position of one
// variant.
type rival struct {
	part   graph.PartID
	scheme bool // listed for the scheme of the machine, or for every scheme
	rank   evidence.Rank
	voice  evidence.Source
	cites  []graph.Cite
}

// succession says that one part took another's place and each may go where the
// other was.
type succession struct{ old, new graph.PartID }

func chooseRival(rivals []rival, newer map[succession]bool) choice {
	if len(rivals) == 0 {
		return choice{why: "no source says what sits here"}
	}
	superseded := func(r rival) int {
		if slices.ContainsFunc(rivals, func(o rival) bool { return newer[succession{r.part, o.part}] }) {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(rivals, func(a, b rival) int {
		return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(superseded(a), superseded(b)),
			evidence.CompareSources(a.voice, b.voice), cmp.Compare(a.part, b.part))
	})
	best := rivals[0]
	c := choice{part: best.part, why: "listed here", source: best.voice}
	for _, r := range rivals[1:] {
		c.others = append(c.others, r.part)
	}
	slices.Sort(c.others)
	return c
}
