package conflicts

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// ConflictsQuestion asks where voices in the graph contradict one another. All
// fields narrow the answer and may be empty.
type ConflictsQuestion struct {
	On       string // see MachineQuestion
	Market   string
	Frame    string
	Part     string // a number in any spelling
	Position string // with On: as PositionFor reads it; else its name without the model
	Safety   bool   // only what has to do with a position of a safety class
}

// ConflictsAnswer is the answer to a ConflictsQuestion.
type ConflictsAnswer struct {
	// Rows are sorted by safety class, those of none last; then what is not
	// decided first; then by sort and by what they are about.
	Rows   []ConflictRow   `json:"rows"`
	Counts []ConflictCount `json:"counts"`
	// Held is how many parts at places were held against the measures of the machine, and
	// NotHeld how many more are listed and were not, for nobody had them in hand.
	Held    int `json:"held_against_measures"`
	NotHeld int `json:"not_held_against_measures"`
}

// ConflictSort says what sort of thing voices disagree on.
type ConflictSort string

// The sorts of conflict, in the order printed.
const (
	ConflictFinding      ConflictSort = "finding"      // findings against findings, lists or supersessions
	ConflictComputed     ConflictSort = "computed"     // a finding against the measures
	ConflictDimension    ConflictSort = "dimension"    // readings of one dimension of a part
	ConflictListing      ConflictSort = "listing"      // lists that name different parts
	ConflictSupersession ConflictSort = "supersession" // which way a part takes another's place
	ConflictTorque       ConflictSort = "torque"       // torques of one joint
	ConflictRun          ConflictSort = "run"          // lengths that one run needs
)

// conflictSorts are all sorts, in the order printed.
func conflictSorts() []ConflictSort {
	return []ConflictSort{ConflictFinding, ConflictComputed, ConflictDimension, ConflictListing,
		ConflictSupersession, ConflictTorque, ConflictRun}
}

// ConflictRow is one contradiction.
type ConflictRow struct {
	Sort   ConflictSort       `json:"sort"`
	About  string             `json:"about"`
	Safety []graph.Safety     `json:"safety,omitempty"` // classes of the positions it has to do with
	Part   graph.PartID       `json:"part,omitempty"`
	At     []graph.PositionID `json:"at,omitempty"` // positions it has to do with, sorted
	Covers string             `json:"covers,omitempty"`
	// Sides are what is said, the best evidence first. Nothing is averaged.
	Sides []ConflictVoices `json:"sides"`
	// Open is true when no side outranks the others, so that the conflict is
	// not decided.
	Open bool `json:"open,omitempty"`
	// Settle is the one measurement or look that would settle it, Cost how
	// hard that is; Cost is nil when the graph does not know enough.
	Settle string      `json:"settle"`
	Cost   *SettleCost `json:"cost,omitempty"`
	// AnswerID is the row of an answer that it shows in, to ask why about.
	AnswerID string `json:"answer_id,omitempty"`

	settle settling // how it is settled, for its cost
}

// ConflictVoices is one side of a contradiction.
type ConflictVoices struct {
	Says string        `json:"says"`
	Rank evidence.Rank `json:"rank,omitzero"` // of all its voices together; those of one origin count once
	// Sources are its voices, the best first; none for what was computed.
	Sources []evidence.Source `json:"sources,omitempty"`
}

// SettleCost is how hard it is to settle a conflict.
type SettleCost struct {
	Effort graph.Effort `json:"effort_class"` // 0 none to 4 structural
	Why    string       `json:"why"`
}

// ConflictCount counts rows of a sort.
type ConflictCount struct {
	Sort ConflictSort `json:"sort"`
	Rows int          `json:"rows"`
}

// Conflicts lists the contradictions in the graph. Errors are *NotFoundError,
// *AmbiguousError, or come from the reader.
func Conflicts(ctx context.Context, r graph.Reader, q ConflictsQuestion) (ConflictsAnswer, error) {
	c, err := newContradicting(ctx, r, q)
	if err != nil {
		return ConflictsAnswer{}, err
	}
	steps := []func(context.Context) error{c.dimensions, c.claims, c.supersessions, c.joints, c.runs, c.computed}
	for _, gather := range steps {
		if err := gather(ctx); err != nil {
			return ConflictsAnswer{}, err
		}
	}
	c.rows = lists.Kept(c.rows, func(row ConflictRow) bool { return !q.Safety || len(row.Safety) > 0 })
	if err := c.costs(ctx); err != nil {
		return ConflictsAnswer{}, err
	}
	slices.SortFunc(c.rows, compareConflicts)
	a := ConflictsAnswer{Rows: c.rows, Held: c.held, NotHeld: c.notHeld}
	if a.Rows == nil {
		a.Rows = []ConflictRow{}
	}
	a.Counts = countConflicts(a.Rows)
	return a, nil
}

// SafetyOpen reports whether a conflict that has to do with a safety class is
// not decided.
func (a ConflictsAnswer) SafetyOpen() bool {
	return slices.ContainsFunc(a.Rows, func(row ConflictRow) bool { return row.Open && len(row.Safety) > 0 })
}

func compareConflicts(a, b ConflictRow) int {
	return cmp.Or(cmp.Compare(safetyOrder(a.Safety), safetyOrder(b.Safety)), cmp.Compare(openOrder(a), openOrder(b)),
		cmp.Compare(slices.Index(conflictSorts(), a.Sort), slices.Index(conflictSorts(), b.Sort)),
		cmp.Compare(a.About, b.About), cmp.Compare(a.Covers, b.Covers), cmp.Compare(a.Sides[0].Says, b.Sides[0].Says))
}

func openOrder(row ConflictRow) int {
	if row.Open {
		return 0
	}
	return 1
}

// safetyOrder is the place of the first class; those of none come last.
func safetyOrder(classes []graph.Safety) int {
	if at := slices.Index(graph.SafetyClasses(), examine.FirstSafety(classes)); at >= 0 {
		return at
	}
	return len(graph.SafetyClasses())
}

func countConflicts(rows []ConflictRow) []ConflictCount {
	counts := []ConflictCount{}
	for _, sort := range conflictSorts() {
		if n := len(lists.Kept(rows, func(row ConflictRow) bool { return row.Sort == sort })); n > 0 {
			counts = append(counts, ConflictCount{Sort: sort, Rows: n})
		}
	}
	return counts
}
