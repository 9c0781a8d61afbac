package shop

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// chooseTime is how long the search for the cheapest kits may take.
const chooseTime = 2 * time.Second

// choose finds what to buy singly and in which kits and packs: the least money,
// then the fewest pieces, then the fewest purchases.
func choose(ctx context.Context, m *maker, l *List) error {
	parts := m.toBuy()
	if len(parts) == 0 {
		return nil
	}
	c := problem(m, parts)
	result, err := plan.Solve(ctx, c.Problem, plan.Options{Deadline: chooseTime, Prefer: plan.PreferMoney})
	if err != nil {
		return err
	}
	l.Proved = result.Proved
	if len(result.Plans) == 0 {
		return fmt.Errorf("shop: no way to buy %d numbers", len(parts))
	}
	choice := result.Plans[0].Choice
	left := map[graph.PartID]int{}
	for _, id := range parts {
		left[id] = m.wanted[id].quantity
	}
	for k, kit := range m.kits {
		if n := choice[c.kits[k]]; n > 0 {
			l.Rows = append(l.Rows, kitRow(m, kit, n, left))
		}
	}
	for _, id := range parts {
		if left[id] > 0 {
			l.Rows = append(l.Rows, singleRow(m, id, left[id]))
		}
	}
	return nil
}

// choices is the problem of what to buy, with the slots of kits.
type choices struct {
	plan.Problem
	kits []int
}

func (c *choices) slot(name string, options []plan.Option) int {
	c.Slots = append(c.Slots, plan.Slot{Name: name, Options: options})
	return len(c.Slots) - 1
}

// problem has a slot for each kit, how many of it are bought, and one for each
// number, how many are bought singly. What the kits give of a number is counted
// from kit to kit, as far as it is needed.
func problem(m *maker, parts []graph.PartID) choices {
	var c choices
	for _, kit := range m.kits {
		most := 0
		for _, id := range parts {
			if q := kit.Holds(id); q > 0 {
				most = max(most, (m.wanted[id].quantity+q-1)/q)
			}
		}
		c.kits = append(c.kits, c.slot(string(kit.ID), buys(most, countsKit(m, kit), kit.Pieces())))
	}
	for _, id := range parts {
		need := m.wanted[id].quantity
		singly := need
		if m.wanted[id].kitOnly {
			singly = 0
		}
		single := c.slot(string(id), buys(singly, counts(m, id), 1))
		var before []int
		for k, kit := range m.kits {
			if q := kit.Holds(id); q > 0 {
				before = []int{c.count(string(id), need, q, c.kits[k], before)}
			}
		}
		d := plan.Demand{Name: string(id), Slots: append([]int{single}, before...)}
		for had := range need + 1 {
			switch {
			case need-had > singly:
			case len(before) > 0:
				d.Allowed = append(d.Allowed, plan.Combination{Options: []int{need - had, had}})
			case had == 0:
				d.Allowed = append(d.Allowed, plan.Combination{Options: []int{need}})
			}
		}
		c.Demands = append(c.Demands, d)
	}
	return c
}

// count adds a slot for what the kits up to one give of a number, and the demand
// that it counts rightly; before is the slot up to the kit before, if any.
func (c *choices) count(name string, need, each, kit int, before []int) int {
	at := c.slot(name+" out of kits", slices.Repeat([]plan.Option{{}}, need+1))
	d := plan.Demand{Name: name + " out of " + c.Slots[kit].Name, Slots: append([]int{kit, at}, before...)}
	for n := range c.Slots[kit].Options {
		for had := range need + 1 {
			if len(before) == 0 && had > 0 {
				break
			}
			options := append([]int{n, min(need, had+n*each)}, slices.Repeat([]int{had}, len(before))...)
			d.Allowed = append(d.Allowed, plan.Combination{Options: options})
		}
	}
	c.Demands = append(c.Demands, d)
	return at
}

// buys are the options of buying none up to most of something.
func buys(most, cents, pieces int) []plan.Option {
	options := make([]plan.Option, most+1)
	for n := range options {
		options[n] = plan.Option{Cost: plan.Cost{Money: n * cents, Parts: n * pieces, Distance: min(n, 1)}}
	}
	return options
}

// kitRow buys some of a kit, and takes what it gives off what is left.
func kitRow(m *maker, kit graph.Part, n int, left map[graph.PartID]int) Row {
	row := row(m, kit.ID, kit.Name, n)
	row.Over = n * kit.Pieces()
	var unpriced []string
	for _, c := range kit.Contains {
		gives := min(left[c.Part], n*c.Quantity)
		if gives == 0 {
			continue
		}
		left[c.Part] -= gives
		row.Over -= gives
		row.Gives = append(row.Gives, evidence.ContentLine{Part: c.Part, Quantity: gives})
		if m.prices[c.Part].text == "" && !m.wanted[c.Part].kitOnly {
			unpriced = append(unpriced, string(c.Part))
		}
		join(&row, m.wanted[c.Part])
	}
	switch {
	case len(unpriced) == 0:
	case len(unpriced) == len(row.Gives):
		row.Remarks = append(row.Remarks, "nobody gave a price for any of that by itself: ask for it before you buy the kit")
	default:
		row.Remarks = append(row.Remarks, "nobody gave a price for "+strings.Join(unpriced, ", ")+
			" by itself: ask for it before you buy the kit")
	}
	return tidy(row)
}

func singleRow(m *maker, id graph.PartID, n int) Row {
	row := row(m, id, m.parts[id].Name, n)
	join(&row, m.wanted[id])
	return tidy(row)
}

func row(m *maker, id graph.PartID, name string, n int) Row {
	p := m.prices[id]
	row := Row{Part: id, Name: name, Quantity: n, Price: p.text, Currency: p.currency, Seller: p.seller}
	if p.text != "" {
		row.Sum = float64(p.cents*n) / 100
	}
	return row
}

func join(r *Row, w *wanting) {
	r.For = append(r.For, w.asked...)
	r.At = append(r.At, w.at...)
	r.Why = append(r.Why, w.why...)
	r.Remarks = append(r.Remarks, w.remarks...)
	r.Safety = weightier(r.Safety, w.safety)
	r.HoldsUp = max(r.HoldsUp, w.holdsUp)
}

// tidy has each thing said once.
func tidy(r Row) Row {
	r.For, r.At, r.Why, r.Remarks = lists.Unique(r.For), lists.Unique(r.At), lists.Unique(r.Why), lists.Unique(r.Remarks)
	return r
}
