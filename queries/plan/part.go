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

func (r *room) part(p piece, kept *Plan) part {
	out := part{r: r, piece: p, kept: kept}
	for _, s := range p.slots {
		kept.Choice[s] = r.options[s][0]
		if !r.open(s) {
			out.settled = out.settled.plus(r.p.Slots[s].Options[r.options[s][0]].Cost)
		}
	}
	return out
}

// open reports whether a slot still has a choice.
func (r *room) open(slot int) bool { return len(r.options[slot]) > 1 }

func (p *part) state() *part { return p }

// keep notes that kept now holds a choice for the piece.
func (p *part) keep() {
	p.found, p.cost = true, Cost{}
	for _, s := range p.piece.slots {
		p.cost = p.cost.plus(p.r.p.Slots[s].Options[p.kept.Choice[s]].Cost)
	}
	for _, d := range p.piece.demands {
		p.cost = p.cost.plus(p.r.p.Demands[d].Allowed[p.kept.Through[d]].Cost)
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
