package swap

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
)

// safetyOf is the class of the first outcome that something closes.
func safetyOf(a SwapAnswer, g Get) graph.Safety {
	for _, list := range [][]examine.Outcome{a.DoesNotMate, a.WithChanges, a.Unknown} {
		for _, o := range list {
			if g.doesClose(o) && len(o.Safety) > 0 {
				return o.Safety[0]
			}
		}
	}
	return graph.SafetyNone
}

// IsClosed reports whether something that is got or made closes an outcome.
func IsClosed(a SwapAnswer, o examine.Outcome) bool {
	return slices.ContainsFunc(a.Get, func(g Get) bool { return g.doesClose(o) })
}

// Closers says what has a part that was asked for go to its place, where it does not
// mate there as it is; or why it can't go there, where nothing closes that but another
// part in its place, or where it still does not fit with all that there is to get.
func Closers(a SwapAnswer, at graph.PositionID) (gets []Get, refused string) {
	isAt := func(o examine.Outcome) bool {
		return slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at })
	}
	if a.Then != nil {
		for _, o := range a.Then.Left {
			if o.After == graph.DoesNotFit && o.Before != graph.DoesNotFit && isAt(o) {
				return nil, o.Why
			}
		}
	}
	for _, o := range a.DoesNotMate {
		if !isAt(o) {
			continue
		}
		closing := lists.Kept(slices.Clone(a.Get), func(g Get) bool { return g.doesClose(o) })
		if len(closing) == 0 {
			return nil, o.Why
		}
		for _, g := range closing { // then it is not that part which goes there
			if g.What == GetPart && g.Position == at {
				return nil, o.Why + "; " + g.Text + " goes there"
			}
		}
		for _, g := range closing {
			if !slices.ContainsFunc(gets, func(h Get) bool { return h.Text == g.Text && h.Position == g.Position }) {
				gets = append(gets, g)
			}
		}
	}
	return gets, ""
}

// AgainstAt counts what does not mate at a place.
func AgainstAt(a SwapAnswer, at graph.PositionID) int {
	return len(lists.Kept(slices.Clone(a.DoesNotMate), func(o examine.Outcome) bool { return o.SpeaksOf(at) }))
}

// WhyNotOn tells of a machine why a part does not mate at a place of it, what stands
// there already aside; empty when nothing is against it. All of the machine is judged only
// where what was found by hand may be in dispute: that hangs on figures too.
func WhyNotOn(stood *examine.Before) func(context.Context, graph.PartID, graph.PositionID) (string, error) {
	return func(ctx context.Context, part graph.PartID, at graph.PositionID) (string, error) {
		after, err := stood.Setup().With(ctx, map[graph.PositionID]graph.PartID{at: part})
		if err != nil {
			return "", err
		}
		x, err := newJudging(ctx, stood, after)
		if err != nil {
			return "", err
		}
		met, err := x.met(ctx, againstScope(at))
		if err != nil || !slices.ContainsFunc(met.Outcomes, x.isDisputable) {
			return whyNotAt(met.Outcomes, at), err
		}
		j, err := Judge(ctx, stood, after, Asked{Bare: true})
		return whyNotAt(j.Outcomes, at), err
	}
}

// whyNotAt is the first of what says no at a place where nothing did; empty for none.
func whyNotAt(outcomes []examine.Outcome, at graph.PositionID) string {
	for _, o := range outcomes {
		if o.After == graph.DoesNotFit && o.Before != graph.DoesNotFit && o.SpeaksOf(at) {
			return o.Why
		}
	}
	return ""
}

// boxesOf is what lies in the boxes of the machine. A kit that is itself wanted stays whole.
func boxesOf(ctx context.Context, s *machine.Setup, needs []shop.Need) ([]machine.InBox, error) {
	if s.Bike == nil {
		return nil, nil
	}
	whole := map[graph.PartID]bool{}
	for _, n := range needs {
		whole[n.Part] = true
	}
	return machine.Boxed(ctx, s.Library(), *s.Bike, whole)
}

// NotToBeHad says what of a list stands against riding though all of it is on: what is sold
// no more, and a fluid of which nobody knows which.
func NotToBeHad(s *machine.Setup, l shop.List) []Hindrance {
	var all []Hindrance
	for _, w := range l.Wanted {
		if w.Safety != graph.SafetyNone {
			all = append(all, Judged(graph.Unknown, string(w.Part)+" for "+placesText(w.At),
				"it is sold no more: one must be found, and looked at"))
		}
	}
	for _, c := range l.Consumables {
		classed := slices.ContainsFunc(c.At, func(id graph.PositionID) bool { return s.SafetyAt(id) != graph.SafetyNone })
		if c.Open && classed {
			all = append(all, Judged(graph.Unknown, c.What+" of "+placesText(c.At), "grade: "+c.Grade))
		}
	}
	return all
}

func placesText(at []graph.PositionID) string {
	return strings.Join(lists.Mapped(slices.Clone(at), graph.PositionID.Local), ", ")
}

// ShopAnswer is one list of what to get for a swap or a plan.
type ShopAnswer struct {
	On   graph.VariantID `json:"on"`
	Bike graph.BikeID    `json:"bike,omitempty"`
	// Swaps are the parts that it is for.
	Swaps []SwapLine `json:"swaps"`
	// Offers are those that a plan buys, each whole; what they bring is not on the list.
	Offers []ShopOffer `json:"offers,omitempty"`
	shop.List
	Ready    bool              `json:"ready_to_ride"`
	NotReady []Hindrance       `json:"not_ready,omitempty"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// ShopOffer is an offer to buy, and what for.
type ShopOffer struct {
	Name    string             `json:"name"`
	Title   string             `json:"title,omitempty"`
	Price   string             `json:"price"`
	Postage string             `json:"postage,omitempty"` // empty when it is paid with another of its parcel
	For     []graph.PositionID `json:"for"`
}

// SafetyOpen reports whether the swap leaves something open that safety hangs on.
func (a ShopAnswer) SafetyOpen() bool { return !a.Ready || a.List.SafetyOpen() }
