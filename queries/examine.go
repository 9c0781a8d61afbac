package queries

import (
	"cmp"
	"context"
	"reflect"
	"slices"

	"matewell/graph"
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
	OfWord    = "word" // what sources say of the very part at the very position
	// OfNothing is a changed place about which nothing was judged, listed or found.
	OfNothing = "nothing known"
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

	joint graph.Joint // of a joint only
	run   graph.Run   // of a run only
	was   []mating.Check
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
func Examine(ctx context.Context, before, after *Setup) ([]Outcome, error) {
	changed := after.Changed()
	c, err := connectionsAt(ctx, after, changed)
	if err != nil {
		return nil, err
	}
	x := &examiner{built: after.AsBuilt(), before: before, after: after, connections: c}
	return x.outcomes(), nil
}

// ExamineAll judges every joint, run, stack, circuit, chain and finish of the
// machine as it stands.
func ExamineAll(ctx context.Context, s *Setup) ([]Outcome, error) {
	c, err := wholeMachine(ctx, s)
	if err != nil {
		return nil, err
	}
	x := &examiner{built: s.AsBuilt(), before: s, after: s, connections: c}
	return x.outcomes(), nil
}

// examiner judges connections before and after a change. Everything it needs
// is loaded.
type examiner struct {
	built, before, after *Setup
	*connections
	// only limits the outcomes to those that a position takes part in; empty
	// for all.
	only graph.PositionID
	// past keeps the checks before the change, for examiners that share it;
	// nil keeps none.
	past map[string][]mating.Check
}

// was gives the checks before the change, worked out once for all examiners
// that share the past.
func (x *examiner) was(key string, work func() []mating.Check) []mating.Check {
	if checks, ok := x.past[key]; ok {
		return checks
	}
	checks := work()
	if x.past != nil {
		x.past[key] = checks
	}
	return checks
}

// concerns reports whether something that takes part at the places is asked
// about.
func (x *examiner) concerns(places []graph.PositionID) bool {
	return x.only == "" || slices.Contains(places, x.only)
}

func (x *examiner) outcomes() []Outcome {
	var all []Outcome
	for _, j := range x.joints {
		if x.concerns(x.placesOf(j)) {
			all = append(all, x.joint(j))
		}
	}
	for _, run := range x.runs {
		if x.concerns(runPlaces(run)) && !x.isChainRun(run) {
			all = append(all, x.run(run))
		}
	}
	for _, st := range x.stacks {
		if x.concerns(stackPlaces(st)) {
			all = append(all, x.stack(st))
		}
	}
	all = append(all, x.discLines()...)
	for _, c := range x.circuits {
		if x.concerns(circuitPlaces(c)) {
			all = append(all, x.circuit(c)...)
		}
	}
	all = append(all, x.chains()...)
	all = append(all, x.pairs()...)
	all = append(all, x.finish()...)
	slices.SortStableFunc(all, func(a, b Outcome) int {
		return cmp.Or(cmp.Compare(whatOrder(a.What), whatOrder(b.What)), cmp.Compare(a.ID, b.ID))
	})
	return all
}

// again judges the same joint or run as an outcome; false for anything else.
func (x *examiner) again(o Outcome) (Outcome, bool) {
	switch o.What {
	case OfJoint:
		return x.joint(o.joint), true
	case OfRun:
		return x.run(o.run), true
	}
	return Outcome{}, false
}

func whatOrder(what string) int {
	return slices.Index([]string{OfWord, OfKind, OfJoint, OfRun, OfStack, OfDisc, OfChain, OfCircuit, OfPair, OfFinish, OfOpenEnd, OfNothing}, what)
}

// judged fills in an outcome from its checks before and after.
func (x *examiner) judged(o Outcome, was, is []mating.Check) Outcome {
	if len(is) == 0 {
		is = []mating.Check{{Rule: "nothing judged", Verdict: graph.Unknown, Why: "nothing could be judged here"}}
	}
	o.Before, o.After = mating.Worst(was), mating.Worst(is)
	o.Checks, o.was = is, was
	o.Why = whyOf(is)
	o.Same = reflect.DeepEqual(was, is)
	o.Safety = x.safetyOf(x.bearing(o))
	return o
}

// bearing are the ends whose safety class an outcome has: all of them, except
// that a joint which carries no load of the class, such as a panel on the frame
// or a mirror in its perch, has only that of the parts that are changed.
func (x *examiner) bearing(o Outcome) []End {
	if o.What != OfJoint || x.whole || x.carriesLoad(o.joint) {
		return o.Ends
	}
	return kept(slices.Clone(o.Ends), func(e End) bool { return e.Changed })
}

// carriesLoad reports whether a fault of the joint reaches both of its sides:
// hydraulics, axles and bearings, calipers and discs, drive, cables.
func (x *examiner) carriesLoad(j graph.Joint) bool {
	loaded := []string{"port", "banjo", "screwed-end", "caliper-mount", "caliper-slot", "disc-rim", "shaft", "bore", "bearing",
		"bearing-seat", "spline", "sprocket", "chain", "tyre", "rim", "nipple", "nipple-seat"}
	return slices.Contains(loaded, x.after.kindOf(j.A)) || slices.Contains(loaded, x.after.kindOf(j.B))
}

// whyOf is the reason of the worst check, of the first among equals.
func whyOf(checks []mating.Check) string {
	worst := mating.Worst(checks)
	for _, c := range checks {
		if c.Verdict == worst {
			return c.Why
		}
	}
	return ""
}

func (x *examiner) safetyOf(ends []End) []graph.Safety {
	var classes []graph.Safety
	for _, class := range graph.SafetyClasses() {
		if slices.ContainsFunc(ends, func(e End) bool { return x.after.Seat(e.Position).Position.Safety == class }) {
			classes = append(classes, class)
		}
	}
	return classes
}

func firstSafety(classes []graph.Safety) graph.Safety {
	if len(classes) == 0 {
		return graph.SafetyNone
	}
	return classes[0]
}

// end is one side of an outcome as it is afterwards.
func (x *examiner) end(ref graph.FeatureRef) End {
	seat := x.after.Seat(ref.Position)
	return End{Position: ref.Position, Name: seat.Position.Name, Feature: ref.Feature, Part: seat.Part.ID, Changed: seat.Changed}
}

// ends are several, each position and feature once.
func (x *examiner) ends(refs ...graph.FeatureRef) []End {
	var ends []End
	for _, ref := range refs {
		if e := x.end(ref); ref.Position != "" && !slices.Contains(ends, e) {
			ends = append(ends, e)
		}
	}
	return ends
}

// side is a feature at a position. One that the part there does not have
// described keeps the kind that is expected there, so that a rule can ask for
// its dimensions.
func (s *Setup) side(ref graph.FeatureRef) mating.Side {
	seat := s.Seat(ref.Position)
	side := mating.Side{Position: ref.Position, Part: seat.Part.ID}
	if f, ok := seat.Part.Feature(ref.Feature); ok && f.Kind != "" {
		side.Feature = f
		return side
	}
	side.Feature = graph.Feature{Name: ref.Feature, Kind: s.expectedKind(seat, ref.Feature)}
	return side
}

// expectedKind is the kind of a feature by the kind of the part, else by what
// belongs at the position.
func (s *Setup) expectedKind(seat Seat, feature string) string {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		if found := kindOfFeature(s.Library().kind(kind), feature); found != "" {
			return found
		}
	}
	return ""
}
