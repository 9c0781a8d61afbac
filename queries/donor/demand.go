package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
)

// demand is a connection that must hold, with the slots among its places. One that is
// Unplanned need not: what does not hold of it counts as an unknown.
type demand struct {
	examine.Connection
	reads   map[graph.PositionID][]string // as Connection.Reads
	looksAt map[graph.PositionID]string   // what it reads, by place, once asked for
	slots   []int
	tried   map[string]*trial
	// options and ways are the combinations that hold, and how.
	options [][]int
	ways    []*donorWay // shared by combinations that measure the same; nil where there is nothing to it
	// holdsAnyway is true when every combination holds and costs nothing.
	holdsAnyway bool
	outside     *outside // while it is enumerated; nil where nothing is known
	lot         *lot     // of one that only counts what is taken out of boxes and offers
}

// key names the demand among all of a machine.
func (d *demand) key() examine.OutcomeID { return examine.OutcomeID{What: d.What, ID: d.ID} }

// gather reads what connects the slots that may take another part, and makes
// the demands of it. What was judged before stays.
func gather(p *planner) error {
	var at []graph.PositionID
	for _, s := range p.slots {
		if s.grown && len(s.options) > 1 || s.isGoal() {
			at = append(at, s.at)
		}
	}
	around, err := examine.ConnectionsAt(p.ctx, p.shape, at)
	if err != nil {
		return err
	}
	around.Circuits = slices.DeleteFunc(around.Circuits,
		func(c graph.Circuit) bool { return queries.LocalName(string(c.ID)) == examine.NewCircuit })
	addNewCircuit(p, around, at)
	p.around, p.demands = around, nil
	meets := map[graph.PositionID][]*demand{}
	for _, c := range around.List(p.shape, at) {
		d := &demand{Connection: c, reads: c.Reads()}
		for _, id := range c.Places {
			meets[id] = append(meets[id], d)
		}
		p.demands = append(p.demands, d)
	}
	p.meets, p.gathered = meets, slices.Clone(p.demands)
	return nil
}

// addNewCircuit joins those parts that work by a fluid and may sit where no
// circuit is: one of its members may have none, as long as it stays.
func addNewCircuit(p *planner, around *examine.Connections, at []graph.PositionID) {
	fluid := p.shape
	for _, id := range at {
		for _, o := range p.slots[p.slotAt[id]].options {
			if part := p.before.Library().Part(o.part); !o.other && machine.HasKind(part, "fluid") &&
				!machine.HasKind(fluid.Seat(id).Part, "fluid") {
				fluid = setupWith(p, fluid, map[graph.PositionID]graph.PartID{id: o.part})
			}
		}
	}
	around.AddNewCircuit(fluid, at)
}

// hangsOnPrices reports whether what is made for a demand stands for a part that
// could be bought: a line, a spacer.
func (d *demand) hangsOnPrices() bool { return d.What == examine.OfRun || d.What == examine.OfStack }

// hasLeftOut reports whether some option of its slots is left out already: it may be
// what the demand does not hold with.
func (d *demand) hasLeftOut(alive [][]bool) bool {
	return slices.ContainsFunc(d.slots, func(i int) bool { return slices.Contains(alive[i], false) })
}

// isDead reports whether a demand allows nothing.
func (d *demand) isDead() bool { return !d.holdsAnyway && len(d.ways) == 0 }

// floor is the least of each level that a demand costs however it holds. Money is left
// out: what has no price counts more the more parts are known.
func (d *demand) floor() plan.Cost {
	var floor plan.Cost
	for i, way := range d.ways {
		switch {
		case way == nil:
			return plan.Cost{}
		case i == 0:
			floor = way.cost
		default:
			floor = leastOfEach(floor, way.cost)
		}
	}
	floor.Money = 0
	return floor
}

// asked is the demand as the solver is asked, by a name.
func (d *demand) asked(name string) plan.Demand {
	one := plan.Demand{Name: name, Slots: d.slots, Allowed: make([]plan.Combination, 0, len(d.ways))}
	for i, way := range d.ways {
		one.Allowed = append(one.Allowed, plan.Combination{Options: d.options[i], Name: way.name, Cost: way.cost})
	}
	return one
}

// remedies are the places at which another part might put right, or make cheaper, some
// combination that was tried.
func (d *demand) remedies() []graph.PositionID {
	var places []graph.PositionID
	for _, t := range d.tried {
		places = append(places, t.upset...)
	}
	return lists.Unique(places)
}

// isOfPlaces reports whether a demand is one of what meets on the machine, not of how
// much there is of something.
func (d *demand) isOfPlaces() bool { return d.lot == nil && len(d.Places) > 0 }

// looks is what a demand reads at a place, as one text.
func (d *demand) looks(id graph.PositionID) string {
	text, have := d.looksAt[id]
	if have {
		return text
	}
	text = "everything"
	if names, some := d.reads[id]; some {
		text = strings.Join(names, " ")
	}
	if d.looksAt == nil {
		d.looksAt = map[graph.PositionID]string{}
	}
	d.looksAt[id] = text
	return text
}
