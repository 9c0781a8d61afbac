package graph

import "slices"

// Joint is where a feature at one position meets a feature at another.
type Joint struct {
	ID        JointID
	Model     ModelID
	A, B      FeatureRef
	Fasteners []PositionID // positions of the bolts, nuts and washers, sorted
	Torque    []Reading    // what sources give for this very joint; may be empty
	Renew     []PositionID // positions to renew when the joint is opened, sorted
	// clearance wanted between bore and shaft, as written ("0.02-0.30 mm"); empty for the rule's own default
	Allow string
	On    []VariantID // sorted
	Said  []Cite
}

// RunNeed is the length a run needs in one attitude of the machine.
type RunNeed struct {
	Lock   string // "left", "centre", "right"
	Fork   string // "extended", "compressed"
	Length []Reading
}

// Run is the path of a hose, cable or lead.
type Run struct {
	ID       RunID
	Model    ModelID
	Line     PositionID // where the hose, cable or lead sits
	From, To FeatureRef
	// Needs holds the readings by attitude, in the order left, centre, right,
	// each extended before compressed; an attitude nobody measured is absent.
	Needs []RunNeed
	// Inner is the free inner length a cable needs; empty for hoses and leads.
	Inner []Reading
	// Spare is how much longer than the longest need it must be, as written
	// ("20-30 mm"); empty for the common practice.
	Spare []Reading
	// MovedBy names features of kind place: when the part that carries one is
	// changed, the end of the run moves by the difference.
	MovedBy []FeatureRef
	// LengthenedBy names features of kind fork-length (forks, risers) whose
	// change in length moves an end by the same amount.
	LengthenedBy []FeatureRef
	Guides       []string // what holds it on its way, in order from From to To
	// Hot are the places of the exhaust parts that it passes, sorted. Gap is the least
	// distance from them on the machine as built, at both locks, fork in and out;
	// LeastGap what the maker's book wants. Either may be empty.
	Hot           []PositionID
	Gap, LeastGap []Reading
	On            []VariantID
	Said          []Cite
}

// Circuit is the set of positions that share a fluid or a current.
type Circuit struct {
	ID      CircuitID
	Model   ModelID
	Carries string       // "brake fluid", "clutch fluid", "current"
	Feeds   []PositionID // master cylinders, or the source of the current
	Fed     []PositionID // calipers and slave cylinders, or consumers
	Members []PositionID // everything the fluid meets: the above, hoses, reservoir; sorted
	Wheel   string       // "front" or "rear" for brakes; else empty
	// Fill is how much of the fluid filling and bleeding it takes; may be empty.
	Fill []Reading
	On   []VariantID
	Said []Cite
}

// Stack is what sits in a row along an axle or pivot.
type Stack struct {
	ID     StackID
	Model  ModelID
	Within FeatureRef   // the feature of kind gap the row must fill
	Row    []FeatureRef // features of kind row-width, left to right
	Centre FeatureRef   // the member that must be central; zero when none must
	On     []VariantID
	Said   []Cite
}

// Places are the positions that take part in a joint: its two sides, its fasteners
// and what is renewed with it. Like those of a run, a circuit and a stack they are
// in the order of the data and may hold a position twice, or an empty one; a
// reader finds each of them At one of these.
func (j Joint) Places() []PositionID {
	return slices.Concat([]PositionID{j.A.Position, j.B.Position}, j.Fasteners, j.Renew)
}

// Places are the line of a run, its ends, the hot parts it passes, and what moves
// its ends or asks for more length.
func (r Run) Places() []PositionID {
	places := append([]PositionID{r.Line, r.From.Position, r.To.Position}, r.Hot...)
	for _, ref := range slices.Concat(r.MovedBy, r.LengthenedBy) {
		places = append(places, ref.Position)
	}
	return places
}

// Places are what feeds a circuit, what it feeds, and all its members.
func (c Circuit) Places() []PositionID { return slices.Concat(c.Feeds, c.Fed, c.Members) }

// Places are what a stack sits within, the feature it is centred by, and its row.
func (s Stack) Places() []PositionID {
	places := []PositionID{s.Within.Position, s.Centre.Position}
	for _, ref := range s.Row {
		places = append(places, ref.Position)
	}
	return places
}
