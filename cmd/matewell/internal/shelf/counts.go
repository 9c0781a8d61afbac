package shelf

import (
	"fmt"
	"hash/maphash"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/loader"
)

// FactCount says how many of one sort of thing a data set holds.
type FactCount struct {
	What  string `json:"what"`
	Count int    `json:"count"`
}

// FactCounter counts facts that pass by piece by piece. The zero counter has
// seen none.
type FactCounter struct {
	of   [len(factNames)]int
	seed maphash.Seed
	// fitments are hashes of those seen: one that several files tell of counts once.
	fitments []uint64
}

// factNames are the sorts of things that are counted, in the order they are
// said.
var factNames = [...]string{"brands", "kinds", "models", "variants", "assemblies", "positions", "parts", "fitments",
	"supersessions", "joints", "runs", "circuits", "stacks", "jobs", "findings", "bikes", "sources"}

// Before counts what is handed to add. The standard kinds of part that lie
// below every set are left out.
func (c *FactCounter) Before(add func(graph.Facts) error) func(graph.Facts) error {
	return func(f graph.Facts) error {
		c.count(f)
		return add(f)
	}
}

func (c *FactCounter) count(f graph.Facts) {
	if c.fitments == nil {
		c.seed = maphash.MakeSeed()
	}
	for i := range f.Fitments {
		c.fitments = append(c.fitments, maphash.String(c.seed, string(f.Fitments[i].ID)))
	}
	kinds := slices.DeleteFunc(slices.Clone(f.Kinds), func(k graph.Kind) bool { return loader.OnlyStandard(k.Said) })
	sources := slices.DeleteFunc(slices.Clone(f.Sources),
		func(s graph.Source) bool { return loader.OnlyStandard([]graph.Cite{{Pos: s.Pos}}) })
	for i, n := range [...]int{len(f.Brands), len(kinds), len(f.Models), len(f.Variants), len(f.Assemblies),
		len(f.Positions), len(f.Parts), 0, len(f.Supersessions), len(f.Joints), len(f.Runs),
		len(f.Circuits), len(f.Stacks), len(f.Jobs), len(f.Findings), len(f.Bikes), len(sources)} {
		c.of[i] += n
	}
}

// Counts says how much was seen, sort by sort, leaving out what there is none
// of.
func (c *FactCounter) Counts() []FactCount {
	slices.Sort(c.fitments)
	c.fitments = slices.Compact(c.fitments)
	of := c.of
	of[slices.Index(factNames[:], "fitments")] = len(c.fitments)
	counts := []FactCount{}
	for i, n := range of {
		if n > 0 {
			counts = append(counts, FactCount{factNames[i], n})
		}
	}
	return counts
}

// CountFacts says how much a data set holds.
func CountFacts(f graph.Facts) []FactCount {
	var c FactCounter
	c.count(f)
	return c.Counts()
}

// SayCounts puts counts into words, "nothing" when there are none.
func SayCounts(counts []FactCount) string {
	if len(counts) == 0 {
		return "nothing"
	}
	said := make([]string, len(counts))
	for i, c := range counts {
		what := c.What
		if c.Count == 1 {
			what = strings.Replace(strings.TrimSuffix(what, "s"), "assemblie", "assembly", 1)
		}
		said[i] = fmt.Sprintf("%d %s", c.Count, what)
	}
	return strings.Join(said, ", ")
}
