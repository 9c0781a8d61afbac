package bike

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// BikeMissingAnswer is what a machine lacks and what the boxes hold of it.
type BikeMissingAnswer struct {
	Bike     graph.BikeID    `json:"bike"`
	Variant  graph.VariantID `json:"variant"`
	Assembly string          `json:"assembly,omitempty"`
	// Colours is the colour scheme of the painted parts that count.
	Colours Scheme `json:"colours"`
	// Rows are the positions that need something, what blocks the work first:
	// by safety class, then in the order of fitting.
	Rows []MissingRow `json:"rows"`
	// Renew are parts that go on new every time, whatever lies in the boxes.
	Renew []RenewLine `json:"renew,omitempty"`
	// Assumed is how many positions nobody looked at: they are taken to be as
	// the book says.
	Assumed  int               `json:"assumed"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// MissingRow is one position that needs something.
type MissingRow struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	// State is "missing", "planned", "scrap", "does not go" or "not known": nothing is
	// there, something else is meant to go there, what is there must not be used or goes
	// with nothing, whatever is got, or no source says what belongs there.
	State    string       `json:"state"`
	Scrap    string       `json:"scrap,omitempty"` // why what is there must not be used
	Off      string       `json:"off,omitempty"`   // what is there, and why it does not go
	Part     graph.PartID `json:"part,omitempty"`
	PartName string       `json:"part_name,omitempty"`
	// Listed is the part as built where another one is planned.
	Listed   graph.PartID `json:"listed,omitempty"`
	Quantity int          `json:"quantity"`           // how many are needed
	FromBox  []BoxUse     `json:"from_box,omitempty"` // what the boxes hold of it
	Short    int          `json:"short"`              // how many are still to be found
	// CheckFirst are things in the boxes that are near and must not be taken
	// for it unseen.
	CheckFirst []CheckFirst `json:"check_first,omitempty"`
	// Offered are the offers that hold what is short.
	Offered []Offered `json:"offered,omitempty"`
	// Against is what does not mate, or is not known, between the part and what
	// is really on the machine next to it.
	Against []AgainstLine `json:"against,omitempty"`
	// Goes is what has the planned part go there although it does not mate as it is;
	// Refused is why it can't go there at all.
	Goes    []string `json:"goes_with,omitempty"`
	Refused string   `json:"refused,omitempty"`
	// HoldsUp are the positions that can't be fitted before this one.
	HoldsUp []graph.PositionID `json:"holds_up,omitempty"`
	Source  evidence.Source    `json:"source"` // for the part
}

// What a position of a MissingRow needs.
const (
	StateMissing  = "missing"
	StatePlanned  = "planned"
	StateScrap    = "scrap"
	StateOff      = "does not go"
	StateNotKnown = "not known"
)

// BoxUse is what a box gives to a position.
type BoxUse struct {
	Box      string            `json:"box"`
	Part     graph.PartID      `json:"part"`
	Quantity int               `json:"quantity"`
	Sure     string            `json:"sure,omitempty"`    // how it was identified
	How      string            `json:"how"`               // "the very number", "takes the place of ..."
	Kit      graph.PartID      `json:"kit,omitempty"`     // the kit it is in
	Changes  []evidence.Change `json:"changes,omitempty"` // what has to be changed with it
	// With are the parts that those changes take, for one piece; Beside is what of them
	// lies in the boxes, for all pieces.
	With   []evidence.ContentLine `json:"with,omitempty"`
	Beside []BoxPart              `json:"beside,omitempty"`
	Note   string                 `json:"note,omitempty"`
	// State is what was noted of the state of this very piece.
	State string `json:"state,omitempty"`
	// Bag is true for hardware out of a bag, which Box then names: it has no
	// number, and measures the same.
	Bag bool `json:"bag,omitempty"`
}

// BoxPart is some of a part in a box.
type BoxPart struct {
	Box      string       `json:"box"`
	Part     graph.PartID `json:"part"`
	Quantity int          `json:"quantity"`
}

// CheckFirst is something near to what is needed.
type CheckFirst struct {
	Box  string       `json:"box"`
	Part graph.PartID `json:"part"`
	Sure string       `json:"sure,omitempty"`
	Why  string       `json:"why"` // how it differs
	Note string       `json:"note,omitempty"`
}

// AgainstLine is a joint, run or circuit that a part does not agree with.
type AgainstLine struct {
	What    string        `json:"what"` // "joint hose-upper-on-master"
	Verdict graph.Verdict `json:"verdict"`
	Why     string        `json:"why"`
	// Safety is the first class of what it is about, which need not be that of the
	// place: a hanger without a class may hold a brake.
	Safety graph.Safety `json:"safety,omitempty"`

	asBuilt bool // of nothing but what the book has
	work    bool // see examine.Outcome.HasWork
	said    bool // what sources say, nothing measured
}

// isOpen reports whether a line stands against a class.
func (l AgainstLine) isOpen() bool {
	return l.Safety != graph.SafetyNone && (l.Verdict == graph.Unknown || l.Verdict == graph.DoesNotFit || l.work)
}

// SafetyOpen reports whether a safety position still lacks something, would get
// something that nobody read a number on, or would not mate.
func (a BikeMissingAnswer) SafetyOpen() bool {
	return slices.ContainsFunc(a.Rows, func(row MissingRow) bool {
		byEye := slices.ContainsFunc(row.FromBox, func(u BoxUse) bool { return !graph.IsSure(u.Sure) })
		return row.Safety != "" && (row.Short > 0 || byEye || len(row.Against) > 0) ||
			slices.ContainsFunc(row.Against, AgainstLine.isOpen)
	})
}

// BikeMissing tells what a machine lacks: the positions where nothing is, and
// those where something else is planned, against what lies in the boxes. A part
// from a box counts when it is the wanted number, when a supersession allows it
// in that direction, or when a kit there holds it; anything else is only named
// to be checked. What to buy is for BikeShop to say. Errors are *NotFoundError with near names, or come from the
// reader.
func BikeMissing(ctx context.Context, r graph.Reader, q BikeWorkQuestion) (BikeMissingAnswer, error) {
	a := BikeMissingAnswer{Assembly: q.Assembly}
	w, scope, err := askedWork(ctx, r, q)
	if err != nil {
		return a, err
	}
	a.Bike, a.Variant, a.Colours = w.bike.ID, w.bike.Variant, w.colours(scope)
	order := fittingOrder(w.positions)
	for i, want := range w.wants {
		if inPositions(scope, want.position.ID) {
			a.Rows = append(a.Rows, w.row(i))
		}
	}
	slices.SortFunc(a.Rows, func(x, y MissingRow) int {
		return cmp.Or(cmp.Compare(x.Safety.Place(), y.Safety.Place()),
			cmp.Compare(order[x.Position], order[y.Position]), cmp.Compare(x.Position, y.Position))
	})
	a.Assumed = w.assumed(scope)
	if a.Renew, err = w.renewals(ctx, scope); err != nil {
		return a, err
	}
	a.Cautions = queries.CautionsFor(lists.Mapped(a.Rows, func(row MissingRow) graph.Safety { return row.Safety })...)
	return a, nil
}

func inPositions(all []graph.Position, id graph.PositionID) bool {
	return slices.ContainsFunc(all, func(p graph.Position) bool { return p.ID == id })
}

// fittingOrder numbers the positions so that none comes before one it must wait
// for: the longest chain of positions that are fitted before it.
func fittingOrder(positions []graph.Position) map[graph.PositionID]int {
	byID := lists.ByKey(positions, func(p graph.Position) graph.PositionID { return p.ID })
	depth := map[graph.PositionID]int{}
	var of func(id graph.PositionID) int
	of = func(id graph.PositionID) int {
		if d, known := depth[id]; known {
			return d
		}
		depth[id] = 0 // a ring, which the loader refuses, would end here
		for _, before := range byID[id].After {
			if _, here := byID[before]; here {
				depth[id] = max(depth[id], of(before)+1)
			}
		}
		return depth[id]
	}
	for _, p := range positions {
		of(p.ID)
	}
	return depth
}
