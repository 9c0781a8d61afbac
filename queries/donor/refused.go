package donor

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// DonorRefused is a part that was meant to come on with its assembly and does not go
// in: what is made or ordered for its very place goes there instead, for a place has
// one part. Of a part that was asked for by its own place there is no such plan.
type DonorRefused struct {
	DonorPart
	Why     string `json:"why"`
	Instead string `json:"instead"` // what is made or ordered, in one line
}

// refuse takes out of a plan the parts whose places are filled by something made or
// ordered, and says so.
func refuse(p *planner, d *DonorPlan, ways []donorWay) {
	for _, way := range ways {
		for _, one := range displacedBy(p, way) {
			d.refuse(one.at, way.outcome.Why, one.instead)
		}
	}
}

// displaced is a place whose part would give way to what a way makes or orders.
type displaced struct {
	at      graph.PositionID
	instead string // what would go there, in one line
}

// displacedBy are the places that a way fills with something made or ordered.
func displacedBy(p *planner, way donorWay) []displaced {
	var found []displaced
	s := setupOf(p, way.outcome)
	for _, order := range way.orders {
		found = append(found, displaced{replacedBy(s, way.outcome, order), order.Text})
	}
	for _, g := range way.get {
		if g.What == swap.GetBolts && !g.IsMore() {
			found = append(found, displaced{g.Position, g.Text})
		}
	}
	return found
}

// firmlyDisplaced are the places that must stay as they are, or must get the part that
// was asked for at that very place, and that a way would fill with something else.
func firmlyDisplaced(p *planner, way donorWay) []displaced {
	if len(p.keep)+len(p.pinned) == 0 {
		return nil
	}
	return lists.Kept(displacedBy(p, way), func(d displaced) bool { return p.keep[d.at] || p.pinned[d.at] })
}

// noteDisplaced notes, where there is no plan, what was asked for or kept and would
// give way with all else as it is, and that what is made in its place would open the
// way.
func noteDisplaced(p *planner, a *DonorAnswer) {
	if len(a.Plans) > 0 {
		return
	}
	for _, d := range p.gathered {
		o, ok := outcomeOn(p, d, p.base)
		if !ok || isSettled(o) || o.After == graph.Unknown {
			continue
		}
		for _, one := range firmlyDisplaced(p, wayOfChanges(p, o)) {
			a.Notes = append(a.Notes, "with all else as it is, "+one.text(p))
			if a.Clash != nil && !p.keep[one.at] {
				a.Clash.Opens = append(a.Clash.Opens, fmt.Sprintf("made for %s: %s; then do not ask for another there",
					one.at.Local(), one.instead))
			}
		}
	}
	a.Notes = inOrder(a.Notes)
	if a.Clash != nil {
		a.Clash.Opens = inOrder(a.Clash.Opens)
	}
}

func (d displaced) text(p *planner) string {
	if p.keep[d.at] {
		return fmt.Sprintf("what is kept at %s would give way to %s", d.at.Local(), d.instead)
	}
	return fmt.Sprintf("what was asked for at %s does not go in: %s would go there", d.at.Local(), d.instead)
}

// replacedBy is the place whose part gives way to what is ordered for an outcome;
// empty for what goes beside, between or into parts that stay.
func replacedBy(s *machine.Setup, o examine.Outcome, order mating.Order) graph.PositionID {
	if order.Instead != "" && isWhole(s, order.Instead, order.Kind) {
		return order.Instead
	}
	switch {
	case order.Under != "" || o.What == examine.OfDisc:
		return "" // it packs the caliper
	case o.What == examine.OfStack: // the other side of a row may have a spacer where this one has none
		if isOfKind(s, order.Place, order.Kind) {
			return order.Place
		}
		return ""
	}
	places := slices.Clone(o.Joint.Fasteners)
	for _, e := range o.Ends {
		places = append(places, e.Position)
	}
	for _, id := range places {
		if order.Instead == "" && isOfKind(s, id, order.Kind) {
			return id
		}
	}
	return ""
}

// isWhole reports whether an order makes the whole part at a place anew, and not
// only a dimension of it by something put in or on.
func isWhole(s *machine.Setup, id graph.PositionID, kind string) bool {
	switch kind {
	case "hose", "cable", "lead", "chain", "belt", "bolt", "stud", "banjo bolt", "circlip":
		return true
	}
	return isOfKind(s, id, kind)
}

// isOfKind reports whether what belongs at a place is of the sort that an order
// names: a front-wheel bearing for a bearing.
func isOfKind(s *machine.Setup, id graph.PositionID, kind string) bool {
	return swap.IsOrderFor(kind, s.Position(id).Kind) || kind == "spacer" && examine.IsSpacer(s.Seat(id))
}
