package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Judgement is the whole judgement of one setup against another: a swap answer
// without what would close the gaps, and all that was judged for it.
type Judgement struct {
	Answer   SwapAnswer
	Outcomes []examine.Outcome // what is said first, then what was worked out

	x *judging
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

// Judge judges everything that the changes of after touch: what meets what, what
// sources say of the new parts, the numbers, torques, what to renew and to
// measure. It looks for no parts that would close gaps: Get, Trails and Then are
// empty; nor whether the machine may be ridden, see JudgeReady. Kits name, by
// position, the kit that a part was asked for in; nil for none.
func Judge(ctx context.Context, before *examine.Before, after *machine.Setup,
	kits map[graph.PositionID]graph.PartID) (Judgement, error) {
	s := before.Setup()
	on := []graph.VariantID{s.Variant.ID}
	j := Judgement{Answer: SwapAnswer{On: s.Variant.ID, Covers: queries.CoveragesOf(on, queries.UniverseOf(on)),
		Scheme: s.Scheme, Get: []Get{}, Trails: []Trail{}}}
	a := &j.Answer
	if s.Bike != nil {
		a.Bike = s.Bike.ID
	}
	x, err := newJudging(ctx, before, after)
	if err != nil {
		return j, err
	}
	j.x = x
	if j.Outcomes, err = x.judgeAll(ctx, a); err != nil {
		return j, err
	}
	if err := x.findServed(ctx); err != nil {
		return j, err
	}
	a.sort(j.Outcomes)
	if err := after.Library().ReadLineages(ctx, lists.Mapped(after.Changed(),
		func(id graph.PositionID) graph.PartID { return after.Seat(id).Part.ID })); err != nil {
		return j, err
	}
	a.Swaps = x.lines(kits)
	a.Torques = torques(x, j.Outcomes, x.donors)
	a.Renew = renew(x, j.Outcomes, nil)
	a.Measure = measureRows(j.Outcomes, a.Numbers)
	// Every changed place has earned its verdict, or there is an outcome that says
	// what it lacks.
	a.Verdict = leftVerdict(j.Outcomes, a.Numbers)
	a.Cautions = cautions(x, j.Outcomes, a.Numbers)
	return j, nil
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

// JudgeOutcomes is Judge for who asks for outcomes and figures alone: of its answer
// there are no more than the numbers.
func JudgeOutcomes(ctx context.Context, before *examine.Before, after *machine.Setup) (Judgement, error) {
	j := Judgement{}
	x, err := newJudging(ctx, before, after)
	if err != nil {
		return j, err
	}
	j.x = x
	if j.Outcomes, _, err = x.figured(ctx, &j.Answer); err != nil {
		return j, err
	}
	unearned, err := x.Unearned(ctx, j.Outcomes, j.Answer.Numbers, x.words)
	j.Outcomes = x.disputed(slices.Concat(j.Outcomes, nothingMet(x, j.Outcomes), unearned), j.Answer.Numbers)
	return j, err
}

func judgingBy(x *examine.Examiner, said saying) *judging {
	return &judging{Examiner: x, said: said, words: map[graph.PositionID]examine.Word{},
		firstHand: map[graph.PositionID]bool{}}
}

// judgeAll examines everything the swap touches, and puts what readings say
// against it, and its numbers, into the answer.
func (x *judging) judgeAll(ctx context.Context, a *SwapAnswer) ([]examine.Outcome, error) {
	outcomes, conflicts, err := x.figured(ctx, a)
	if err != nil {
		return nil, err
	}
	places, err := x.Places(ctx, outcomes, a.Numbers, x.words)
	a.Differs = append([]examine.Differs{}, places.Differs...)
	a.NotJudged = append([]examine.NotJudged{}, places.NotJudged...)
	outcomes = append(outcomes, nothingMet(x, outcomes)...)
	x.earned = places.By
	outcomes = x.disputed(append(outcomes, places.Unknown...), a.Numbers)
	a.Conflicts = append(conflicts, readingConflicts(x, outcomes)...)
	return outcomes, err
}

// figured is met, with the numbers put into the answer.
func (x *judging) figured(ctx context.Context, a *SwapAnswer) ([]examine.Outcome, []Conflict, error) {
	circuits, err := loadDonors(ctx, x.After.Library(), x.donors, x.Connections.Circuits)
	if err != nil {
		return nil, nil, err
	}
	outcomes, conflicts, err := x.met(ctx)
	if err != nil {
		return nil, nil, err
	}
	a.Numbers, err = x.Numbers(ctx, circuits)
	return outcomes, conflicts, err
}

// met is what sources say of the new parts, then what these meet; and where voices
// disagree. By what a place has earned its verdict is not in it.
func (x *judging) met(ctx context.Context) ([]examine.Outcome, []Conflict, error) {
	outcomes := append(x.Outcomes(), x.ofParts()...)
	unsupported, err := unsupported(ctx, x)
	if err != nil {
		return nil, nil, err
	}
	outcomes = append(outcomes, unsupported...)
	said, conflicts, err := sayings(ctx, x)
	if err != nil {
		return nil, nil, err
	}
	if err := x.takenWhole(ctx, outcomes); err != nil {
		return nil, nil, err
	}
	return append(said, outcomes...), conflicts, nil
}

// isAsBuilt reports whether the part at a place is the one built in.
func (x *judging) isAsBuilt(id graph.PositionID) bool {
	return x.After.Seat(id).Part.ID == x.Built.Seat(id).Part.ID
}

// ofParts is whether the new parts are of the sorts that go there, and what of them meets
// nothing.
func (x *judging) ofParts() []examine.Outcome { return append(x.Kinds(), openEnds(x)...) }

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
