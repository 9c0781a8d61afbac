package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// donorWay is one way for a demand to hold with certain parts on.
type donorWay struct {
	outcome examine.Outcome
	cost    plan.Cost
	name    string
	get     []swap.Get // adapters to get, things to make
	orders  []mating.Order
	through graph.Part    // the adapter of get; zero for none
	boxed   bool          // the adapter lies in a box
	modify  []DonorModify // what else has to be done
	guessed int           // of the money in its cost, what counts for prices that nobody knows
}

// waysFor are the ways for a demand to hold after an outcome; none when it
// can't.
func waysFor(p *planner, d *demand, o examine.Outcome) []donorWay {
	ways := waysWithout(p, d, o)
	if isSettled(o) {
		return ways
	}
	ways = append(ways, waysThrough(p, o)...)
	countUnpriced(p, d, ways)
	return ways
}

// waysWithout are those of the ways that need no part between.
func waysWithout(p *planner, d *demand, o examine.Outcome) []donorWay {
	free := donorWay{outcome: o}
	if isSettled(o) {
		return []donorWay{free}
	}
	var ways []donorWay
	switch o.After {
	case graph.FitsWithChanges:
		if way := wayOfChanges(p, o); !isRuledOut(p, o) && len(firmlyDisplaced(p, way)) == 0 {
			ways = append(ways, way)
		}
	case graph.Unknown:
		way := free
		way.cost = plan.Cost{Unknowns: unknownsOf(p, len(o.Safety) > 0)}
		ways = append(append(ways, way), waysDespite(p, o)...)
	case graph.DoesNotFit:
		ways = append(ways, waysDespite(p, o)...)
	}
	countUnpriced(p, d, ways)
	return ways
}

// countUnpriced has what has no price count, when plans are compared, as much
// as the dearest that could do the same: a price nobody knows must not win.
func countUnpriced(p *planner, d *demand, ways []donorWay) {
	dearest := 0
	for _, way := range ways {
		if !way.isUnpriced() {
			dearest = max(dearest, way.cost.Money)
		}
	}
	if d.hangsOnPrices() {
		for _, id := range d.Remedies(examine.Outcome{}) {
			if i, ok := p.slotAt[id]; ok {
				for _, o := range p.slots[i].options {
					if !o.unpriced {
						dearest = max(dearest, o.cost.Money)
					}
				}
			}
		}
	}
	for i := range ways {
		if ways[i].isUnpriced() {
			ways[i].cost.Money -= ways[i].guessed
			ways[i].guessed = unknownPrice(p, dearest, false)
			ways[i].cost.Money += ways[i].guessed
		}
	}
}

// wayOfChanges is the way of doing what the checks ask for. What has to be made
// to measure is never below the class "drill or shim".
func wayOfChanges(p *planner, o examine.Outcome) donorWay {
	way := donorWay{outcome: o}
	var s *machine.Setup // made for the first order
	for _, c := range o.Checks {
		if c.Verdict == graph.Fits {
			continue
		}
		orders := swap.UsefulOrders(p.before.Library(), o, c.Orders)
		if s == nil && len(orders) > 0 {
			s = setupOf(p, o)
		}
		way.orders = append(way.orders, orders...)
		way.get = append(way.get, lists.Mapped(orders, func(order mating.Order) swap.Get { return madeGet(s, order, o) })...)
		way.cost.Effort = max(way.cost.Effort, int(c.Effort))
		if len(c.Do) > 0 && len(orders) == 0 {
			way.modify = append(way.modify, DonorModify{At: o.What + " " + queries.LocalName(o.ID), Do: strings.Join(c.Do, "; "),
				Effort: c.Effort.String(), spacers: c.Spacers})
			if c.Spacers && sparesSpacers(p, o) {
				way.modify[len(way.modify)-1].Do += "; make others so, and keep those that are there as they are"
			}
		}
	}
	way.cost.Parts = len(way.get)
	// a part that somebody lists comes before one to be ordered by its sizes
	way.cost.Distance = 2 * len(way.get)
	way.get = append(way.get, boltsFor(p, s, o, way.orders)...) // hardware that goes with what is made
	if len(way.get) > 0 {
		way.cost.Effort = max(way.cost.Effort, int(graph.EffortDrillShim))
	}
	way.name = wayName(way)
	addMoreBolts(p, &way)
	return way
}

// addMoreBolts has a way get all the bolts that the holes of its joint take, where there
// are too few: each is a part.
func addMoreBolts(p *planner, way *donorWay) {
	if way.outcome.What != examine.OfJoint {
		return
	}
	s := setupOf(p, way.outcome)
	for _, g := range swap.MoreBolts(s, way.outcome.Joint) {
		if slices.ContainsFunc(way.get, func(have swap.Get) bool { return have.Position == g.Position }) {
			continue
		}
		way.cost.Parts += g.Quantity
		way.cost.Money += price(p, p.before.Library().Part(g.Part), g.Quantity)
		way.get = append(way.get, g.Closing(way.outcome))
	}
}

// makes reports whether a way makes or orders anything, or puts a part between.
func (way donorWay) makes() bool {
	return slices.ContainsFunc(way.get, func(g swap.Get) bool { return !g.IsMore() })
}

// isUnpriced reports whether a way makes, orders or puts between something that has no price.
func (way donorWay) isUnpriced() bool {
	return !way.boxed && slices.ContainsFunc(way.get, func(g swap.Get) bool { return !g.IsMore() && g.Price == "" })
}

// boltsFor are the bolts that what an outcome orders changes, on the setup that it was
// judged on.
func boltsFor(p *planner, s *machine.Setup, o examine.Outcome, orders []mating.Order) []swap.Get {
	var gets []swap.Get
	for _, order := range orders {
		for _, bolts := range swap.BoltsFor(s, p.around.Known, o, order, swap.PlaceOfOrder(s, o, order)) {
			gets = append(gets, bolts.Closing(o))
		}
	}
	return gets
}

func madeGet(s *machine.Setup, order mating.Order, o examine.Outcome) swap.Get {
	g := swap.Ordered(s, o, order)
	g.Quantity = max(1, g.Quantity)
	return g.Closing(o)
}

func wayName(way donorWay) string {
	names := lists.Mapped(way.get, func(g swap.Get) string { return g.Text })
	return strings.Join(append(names, lists.Mapped(way.modify, func(m DonorModify) string { return m.Do })...), "; ")
}

// waysDespite are the ways to make good what does not fit: a line made to
// measure, or hardware bought by its sizes. That somebody made it fit is none
// against the dimensions: what was on then, the words of a finding do not tell.
func waysDespite(p *planner, o examine.Outcome) []donorWay {
	var ways []donorWay
	if way := wayOfChanges(p, o); way.makes() && madeToMeasure(o) && len(firmlyDisplaced(p, way)) == 0 {
		if o.What == examine.OfJoint { // hardware is bought, not made
			way.cost.Effort = int(graph.EffortHandTools)
		}
		ways = append(ways, way)
	}
	return ways
}

// madeToMeasure reports whether what an outcome orders does away with the
// fault: another line, or other bolts in the same holes.
func madeToMeasure(o examine.Outcome) bool {
	if o.What == examine.OfRun {
		return true
	}
	return o.What == examine.OfJoint && examine.BlamesBolts(o.Checks) && !slices.ContainsFunc(o.Checks,
		func(c mating.Check) bool {
			return c.Verdict == graph.DoesNotFit && len(c.Orders) == 0
		})
}
