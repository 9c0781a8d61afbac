package swap

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Trail follows one consequence of a swap from part to part to its end.
type Trail struct {
	Text  string      `json:"text"` // "front-brake/master-cylinder -> outlet -> front-brake/hose-upper -> ..."
	Steps []TrailStep `json:"steps"`
	Ends  string      `json:"ends"` // "mates", "order", "measure" or "open"
}

// TrailStep is one place on a trail.
type TrailStep struct {
	Position graph.PositionID `json:"position"`
	Feature  string           `json:"feature,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	What     string           `json:"what"` // what happens there
}

// How a trail ends.
const (
	EndsMates   = "mates"   // a part in the graph closes the gap
	EndsOrder   = "order"   // something is to be made or ordered
	EndsMeasure = "measure" // something must be measured first
	EndsOpen    = "open"    // nothing is known that closes the gap
)

func ended(steps []TrailStep, last TrailStep, how string) Trail {
	t := Trail{Steps: append(slices.Clone(steps), last), Ends: how}
	t.Text = trailText(t.Steps)
	return t
}

// orderWords is "to order: left spacer 23 mm long and right spacer 23 mm long". A
// making list says what to do by itself.
func orderWords(orders []mating.Order) string {
	text := strings.Join(lists.Mapped(orders, func(o mating.Order) string { return o.Text }), " and ")
	if orders[0].Kind == GetWork {
		return text
	}
	return "to order: " + text
}

// UsefulOrders leaves out bushes for holes that a bracket ordered for the same
// joint does away with, and a bolt in the place of what is more than a bolt: an
// axle, a bleed screw, a pivot.
func UsefulOrders(l *machine.Library, of examine.Outcome, orders []mating.Order) []mating.Order {
	if isMoreThanBolt(l, of) {
		orders = lists.Kept(slices.Clone(orders), func(o mating.Order) bool { return o.Kind != "bolt" })
	}
	bracket := slices.ContainsFunc(of.Checks, func(c mating.Check) bool {
		return slices.ContainsFunc(c.Orders, func(o mating.Order) bool { return o.Kind == "bracket" })
	})
	return lists.Kept(slices.Clone(orders), func(o mating.Order) bool { return !bracket || o.Kind != "bush" })
}

// isMoreThanBolt reports whether the outside thread of a joint belongs to a part
// that is described by more than its thread.
func isMoreThanBolt(l *machine.Library, of examine.Outcome) bool {
	return slices.ContainsFunc(of.Ends, func(e examine.End) bool {
		part := l.Part(e.Part)
		if f, ok := part.Feature(e.Feature); !ok || f.Kind != "male-thread" {
			return false
		}
		return slices.ContainsFunc(part.Features, func(f graph.Feature) bool {
			return f.Kind != "male-thread" && f.Kind != "finish"
		})
	})
}

func featureAt(o examine.Outcome, id graph.PositionID) string {
	for _, e := range o.Ends {
		if e.Position == id {
			return e.Feature
		}
	}
	return ""
}

// trailText is the trail in one line: each position once, then its feature.
func trailText(steps []TrailStep) string {
	var words []string
	last := graph.PositionID("")
	for _, s := range steps {
		if s.Position != last {
			words = append(words, s.Position.Local())
		}
		if s.Feature != "" && (len(words) == 0 || words[len(words)-1] != s.Feature) {
			words = append(words, s.Feature)
		}
		last = s.Position
	}
	return strings.Join(words, " -> ")
}
