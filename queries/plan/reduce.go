package plan

import (
	"context"
	"slices"
)

// room is what is still possible: the options of each slot and the allowed
// combinations of each demand, as indices in rising order. The problem itself
// is never changed.
type room struct {
	p       *Problem
	prefer  Prefer
	options [][]int // by slot
	allowed [][]int // by demand
	demands [][]int // the demands on each slot
}

func newRoom(p *Problem, prefer Prefer) *room {
	r := &room{p: p, prefer: prefer, demands: make([][]int, len(p.Slots))}
	for _, s := range p.Slots {
		r.options = append(r.options, upTo(len(s.Options)))
	}
	for i, d := range p.Demands {
		r.allowed = append(r.allowed, upTo(len(d.Allowed)))
		for _, s := range d.Slots {
			r.demands[s] = append(r.demands[s], i)
		}
	}
	return r
}

func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// reduce takes out what can't be in any plan, then what can't be in a cheapest
// one, until neither finds more. It reports false when some slot or demand has
// nothing left: no plan exists. When the context ends first, with its error, what
// is left is still sound, only more than need be.
func (r *room) reduce(ctx context.Context) (bool, error) {
	for {
		if ok, err := r.consistent(ctx); !ok || err != nil {
			return ok, err
		}
		if dropped, err := dropDominated(ctx, r); !dropped || err != nil {
			return true, err
		}
	}
}

// reduceInTime gives what only saves work a quarter of the time there is.
func (r *room) reduceInTime(ctx context.Context) (bool, error) {
	share, cancel := partOf(ctx, 4)
	defer cancel()
	ok, err := r.reduce(share)
	if err == nil || ctx.Err() != nil {
		return ok, err
	}
	return r.consistent(ctx) // what was dropped last may leave more without a mate
}

// consistent is arc consistency over tables: a combination goes when one of its
// options is gone, an option goes when some demand no longer has a combination
// with it.
func (r *room) consistent(ctx context.Context) (bool, error) {
	queue := upTo(len(r.p.Demands))
	waiting := make([]bool, len(queue))
	for i := range waiting {
		waiting[i] = true
	}
	for len(queue) > 0 {
		if err := ctx.Err(); err != nil {
			return true, err
		}
		i := queue[0]
		queue, waiting[i] = queue[1:], false
		for _, s := range r.revise(i) {
			for _, j := range r.demands[s] {
				if !waiting[j] {
					queue, waiting[j] = append(queue, j), true
				}
			}
		}
		if len(r.allowed[i]) == 0 {
			return false, nil
		}
	}
	return true, nil
}

// revise brings one demand and its slots in line and names the slots that lost
// an option.
func (r *room) revise(demand int) []int {
	d := r.p.Demands[demand]
	marks := make([][]bool, len(d.Slots)) // by slot of the demand and option: still there
	for k, s := range d.Slots {
		marks[k] = r.marks(s)
	}
	r.allowed[demand] = slices.DeleteFunc(r.allowed[demand], func(c int) bool {
		for k, o := range d.Allowed[c].Options {
			if !marks[k][o] {
				return true
			}
		}
		return false
	})
	var changed []int
	for k, s := range d.Slots {
		used := marks[k]
		clear(used)
		for _, c := range r.allowed[demand] {
			used[d.Allowed[c].Options[k]] = true
		}
		before := len(r.options[s])
		r.options[s] = slices.DeleteFunc(r.options[s], func(o int) bool { return !used[o] })
		if len(r.options[s]) < before {
			changed = append(changed, s)
		}
	}
	return changed
}

// marks says of each option of a slot whether it is still there.
func (r *room) marks(slot int) []bool {
	marks := make([]bool, len(r.p.Slots[slot].Options))
	for _, o := range r.options[slot] {
		marks[o] = true
	}
	return marks
}

func set(list []int) map[int]bool {
	out := make(map[int]bool, len(list))
	for _, v := range list {
		out[v] = true
	}
	return out
}

func (r *room) part(p piece, kept *Plan) part {
	out := part{r: r, piece: p, kept: kept}
	for _, s := range p.slots {
		kept.Choice[s] = r.options[s][0]
		if !r.open(s) {
			out.settled = out.settled.Plus(r.p.Slots[s].Options[r.options[s][0]].Cost)
		}
	}
	return out
}

// open reports whether a slot still has a choice.
func (r *room) open(slot int) bool { return len(r.options[slot]) > 1 }
