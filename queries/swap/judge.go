package swap

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Judgement is the whole judgement of one setup against another: a swap answer
// without what would close the gaps, and all that was judged for it.
type Judgement struct {
	Answer   SwapAnswer
	Outcomes []examine.Outcome // what is said first, then what was worked out

	x *judging
}

// readyToRide puts into the answer whether the machine may be ridden, with what did
// not fit before at a place that the change touches: the one place for the words, the
// exit status and every format. Judge alone leaves it at not ready.
func (j *Judgement) readyToRide(ctx context.Context) error {
	a := &j.Answer
	var err error
	if a.Before, err = wrongAsFound(ctx, j.x.Before, j.x.After, j.Outcomes); err != nil {
		return err
	}
	a.NotReady = append(NotReady(j.Outcomes, a.Numbers), stillNotReady(a.Before)...)
	a.Ready = len(a.NotReady) == 0
	a.Cautions = cautions(j.x, slices.Concat(j.Outcomes, a.Before), a.Numbers)
	return nil
}

// Then is what it comes to on a machine that has all of gets on, as far as that can be
// put on: left are its outcomes, and numbers its figures.
func (j Judgement) Then(ctx context.Context, on *machine.Setup, gets []Get, left []examine.Outcome,
	numbers []examine.Number) (*SwapThen, error) {
	still, err := wrongAsFound(ctx, j.x.Before, on, j.Outcomes)
	if err != nil {
		return nil, err
	}
	t := &SwapThen{Verdict: leftVerdict(left, numbers), Left: []examine.Outcome{}, on: on,
		NotReady: append(NotReady(left, numbers), stillNotReady(still)...)}
	t.NotReady = append(t.NotReady, MadeFirst(gets, slices.Concat(j.Outcomes, left))...)
	t.Ready = len(t.NotReady) == 0
	return t, nil
}

// endsAs puts into the answer what it comes to with all on, where that is something
// else than before: what then stands against riding, and what to be warned of.
func (j Judgement) endsAs(a *SwapAnswer, t *SwapThen) {
	if a.Then = t; t == nil {
		return
	}
	if a.Ready {
		a.NotReady, a.Ready = t.NotReady, t.Ready
	}
	places := lists.Mapped(lists.KeysOf(t.fitted), func(id graph.PositionID) graph.Safety {
		return j.x.After.Position(id).Safety
	})
	a.Cautions = cautions(j.x, slices.Concat(j.Outcomes, a.Before, t.Left), a.Numbers, places...)
}

// offers looks for what closes the gaps of a judgement, until all that is offered leaves the
// whole better: no part, and nothing made, that closes nothing in the end, or with which
// something does not fit that fits without it. Each round gives up something at one place
// or for one outcome, so that it ends.
func (j Judgement) offers(ctx context.Context, stood *examine.Before, after *machine.Setup) (*follower, []Trail,
	*SwapThen, error) {
	refused := newRefusals()
	for {
		f := newFollower(ctx, stood, after, j.x.donors)
		f.start, f.refused = j.x.Connections, refused
		trails, err := f.follow(after, j.Outcomes)
		if err != nil {
			return nil, nil, nil, err
		}
		further, allOn, err := f.makeFurther(after)
		if err != nil {
			return nil, nil, nil, err
		}
		if err := f.weighAlso(after); err != nil {
			return nil, nil, nil, err
		}
		then, err := f.withAllOn(j, after, allOn)
		if err != nil || then == nil || !f.refuseFaulty(j, then) {
			return f, append(trails, further...), then, err
		}
	}
}

// judging is what one judgement is made from: the examiner, and the machines that
// the new parts are built on.
type judging struct {
	*examine.Examiner
	said saying // nil for asking fits.Said
	// words are what speaks for a new part at its very place, by position.
	words map[graph.PositionID]examine.Word
	// firstHand are the places with a safety class where somebody found by hand that the new
	// part does not fit.
	firstHand map[graph.PositionID]bool
	// earned says by what each changed place has come by its verdict.
	earned map[graph.PositionID]examine.Earned
	donors map[graph.PositionID]donorSeat
	pads   []graph.PositionID // where brake pads sit, when the change touches a brake
	legs   []graph.PositionID // the fork legs, when the change opens one
	valves []graph.PositionID // those of tyres, when the change touches a wheel
}

// Asked is how much of a judgement somebody asks for: by its zero value all of it but
// whether the machine may be ridden.
type Asked struct {
	Kits  map[graph.PositionID]graph.PartID // the kit that a part was asked for in, by position
	Ready bool                              // whether the machine may be ridden too
	// Unnamed is for who does not ask which checks judged what differs: what of it is named
	// is one that did, and not all.
	Unnamed bool
	// Bare is for who asks for outcomes and figures alone: of the answer there are no more
	// than the numbers.
	Bare bool
}

// Judge judges everything that the changes of after touch: what meets what, what
// sources say of the new parts, the numbers, torques, what to renew and to
// measure. It looks for no parts that would close gaps: Get, Trails and Then are
// empty.
func Judge(ctx context.Context, before *examine.Before, after *machine.Setup, asked Asked) (Judgement, error) {
	j := Judgement{}
	x, err := newJudging(ctx, before, after)
	if err != nil {
		return j, err
	}
	j.x = x
	all, err := x.met(ctx, wholeScope())
	if err != nil {
		return j, err
	}
	places, err := x.earn(ctx, &all, !asked.Unnamed && !asked.Bare)
	if err != nil {
		return j, err
	}
	j.Outcomes, j.Answer.Numbers = all.Outcomes, all.Numbers
	if asked.Bare {
		return j, nil
	}
	if err := j.answer(ctx, all.conflicts, places, asked.Kits); err != nil || !asked.Ready {
		return j, err
	}
	return j, j.readyToRide(ctx)
}

// answer fills in the answer, by what was judged.
func (j *Judgement) answer(ctx context.Context, conflicts []Conflict, places examine.Earnings,
	kits map[graph.PositionID]graph.PartID) error {
	x, s := j.x, j.x.Before
	on := []graph.VariantID{s.Variant.ID}
	j.Answer = SwapAnswer{On: s.Variant.ID, Covers: queries.CoveragesOf(on, queries.UniverseOf(on)),
		Scheme: s.Scheme, Get: []Get{}, Trails: []Trail{}, Numbers: j.Answer.Numbers,
		Differs:   append([]examine.Differs{}, places.Differs...),
		NotJudged: append([]examine.NotJudged{}, places.NotJudged...),
		Conflicts: append(conflicts, readingConflicts(x, j.Outcomes)...)}
	a := &j.Answer
	if s.Bike != nil {
		a.Bike = s.Bike.ID
	}
	if err := x.findServed(ctx); err != nil {
		return err
	}
	a.sort(j.Outcomes)
	if err := x.After.Library().ReadLineages(ctx, lists.Mapped(x.After.Changed(),
		func(id graph.PositionID) graph.PartID { return x.After.Seat(id).Part.ID })); err != nil {
		return err
	}
	a.Swaps = x.lines(kits)
	a.Torques = torques(x, j.Outcomes, x.donors)
	a.Renew = renew(x, j.Outcomes, nil)
	a.Measure = measureRows(j.Outcomes, a.Numbers)
	// Every changed place has earned its verdict, or there is an outcome that says
	// what it lacks.
	a.Verdict = leftVerdict(j.Outcomes, a.Numbers)
	a.Cautions = cautions(x, j.Outcomes, a.Numbers)
	return nil
}

func newJudging(ctx context.Context, before *examine.Before, after *machine.Setup) (*judging, error) {
	examiner, err := examine.NewExaminer(ctx, before, after)
	if err != nil {
		return nil, err
	}
	x := judgingBy(examiner, nil)
	x.donors, err = donorSeats(ctx, after)
	return x, err
}

func judgingBy(x *examine.Examiner, said saying) *judging {
	return &judging{Examiner: x, said: said, words: map[graph.PositionID]examine.Word{},
		firstHand: map[graph.PositionID]bool{}}
}

// met is what is asked for of what sources say of the new parts, then of what these meet;
// with it the figures, and where voices disagree. By what a place has earned its verdict is not in it: see earn.
func (x *judging) met(ctx context.Context, ask scope) (come, error) {
	var all come
	var circuits map[graph.CircuitID]examine.DonorCircuit
	if ask.figures {
		var err error
		if circuits, err = loadDonors(ctx, x.After.Library(), x.donors, x.Connections.Circuits); err != nil {
			return all, err
		}
	}
	outcomes := x.meeting(ask, &all)
	if ask.kinds {
		outcomes = append(outcomes, x.Kinds()...)
	}
	if ask.ends {
		loose, err := unsupported(ctx, x)
		if err != nil {
			return all, err
		}
		outcomes = slices.Concat(outcomes, openEnds(x), loose)
	}
	if ask.words {
		said, conflicts, err := sayings(ctx, x)
		if err != nil {
			return all, err
		}
		all.Outcomes, all.conflicts = said, conflicts
	}
	if ask.over {
		if err := x.takenWhole(ctx, outcomes); err != nil {
			return all, err
		}
	}
	all.said = len(all.Outcomes)
	all.Outcomes = append(all.Outcomes, outcomes...)
	if !ask.figures {
		return all, nil
	}
	var err error
	all.Numbers, err = x.Numbers(ctx, circuits)
	return all, err
}

// meeting is what meets what, judged afresh or by what is known.
func (x *judging) meeting(ask scope, all *come) []examine.Outcome {
	touching := x.Touching(ask.at)
	if ask.known == nil {
		return x.OutcomesOf(touching)
	}
	outcomes, by := x.OutcomesOnce(touching, ask.known)
	all.decidedBy = by
	return outcomes
}

// earn adds what no place has earned its verdict by, and what is disputed by hand. It says
// of each place how it did; unless named, no more than that takes is worked out.
func (x *judging) earn(ctx context.Context, all *come, named bool) (examine.Earnings, error) {
	places, err := x.Places(ctx, all.Outcomes, all.Numbers, x.words, named)
	if err != nil {
		return places, err
	}
	x.earned = places.By
	all.Outcomes = x.disputed(slices.Concat(all.Outcomes, nothingMet(x, all.Outcomes), places.Unknown), all.Numbers)
	return places, nil
}

// isAsBuilt reports whether the part at a place is the one built in.
func (x *judging) isAsBuilt(id graph.PositionID) bool {
	return x.After.Seat(id).IsSame(x.Built.Seat(id))
}

// findServed reads where pads sit when the change touches a brake, and the fork
// legs when it opens one: what services speak of.
func (x *judging) findServed(ctx context.Context) error {
	brake := func(id graph.PositionID) bool { return x.After.Seat(id).Position.Safety == graph.SafetyBrake }
	fork := func(id graph.PositionID) bool { return slices.Contains(legKinds(), x.After.Seat(id).Position.Kind) }
	wheel := func(id graph.PositionID) bool {
		return slices.Contains([]graph.KindID{"tyre", "front-wheel", "rear-wheel", "wheel-rim"},
			x.After.Seat(id).Position.Kind)
	}
	if slices.ContainsFunc(x.After.Changed(), brake) {
		places, err := x.After.PlacesWith(ctx, "pad")
		if err != nil {
			return err
		}
		x.pads = places["pad"]
	}
	if slices.ContainsFunc(x.After.Changed(), wheel) {
		places, err := x.After.PlacesWith(ctx, "shaft")
		if err != nil {
			return err
		}
		x.valves = lists.Kept(places["shaft"],
			func(id graph.PositionID) bool { return x.After.Seat(id).Position.Kind == "valve" })
	}
	if slices.ContainsFunc(x.After.Changed(), fork) {
		l, err := x.After.FindLandmarks(ctx)
		if err != nil {
			return err
		}
		x.legs = l.Legs
	}
	return nil
}

// lines are the swaps as understood, by position.
func (x *judging) lines(kits map[graph.PositionID]graph.PartID) []SwapLine {
	var lines []SwapLine
	for _, id := range x.After.Changed() {
		was, now := x.Before.Seat(id), x.After.Seat(id)
		line := SwapLine{Position: id, kind: now.Position.Kind, Name: now.Position.Name, Safety: now.Position.Safety,
			Was: was.Part.ID, WasName: was.Part.Name,
			WasWhy: was.Why, WasElse: was.Others, Now: now.Part.ID, NowName: now.Part.Name, FromKit: kits[id],
			Note: x.After.Library().Retired(now.Part.ID), Earned: x.earned[id]}
		if bike := x.Before.Bike; bike != nil && bike.Apart {
			if _, noted := bike.At(id); !noted {
				line.WasByBook = true
				line.WasWhy = "the book's part: the machine is in pieces, and nothing is noted here"
			}
		}
		if d, ok := x.donors[id]; ok {
			line.BuiltOn = d.setup.Variant.ID
		}
		lines = append(lines, line)
	}
	return lines
}

// takesFluid reports whether an end of a circuit has a feature that fluid goes
// through, or says which fluid it takes.
func (x *judging) takesFluid(e examine.End) bool {
	return slices.ContainsFunc(x.After.Seat(e.Position).Part.Features, func(f graph.Feature) bool {
		return f.Kind == "fluid" || slices.Contains(machine.WetKinds(), f.Kind)
	})
}

// disputed makes unknown what somebody found by hand not to fit at a place with a safety
// class, where all that was worked out there fits: nobody rides on either word before it
// is settled. What was worked out to be unknown or not to fit answers no finding.
func (x *judging) disputed(outcomes []examine.Outcome, numbers []examine.Number) []examine.Outcome {
	return lists.Mapped(outcomes, func(o examine.Outcome) examine.Outcome {
		at := graph.PositionID(o.ID)
		if !x.isDisputable(o) || !isFitting(outcomes, numbers, at) {
			return o
		}
		o.Checks = slices.Clone(o.Checks)
		for i, c := range o.Checks {
			if c.Verdict == graph.DoesNotFit {
				c.Verdict = graph.Unknown
				c.Why = fmt.Sprintf("disputed: %s: %s; by all that was worked out it fits", graph.DoesNotFit, c.Why)
				c.Measure = append(slices.Clone(c.Measure), mating.Ask{Position: at, Part: x.After.Seat(at).Part.ID,
					Dim: "place", What: "what keeps it out, with the part put to its place", Where: at.Local(),
					Gauge: graph.ByEye, Accuracy: "photographed"})
				o.Checks[i] = c
			}
		}
		o.After, o.Why = mating.Worst(o.Checks), examine.WhyOf(o.Checks)
		return o
	})
}

// isDisputable reports whether an outcome is a "no" that somebody found by hand at a place with
// a safety class: what is worked out there may stand against it.
func (x *judging) isDisputable(o examine.Outcome) bool {
	return o.What == examine.OfWord && o.After == graph.DoesNotFit && x.firstHand[graph.PositionID(o.ID)]
}

func (x *judging) rowsAt(ctx context.Context, at fits.Spot) ([]fits.FitsRow, error) {
	if x.said != nil {
		return x.said(ctx, at)
	}
	return fits.SaidAt(ctx, x.After.Library().Reader(), at, x.After.Frame)
}

// takenWhole finds what came over from one machine together, as a fork with its own
// yokes, wheel and calipers: what is unknown between such parts is as it was built
// there. Nothing is said of what reaches over to the machine, and a "no" stays.
func (x *judging) takenWhole(ctx context.Context, outcomes []examine.Outcome) error {
	joints, err := x.joinedElsewhere(ctx, graph.Joint.Places)
	if err != nil {
		return err
	}
	pairs, err := x.joinedElsewhere(ctx, endsOf)
	if err != nil || len(pairs) == 0 {
		return err
	}
	for i, o := range outcomes {
		on, inside := joints[o.Joint.ID]
		if o.What == examine.OfJoint && o.After == graph.Unknown && inside && !x.asksForSpan(o) &&
			!slices.ContainsFunc(o.Places(), func(id graph.PositionID) bool { return !x.cameOver(id) }) {
			outcomes[i] = x.asBuiltOn(o, on)
		}
	}
	x.AsBuiltOn, x.PairedOn = x.allInside(joints), x.allInside(pairs)
	return nil
}

// asksForSpan reports whether an outcome is open for want of something that must suit a
// distance on this very machine.
func (x *judging) asksForSpan(o examine.Outcome) bool {
	return slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict == graph.Unknown && slices.ContainsFunc(c.Measure, func(a mating.Ask) bool {
			return graph.Spans(x.After.KindOf(graph.FeatureRef{Position: a.Position, Feature: a.Feature}), a.Dim)
		})
	})
}

// allInside are the features that some joints have and no other joint, with the machine on
// which they are joined so.
func (x *judging) allInside(joints map[graph.JointID]graph.VariantID) map[graph.FeatureRef]graph.VariantID {
	found := map[graph.FeatureRef]graph.VariantID{}
	for _, j := range x.Joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if on, ok := joints[j.ID]; ok && !slices.ContainsFunc(x.Joints, func(k graph.Joint) bool {
				_, inside := joints[k.ID]
				return (k.A == ref || k.B == ref) && !inside
			}) {
				found[ref] = on
			}
		}
	}
	return found
}

// joinedElsewhere are the joints between parts that came over, each with a variant that
// lists all of them and has them joined by the same features. Which places of a joint
// count is told.
func (x *judging) joinedElsewhere(ctx context.Context,
	places func(graph.Joint) []graph.PositionID) (map[graph.JointID]graph.VariantID, error) {
	inner := lists.Kept(slices.Clone(x.Joints), func(j graph.Joint) bool {
		return !slices.ContainsFunc(places(j), func(id graph.PositionID) bool { return !x.cameOver(id) })
	})
	if len(inner) == 0 {
		return nil, nil
	}
	var parts []graph.PartID
	for _, j := range inner {
		parts = append(parts, lists.Mapped(places(j), x.After.PartIDAt)...)
	}
	listed, err := x.After.Library().Reader().FitmentsOf(ctx, lists.Unique(parts)...)
	if err != nil {
		return nil, err
	}
	by := map[graph.PartID][]graph.Fitment{}
	for _, f := range listed {
		by[f.Part] = append(by[f.Part], f)
	}
	found := map[graph.JointID]graph.VariantID{}
	for _, j := range inner {
		on, ok, err := x.joinedOn(ctx, j, places(j), by)
		if err != nil {
			return nil, err
		}
		if ok {
			found[j.ID] = on
		}
	}
	return found, nil
}

// cameOver reports whether the part at a place is listed on another machine and came
// from it as it is, or was found here in the stead of the one built in: where that is
// listed, who looks for the machine of a joint sees.
func (x *judging) cameOver(id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	isFound := !seat.Changed && !built.Empty && seat.Part.ID != built.Part.ID
	return !seat.Empty && !seat.Made && seat.Packed == 0 && (isFound || seat.Changed && x.donors[id].setup != nil)
}

// joinedOn finds a variant that lists the parts at some places of a joint, and has its two
// sides joined by the same features.
func (x *judging) joinedOn(ctx context.Context, j graph.Joint, places []graph.PositionID,
	listed map[graph.PartID][]graph.Fitment) (graph.VariantID, bool, error) {
	for _, a := range listed[x.After.PartIDAt(j.A.Position)] {
		for _, b := range listed[x.After.PartIDAt(j.B.Position)] {
			ends := [2]graph.FeatureRef{{Position: a.Position, Feature: j.A.Feature},
				{Position: b.Position, Feature: j.B.Feature}}
			for _, v := range a.On {
				if v == x.After.Variant.ID || !slices.Contains(b.On, v) || !x.listsAll(places, listed, v) {
					continue
				}
				joined, err := x.hasJoint(ctx, v, ends)
				if err != nil || joined {
					return v, joined, err
				}
			}
		}
	}
	return "", false, nil
}

// listsAll reports whether a variant lists the part at each of some places.
func (x *judging) listsAll(places []graph.PositionID, listed map[graph.PartID][]graph.Fitment,
	v graph.VariantID) bool {
	return !slices.ContainsFunc(places, func(id graph.PositionID) bool {
		return !slices.ContainsFunc(listed[x.After.PartIDAt(id)], func(f graph.Fitment) bool {
			return slices.Contains(f.On, v)
		})
	})
}

func (x *judging) hasJoint(ctx context.Context, v graph.VariantID, ends [2]graph.FeatureRef) (bool, error) {
	joints, err := x.After.Library().JointsTouching(ctx, v, []graph.PositionID{ends[0].Position, ends[1].Position})
	return slices.ContainsFunc(joints, func(j graph.Joint) bool {
		return j.A == ends[0] && j.B == ends[1] || j.A == ends[1] && j.B == ends[0]
	}), err
}

// asBuiltOn is an outcome whose unknown checks are answered by the machine that the parts
// came from.
func (x *judging) asBuiltOn(o examine.Outcome, on graph.VariantID) examine.Outcome {
	checks := slices.Clone(o.Checks)
	for i, c := range checks {
		if c.Verdict == graph.Unknown {
			checks[i] = mating.Check{Rule: c.Rule, Verdict: graph.Fits, Why: "as built on " + string(on), Basis: c.Basis,
				Uses: c.Uses, Renew: c.Renew}
		}
	}
	return x.Judged(o, o.Was, checks)
}

// endsOf are the places of a joint without those of its bolts, and of what is renewed with
// it.
func endsOf(j graph.Joint) []graph.PositionID { return []graph.PositionID{j.A.Position, j.B.Position} }

// TakenWhole has outcomes on a machine, and the places that an examiner judges, answered by
// the machine from which parts came over together, as the judgement of a whole setup does.
// Errors come from the reader.
func TakenWhole(ctx context.Context, e *examine.Examiner, outcomes []examine.Outcome) error {
	x := &judging{Examiner: e}
	var err error
	if x.donors, err = donorSeats(ctx, e.After); err != nil {
		return err
	}
	return x.takenWhole(ctx, outcomes)
}
