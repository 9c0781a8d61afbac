package plan

import (
	"context"
	"errors"
	"fmt"
	"strings"
)

// Problem is what to choose and what must hold. The zero Problem has nothing to
// choose and one plan, which costs nothing.
type Problem struct {
	Slots   []Slot
	Demands []Demand
}

// Slot is a place that takes exactly one of its options: a position, or
// anything else to decide once, such as the fluid of a circuit.
type Slot struct {
	Name    string // for legends; need not be unique
	Options []Option
}

// Option is one thing a slot may take: the part as built, the donor's, one from
// a box, one to be made.
type Option struct {
	Name string
	Cost Cost
}

// Demand is something that must hold between a few slots: a joint, a run, a
// stack. It holds when the options taken are one of the allowed combinations.
// A demand that allows nothing makes every plan impossible.
type Demand struct {
	Name    string
	Slots   []int // indices into Problem.Slots, each at most once, at least one
	Allowed []Combination
}

// Combination is one way for a demand to hold, and what it takes besides the
// parts themselves: an adapter, a shim. The same options may be listed several
// times with different adapters; a plan uses one of them.
type Combination struct {
	Options []int // an option index for each of the demand's slots, in order
	Name    string
	Cost    Cost
}

// Cost is what an option, a combination or a whole plan costs. All fields are
// zero or more; in a plan Effort is the highest of its parts, every other field
// the sum. The zero Cost is as built.
type Cost struct {
	Unknowns int // safety positions left unknown
	Effort   int // effort class, 0 to MostEffort
	Parts    int // parts to find or make
	// Money is in the smallest unit of one currency. A price nobody knows has
	// no number: callers leave it out and say so.
	Money    int
	Distance int // changes against as built
}

// MostEffort is the highest effort class a cost may have.
const MostEffort = 15

// MostTotal is the highest a plan's Unknowns, Parts, Money or Distance may add
// up to, in its own unit.
const MostTotal = 1 << 40

// Plus is the cost of two things together.
func (c Cost) Plus(d Cost) Cost {
	return Cost{c.Unknowns + d.Unknowns, max(c.Effort, d.Effort), c.Parts + d.Parts, c.Money + d.Money,
		c.Distance + d.Distance}
}

// check says what is wrong with a problem before anything is solved: a slot
// without options, an index out of range, a slot twice in one demand, a
// combination of the wrong length, a cost below zero or too high.
func (p Problem) check() error {
	for i, s := range p.Slots {
		if len(s.Options) == 0 {
			return fmt.Errorf("plan: slot %d (%s) has no option", i, s.Name)
		}
		for _, o := range s.Options {
			if err := o.Cost.check(); err != nil {
				return fmt.Errorf("plan: slot %d (%s), option %s: %w", i, s.Name, o.Name, err)
			}
		}
	}
	for i, d := range p.Demands {
		if err := p.checkDemand(d); err != nil {
			return fmt.Errorf("plan: demand %d (%s): %w", i, d.Name, err)
		}
	}
	for _, l := range levels() {
		if p.most(l) > MostTotal {
			return fmt.Errorf("plan: %s may add up to %d, more than %d", l, p.most(l), MostTotal)
		}
	}
	return nil
}

func (p Problem) checkDemand(d Demand) error {
	if len(d.Slots) == 0 {
		return fmt.Errorf("names no slot")
	}
	seen := map[int]bool{}
	for _, s := range d.Slots {
		if s < 0 || s >= len(p.Slots) {
			return fmt.Errorf("slot %d is not one of %d", s, len(p.Slots))
		}
		if seen[s] {
			return fmt.Errorf("slot %d is named twice", s)
		}
		seen[s] = true
	}
	for j, c := range d.Allowed {
		if len(c.Options) != len(d.Slots) {
			return fmt.Errorf("combination %d has %d options for %d slots", j, len(c.Options), len(d.Slots))
		}
		for k, o := range c.Options {
			if o < 0 || o >= len(p.Slots[d.Slots[k]].Options) {
				return fmt.Errorf("combination %d: slot %d has no option %d", j, d.Slots[k], o)
			}
		}
		if err := c.Cost.check(); err != nil {
			return fmt.Errorf("combination %d: %w", j, err)
		}
	}
	return nil
}

func (c Cost) check() error {
	for _, l := range levels() {
		if v := at(c, l); v < 0 || v > MostTotal {
			return fmt.Errorf("%s is %d, must be 0 to %d", l, v, MostTotal)
		}
	}
	if c.Effort > MostEffort {
		return fmt.Errorf("effort is %d, must be 0 to %d", c.Effort, MostEffort)
	}
	return nil
}

// most is the highest total any choice could have at a level.
func (p Problem) most(l level) int {
	total := 0
	for _, s := range p.Slots {
		high := 0
		for _, o := range s.Options {
			high = max(high, at(o.Cost, l))
		}
		total = l.join(total, high)
	}
	for _, d := range p.Demands {
		high := 0
		for _, c := range d.Allowed {
			high = max(high, at(c.Cost, l))
		}
		total = l.join(total, high)
	}
	return total
}

// String is the cost for a legend: what is zero is left out, "(free)" for none.
func (c Cost) String() string {
	var parts []string
	for _, l := range levels() {
		if v := at(c, l); v != 0 {
			parts = append(parts, fmt.Sprintf("%s %d", l, v))
		}
	}
	if len(parts) == 0 {
		return "(free)"
	}
	return "(" + strings.Join(parts, ", ") + ")"
}

// Less reports whether c is a smaller cost than d: the first level that
// differs, in the order of p, decides.
func (c Cost) Less(d Cost, p Prefer) bool { return compare(c, d, p) < 0 }

// costOf checks a choice against every demand and adds up what it costs:
// through names, for each demand, the combination used. The error says which
// demand does not hold.
func (p Problem) costOf(choice, through []int) (Cost, error) {
	var sum Cost
	if len(choice) != len(p.Slots) || len(through) != len(p.Demands) {
		return Cost{}, fmt.Errorf("plan: %d options for %d slots, %d combinations for %d demands", len(choice), len(p.Slots),
			len(through), len(p.Demands))
	}
	for s, o := range choice {
		if o < 0 || o >= len(p.Slots[s].Options) {
			return Cost{}, fmt.Errorf("plan: slot %d (%s) has no option %d", s, p.Slots[s].Name, o)
		}
		sum = sum.Plus(p.Slots[s].Options[o].Cost)
	}
	for i, d := range p.Demands {
		if through[i] < 0 || through[i] >= len(d.Allowed) {
			return Cost{}, fmt.Errorf("plan: demand %d (%s) goes through no combination", i, d.Name)
		}
		c := d.Allowed[through[i]]
		for k, s := range d.Slots {
			if choice[s] != c.Options[k] {
				return Cost{}, fmt.Errorf("plan: demand %d (%s): combination %d does not have what slot %d takes", i, d.Name,
					through[i], s)
			}
		}
		sum = sum.Plus(c.Cost)
	}
	return sum, nil
}

// holds looks for a choice that meets the demands named, and gives all the
// demands it meets; nil when there is no such choice.
func (p *Problem) holds(ctx context.Context, demands []int) ([]int, error) {
	part := Problem{Slots: p.Slots, Demands: make([]Demand, 0, len(demands))}
	for _, d := range demands {
		part.Demands = append(part.Demands, p.Demands[d])
	}
	r := newRoom(&part, PreferEffort)
	if ok, err := r.consistent(ctx); !ok || err != nil {
		return nil, err
	}
	s := newSearch(r, mostSteps)
	if err := s.any(ctx); errors.Is(err, errImpossible) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	met := []int{}
	for i, d := range p.Demands {
		if allows(d, s.kept.Choice) {
			met = append(met, i)
		}
	}
	return met, nil
}
