package bike

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// BagWarning is hardware that would go into a place by mistake and do harm.
type BagWarning struct {
	Bag  string `json:"bag"` // where the wrong piece lies
	Item string `json:"item"`
	// At are the positions it must not go to, Right what belongs there.
	At     []graph.PositionID `json:"at,omitempty"`
	Right  string             `json:"right"`
	Safety graph.Safety       `json:"safety,omitempty"`
	Danger string             `json:"danger"` // "bottoms", "too short", "weaker", "binds"
	Why    string             `json:"why"`
}

// What a wrong bolt does.
const (
	DangerBottoms = "bottoms"
	DangerShort   = "too short"
	DangerWeaker  = "weaker"
	DangerBinds   = "binds"
)

// warnings looks, for every position that a bag goes to or is labelled for, at the bolts in all
// bags that would also start in its thread: one too long for a blind hole, too
// short to hold, of a weaker class where safety hangs on it, or of another
// pitch. Each piece is named once for each harm and right part.
func (t *bagTable) warnings(placed []placing) []BagWarning {
	found := map[string]*BagWarning{}
	var order []string
	for _, p := range placed {
		for _, s := range t.meant(p) {
			for _, w := range t.wrongAt(t.slots[s]) {
				key := w.Bag + "|" + w.Item + "|" + w.Danger + "|" + w.Right + "|" + w.Why
				if have := found[key]; have != nil {
					have.At = lists.Unique(append(have.At, w.At...))
					continue
				}
				found[key] = &w
				order = append(order, key)
			}
		}
	}
	all := lists.Mapped(order, func(key string) BagWarning { return *found[key] })
	slices.SortStableFunc(all, func(x, y BagWarning) int {
		return cmp.Or(cmp.Compare(safetyPlace(x.Safety), safetyPlace(y.Safety)), cmp.Compare(x.At[0], y.At[0]),
			cmp.Compare(x.Bag, y.Bag))
	})
	return all
}

// meant are the slots that a bag goes to, and those that its label names: that
// is where somebody would put its pieces.
func (t *bagTable) meant(p placing) []int {
	var slots []int
	for _, place := range []*BagPlace{p.best, p.label} {
		if place != nil {
			slots = append(slots, t.groups[place.group].slots...)
		}
	}
	return lists.Unique(slots)
}

// wrongAt are the pieces of all bags that would start in a position's thread
// and do harm there.
func (t *bagTable) wrongAt(s slot) []BagWarning {
	if s.size.Kind != "male-thread" {
		return nil
	}
	var all []BagWarning
	for _, bag := range t.bike.Bags {
		for _, item := range bag.Contents {
			if item.Kind != s.part.Kind || compareHardware(item, s.part.Kind, s.size).same {
				continue
			}
			if danger, why := t.harm(item, s); danger != "" {
				all = append(all, BagWarning{Bag: bag.Name, Item: hardwareText(item), At: []graph.PositionID{s.position.ID},
					Right: sizeText(s), Safety: s.position.Safety, Danger: danger, Why: why})
			}
		}
	}
	return all
}

// harm is what a piece would do in a position's thread; empty when it would not
// start there, or nothing is known to be wrong.
func (t *bagTable) harm(item graph.BagItem, s slot) (danger, why string) {
	mine, err := measure.ParseThread(item.Dims["thread"])
	readings := s.size.Dims["thread"]
	if err != nil || len(readings) == 0 {
		return "", ""
	}
	right, err := measure.ParseThread(readings[0].Text)
	if err != nil || mine.Nominal != right.Nominal {
		return "", ""
	}
	if !mine.Same(right) {
		return DangerBinds, mine.String() + " starts in a thread for " + right.String() + " and binds: never by force"
	}
	if danger, why := t.engagement(item, s); danger != "" {
		return danger, why
	}
	if s.position.Safety != "" && len(s.size.Dims["class"]) > 0 && weaker(item.Dims["class"],
		s.size.Dims["class"][0].Text) {
		return DangerWeaker, "class " + item.Dims["class"] + " is weaker than the " + s.size.Dims["class"][0].Text +
			" that belongs here"
	}
	return "", ""
}

// engagement judges a piece in the tapped holes of a position's own joints.
func (t *bagTable) engagement(item graph.BagItem, s slot) (danger, why string) {
	for _, j := range t.joints {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position != s.position.ID || t.setup.KindOf(ends[1]) != "female-thread" {
				continue
			}
			for _, c := range t.checksWith(item, s, j, ends[0].Feature) {
				if c.Verdict != graph.DoesNotFit {
					continue
				}
				if strings.HasPrefix(c.Why, "too long") {
					return DangerBottoms, c.Why
				}
				if strings.HasPrefix(c.Why, "too short") {
					return DangerShort, c.Why
				}
			}
		}
	}
	return "", ""
}

// checksWith judges a joint with a piece out of a bag in the place of one of its
// features.
func (t *bagTable) checksWith(item graph.BagItem, s slot, j graph.Joint, feature string) []mating.Check {
	piece := graph.Part{Kind: item.Kind, Features: []graph.Feature{measuredFeature(item, feature, "male-thread")}}
	after := t.setup.WithSeats(map[graph.PositionID]machine.Seat{s.position.ID: {Position: s.position, Part: piece,
		Changed: true}})
	around := &examine.Connections{Joints: []graph.Joint{j}, Known: []graph.Joint{j}}
	var checks []mating.Check
	for _, c := range around.List(t.setup, nil) {
		if o, ok := c.Judge(examine.From(t.setup), after); ok && c.What == examine.OfJoint {
			checks = append(checks, o.Checks...)
		}
	}
	return checks
}

// weaker compares two property classes of ISO 898-1 by tensile strength; what is
// not such a class is not compared.
func weaker(a, b string) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	return errX == nil && errY == nil && x < y
}

// sizeText is what belongs at a position: its part and size.
func sizeText(s slot) string {
	text := string(cmp.Or(s.number(), graph.PartID(s.part.Kind)))
	for _, dim := range []string{"thread", "length"} {
		if readings := s.size.Dims[dim]; len(readings) > 0 {
			text += map[string]string{"thread": " ", "length": " x "}[dim] + readings[0].Text
		}
	}
	return text
}
