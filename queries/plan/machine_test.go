package plan

import (
	"fmt"
	"math/rand/v2"
)

// shape is the sort of machine a test makes up.
type shape struct {
	slots, least, most int // candidates a slot, from least to most
	loops              int // demands beyond a tree
	fixed              int // slots that must take something other than as built
	triples            int // demands over three slots
}

// machine makes up a problem shaped like a machine: positions in a tree of
// assemblies with loops, each with the part as built and other candidates. Two
// candidates mate when their faces at the joint agree, or through an adapter
// when they are next to each other. As built always mates with as built. All of
// it is invented.
func machine(rnd *rand.Rand, sh shape) Problem {
	var p Problem
	for i := range sh.slots {
		s := Slot{Name: fmt.Sprintf("slot-%d", i), Options: []Option{{Name: "as-built"}}}
		for k := range sh.least + rnd.IntN(sh.most-sh.least+1) - 1 {
			s.Options = append(s.Options, Option{fmt.Sprintf("part-%d", k+1), candidate(rnd)})
		}
		p.Slots = append(p.Slots, s)
	}
	for i := 1; i < sh.slots; i++ {
		near := max(0, i-6)
		p.Demands = append(p.Demands, joint(rnd, &p, near+rnd.IntN(i-near), i))
	}
	for range sh.loops {
		a := rnd.IntN(sh.slots - 2)
		p.Demands = append(p.Demands, joint(rnd, &p, a, min(sh.slots-1, a+2+rnd.IntN(6))))
	}
	for range sh.triples {
		a := rnd.IntN(sh.slots - 2)
		p.Demands = append(p.Demands, joint(rnd, &p, a, a+1, a+2))
	}
	for i := range sh.fixed {
		s := i * sh.slots / sh.fixed
		var d Demand
		d.Name, d.Slots = "take", []int{s}
		for o := 1; o < len(p.Slots[s].Options); o++ {
			d.Allowed = append(d.Allowed, Combination{Options: []int{o}})
		}
		p.Demands = append(p.Demands, d)
	}
	return p
}

func candidate(rnd *rand.Rand) Cost {
	c := Cost{Effort: rnd.IntN(4), Parts: 1 + rnd.IntN(2), Money: 5 * rnd.IntN(12), Distance: 1}
	if rnd.IntN(5) == 0 {
		c.Unknowns = 1
	}
	return c
}

// joint gives each option a face at the joint, as built the same one all round.
func joint(rnd *rand.Rand, p *Problem, slots ...int) Demand {
	d := Demand{Name: fmt.Sprint("joint-", slots), Slots: slots}
	faces := make([][]int, len(slots))
	for k, s := range slots {
		for range p.Slots[s].Options {
			faces[k] = append(faces[k], rnd.IntN(5))
		}
		faces[k][0] = 0
	}
	options := make([]int, len(slots))
	for {
		low, high := 9, 0
		for k, o := range options {
			low, high = min(low, faces[k][o]), max(high, faces[k][o])
		}
		if high-low <= 1 {
			c := Combination{Options: append([]int(nil), options...)}
			if high > low {
				c.Name, c.Cost = "adapter", Cost{Effort: 1 + rnd.IntN(3), Parts: 1, Money: 5 * rnd.IntN(6)}
			}
			d.Allowed = append(d.Allowed, c)
		}
		if !step(p, slots, options) {
			return d
		}
	}
}

// step counts options on like an odometer; false after the last.
func step(p *Problem, slots, options []int) bool {
	for k := range options {
		if options[k]++; options[k] < len(p.Slots[slots[k]].Options) {
			return true
		}
		options[k] = 0
	}
	return false
}
