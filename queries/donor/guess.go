package donor

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// planSize is a size that a plan is guessed to have: nothing above it is looked at.
type planSize struct{ unknowns, effort, parts int }

func (b planSize) holds(c plan.Cost) bool {
	return c.Unknowns <= b.unknowns && c.Effort <= b.effort && c.Parts <= b.parts
}

// isBounded reports whether some cost is too much.
func isBounded(p *planner) bool { return p.bound != nil || p.within != nil }

// manyCombinations is from how many combinations of one demand on a guess comes
// first: below it, judging them all takes no longer.
const manyCombinations = 400

// mostGuessed is up to how many parts are guessed at, above those that every plan needs.
const mostGuessed = 6

// guesses are the sizes, from small to large: first with no more unknown than any plan
// leaves, nor harder work than it takes, hand tools at least, then with any work.
func guesses(atLeast plan.Cost) []planSize {
	var sizes []planSize
	for more := range mostGuessed {
		sizes = append(sizes, planSize{atLeast.Unknowns, max(atLeast.Effort, int(graph.EffortHandTools)),
			max(atLeast.Parts, 1) + more})
	}
	for more := range mostGuessed {
		sizes = append(sizes, planSize{atLeast.Unknowns + 10*safetyWeight, plan.MostEffort, max(atLeast.Parts, 1) + more})
	}
	return sizes
}

// guess finds some plan before any combination of a wide demand is judged: a
// disc with a dozen spacers on either side of its wheel has thousands. It tries
// sizes from small to large, each of which leaves few combinations, and all that
// is judged on the way is kept. A plan found is real, so its cost bounds all that
// follows. It stops at a size that holds the best plan there is, and does not go
// back to a size that held none when the problem was smaller.
func guess(p *planner) error {
	defer func() { p.within = nil }()
	if p.plain || !slices.ContainsFunc(p.demands, func(d *demand) bool { return isWide(p, d) }) {
		return nil
	}
	atLeast, clash := leastOfNarrow(p)
	if clash {
		return cmp.Or(p.fault, p.ctx.Err())
	}
	for _, size := range guesses(atLeast) {
		switch {
		case p.bound != nil && size.holds(*p.bound):
			return nil
		case size.isWithin(p.guessed):
			continue
		}
		p.within = &size
		_, clash := enumerateWith(p, true)
		if err := cmp.Or(p.fault, p.ctx.Err()); err != nil {
			return err
		}
		if p.guessed = size; clash {
			continue
		}
		problem, demands := assembled(p)
		if err := solveClosed(p, problem, demands); err != nil {
			return err
		}
	}
	return nil
}

// leastOfNarrow is what any plan costs at least by the demands that have few
// combinations, which are all judged sooner or later, or whether they clash.
func leastOfNarrow(p *planner) (plan.Cost, bool) {
	all := p.demands
	defer func() { p.demands = all }()
	p.demands = lists.Kept(slices.Clone(all), func(d *demand) bool { return !isWide(p, d) })
	_, clash := enumerateWith(p, true)
	return p.floors.without(nil).Plus(p.ways), clash || cmp.Or(p.fault, p.ctx.Err()) != nil
}

// isWithin reports whether a size is one that another holds.
func (b planSize) isWithin(other planSize) bool {
	return b.unknowns <= other.unknowns && b.effort <= other.effort && b.parts <= other.parts
}

// isWide reports whether a demand has many combinations.
func isWide(p *planner, d *demand) bool {
	size := 1
	for _, id := range d.Places {
		if i, ok := p.slotAt[id]; ok {
			size *= len(p.slots[i].options)
		}
	}
	return size > manyCombinations
}
