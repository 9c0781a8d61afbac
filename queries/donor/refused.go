package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// DonorRefused is a part that was meant to come on and does not go in: what is made
// or ordered for its very place goes there instead, for a place has one part.
type DonorRefused struct {
	DonorPart
	Why     string `json:"why"`
	Instead string `json:"instead"` // what is made or ordered, in one line
}

// refuse takes out of a plan the parts whose places are filled by something made or
// ordered, and says so.
func refuse(p *planner, d *DonorPlan, ways []donorWay) {
	for _, way := range ways {
		s := setupOf(p, way.outcome)
		for _, order := range way.orders {
			d.refuse(replacedBy(s, way.outcome, order), way.outcome.Why, order.Text)
		}
		for _, g := range way.get {
			if g.What == swap.GetBolts {
				d.refuse(g.Position, way.outcome.Why, g.Text)
			}
		}
	}
}

func (d *DonorPlan) refuse(at graph.PositionID, why, instead string) {
	for _, list := range []*[]DonorPart{&d.Take, &d.Get} {
		for i, part := range *list {
			if at == "" || part.Position != at {
				continue
			}
			d.Refused = append(d.Refused, DonorRefused{part, why, instead})
			for k, g := range d.Make {
				if g.Text == instead {
					d.Make[k].Position = at
				}
			}
			*list = slices.Delete(slices.Clone(*list), i, i+1)
			break
		}
	}
}

// replacedBy is the place whose part gives way to what is ordered for an outcome;
// empty for what goes beside, between or into parts that stay.
func replacedBy(s *machine.Setup, o examine.Outcome, order mating.Order) graph.PositionID {
	if order.Instead != "" && isWhole(s, order.Instead, order.Kind) {
		return order.Instead
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
	case "hose", "cable", "lead", "chain", "bolt", "stud", "banjo bolt", "circlip":
		return true
	}
	return isOfKind(s, id, kind)
}

// isOfKind reports whether what belongs at a place is of the sort that an order
// names: a front-wheel bearing for a bearing.
func isOfKind(s *machine.Setup, id graph.PositionID, kind string) bool {
	kind = strings.ReplaceAll(kind, " ", "-")
	at := string(s.Position(id).Kind)
	return kind == at || strings.HasSuffix(at, "-"+kind) || kind == "spacer" && examine.IsSpacer(s.Seat(id))
}
