package differ

import (
	"context"
	"reflect"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// loadOutcomes judges, on the machine as built, everything that each part meets
// in its place on the other machine.
func (d *differing) loadOutcomes(ctx context.Context, at []graph.PositionID) error {
	stands := map[graph.VariantID]*stand{}
	for _, v := range slices.Concat(d.a.Variants, d.b.Variants) {
		if stands[v.ID] != nil {
			continue
		}
		here := lists.Kept(slices.Clone(at),
			func(id graph.PositionID) bool { return slices.Contains(d.positions[id].On, v.ID) })
		s, err := newStand(ctx, machine.StartIn(d.library, v, ""), here)
		if err != nil {
			return err
		}
		stands[v.ID] = s
	}
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, b := d.sides(local, pair)
			if len(a) == 0 || len(b) == 0 || slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
				continue
			}
			x, y := facing(a, b)
			toB, toA := d.transplants(x, y, d.positions[a[0].Position], d.positions[b[0].Position], pair)
			for _, t := range []transplant{toB, toA} {
				key := swapKeyOf(t)
				if _, done := d.outcomes[key]; done || t.part.ID == "" || t.part.ID == t.sitting {
					continue
				}
				outcomes, err := stands[t.onOther].judge(ctx, t)
				if err != nil {
					return err
				}
				d.outcomes[key] = outcomes
			}
		}
	}
	return nil
}

// stand is one machine as built, on which parts are tried, with all that meets
// there.
type stand struct {
	setup  *machine.Setup
	before *examine.Before
	meets  map[graph.PositionID][]examine.Connection
}

// newStand reads what meets the positions of a machine, in a few calls for all of
// them.
func newStand(ctx context.Context, s *machine.Setup, at []graph.PositionID) (*stand, error) {
	around, err := examine.ConnectionsAt(ctx, s, at)
	if err != nil {
		return nil, err
	}
	st := &stand{setup: s, before: examine.From(s), meets: map[graph.PositionID][]examine.Connection{}}
	for _, c := range around.List(s, nil) {
		if c.What == examine.OfFinish {
			continue // a part of another colour goes on all the same
		}
		for _, id := range c.Places {
			st.meets[id] = append(st.meets[id], c)
		}
	}
	return st, nil
}

// judge judges everything that a part meets in its new place.
func (st *stand) judge(ctx context.Context, t transplant) ([]examine.Outcome, error) {
	after, err := st.setup.With(ctx, map[graph.PositionID]graph.PartID{t.to.ID: t.part.ID})
	if err != nil {
		return nil, err
	}
	var all []examine.Outcome
	for _, c := range st.meets[t.to.ID] {
		if o, ok := c.Judge(st.before, after); ok {
			all = append(all, o)
		}
	}
	return all, nil
}

// jointsOf are the joints that the part has in its new place.
func (d *differing) jointsOf(t transplant) []graph.Joint {
	var joints []graph.Joint
	for _, o := range d.outcomes[swapKeyOf(t)] {
		if o.What == examine.OfJoint && slices.Contains(o.Joint.Places(), t.to.ID) { // not that of the caliper over a disc
			joints = append(joints, o.Joint)
		}
	}
	return joints
}

// further are the checks of runs, rows, discs, chains and circuits with the part
// in its new place.
func (d *differing) further(t transplant) []mating.Check {
	var checks []mating.Check
	for _, o := range d.outcomes[swapKeyOf(t)] {
		if o.What != examine.OfJoint {
			checks = append(checks, o.Checks...)
		}
	}
	return checks
}

// worse are those of further that come out worse than with what sits there, and
// are not said yet.
func (d *differing) worse(t transplant, said []mating.Check) []mating.Check {
	var checks []mating.Check
	for _, o := range d.outcomes[swapKeyOf(t)] {
		if o.What == examine.OfJoint || o.After <= o.Before {
			continue
		}
		for _, c := range o.Checks {
			if c.Verdict > o.Before && !slices.ContainsFunc(said, func(s mating.Check) bool { return reflect.DeepEqual(s, c) }) {
				checks = append(checks, c)
			}
		}
	}
	return checks
}

// openFeatures are the features with another dimension that no joint judges.
func (d *differing) openFeatures(t transplant) []string {
	judged := d.judgedFeatures(t)
	var open []string
	for _, diff := range t.compare.differences {
		if diff.Class != ClassCosmetic && diff.Dim != "" && !slices.Contains(judged, diff.Feature) {
			open = append(open, diff.Feature)
		}
	}
	return lists.Unique(open)
}
