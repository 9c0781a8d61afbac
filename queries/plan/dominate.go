package plan

import (
	"context"
	"slices"
)

// dropDominated takes out options that some other option of the same slot beats
// wherever it is used, and reports whether there were any. It never touches an
// option that could be part of a cheapest plan, so that ties are counted right.
func dropDominated(ctx context.Context, r *room) (bool, error) {
	dropped := false
	// Each made once it is asked for: no combination goes before all slots are done.
	tables := make([]*table, len(r.p.Demands))
	for s := range r.options {
		if err := ctx.Err(); err != nil {
			return dropped, err
		}
		if len(r.options[s]) < 2 {
			continue
		}
		var views []view // made for the first option that costs no less than another
		var gone []int
		for _, a := range r.options[s] {
			for _, b := range r.options[s] {
				if a == b || slices.Contains(gone, b) || !isCheaper(r, s, b, a) {
					continue
				}
				if views == nil {
					views = viewsFrom(r, s, tables)
				}
				if standsIn(b, a, views) {
					gone = append(gone, a)
					break
				}
			}
		}
		if len(gone) > 0 {
			dropped = true
			r.options[s] = slices.DeleteFunc(r.options[s], func(o int) bool { return slices.Contains(gone, o) })
		}
	}
	return dropped, nil
}

// table finds the combinations of a demand by the options they take. Each has a number
// that its options add up to, so that its neighbours, which differ at one slot, are found
// by theirs. Two that share a number by chance are told apart by their options.
type table struct {
	d       *Demand
	allowed []int          // those still there
	weights []uint64       // what one more at a slot adds to the number
	first   map[uint64]int // where in allowed the last one of a number stands
	before  []int          // where the one before it of the same number stands; -1 for none
}

func newTable(p *Problem, d *Demand, allowed []int) *table {
	t := &table{d: d, allowed: allowed, weights: make([]uint64, len(d.Slots)), first: make(map[uint64]int, len(allowed)),
		before: make([]int, len(allowed))}
	weight := uint64(1)
	for k, s := range d.Slots {
		t.weights[k] = weight
		weight *= uint64(len(p.Slots[s].Options)) | 1 // odd, so that none becomes zero where they run over
	}
	for i, c := range allowed {
		n := t.number(d.Allowed[c].Options)
		t.before[i] = -1
		if last, have := t.first[n]; have {
			t.before[i] = last
		}
		t.first[n] = i
	}
	return t
}

func (t *table) number(options []int) uint64 {
	n := uint64(0)
	for k, o := range options {
		n += uint64(o) * t.weights[k]
	}
	return n
}

// has reports whether a combination that differs from another at one slot at most, where
// it takes an option, is there and costs no more.
func (t *table) has(other Combination, slot, option int) bool {
	n := t.number(other.Options) + uint64(option-other.Options[slot])*t.weights[slot]
	i, have := t.first[n]
	if !have {
		return false
	}
	for ; i >= 0; i = t.before[i] {
		c := t.d.Allowed[t.allowed[i]]
		if atMost(c.Cost, other.Cost) && c.Options[slot] == option && sameBut(c.Options, other.Options, slot) {
			return true
		}
	}
	return false
}

func sameBut(a, b []int, slot int) bool {
	return slices.Equal(a[:slot], b[:slot]) && slices.Equal(a[slot+1:], b[slot+1:])
}

// view is a demand seen from one of its slots: the combinations by the option there.
type view struct {
	*table
	slot int // which of the demand's
	with [][]int
}

func viewsFrom(r *room, slot int, tables []*table) []view {
	views := make([]view, 0, len(r.demands[slot]))
	for _, i := range r.demands[slot] {
		d := &r.p.Demands[i]
		if tables[i] == nil {
			tables[i] = newTable(r.p, d, r.allowed[i])
		}
		v := view{table: tables[i], slot: slices.Index(d.Slots, slot), with: make([][]int, len(r.p.Slots[slot].Options))}
		for _, c := range r.allowed[i] {
			o := d.Allowed[c].Options[v.slot]
			v.with[o] = append(v.with[o], c)
		}
		views = append(views, v)
	}
	return views
}

// isCheaper reports whether b makes each plan cheaper than a, where it can stand in for
// it: at least one sum is less, nothing is more. Effort alone doesn't count as cheaper,
// since another slot may set the highest class.
func isCheaper(r *room, slot, b, a int) bool {
	options := r.p.Slots[slot].Options
	return atMost(options[b].Cost, options[a].Cost) && sumsLess(options[b].Cost, options[a].Cost)
}

// standsIn reports whether b can stand in for a in every plan.
func standsIn(b, a int, views []view) bool {
	for _, v := range views {
		for _, c := range v.with[a] {
			if !v.has(v.d.Allowed[c], v.slot, b) {
				return false
			}
		}
	}
	return true
}

func atMost(c Cost, d Cost) bool {
	return c.Unknowns <= d.Unknowns && c.Effort <= d.Effort && c.Parts <= d.Parts && c.Money <= d.Money &&
		c.Distance <= d.Distance
}

func sumsLess(c Cost, d Cost) bool {
	return c.Unknowns < d.Unknowns || c.Parts < d.Parts || c.Money < d.Money || c.Distance < d.Distance
}
