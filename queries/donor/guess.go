package donor

import (
	"cmp"

	"matewell/graph"
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

// mostGuessed is up to how many parts are guessed at.
const mostGuessed = 6

// guesses are the sizes, from small to large: first with nothing unknown and
// hand tools only, then with any work.
func guesses() []planSize {
	var sizes []planSize
	for parts := 1; parts <= mostGuessed; parts++ {
		sizes = append(sizes, planSize{0, int(graph.EffortHandTools), parts})
	}
	for parts := 1; parts <= mostGuessed; parts++ {
		sizes = append(sizes, planSize{10 * safetyWeight, plan.MostEffort, parts})
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
	for sizes := guesses(); p.guessed < len(sizes) && isWide(p); p.guessed++ {
		size := sizes[p.guessed]
		if p.plain || p.bound != nil && size.holds(*p.bound) {
			return nil
		}
		p.within = &size
		_, clash := enumerateWith(p, true)
		if err := cmp.Or(p.fault, p.ctx.Err()); err != nil {
			return err
		}
		if clash {
			continue
		}
		problem, demands := assembled(p)
		if err := solveClosed(p, problem, demands); err != nil {
			return err
		}
	}
	return nil
}

// isWide reports whether some demand has many combinations.
func isWide(p *planner) bool {
	for _, d := range p.demands {
		size := 1
		for _, id := range d.Places {
			if i, ok := p.slotAt[id]; ok {
				size *= len(p.slots[i].options)
			}
		}
		if size > manyCombinations {
			return true
		}
	}
	return false
}
