package donor

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// recheck puts a whole plan to the swap engine, which reads what touches it and
// judges it from the start: the planner is not taken at its word. What does not
// fit, or is unknown, must be what the plan says it is; anything else is a
// *planFault.
func recheck(p *planner, after *machine.Setup, ways []donorWay, d *DonorPlan) (swap.SwapAnswer, error) {
	j, err := swap.Judge(p.ctx, p.stood, after, swap.Asked{Ready: true})
	a, outcomes := j.Answer, j.Outcomes
	if err != nil {
		return a, err
	}
	accounted := map[examine.OutcomeID]donorWay{}
	for i, way := range ways {
		for _, o := range outcomes {
			if o.Key() == way.outcome.Key() {
				ways[i].get = remeasured(way.get, o)
			}
		}
		accounted[way.outcome.Key()] = way
	}
	var faults []string
	var loose []graph.PositionID
	for _, o := range outcomes {
		if examine.IsOfPart(o) || isSettled(o) {
			continue
		}
		way, ok := accounted[pairKey(o)]
		// Less work than was planned for is none: the engine may see a bearing to buy where the planner, which did
		// not look at the shaft, has a ring turned.
		if !ok || way.outcome.After != o.After || examine.EffortOf(way.outcome.Checks) < examine.EffortOf(o.Checks) {
			if o.What == examine.OfSupport {
				loose = append(loose, o.Ends[1].Position)
			}
			faults = append(faults, fmt.Sprintf("%s %s (%s): %s; planned: %s %s", o.What, queries.LocalName(o.ID), o.After,
				o.Why,
				way.outcome.After, way.outcome.Why))
		}
	}
	if len(faults) > 0 {
		return a, &planFault{faults, lists.Kept(loose, func(id graph.PositionID) bool { return mayGo(p, id) })}
	}
	d.AsBefore = asBefore(outcomes)
	a.Get = madeOf(ways)
	a.Renew = swap.WithoutOrdered(a.Renew, a.Get)
	a.Then, err = withAllMade(p, after, j, ways)
	return a, err
}

// remeasured are things to make with the sizes that the whole plan gives them: how
// far a caliper's bracket reaches sideways hangs on the wheel, which the planner
// chooses apart from it.
func remeasured(gets []swap.Get, o examine.Outcome) []swap.Get {
	gets = slices.Clone(gets)
	for _, c := range o.Checks {
		for _, order := range c.Orders {
			for i, g := range gets {
				if g.Part == "" && g.What == order.Kind && g.Text == order.Text {
					gets[i].Spec = order.Spec
				}
			}
		}
	}
	return gets
}

// pairKey is the key of an outcome, of a pair that by its first position, whichever of the
// two was changed.
func pairKey(o examine.Outcome) examine.OutcomeID {
	key := o.Key()
	if o.What == examine.OfPair {
		key.ID = min(o.ID, string(machine.OtherSide(graph.PositionID(o.ID))))
	}
	return key
}

func madeOf(ways []donorWay) []swap.Get {
	var gets []swap.Get
	for _, way := range ways {
		gets = append(gets, way.get...)
	}
	return gets
}

// withAllMade is what the plan comes to once its adapters are on and what is to be
// made is made: the machine is judged again with all of it, but for what no rule can
// judge.
func withAllMade(p *planner, after *machine.Setup, j swap.Judgement, ways []donorWay) (*swap.SwapThen, error) {
	left, err := onceMade(p, after, ways)
	if err != nil || left == nil {
		return nil, err
	}
	left = append(left, swap.Answered(lists.Kept(slices.Clone(j.Outcomes), examine.IsSaid), madeOf(ways))...)
	t, err := j.Then(p.ctx, putOnAll(ways).On(after, nil), madeOf(ways), left, j.Answer.Numbers)
	if err != nil {
		return nil, err
	}
	t.OnceMade = slices.ContainsFunc(madeOf(ways), swap.Get.IsOrdered)
	for _, o := range left {
		if !isSettled(o) {
			t.Left = append(t.Left, o)
		}
	}
	return t, nil
}
