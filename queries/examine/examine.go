package examine

import (
	"cmp"
	"context"
	"crypto/sha256"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
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

	OfLeverage  = "brake leverage"  // of a whole brake against that as built
	OfClutch    = "clutch leverage" // of a hydraulic clutch against that as built
	OfBleed     = "bleed screw"     // at the top where the part is put
	OfTyres     = "tyres"           // front and rear together
	OfChainLine = "chain line"      // of a sprocket bolted to a hub
	OfHand      = "hand"            // the side and cylinder that a part is made for
	OfTrail     = "rake and trail"  // of the whole machine
	OfShock     = "rear height"     // of a shock over its link
	OfLever     = "lever"           // a hand lever against the one as built
	OfPedal     = "pedal"           // a pedal against the one as built
	OfYokes     = "yokes"           // of one fork, one against the other
	OfLock      = "full lock"       // what turns with the bars against what it could strike
	OfStand     = "stand"           // how the machine stands on it
	OfInnerRow  = "hub"             // bearings and tube inside a hub
	OfLineEnds  = "line ends"       // that every end of a line is judged
	OfHoseEnd   = "hose clamp"      // on its hose
	OfBarRoom   = "room on the bar"
	OfRod       = "rod"         // a threaded rod with both its ends
	OfPack      = "clutch pack" // all plates on their hub
	OfSpeed     = "speed shown" // by the clocks
	OfWire      = "fuse"        // a fuse with its wires and what they feed
	OfVoltage   = "voltage"     // of what hangs on the battery
	OfClamp     = "clamp"       // of two parts, as a yoke and its cap
	OfMetal     = "metal"       // of a part that holds others by its holes
	OfPads      = "pads"        // in the caliper that they are joined to
	OfAxle      = "axle"        // its plain length against what it carries
	OfThroats   = "throats"     // of a rack in stubs that stand apart
	OfRubber    = "rubber"      // of a ring, in what it seals
	OfWall      = "wall"        // of a ring, between its bore and its surface
	OfShaft     = "shaft"       // with the thread that is cut on it
	OfWear      = "wear"        // of a part, against a limit of its own
	OfHeat      = "heat"        // of an exhaust beside a line
	OfRoad      = "road"        // what the road asks for, and a place does
	OfTwice     = "size"        // of a part, that it has at two places
	OfAdjuster  = "adjuster"    // of the chain, against the way of the axle
	OfSpokes    = "spokes"      // with hub and rim
	OfChainPath = "chain path"  // beside what stands where the chain ran as built
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
	// Lapsed is true of a word that was said of parts which are others now.
	Lapsed bool `json:"lapsed,omitempty"`
	// AnswerID is what to ask why about; see SwapID.
	AnswerID string `json:"answer_id,omitempty"`

	Joint graph.Joint    `json:"-"` // of a joint only
	Run   graph.Run      `json:"-"` // of a run only
	Was   []mating.Check `json:"-"`
}

// OutcomeID names an outcome among all of an answer: a joint, a pair, a kind and a
// disc each have an ID, which may be one and the same place.
type OutcomeID struct{ What, ID string }

// Key names the outcome among all of its answer.
func (o Outcome) Key() OutcomeID { return OutcomeID{o.What, o.ID} }

// Name is what the outcome is about, as "caliper-left-on-leg joint" or "pair front-fork/leg".
func (o Outcome) Name() string {
	_, local, _ := strings.Cut(o.ID, ":")
	if plain, ok := strings.CutSuffix(local, "-"+o.What); ok {
		return plain + " " + o.What
	}
	return o.What + " " + strings.TrimPrefix(local, o.What+" ")
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

// HasWork reports whether an outcome of a safety class fits only once something was got,
// made, altered or looked at: as it stands it does not go together. What any such work
// ends with is none (see mating.Check).
func (o Outcome) HasWork() bool {
	return o.After == graph.FitsWithChanges && len(o.Safety) > 0 &&
		slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return c.Verdict == graph.FitsWithChanges && !c.Routine })
}

// IsOpen reports whether an outcome stands against riding: it is of a safety class, and
// unknown, or does not fit, or fits only after work.
func (o Outcome) IsOpen() bool {
	return len(o.Safety) > 0 && (o.After == graph.Unknown || o.After == graph.DoesNotFit) || o.HasWork()
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
func Examine(ctx context.Context, before *Before, after *machine.Setup) ([]Outcome, error) {
	x, err := NewExaminer(ctx, before, after)
	if err != nil {
		return nil, err
	}
	return x.Outcomes(), nil
}

// ExamineAll judges every joint, run, stack, circuit, chain and finish of the
// machine as it stands.
func ExamineAll(ctx context.Context, s *machine.Setup) ([]Outcome, error) {
	c, err := WholeMachine(ctx, s)
	if err != nil {
		return nil, err
	}
	x := examiner(c, From(s), s)
	all := append(x.Outcomes(), x.Kinds()...)
	sortOutcomes(all)
	return all, nil
}

// Examiner judges connections before and after a change. Everything it needs
// is loaded.
type Examiner struct {
	Built, Before, After *machine.Setup
	*Connections
	past map[string][]mating.Check // what was judged on the machine before
	// figures are those of circuits that a change leaves as they were before.
	figures map[graph.CircuitID][]Number
	driven  map[*machine.Setup][]drive
	// AsBuiltOn are the features of changed places all of whose joints are between parts
	// that came over together from a machine, with that machine; nil for none.
	AsBuiltOn map[graph.FeatureRef]graph.VariantID
	// PairedOn are those all of whose joints have both sides from such a machine, whatever
	// bolts hold them: two such sides were made for one another.
	PairedOn map[graph.FeatureRef]graph.VariantID
	// put are the places that were changed, with their partners; see touched.
	put []graph.PositionID
	// contents are what sits at places before the change.
	contents map[graph.PositionID]string
	// only is the place whose part in things is asked for; none for that of all changed.
	only graph.PositionID
	// afterOnly is true where nobody asks how things were before the change.
	afterOnly bool
	// checksOnly is true where only the checks after the change are asked for: what else
	// there is in an outcome is then left out where it takes time.
	checksOnly bool
}

// NewExaminer reads what the changes of after touch, and judges it against before, with
// what was read around it and judged of it already.
func NewExaminer(ctx context.Context, before *Before, after *machine.Setup) (*Examiner, error) {
	return newExaminer(ctx, before, after, true)
}

// NewExaminerUnclassed is that with connections as ConnectionsUnclassed has them.
func NewExaminerUnclassed(ctx context.Context, before *Before, after *machine.Setup) (*Examiner, error) {
	return newExaminer(ctx, before, after, false)
}

func newExaminer(ctx context.Context, before *Before, after *machine.Setup, classed bool) (*Examiner, error) {
	c, err := before.connections(ctx, after, classed)
	if err != nil {
		return nil, err
	}
	x := examiner(c, before, after)
	return x, after.Library().ReadKinds(ctx, kindsOfChanged(x))
}

func examiner(c *Connections, before *Before, after *machine.Setup) *Examiner {
	return &Examiner{Built: after.AsBuilt(), Before: before.setup, After: after, Connections: c, past: before.checks,
		figures: before.figures, contents: before.contents}
}

// checks gives the checks before the change, as checksBefore does, and those after it. On a
// machine as it stands they are the same.
func (x *Examiner) checks(key string, on func(*machine.Setup) []mating.Check) (was, is []mating.Check) {
	is = on(x.After)
	if x.Before == x.After {
		return is, is
	}
	return x.was(key, func() []mating.Check { return on(x.Before) }), is
}

// isBrief reports whether of the checks on one state of the machine nobody asks for the words:
// those before the change are kept for who does.
func (x *Examiner) isBrief(s *machine.Setup) bool {
	return x.checksOnly && s == x.After && s != x.Before
}

// was is checksBefore where somebody asks how things were before the change, else nothing.
func (x *Examiner) was(key string, work func() []mating.Check) []mating.Check {
	if x.afterOnly || x.checksOnly {
		return nil
	}
	return x.checksBefore(key, work)
}

// Afterwards leaves out how things were before the change: of its outcomes only what they
// come to after it counts, and what they were judged by.
func (x *Examiner) Afterwards() *Examiner {
	x.afterOnly = true
	return x
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

// Outcomes judges all that the changes touch.
func (x *Examiner) Outcomes() []Outcome { return x.OutcomesOf(x.Touching("")) }

// Touching is all that the changes touch; with a place, only what that place takes part
// in.
func (x *Examiner) Touching(only graph.PositionID) []Connection {
	at := x.touched()
	isIn := func(id graph.PositionID) bool { return slices.Contains(at, id) }
	return lists.Kept(x.list(x.After, at, only), func(c Connection) bool {
		return (only == "" || slices.Contains(c.Places, only)) &&
			(!c.touched || x.whole || slices.ContainsFunc(c.Places, isIn))
	})
}

// touched are the places that were changed, with their partners; all of a machine that
// is judged as it stands.
func (x *Examiner) touched() []graph.PositionID {
	if x.whole {
		return x.all
	}
	if x.put == nil {
		x.put = withPartners(x.After, x.After.Changed())
	}
	return x.put
}

// OutcomesOf judges connections, sorted by sort, then identity.
func (x *Examiner) OutcomesOf(connections []Connection) []Outcome {
	var all []Outcome
	for i, c := range connections {
		if o, ok := c.judge(x); ok {
			if all == nil {
				all = make([]Outcome, 0, len(connections)-i)
			}
			all = append(all, alike(x, o))
		}
	}
	sortOutcomes(all)
	return all
}

func sortOutcomes(all []Outcome) {
	slices.SortStableFunc(all, func(a, b Outcome) int {
		return cmp.Or(cmp.Compare(whatOrder(a.What), whatOrder(b.What)), cmp.Compare(a.ID, b.ID))
	})
}

// JudgeAgain judges the same joint or run as an outcome; false for anything else.
func (x *Examiner) JudgeAgain(o Outcome) (Outcome, bool) {
	switch o.What {
	case OfJoint:
		return joint(x, o.Joint), true
	case OfRun:
		return runOutcome(x, o.Run), true
	}
	return Outcome{}, false
}

func whatOrder(what string) int {
	return slices.Index([]string{OfWord, OfKind, OfJoint, OfRun, OfStack, OfInnerRow, OfDisc, OfChain, OfChainLine,
		OfChainPath, OfCircuit, OfLeverage, OfClutch, OfBleed, OfPair, OfHand, OfTyres, OfSpokes, OfLineEnds, OfHoseEnd,
		OfLever, OfPedal, OfClamp, OfYokes, OfLock, OfTrail, OfShock, OfStand, OfRod, OfBarRoom, OfPack, OfSpeed, OfWire,
		OfVoltage, OfMetal, OfPads, OfTwice, OfAxle, OfThroats, OfRubber, OfWall, OfShaft, OfAdjuster, OfWear, OfHeat,
		OfRoad, OfFinish, OfOpenEnd, OfPlace}, what)
}

// Judged fills in an outcome from its checks before and after.
func (x *Examiner) Judged(o Outcome, was, is []mating.Check) Outcome {
	if len(is) == 0 {
		is = []mating.Check{{Rule: "nothing judged", Verdict: graph.Unknown, Why: "nothing could be judged here"}}
	}
	o.Checks, o.Was = is, was
	if x.checksOnly {
		return o
	}
	o.After, o.Why = mating.Worst(is), WhyOf(is)
	if x.afterOnly {
		return o
	}
	o.Before = mating.Worst(was)
	o.Same = reflect.DeepEqual(was, is)
	if o.Safety = x.SafetyOf(x.bearing(o)); len(o.Safety) == 0 && showsSpeed(x, o) {
		o.Safety = []graph.Safety{speedClass}
	}
	return o
}

// bearing are the ends whose safety class an outcome has: all of them, of a joint
// those of its bolts too, and of what hangs on it. A part without a class has that of
// what it holds, a bolt in its thread that of both sides of the joint it holds. A panel
// on its points carries nothing of what it lies on: that joint has the class of the panel
// and of what is changed. A colour scheme has none.
func (x *Examiner) bearing(o Outcome) []End {
	switch o.What {
	case OfFinish: // paint, whatever it is on
		return nil
	case OfJoint:
	case OfChainPath: // a tyre beside it comes to no harm by a chain that runs clear
		return lists.Kept(slices.Clone(o.Ends), func(e End) bool { return !hasAt(x, e.Position, "tyre") })
	case OfPlace, OfKind: // a bolt as a whole has the class of what it holds
		return x.withHeld(append(slices.Clone(o.Ends), x.heldTogether(o.Ends)...))
	default:
		return x.withHeld(o.Ends)
	}
	ends := append(slices.Clone(o.Ends), x.fastenersOf(o.Joint)...)
	if panels := x.panelsOn(o.Joint); !x.whole && len(panels) > 0 {
		ends = lists.Kept(ends, func(e End) bool { return e.Changed })
		for _, id := range panels {
			ends = append(ends, x.end(graph.FeatureRef{Position: id}))
		}
	}
	ends = append(ends, x.borne(o.Joint)...)
	for k := range x.jointsHeldBy(o.Joint.A.Position, o.Joint.B.Position) {
		if len(x.panelsOn(*k)) == 0 {
			ends = append(append(ends, x.Ends(k.A, k.B)...), x.borne(*k)...)
		} else {
			ends = append(ends, x.Ends(k.A)...)
		}
	}
	return ends
}

// heldTogether are both ends of the joints that what sits at some places holds, but of a
// panel on its points the panel alone.
func (x *Examiner) heldTogether(bolts []End) (ends []End) {
	for _, bolt := range bolts {
		for k := range x.jointsHeldBy(bolt.Position) {
			if len(x.panelsOn(*k)) == 0 {
				ends = append(ends, x.Ends(k.A, k.B)...)
			} else {
				ends = append(ends, x.Ends(k.A)...)
			}
		}
	}
	return ends
}

// panelsOn are the panels that lie on the points of a joint, or that its screw holds
// there: the first of such a joint lies on the second.
func (x *Examiner) panelsOn(j graph.Joint) []graph.PositionID {
	isOn := func(j graph.Joint) bool { return x.After.KindOf(j.A) == "points" || x.After.KindOf(j.B) == "points" }
	var panels []graph.PositionID
	if isOn(j) {
		panels = append(panels, j.A.Position)
	}
	for k := range x.jointsHeldBy(j.A.Position, j.B.Position) {
		if isOn(*k) {
			panels = append(panels, k.A.Position)
		}
	}
	return panels
}

func (x *Examiner) fastenersOf(j graph.Joint) []End {
	return lists.Mapped(j.Fasteners, func(id graph.PositionID) End { return x.end(graph.FeatureRef{Position: id}) })
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
	for i := range ends {
		if class := x.After.SafetyAt(ends[i].Position); class != graph.SafetyNone && !slices.Contains(classes, class) {
			classes = append(classes, class)
		}
	}
	slices.SortFunc(classes, func(a, b graph.Safety) int { return cmp.Compare(a.Place(), b.Place()) })
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

// Places are those that take part in an outcome, as Concerns says of each, sorted.
func (o Outcome) Places() []graph.PositionID {
	places := lists.Mapped(o.Ends, func(e End) graph.PositionID { return e.Position })
	places = append(places, o.Joint.Places()...)
	for _, c := range o.Checks {
		places = append(places, lists.Mapped(c.Uses, func(u mating.Use) graph.PositionID { return u.Position })...)
		places = append(places, lists.Mapped(c.Measure, func(a mating.Ask) graph.PositionID { return a.Position })...)
	}
	return lists.Kept(lists.Unique(places), func(id graph.PositionID) bool { return id != "" })
}

// Concerns reports whether a place takes part in an outcome: an end of it, what holds
// its joint together, what it was judged by or asks to measure.
func (o Outcome) Concerns(id graph.PositionID) bool {
	return o.SpeaksOf(id) || o.ID == string(id) || slices.Contains(o.Joint.Places(), id)
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

// geometryNumbers are rake, trail and ride height.
func (x *Examiner) geometryNumbers(l *machine.Landmarks) []Number {
	if l.Frame == "" {
		return nil
	}
	built := readStance(x, x.Built, l)
	st := states[stance]{about: string(l.Frame), safety: graph.SafetySteering, stock: built,
		before: readStance(x, x.Before, l), after: readStance(x, x.After, l)}
	var all []Number
	for _, f := range []formula[stance]{
		{name: "rake", unit: "deg", decimals: 2, law: "the frame's, tilted by (rise in front - rise at the rear) / wheelbase",
			source: "geometry; wheelbase held constant",
			work:   func(in stance) (float64, error) { s, err := in.steering(built); return s.Rake, err }},
		{name: "trail", unit: "mm", decimals: 1, law: "(R sin e - o) / cos e",
			source: "(R sin e - o) / cos e: geometry, upright, on level ground",
			work: func(in stance) (float64, error) {
				s, err := in.steering(built)
				if err != nil {
					return 0, err
				}
				return s.Trail()
			}, words: trailWords(built), judge: judgeTrail},
		{name: "front axle to steering head, along the fork", unit: "mm", decimals: 1, law: "length of the leg",
			source: "length of the fork leg",
			work:   func(in stance) (float64, error) { return in.leg, errIf(!in.okLeg) }},
		{name: "rear ride height against stock", unit: "mm", decimals: 1, law: "(shock length - that as built) x link ratio",
			source: "shock length change x link ratio: levers, common practice",
			work:   func(in stance) (float64, error) { return in.rearRise(built) }, words: riseWords},
	} {
		f.gauge = func(in stance) *gauge { return in.g }
		all = append(all, st.number(f)...)
	}
	for i, n := range all {
		if n.Words == hardlyChanged {
			all[i].Safety = graph.SafetyNone
		}
	}
	return all
}

// Numbers are the figures of everything that the change touches; circuits are those
// that the new parts come from, nil for none.
func (x *Examiner) Numbers(ctx context.Context, circuits map[graph.CircuitID]DonorCircuit) ([]Number, error) {
	all := append(x.HydraulicNumbers(circuits), x.CableNumbers()...)
	if !machine.TouchesGeometry(x.Before, x.After) {
		return all, nil
	}
	l, err := x.After.FindLandmarks(ctx)
	if err != nil {
		return nil, err
	}
	all = append(all, x.gearingNumbers(l)...)
	all = append(all, x.wheelNumbers(l)...)
	return append(all, x.geometryNumbers(l)...), nil
}

// CableNumbers are the pulls of every cable with a drum that was changed.
func (x *Examiner) CableNumbers() []Number {
	var all []Number
	cables := cables(x, x.After)
	for _, line := range lists.KeysOf(cables) {
		seats := driverFirst(x, line, cables[line])
		if len(seats) != 2 || !x.isChanged(seats[0].Position) && !x.isChanged(seats[1].Position) {
			continue
		}
		st := states[pull]{about: string(line), safety: x.After.Seat(line).Position.Safety, stock: readPull(x, x.Built,
			seats),
			before: readPull(x, x.Before, seats), after: readPull(x, x.After, seats)}
		if !st.before.okUpper && !st.after.okUpper {
			continue // a lever, not a drum
		}
		upper, lower := seats[0].Position.Local(), seats[1].Position.Local()
		for _, f := range []formula[pull]{
			{name: fmt.Sprintf("cable wound up by %g deg at %s", quarterTurn, upper), unit: "mm", decimals: 1,
				law: "radius x angle", source: "length of an arc", work: pull.wound},
			{name: fmt.Sprintf("turn of %s for %g deg at %s", upper, quarterTurn, lower), unit: "deg", decimals: 1,
				law: "angle x lower radius / upper radius", source: "the same cable on both drums", work: pull.turn,
				words: turnWords},
		} {
			f.gauge = func(in pull) *gauge { return in.g }
			all = append(all, st.number(f)...)
		}
	}
	return all
}

// Places says of every changed place how its verdict was earned. Outcomes and
// numbers are what was worked out, words what speaks for the new parts, by position.
// Unless named, not all checks that judged a dimension are named, and less is tried.
func (x *Examiner) Places(ctx context.Context, outcomes []Outcome, numbers []Number,
	words map[graph.PositionID]Word, named bool) (Earnings, error) {
	all := Earnings{By: map[graph.PositionID]Earned{}}
	if err := x.After.Library().ReadKinds(ctx, kindsOfChanged(x)); err != nil {
		return all, err
	}
	by := sync.OnceValue(func() judgements { // as built, nobody asks
		by := judgedBy(x, outcomes, numbers)
		by.whether = !named
		return by
	})
	for _, id := range x.After.Changed() {
		switch {
		case x.After.Seat(id).Empty, x.After.Seat(id).Made:
			continue
		case isBuiltHere(x, id):
			all.By[id] = EarnedListed
			continue
		}
		earned, differs, left := place(x, id, outcomes, by(), words[id]).Judge()
		if all.By[id] = earned; earned == EarnedNothing {
			all.Unknown = append(all.Unknown, unknownPlace(x, id, left))
		}
		all.Differs = append(all.Differs, differs...)
		all.NotJudged = append(all.NotJudged, left...)
	}
	return all, nil
}

// EarnedAt says how one changed place whose kind of part was read earns its
// verdict.
func (x *Examiner) EarnedAt(id graph.PositionID, outcomes []Outcome, numbers []Number, word Word) Earned {
	if isBuiltHere(x, id) {
		return EarnedListed
	}
	by := judgedBy(x, outcomes, numbers)
	by.whether = true
	p := place(x, id, outcomes, by, word)
	if p.isOpen(by) {
		return EarnedNothing
	}
	earned, _, _ := p.Judge()
	return earned
}

// StackCases are what a row is judged by before and after the change; false for one
// that the change does not touch.
func (x *Examiner) StackCases(id graph.StackID) (was, now mating.StackCase, ok bool) {
	for _, st := range x.stacks {
		if st.ID == id {
			return stackCase(x, x.Before, st), stackCase(x, x.After, st), true
		}
	}
	return was, now, false
}

func (x *Examiner) isChanged(id graph.PositionID) bool { return x.After.IsChanged(id) }

// HydraulicNumbers are the figures of every circuit with a fluid.
func (x *Examiner) HydraulicNumbers(donors map[graph.CircuitID]DonorCircuit) []Number {
	var all []Number
	for _, c := range x.Circuits {
		if c.Carries == CarriesCurrent {
			continue
		}
		changed := func(id graph.PositionID) bool { return !x.After.IsSameAt(x.Before, id) }
		stays := len(donors) == 0 && x.figures != nil && queries.LocalName(string(c.ID)) != NewCircuit &&
			!slices.ContainsFunc(c.Places(), changed)
		if figures, known := x.figures[c.ID]; known && stays {
			all = append(all, figures...)
			continue
		}
		first := len(all)
		st := states[hydraulics]{about: string(c.ID), stock: readHydraulics(x.Built, c),
			before: readHydraulics(x.Before, c), after: readHydraulics(x.After, c),
			safety: FirstSafety(x.SafetyOf(x.Ends(RefsOf(c.Members)...)))}
		if d, ok := donors[c.ID]; ok {
			h := readHydraulics(d.Setup, d.Circuit)
			st.donor, st.donorOn = &h, d.Setup.Variant.ID
		}
		formulas := brakeFormulas(c.Wheel)
		if st.after.slave || st.before.slave {
			formulas = clutchFormulas(st.before, st.stock.slave)
		}
		for _, f := range formulas {
			f.gauge = func(h hydraulics) *gauge { return h.g }
			all = append(all, st.number(f)...)
		}
		if stays {
			x.figures[c.ID] = slices.Clone(all[first:])
		}
	}
	return all
}

// wheelNumbers are the figures of both wheels: tyre, speedometer, sensor ring.
func (x *Examiner) wheelNumbers(l *machine.Landmarks) []Number {
	var all []Number
	for _, end := range []string{"front", "rear"} {
		if l.Tyre[end] == "" {
			continue
		}
		st := states[rolling]{about: string(l.Tyre[end]), stock: readRolling(x, x.Built, end, l),
			before: readRolling(x, x.Before, end, l), after: readRolling(x, x.After, end, l)}
		for _, f := range []formula[rolling]{
			{name: end + " tyre diameter", unit: "mm", decimals: 1, law: "rim + 2 x width x aspect ratio",
				needs: []string{"size"}, source: "UN R75, ISO 5751: design size, new and unloaded", work: rolling.diameter},
			{name: end + " tyre circumference", unit: "mm", law: "pi x diameter", needs: []string{"size"},
				source: "pi times the diameter, without squat", work: rolling.circumference},
			{name: end + " sensor pulses per metre", decimals: 2, law: "teeth / circumference", needs: []string{"teeth", "size"},
				source: "one pulse a tooth", work: rolling.pulses,
				words: func(rolling, rolling) string {
					return "what an anti-lock unit stands is the maker's own and was not found in any source"
				}},
		} {
			if f.name == end+" sensor pulses per metre" && !st.before.hasRing && !st.after.hasRing {
				continue
			}
			f.gauge = func(in rolling) *gauge { return in.g }
			all = append(all, st.number(f)...)
		}
		if end == "rear" && len(drives(x, x.After)) == 0 { // else the chain's own figures say it
			all = append(all, st.number(formula[rolling]{name: "revs at the same speed, 100 as built", unit: "%", decimals: 1,
				law: "circumference as built / circumference now", needs: []string{"size"},
				source: "circumference before over after; the gearing stays", gauge: func(in rolling) *gauge { return in.g },
				work: func(in rolling) (float64, error) {
					return st.stock.around / in.around * 100, cmp.Or(st.stock.err, in.err)
				}})...)
		}
		all = append(all, speedometer(x, end, st, l)...)
	}
	return all
}

// RunCase is what a run is judged by after the change.
func (x *Examiner) RunCase(run graph.Run) mating.RunCase { return runCase(x, x.After, run) }

// RunCaseBefore is what it was judged by before.
func (x *Examiner) RunCaseBefore(run graph.Run) mating.RunCase { return runCase(x, x.Before, run) }

// IsLead reports whether the line of a run is a lead.
func (x *Examiner) IsLead(run graph.Run) bool {
	return lineSide(x, x.After, run).Feature.Kind == "lead"
}

// Kinds says where a part of another sort was put, with none of the features that the
// position needs, listed there or not: at the changed places, or all of a whole machine.
func (x *Examiner) Kinds() []Outcome {
	at := x.After.Changed()
	if x.whole {
		at = x.all
	}
	var all []Outcome
	for _, id := range at {
		is := kindChecks(x, x.After, id)
		if mating.Worst(is) != graph.DoesNotFit {
			continue
		}
		o := Outcome{What: OfKind, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
		all = append(all, x.Judged(o, kindChecks(x, x.Before, id), is))
	}
	return all
}

// gearingNumbers are the figures of every chain that was touched.
func (x *Examiner) gearingNumbers(l *machine.Landmarks) []Number {
	var all []Number
	for _, d := range drives(x, x.After) {
		st := states[gearing]{about: string(d.chain.Position), stock: readGearing(x, x.Built, d, l),
			before: readGearing(x, x.Before, d, l), after: readGearing(x, x.After, d, l)}
		read := func(in gearing) *gauge { return in.g }
		all = append(all, st.number(formula[gearing]{name: "final ratio", decimals: 3, law: "rear teeth / front teeth",
			source: "rear teeth over front teeth", needs: []string{"teeth"},
			work: gearing.ratio, gauge: read, words: gearWords})...)
		if l.Engine != "" && l.Tyre["rear"] != "" {
			all = append(all, st.number(formula[gearing]{name: fmt.Sprintf("revs at %g km/h in top gear", compareSpeed),
				unit: "1/min",
				law:  "speed / circumference x primary ratio x final ratio", needs: []string{"teeth", "ratio", "size"},
				source: "primary x final ratio over the tyre's circumference; no slip", work: gearing.revs, gauge: read})...)
		}
		what, words := "chain", linkWords
		if kindAsBuilt(x, d.chain) == "belt" {
			what, words = "belt", axleWords
		}
		all = append(all, st.number(formula[gearing]{name: "output shaft to axle with this " + what, unit: "mm", decimals: 1,
			law: "links = 2C/p + (z1 + z2)/2 + ((z2 - z1)/2pi)^2 p/C, for C", needs: []string{"teeth", "links", "pitch"},
			source: "chain length formula of chain handbooks, common practice", work: gearing.centre, gauge: read,
			words: words})...)
	}
	return all
}

// isAnother reports whether what a check used is not what was there before: a size of a
// new part, or of one found there in the stead of what was built, which the one before had
// not. What is made is made to suit what it meets.
func (x *Examiner) isAnother(u mating.Use) bool {
	seat, was := x.After.Seat(u.Position), x.wasAt(u.Position)
	if !x.isPutOn(u.Position) || seat.Made || seat.Part.ID != u.Part {
		return false
	}
	now, before := readingsAt(seat.Part, u), readingsAt(was.Part, u)
	return len(now) > 0 && (len(before) == 0 || !evidence.SameReading(specOf(seat.Part, u), now[0], before[0]))
}

// wasAt is what sat at a place before the change; where nothing is changed, what was built.
func (x *Examiner) wasAt(id graph.PositionID) machine.Seat {
	if x.isChanged(id) {
		return x.Before.Seat(id)
	}
	return x.Built.Seat(id)
}

// isPutOn reports whether what sits at a place was put there: by the change, or before it
// in the stead of what is known to be built in.
func (x *Examiner) isPutOn(id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	return seat.Changed || !seat.Empty && !built.Empty && !seat.IsSame(built)
}

// asksFor reports whether what is asked for takes part where some places do.
func (x *Examiner) asksFor(places []graph.PositionID) bool {
	return x.only == "" || slices.Contains(places, x.only)
}

// OutcomesOnce is OutcomesOf, with what was judged on another machine and comes out the
// same on this one taken from there; but safety classes, which hang on what else a place
// holds, are left as they were there. decidedBy stands for all that decided them.
func (x *Examiner) OutcomesOnce(connections []Connection, known Decided) (all []Outcome, decidedBy Decider) {
	var names []byte
	together := sha256.New()
	all = make([]Outcome, 0, len(connections))
	for _, c := range connections {
		names = x.decides(names[:0], c)
		by := Decider(sha256.Sum256(names))
		had, is := known[by]
		if !is {
			if had.outcome, had.ok = c.judge(x); had.ok {
				had.outcome = alike(x, had.outcome)
			}
			known[by] = had
		}
		if had.ok {
			all = append(all, had.outcome)
		}
		together.Write(by[:])
	}
	sortOutcomes(all)
	return all, Decider(together.Sum(nil))
}

// decides names, after what is named already, all that the outcome of a connection hangs
// on: which it is, and what sits, before the change and after it, at its places. On two
// variants of a model for which it is equal, it comes out the same.
func (x *Examiner) decides(names []byte, c Connection) []byte {
	add := func(texts ...string) {
		for _, text := range texts {
			names = append(names, text...)
		}
	}
	add(c.What, " ", c.ID)
	if x.hangsOnWhoSays(c) {
		add(" of ", string(x.After.Variant.ID))
	}
	for _, id := range lists.Unique(slices.Concat(c.Places, x.lookedAt(c))) {
		add("\n", string(id), " ", x.contentBefore(id))
		if x.isChanged(id) {
			add(" -> ", x.After.Content(id))
		}
	}
	add("\n\n")
	return names
}

// hangsOnWhoSays reports whether several say how long the path of a line of a connection
// is: who counts first is another on another variant.
func (x *Examiner) hangsOnWhoSays(c Connection) bool {
	several := func(readings []graph.Reading) bool { return len(readings) > 1 }
	for _, runs := range [][]graph.Run{x.runs, x.reaches} {
		for i := range runs {
			run := &runs[i]
			if slices.Contains(c.Places, run.Line) && (several(run.Spare) || several(run.Inner) || several(run.Gap) ||
				several(run.LeastGap) || slices.ContainsFunc(run.Needs, func(n graph.RunNeed) bool { return several(n.Length) })) {
				return true
			}
		}
	}
	return false
}

// contentBefore is what sits at a place before the change, worked out once for all
// changes that are held against the same machine.
func (x *Examiner) contentBefore(id graph.PositionID) string {
	content, known := x.contents[id]
	if !known {
		content = x.Before.Content(id)
		if !x.Before.IsAsBuilt(id) {
			content += " for " + x.Built.Content(id)
		}
		x.contents[id] = content
	}
	return content
}

// lookedAt are places that a joint's words hang on besides those that decide it: what
// else its bolts hold, what the other ring of a bearing meets, the row that a bearing or
// a disc stands in.
func (x *Examiner) lookedAt(c Connection) []graph.PositionID {
	at := slices.IndexFunc(x.Joints, func(j graph.Joint) bool { return c.What == OfJoint && string(j.ID) == c.ID })
	if at < 0 {
		return nil
	}
	j := x.Joints[at]
	var places []graph.PositionID
	for k := range x.jointsHeldBy(j.A.Position, j.B.Position) {
		places = append(places, k.Places()...)
	}
	if d, ok := discLineOf(x.Connections, j); ok {
		places = append(places, d.places()...)
	}
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if !machine.HasKind(x.Before.Seat(ref.Position).Part, "bearing") && !x.After.HasAt(ref.Position, "bearing") {
			continue
		}
		for k := range x.JointsAt(ref.Position) {
			places = append(places, k.Places()...)
		}
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			st, _ := stackOf(x, end)
			places = append(places, st.Places()...)
		}
	}
	return named(places)
}

// withHeld are ends with those of what hangs on them, where they have no class.
func (x *Examiner) withHeld(ends []End) []End {
	all := slices.Clone(ends)
	for _, e := range ends {
		for _, id := range x.held.on[e.Position] {
			all = append(all, x.end(graph.FeatureRef{Position: id}))
		}
	}
	return all
}

// borne are the ends of what hangs on a joint: of the side that the other one holds,
// with all that hangs on it.
func (x *Examiner) borne(j graph.Joint) []End {
	var all []End
	a, b := j.A.Position, j.B.Position
	for _, ends := range [][2]graph.PositionID{{a, b}, {b, a}} {
		own, other := ends[0], ends[1]
		onOwn, known := x.held.on[own]
		switch {
		case !known:
		case slices.Contains(onOwn, other):
			all = append(all, x.withHeld(x.Ends(graph.FeatureRef{Position: other}))...)
		case x.isNearer(other, own):
			all = append(all, x.withHeld(x.Ends(graph.FeatureRef{Position: own}))...)
		}
	}
	return all
}

// isNearer reports whether one place is nearer to the frame than another, as what holds
// it is.
func (x *Examiner) isNearer(id, than graph.PositionID) bool {
	far, known := x.held.far[id]
	of, ofKnown := x.held.far[than]
	return !ofKnown || known && far < of
}

// Decided keeps outcomes by all that decides them, for changes on many machines of one
// model, of which most are alike around most places.
type Decided map[Decider]decided

// Decider stands for all that decides something, however much that is: its SHA-256.
type Decider [sha256.Size]byte

type decided struct {
	outcome Outcome
	ok      bool // something was judged
}
