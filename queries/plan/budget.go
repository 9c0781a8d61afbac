package plan

import (
	"cmp"
	"context"
	"encoding/binary"
	"errors"
	"slices"
)

// preferThrift puts money before everything else: whether a budget can be kept at
// all is asked with it. Nobody can prefer it from outside.
const preferThrift = PreferMoney + 1

// solveWithin solves a problem of which no plan may cost more money than a budget.
// Mostly the smallest plan keeps it anyway. Where it does not, the cheapest plan
// tells whether any does, and the smallest of those that do is found by labels;
// see purse.
func solveWithin(ctx context.Context, p *Problem, o Options) (Result, error) {
	budget := o.Budget
	o.Budget = 0
	free, err := solve(ctx, p, o)
	if err != nil || len(free.Plans) == 0 || free.Plans[0].Cost.Money <= budget {
		return free, err
	}
	thrifty := o
	thrifty.Prefer, thrifty.All, thrifty.Better = preferThrift, false, nil
	least, err := solve(ctx, p, thrifty)
	if len(least.Plans) == 0 {
		return Result{}, err
	}
	cheapest := least.Plans[0]
	if cheapest.Cost.Money > budget {
		return Result{Proved: least.Proved, OverBudget: &cheapest, prefer: o.Prefer}, err
	}
	result := Result{Plans: []Plan{cheapest}, Equal: 1, EqualAtLeast: true, prefer: o.Prefer}
	if free.Proved {
		result.Least = free.Plans[0].Cost
	}
	best, err := smallestWithin(ctx, p, o, budget, cheapest)
	result.Plans[0] = best
	if err == nil {
		result.Proved, result.Least = true, best.Cost
	}
	if errors.Is(err, errEnough) {
		err = nil
	}
	return result, err
}

// smallestWithin is the smallest plan that keeps a budget, better than one that is
// known. errEnough says that it is the best found, and not proved.
func smallestWithin(ctx context.Context, p *Problem, o Options, budget int, known Plan) (Plan, error) {
	r := newRoom(p, o.Prefer)
	if ok, err := r.reduceInTime(ctx); err != nil || !ok {
		return known, cmp.Or(err, errEnough)
	}
	tell(o.Better, known)
	w := purse{room: r, budget: budget, left: mostLabels}
	best := known
	for class := range MostEffort + 1 {
		if !uses(r, class) {
			continue
		}
		found, ok, err := w.smallest(ctx, class)
		if err != nil {
			share, cancel := partOf(ctx, 2)
			defer cancel()
			m := newImprover(r, best, kept(upTo(len(p.Slots)), r.open), o.Better)
			m.budget = budget
			m.until(share, patience)
			return m.plan, err
		}
		if ok && found.Cost.Less(best.Cost, o.Prefer) {
			best = found
			tell(o.Better, best)
		}
	}
	return best, nil
}

// uses reports whether some option or combination left is of an effort class.
func uses(r *room, class int) bool {
	for s, options := range r.options {
		for _, o := range options {
			if r.p.Slots[s].Options[o].Cost.Effort == class {
				return true
			}
		}
	}
	for d, allowed := range r.allowed {
		for _, c := range allowed {
			if r.p.Demands[d].Allowed[c].Cost.Effort == class {
				return true
			}
		}
	}
	return false
}

// mostLabels is how many labels may be looked at before a problem counts as too
// tangled to prove under a budget: some seconds.
const mostLabels = 10_000_000

// purse finds smallest plans under a budget. It takes out slot after slot as
// elimination does, but where that keeps the one least weight for each entry of a
// table, this keeps labels: each cost that no other beats both in what counts first
// and in money. A dearer part may be the smaller plan as long as there is money
// for it, so that one number would not do. Effort, which does not add up, is held
// below a class instead, and every class is tried.
type purse struct {
	*room
	budget int
	class  int
	left   int
}

// label is what some choice costs so far, and where it came from.
type label struct {
	cost         Cost
	a, b         *label // the two it was put together from; nil at the start
	slot, option int    // where it is one option of a slot
	demand, way  int    // or one combination of a demand; slot is -1 then
}

// labels is a table: for what the slots take, the labels.
type labels struct {
	slots []int
	rows  map[string][]*label
}

// smallest is the smallest plan with no effort above a class; false when none
// keeps the budget.
func (w *purse) smallest(ctx context.Context, class int) (Plan, bool, error) {
	w.class = class
	plan := Plan{Choice: make([]int, len(w.options)), Through: make([]int, len(w.allowed))}
	all := []*label{{slot: -1, demand: -1}}
	for _, piece := range pieces(w.room) {
		part := w.part(piece, &plan)
		e, sparse := sparse(part, mostSteps)
		if !sparse {
			return plan, false, errEnough
		}
		if part.settled.Effort > class {
			return plan, false, nil
		}
		of, err := w.piece(ctx, e)
		if err != nil {
			return plan, false, err
		}
		if all, err = w.pairs(ctx, nil, all, of); err != nil {
			return plan, false, err
		}
		all = w.undominated(all)
	}
	if len(all) == 0 {
		return plan, false, nil
	}
	w.read(all[0], &plan)
	cost, err := w.p.costOf(plan.Choice, plan.Through)
	plan.Cost = cost
	return plan, err == nil && cost.Money <= w.budget, err
}

// piece takes all slots of a piece out, and gives the labels of the whole.
func (w *purse) piece(ctx context.Context, e *elimination) ([]*label, error) {
	var live []labels
	for _, s := range e.order {
		t := labels{slots: []int{s}, rows: map[string][]*label{}}
		for _, o := range w.options[s] {
			w.put(t, rowKey(o), &label{cost: w.p.Slots[s].Options[o].Cost, slot: s, option: o})
		}
		live = append(live, t)
	}
	for _, d := range e.piece.demands {
		live = append(live, w.demand(e, d))
	}
	for _, s := range e.order {
		var here labels
		var rest []labels
		for _, t := range live {
			var err error
			switch {
			case !slices.Contains(t.slots, s):
				rest = append(rest, t)
			case here.rows == nil:
				here = t
			default:
				here, err = w.join(ctx, here, t)
			}
			if err != nil {
				return nil, err
			}
		}
		live = append(rest, w.without(here, s))
	}
	whole := []*label{{cost: e.settled, slot: -1, demand: -1}}
	for _, t := range live {
		var err error
		if whole, err = w.pairs(ctx, nil, whole, t.rows[""]); err != nil {
			return nil, err
		}
		whole = w.undominated(whole)
	}
	return whole, nil
}

func (w *purse) demand(e *elimination, demand int) labels {
	d := w.p.Demands[demand]
	t := labels{slots: e.open(demand), rows: map[string][]*label{}}
	for _, c := range w.allowed[demand] {
		var key []byte
		for _, s := range t.slots {
			key = append(key, rowKey(d.Allowed[c].Options[slices.Index(d.Slots, s)])...)
		}
		w.put(t, string(key), &label{cost: d.Allowed[c].Cost, slot: -1, demand: demand, way: c})
	}
	return t.pruned(w)
}

func (w *purse) put(t labels, key string, l *label) {
	if l.cost.Effort <= w.class && l.cost.Money <= w.budget {
		t.rows[key] = append(t.rows[key], l)
	}
}

// rowKey is an option in the key of a row.
func rowKey(option int) string { return string(binary.BigEndian.AppendUint32(nil, uint32(option))) }

const rowKeyBytes = 4

// of is the part of a row's key that some of its slots have.
func (t labels) of(key string, slots []int) string {
	var part []byte
	for _, s := range slots {
		at := slices.Index(t.slots, s) * rowKeyBytes
		part = append(part, key[at:at+rowKeyBytes]...)
	}
	return string(part)
}

// join puts two tables together where they agree.
func (w *purse) join(ctx context.Context, a, b labels) (labels, error) {
	shared := kept(b.slots, func(s int) bool { return slices.Contains(a.slots, s) })
	added := kept(b.slots, func(s int) bool { return !slices.Contains(a.slots, s) })
	mates := map[string][]string{}
	for _, key := range sortedRows(b.rows) {
		at := b.of(key, shared)
		mates[at] = append(mates[at], key)
	}
	out := labels{slots: slices.Concat(a.slots, added), rows: map[string][]*label{}}
	for _, key := range sortedRows(a.rows) {
		for _, mate := range mates[a.of(key, shared)] {
			to := key + b.of(mate, added)
			var err error
			if out.rows[to], err = w.pairs(ctx, out.rows[to], a.rows[key], b.rows[mate]); err != nil {
				return out, err
			}
		}
	}
	return out.pruned(w), nil
}

// pairs adds each of one list with each of another, as far as the money goes.
func (w *purse) pairs(ctx context.Context, to, a, b []*label) ([]*label, error) {
	for _, x := range a {
		for _, y := range b {
			if w.left--; w.left <= 0 {
				return nil, errEnough
			}
			if w.left&0xfff == 0 && ctx.Err() != nil {
				return nil, ctx.Err()
			}
			if sum := x.cost.Plus(y.cost); sum.Money <= w.budget {
				to = append(to, &label{cost: sum, a: x, b: y, slot: -1, demand: -1})
			}
		}
	}
	return to, nil
}

// without takes a slot out of a table.
func (w *purse) without(t labels, slot int) labels {
	rest := kept(t.slots, func(s int) bool { return s != slot })
	out := labels{slots: rest, rows: map[string][]*label{}}
	for _, key := range sortedRows(t.rows) {
		to := t.of(key, rest)
		out.rows[to] = append(out.rows[to], t.rows[key]...)
	}
	return out.pruned(w)
}

func (t labels) pruned(w *purse) labels {
	for key, row := range t.rows {
		t.rows[key] = w.undominated(row)
	}
	return t
}

// undominated leaves the labels that no other beats, the smallest first: each that
// follows is larger, and costs less money.
func (w *purse) undominated(all []*label) []*label {
	slices.SortStableFunc(all, func(x, y *label) int {
		return cmp.Or(compareSums(x.cost, y.cost, w.prefer), cmp.Compare(x.cost.Money, y.cost.Money))
	})
	var out []*label
	for _, l := range all {
		if len(out) == 0 || l.cost.Money < out[len(out)-1].cost.Money {
			out = append(out, l)
		}
	}
	return out
}

// compareSums is compare without the effort.
func compareSums(c Cost, d Cost, p Prefer) int {
	c.Effort, d.Effort = 0, 0
	return compare(c, d, p)
}

// read takes the choice out of a label.
func (w *purse) read(l *label, into *Plan) {
	switch {
	case l.a != nil:
		w.read(l.a, into)
		w.read(l.b, into)
	case l.slot >= 0:
		into.Choice[l.slot] = l.option
	case l.demand >= 0:
		into.Through[l.demand] = l.way
	}
}

func sortedRows(rows map[string][]*label) []string {
	keys := make([]string, 0, len(rows))
	for key := range rows {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}
