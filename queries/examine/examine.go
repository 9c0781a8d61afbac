package examine

import (
	"cmp"
	"context"
	"reflect"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// What an outcome is about.
const (
	OfJoint   = "joint"
	OfRun     = "run"
	OfStack   = "stack"
	OfDisc    = "disc" // where a disc runs in its caliper
	OfCircuit = "circuit"
	OfChain   = "chain"  // a chain over both sprockets
	OfFinish  = "finish" // painted panels of one scheme
	OfPair    = "pair"   // left against right
	OfKind    = "kind"   // whether the part is of the sort that goes there
	OfOpenEnd = "open end"
	OfSupport = "support" // that something carries a part
	OfWord    = "word"    // what sources say of the very part at the very position
	// OfPlace is a changed place as a whole: by what it earned its verdict.
	OfPlace = "place"

	OfLeverage  = "brake leverage" // of a whole brake against that as built
	OfBleed     = "bleed screw"    // at the top where the part is put
	OfTyres     = "tyres"          // front and rear together
	OfChainLine = "chain line"     // of a sprocket bolted to a hub
	OfHand      = "hand"           // the side and cylinder that a part is made for
	OfTrail     = "rake and trail" // of the whole machine
	OfShock     = "rear height"    // of a shock over its link
	OfLever     = "lever"          // a hand lever against the one as built
	OfPedal     = "pedal"          // a pedal against the one as built
	OfLock      = "full lock"      // what turns with the bars against what it could strike
	OfStand     = "stand"          // how the machine stands on it
	OfInnerRow  = "hub"            // bearings and tube inside a hub
	OfLineEnds  = "line ends"      // that every end of a line is judged
	OfHoseEnd   = "hose clamp"     // on its hose
	OfBarRoom   = "room on the bar"
	OfRod       = "rod"         // a threaded rod with both its ends
	OfPack      = "clutch pack" // all plates on their hub
	OfSpeed     = "speed shown" // by the clocks
	OfWire      = "fuse"        // a fuse with its wires and what they feed
	OfVoltage   = "voltage"     // of what hangs on the battery
	OfMetal     = "metal"       // of a part that holds others by its holes
	OfHeat      = "heat"        // of an exhaust beside a line
	OfRoad      = "road"        // what the road asks for, and a place does
)

// Outcome is one thing that a change touches, judged before and after.
type Outcome struct {
	What   string         `json:"what"` // "joint", "run", "stack", "circuit", "chain", "finish" ...
	ID     string         `json:"id"`
	Ends   []End          `json:"ends"`             // what meets, in the order of the facts
	Safety []graph.Safety `json:"safety,omitempty"` // classes of the positions that meet
	Before graph.Verdict  `json:"before"`
	After  graph.Verdict  `json:"after"`
	Why    string         `json:"why"` // of the worst check afterwards
	// Checks are those of the setup afterwards, in the order of the rule.
	Checks []mating.Check `json:"checks"`
	// Same is true when no check came out otherwise than before.
	Same bool `json:"same,omitempty"`
	// Disturbed is true when the joint is opened by the change.
	Disturbed bool `json:"disturbed,omitempty"`
	// AnswerID is what to ask why about; see SwapID.
	AnswerID string `json:"answer_id,omitempty"`

	Joint graph.Joint    `json:"-"` // of a joint only
	Run   graph.Run      `json:"-"` // of a run only
	Was   []mating.Check `json:"-"`
}

// IsWorse reports whether an outcome is worse than it was before. One that was no
// better before is so all the same where a check of it is further off than the same
// check was; and what was unknown before excuses nothing that is another unknown now.
func (o Outcome) IsWorse() bool {
	if o.After > o.Before {
		return true
	}
	return !o.Same && slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict > graph.Fits && !mating.Excused(c, o.Was)
	})
}

// End is one of the things that meet.
type End struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Feature  string           `json:"feature,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Changed  bool             `json:"changed,omitempty"`
}

// Examine judges everything that touches the positions which after changes
// against before: joints, runs, stacks, discs, circuits, chains, finish. Outcomes are
// sorted by sort, then identity.
func Examine(ctx context.Context, before, after *machine.Setup) ([]Outcome, error) {
	x, err := NewExaminer(ctx, before, after)
	if err != nil {
		return nil, err
	}
	return x.Outcomes(""), nil
}

// ExamineAll judges every joint, run, stack, circuit, chain and finish of the
// machine as it stands.
func ExamineAll(ctx context.Context, s *machine.Setup) ([]Outcome, error) {
	c, err := WholeMachine(ctx, s)
	if err != nil {
		return nil, err
	}
	return c.examiner(From(s), s).Outcomes(""), nil
}

// Examiner judges connections before and after a change. Everything it needs
// is loaded.
type Examiner struct {
	Built, Before, After *machine.Setup
	*Connections
	past   map[string][]mating.Check // what was judged on the machine before
	driven map[*machine.Setup][]drive
}

// NewExaminer reads what the changes of after touch, and judges it against before.
func NewExaminer(ctx context.Context, before, after *machine.Setup) (*Examiner, error) {
	c, err := ConnectionsAt(ctx, after, after.Changed())
	if err != nil {
		return nil, err
	}
	return c.examiner(From(before), after), nil
}

// Examiner judges what was read on a machine after a change.
func (c *Connections) Examiner(before *Before, after *machine.Setup) *Examiner {
	return c.examiner(before, after)
}

func (c *Connections) examiner(before *Before, after *machine.Setup) *Examiner {
	return &Examiner{Built: after.AsBuilt(), Before: before.setup, After: after, Connections: c, past: before.checks,
		driven: map[*machine.Setup][]drive{}}
}

// checksBefore gives the checks before the change, worked out once for all changes that
// are held against the same machine.
func (x *Examiner) checksBefore(key string, work func() []mating.Check) []mating.Check {
	if checks, ok := x.past[key]; ok {
		return checks
	}
	checks := work()
	x.past[key] = checks
	return checks
}

// Outcomes judges all that the changes touch; with a place, only what that place
// takes part in.
func (x *Examiner) Outcomes(only graph.PositionID) []Outcome {
	var all []Outcome
	at := x.After.Changed()
	if x.whole {
		at = x.all
	}
	for _, c := range x.List(x.After, at) {
		if only != "" && !slices.Contains(c.Places, only) ||
			c.touched && !x.whole && !slices.ContainsFunc(c.Places, x.isChanged) {
			continue
		}
		if o, ok := c.judge(x); ok {
			all = append(all, o)
		}
	}
	slices.SortStableFunc(all, func(a, b Outcome) int {
		return cmp.Or(cmp.Compare(whatOrder(a.What), whatOrder(b.What)), cmp.Compare(a.ID, b.ID))
	})
	return all
}

// JudgeAgain judges the same joint or run as an outcome; false for anything else.
func (x *Examiner) JudgeAgain(o Outcome) (Outcome, bool) {
	switch o.What {
	case OfJoint:
		return x.joint(o.Joint), true
	case OfRun:
		return x.run(o.Run), true
	}
	return Outcome{}, false
}

func whatOrder(what string) int {
	return slices.Index([]string{OfWord, OfKind, OfJoint, OfRun, OfStack, OfInnerRow, OfDisc, OfChain, OfChainLine,
		OfCircuit, OfLeverage,
		OfBleed, OfPair, OfHand, OfTyres, OfLineEnds,
		OfHoseEnd, OfLever, OfPedal, OfLock, OfTrail, OfShock, OfStand, OfRod, OfBarRoom, OfPack, OfSpeed, OfWire, OfVoltage,
		OfMetal, OfHeat, OfRoad, OfFinish,
		OfOpenEnd, OfPlace}, what)
}

// Judged fills in an outcome from its checks before and after.
func (x *Examiner) Judged(o Outcome, was, is []mating.Check) Outcome {
	if len(is) == 0 {
		is = []mating.Check{{Rule: "nothing judged", Verdict: graph.Unknown, Why: "nothing could be judged here"}}
	}
	o.Before, o.After = mating.Worst(was), mating.Worst(is)
	o.Checks, o.Was = is, was
	o.Why = WhyOf(is)
	o.Same = reflect.DeepEqual(was, is)
	o.Safety = x.SafetyOf(x.bearing(o))
	return o
}

// bearing are the ends whose safety class an outcome has: all of them, except
// that a joint which carries no load of the class, such as a panel on the frame
// or a mirror in its perch, has only that of the parts that are changed.
func (x *Examiner) bearing(o Outcome) []End {
	if o.What != OfJoint || x.whole || x.carriesLoad(o.Joint) {
		return o.Ends
	}
	return lists.Kept(slices.Clone(o.Ends), func(e End) bool { return e.Changed })
}

// carriesLoad reports whether a fault of the joint reaches both of its sides:
// hydraulics, axles and bearings, calipers and discs, drive, cables.
func (x *Examiner) carriesLoad(j graph.Joint) bool {
	loaded := []string{"port", "banjo", "screwed-end", "caliper-mount", "caliper-slot", "disc-rim", "shaft", "bore",
		"bearing",
		"bearing-seat", "spline", "sprocket", "chain", "tyre", "rim", "nipple", "nipple-seat"}
	return slices.Contains(loaded, x.After.KindOf(j.A)) || slices.Contains(loaded, x.After.KindOf(j.B)) ||
		slices.ContainsFunc(x.passed(j),
			func(ref graph.FeatureRef) bool { return slices.Contains(loaded, x.After.KindOf(ref)) })
}

// WhyOf is the reason of the worst check, of the first among equals.
func WhyOf(checks []mating.Check) string {
	worst := mating.Worst(checks)
	for _, c := range checks {
		if c.Verdict == worst {
			return c.Why
		}
	}
	return ""
}

// SafetyOf are the safety classes of the places of ends, in the order printed.
func (x *Examiner) SafetyOf(ends []End) []graph.Safety {
	var classes []graph.Safety
	for _, class := range graph.SafetyClasses() {
		if slices.ContainsFunc(ends, func(e End) bool { return x.After.SafetyAt(e.Position) == class }) {
			classes = append(classes, class)
		}
	}
	return classes
}

// FirstSafety is the first class, none when there is none.
func FirstSafety(classes []graph.Safety) graph.Safety {
	if len(classes) == 0 {
		return graph.SafetyNone
	}
	return classes[0]
}

// end is one side of an outcome as it is afterwards.
func (x *Examiner) end(ref graph.FeatureRef) End {
	seat := x.After.Seat(ref.Position)
	return End{Position: ref.Position, Name: seat.Position.Name, Feature: ref.Feature, Part: seat.Part.ID,
		Changed: seat.Changed}
}

// Ends are several, each position and feature once.
func (x *Examiner) Ends(refs ...graph.FeatureRef) []End {
	var ends []End
	for _, ref := range refs {
		if e := x.end(ref); ref.Position != "" && !slices.Contains(ends, e) {
			ends = append(ends, e)
		}
	}
	return ends
}

// HasOrders reports whether a check that is no plain fits names something to be made.
func HasOrders(checks []mating.Check) bool {
	return slices.ContainsFunc(checks, func(c mating.Check) bool { return c.Verdict != graph.Fits && len(c.Orders) > 0 })
}

// EffortOf is the hardest class of effort that the checks ask for.
func EffortOf(checks []mating.Check) graph.Effort {
	worst := graph.EffortNone
	for _, c := range checks {
		worst = max(worst, c.Effort)
	}
	return worst
}

// SpeaksOf reports whether an outcome was judged by what sits at a place, or
// asks to measure there.
func (o Outcome) SpeaksOf(id graph.PositionID) bool {
	return slices.ContainsFunc(o.Ends, func(e End) bool { return e.Position == id }) ||
		slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
			return slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return u.Position == id }) ||
				slices.ContainsFunc(c.Measure, func(a mating.Ask) bool { return a.Position == id })
		})
}

// IsSaid reports whether an outcome is not judged again with other parts around it:
// what is said of a part, its sort, its open ends, that nothing is known.
func IsSaid(o Outcome) bool {
	return IsOfPart(o) && o.What != OfInnerRow && o.What != OfHeat && o.What != OfRoad
}

// IsOfPart reports whether an outcome is about a part at its place alone: what is
// said of it, its sort, its open ends, that nothing is known. No other part puts
// that right, and a plan does not reckon with it. So it is with the inside of a
// hub, for which a plan would have to try too many bearings and tubes together: it
// tells how that comes out.
func IsOfPart(o Outcome) bool {
	return slices.Contains([]string{OfWord, OfKind, OfOpenEnd, OfPlace, OfInnerRow, OfHeat, OfRoad}, o.What)
}
