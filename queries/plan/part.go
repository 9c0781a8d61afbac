package plan

import (
	"context"
	"slices"
)

// method presses down the costs of one piece. What is settled stays settled
// through the calls that follow.
type method interface {
	// try looks for any choice and keeps it; false when there is none.
	try(ctx context.Context) (bool, error)
	// descend brings the sums of the levels to their least, in that order.
	descend(ctx context.Context, levels []level) error
	// leastEffort is the least effort class the piece can do with, all else as
	// settled, but not below what it may have anyway.
	leastEffort(ctx context.Context, have int) (int, error)
	// forbidAbove rules out every effort above a class.
	forbidAbove(class int)
	// alternatives are some of the choices that cost as little as the one kept,
	// that one first, and how many there are; open when there may be more.
	alternatives(ctx context.Context) (found []Plan, count int, open bool, err error)
	// state is what is kept for the piece.
	state() *part
}

// part is a piece with the best choice found for it so far.
type part struct {
	r       *room
	piece   piece
	settled Cost // of the slots with one option left
	kept    *Plan
	found   bool
	cost    Cost // of the piece in kept
}

func (p *part) state() *part { return p }

// keep notes that kept now holds a choice for the piece.
func (p *part) keep() {
	p.found, p.cost = true, Cost{}
	for _, s := range p.piece.slots {
		p.cost = p.cost.Plus(p.r.p.Slots[s].Options[p.kept.Choice[s]].Cost)
	}
	for _, d := range p.piece.demands {
		p.cost = p.cost.Plus(p.r.p.Demands[d].Allowed[p.kept.Through[d]].Cost)
	}
}

// copy is the choice kept, to be changed.
func (p *part) copy() Plan {
	return Plan{Choice: slices.Clone(p.kept.Choice), Through: slices.Clone(p.kept.Through)}
}

// classes are the effort classes that open options and combinations have,
// sorted.
func (p *part) classes() []int {
	var out []int
	for _, s := range p.piece.slots {
		for _, o := range p.r.options[s] {
			out = append(out, p.r.p.Slots[s].Options[o].Cost.Effort)
		}
	}
	for _, d := range p.piece.demands {
		for _, c := range p.r.allowed[d] {
			out = append(out, p.r.p.Demands[d].Allowed[c].Cost.Effort)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// least is a bound for one piece; at a level for which there was no time it is
// zero.
func (p *part) least(ctx context.Context) Cost {
	least := Cost{Effort: leastClass(p)}
	for _, b := range []struct {
		of level
		to *int
	}{{unknowns, &least.Unknowns}, {parts, &least.Parts}, {money, &least.Money}, {distance, &least.Distance}} {
		if *b.to = p.bound(ctx, b.of); ctx.Err() != nil {
			*b.to = 0
			break
		}
	}
	return least
}

// bound is a sum that no choice for the piece stays below at a level. Slots are
// taken out as in elimination, but where the table of a slot would be too large
// it is taken out of a few factors at a time, each time as suits those best
// (mini-buckets, Dechter and Rish): that never gives too much.
func (p *part) bound(ctx context.Context, l level) int {
	e := &elimination{part: *p}
	weigh := func(c Cost) int64 { return int64(at(c, l)) }
	sum := int64(at(p.settled, l))
	var live []*factor
	for _, s := range p.piece.slots {
		if p.r.open(s) {
			live = append(live, e.options(s, weigh))
		}
	}
	for _, d := range p.piece.demands {
		if f, ok := smallTable(e, d, weigh); ok && len(f.slots) > 0 {
			live = append(live, f)
		} else if least := leastOf(p, d, l); ok || least > 0 {
			sum += int64(least)
		}
	}
	steps := leastSteps
	for _, s := range p.piece.slots {
		if !p.r.open(s) {
			continue
		}
		if ctx.Err() != nil {
			return 0
		}
		var here, rest []*factor
		for _, f := range live {
			if slices.Contains(f.slots, s) {
				here = append(here, f)
			} else {
				rest = append(rest, f)
			}
		}
		live = rest
		for _, b := range smallBuckets(e, s, here, &steps) {
			out := summedOut(e, b)
			if len(out.slots) == 0 {
				sum += out.weight[0]
			} else {
				live = append(live, out)
			}
		}
	}
	return int(sum)
}

func (p part) dense() *dense { return &dense{encoding: blank(p)} }
