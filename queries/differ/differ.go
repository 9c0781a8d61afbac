package differ

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/machine"
)

// Class says how the parts at one position of two machines differ. It is worked
// out from numbers and features, never typed in the data.
type Class string

// The classes, least first.
const (
	ClassSame        Class = "same"             // the same part
	ClassCosmetic    Class = "cosmetic"         // another number, the same features but for colour, finish and decal
	ClassNotKnown    Class = "not known"        // too little is known to tell
	ClassDimensional Class = "dimensional"      // other dimensions
	ClassFunctional  Class = "functional"       // a feature more or less, another sort of feature, other pins
	ClassOneSide     Class = "only on one side" // the other machine has no such position
)

// classes are all classes, least first.
func classes() []Class {
	return []Class{ClassSame, ClassCosmetic, ClassNotKnown, ClassDimensional, ClassFunctional, ClassOneSide}
}

// worst is the class of several differences together: one dimension that is
// known to differ outweighs others that are not known.
func (c Class) worst(other Class) Class {
	for i := len(classes()) - 1; i >= 0; i-- {
		if class := classes()[i]; class == c || class == other {
			return class
		}
	}
	return c
}

// DifferQuestion asks what differs between two machines.
type DifferQuestion struct {
	A, B     string // as MachineQuestion.On
	Market   string // narrows both; may be empty
	Assembly string // narrows to one assembly; may be empty
	Position string // narrows to one position; may be empty
}

// DifferAnswer is the answer to a DifferQuestion.
type DifferAnswer struct {
	A queries.Machines `json:"a"`
	B queries.Machines `json:"b"`
	// Pairs are the variants that were compared with each other: those of one
	// market, where both sides have it.
	Pairs []VariantPair `json:"pairs"`
	// Alone are variants of either side that had no counterpart.
	Alone    []graph.VariantID `json:"alone,omitempty"`
	Rows     []DifferRow       `json:"rows"` // by position, then pair
	Summary  DifferSummary     `json:"summary"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// VariantPair is two variants that are compared.
type VariantPair struct {
	A graph.VariantID `json:"a"`
	B graph.VariantID `json:"b"`
}

// DifferRow is one position, on the pairs for which the comparison is the same.
type DifferRow struct {
	ID           string        `json:"id"`       // see AnswerID
	Position     string        `json:"position"` // without its model
	PositionName string        `json:"position_name"`
	Safety       graph.Safety  `json:"safety,omitempty"`
	Pairs        []VariantPair `json:"pairs"`
	Covers       string        `json:"covers"` // "2003 eu, uk against 2004 eu, uk"
	Class        Class         `json:"class"`
	Why          string        `json:"why"`
	A            *DifferSide   `json:"a,omitempty"` // nil when A has no such position
	B            *DifferSide   `json:"b,omitempty"`
	Differences  []Difference  `json:"differences,omitempty"`
	// Disputed are the measures that were compared and that voices disagree
	// on: the best evidence was used, and nothing is averaged.
	Disputed []DisputedDim `json:"disputed,omitempty"`
	// NotKnown names what would have to be measured to compare more.
	NotKnown []string `json:"not_known,omitempty"`
	// Interchange says which way the parts interchange: see interchangeOf.
	Interchange string     `json:"interchange,omitempty"`
	AOnB        *Direction `json:"a_on_b,omitempty"`
	BOnA        *Direction `json:"b_on_a,omitempty"`
	// Runs is which years share a part at the position: "2001-2003 |
	// 2004-2006".
	Runs      string    `json:"runs,omitempty"`
	RunParts  []PartRun `json:"run_parts,omitempty"`
	SettledBy []string  `json:"settled_by,omitempty"` // as FitsRow.SettledBy
}

// DifferSide is what one machine has at the position.
type DifferSide struct {
	Part     graph.PartID    `json:"part,omitempty"` // empty when no source says
	Name     string          `json:"name,omitempty"`
	Others   []graph.PartID  `json:"others,omitempty"` // other parts listed there, best evidence first
	Quantity int             `json:"quantity,omitempty"`
	Source   evidence.Source `json:"source,omitzero"`
}

// Difference is one feature or dimension that is not the same.
type Difference struct {
	Feature string `json:"feature,omitempty"`
	Dim     string `json:"dim,omitempty"`
	Class   Class  `json:"class"`
	A       string `json:"a,omitempty"` // the value on A; empty when A lacks the feature
	B       string `json:"b,omitempty"`
	By      string `json:"by,omitempty"` // how much more B has: "+1 mm"; empty for words
	Text    string `json:"text"`         // all of it in words
}

// Direction is whether the part of one machine goes on the other.
type Direction struct {
	Verdict        graph.Verdict            `json:"verdict"`
	Via            evidence.Via             `json:"via"`
	Why            string                   `json:"why"`
	Rank           evidence.Rank            `json:"rank,omitzero"`
	Source         evidence.Source          `json:"source,omitzero"`
	Changes        []evidence.Change        `json:"changes,omitempty"`
	ContradictedBy []evidence.Contradiction `json:"contradicted_by,omitempty"`
	Steps          []evidence.Step          `json:"steps,omitempty"`
}

// PartRun is the variants of one model that share a part at a position.
type PartRun struct {
	Parts     []graph.PartID     `json:"parts"` // several when only their colour differs
	Coverages []queries.Coverage `json:"coverages"`
	Text      string             `json:"text"`
}

// DifferSummary counts positions by class, each once: by the worst of its rows.
type DifferSummary struct {
	Positions int          `json:"positions"`
	Classes   []ClassCount `json:"classes"`
	Text      string       `json:"text"`
}

// ClassCount counts positions of a class.
type ClassCount struct {
	Class     Class `json:"class"`
	Positions int   `json:"positions"`
}

// Differ answers what differs between two machines, position by position.
// Errors are *NotFoundError, *AmbiguousError, or come from the reader.
func Differ(ctx context.Context, r graph.Reader, q DifferQuestion) (DifferAnswer, error) {
	return differ(ctx, machine.NewLibrary(r), q)
}

// differ answers with what a library has read already.
func differ(ctx context.Context, l *machine.Library, q DifferQuestion) (DifferAnswer, error) {
	d, err := newDiffering(ctx, l, q)
	if err != nil {
		return DifferAnswer{}, err
	}
	if err := d.loadListings(ctx); err != nil {
		return DifferAnswer{}, err
	}
	if err := d.loadDiffering(ctx); err != nil {
		return DifferAnswer{}, err
	}
	a := DifferAnswer{A: d.a, B: d.b, Pairs: d.pairs, Alone: d.alone, Rows: d.rows()}
	a.Summary = summaryOf(a)
	a.Cautions = queries.CautionsAbout(d.featureKinds(a.Rows), touched(a.Rows)...)
	return a, nil
}

// touched are the safety classes of the rows whose parts are not the same.
func touched(rows []DifferRow) []graph.Safety {
	var classes []graph.Safety
	for _, row := range rows {
		if row.Class != ClassSame {
			classes = append(classes, row.Safety)
		}
	}
	return classes
}

// SafetyOpen reports whether at a position with a safety class a direction of
// interchange is unknown or refused, or too little is known to compare.
func (a DifferAnswer) SafetyOpen() bool {
	open := func(d *Direction) bool { return d != nil && d.Verdict > graph.FitsWithChanges }
	for _, row := range a.Rows {
		if row.Safety != graph.SafetyNone && (open(row.AOnB) || open(row.BOnA) || row.Class == ClassNotKnown) {
			return true
		}
	}
	return false
}

// show names one listing as what the side has, and the rest as others.
func (s *DifferSide) show(f graph.Fitment, listed []graph.Fitment) {
	s.Part, s.Quantity, s.Others = f.Part, f.Quantity, nil
	for _, other := range listed {
		if other.Part != f.Part && !slices.Contains(s.Others, other.Part) {
			s.Others = append(s.Others, other.Part)
		}
	}
}

func (r *DifferRow) addQuantity() {
	text := fmt.Sprintf("%d here, not %d", r.B.Quantity, r.A.Quantity)
	r.Differences = append(r.Differences, Difference{Dim: "quantity", Class: ClassFunctional,
		A: fmt.Sprint(r.A.Quantity), B: fmt.Sprint(r.B.Quantity), Text: text})
	if r.Class == ClassSame || r.Class == ClassCosmetic {
		r.Why = text
	} else {
		r.Why += "; " + text
	}
	r.Class = r.Class.worst(ClassFunctional)
}
