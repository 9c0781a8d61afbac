package swap

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// follower looks for parts that put right what a swap upsets.
type follower struct {
	ctx    context.Context
	before *examine.Before
	donors map[graph.PositionID]donorSeat
	asked  map[graph.PositionID]bool
	around map[graph.PositionID]*examine.Connections
	// fitted is what the trails put in so far, to see what the whole comes to.
	fitted map[graph.PositionID]graph.PartID
	gets   []Get
	closed map[string]bool // joints that an adapter closes
	done   map[string]bool // outcomes that a part put in closes
	made   map[string]bool // outcomes for which something was ordered
	// seats is what is made in the place of a part; seated are the outcomes for
	// which nothing else is made: they are judged again with it.
	seats  map[graph.PositionID]mating.Order
	seated map[string]bool
	start  *examine.Connections // what was read around the changes

	concern  map[graph.PositionID]int        // how many joints that need a part concern it
	wrong    map[string]bool                 // what does not fit with only the asked parts on
	tooDear  map[string]string               // what would close a gap, but makes more wrong
	kinds    map[graph.KindID][]graph.PartID // parts to try, by kind
	also     map[graph.PartID][]graph.PartID // parts that do as well as one that was chosen
	like     map[string][]graph.KindID       // kinds of part by a kind of feature
	adapters []graph.PartID
}

func newFollower(ctx context.Context, before, after *machine.Setup, donors map[graph.PositionID]donorSeat) *follower {
	f := &follower{ctx: ctx, before: examine.From(before), donors: donors, asked: map[graph.PositionID]bool{},
		around: map[graph.PositionID]*examine.Connections{}, fitted: map[graph.PositionID]graph.PartID{},
		closed: map[string]bool{}, done: map[string]bool{}, made: map[string]bool{},
		seats: map[graph.PositionID]mating.Order{}, seated: map[string]bool{},
		concern: map[graph.PositionID]int{}, wrong: map[string]bool{}, tooDear: map[string]string{},
		kinds: map[graph.KindID][]graph.PartID{},
		also:  map[graph.PartID][]graph.PartID{}, like: map[string][]graph.KindID{}}
	for _, id := range after.Changed() {
		f.asked[id] = true
	}
	return f
}

// maxTrail is how many parts one trail may drag in. No real swap comes near.
const maxTrail = 8

// follow starts a trail at every outcome that is worse than before.
func (f *follower) follow(after *machine.Setup, outcomes []examine.Outcome) ([]Trail, error) {
	var problems []examine.Outcome
	for _, o := range outcomes {
		if needsPart(o) {
			problems = append(problems, o)
		}
		f.wrong[o.What+o.ID] = o.After == graph.DoesNotFit && o.Before < o.After
	}
	f.worry(problems)
	if err := f.prepare(after, problems); err != nil {
		return nil, err
	}
	var trails []Trail
	for _, o := range problems {
		if f.alreadyClosed(after, o) {
			continue
		}
		found, err := f.trail(after, o, []TrailStep{f.startOf(after, o)}, f.asked)
		if err != nil {
			return nil, err
		}
		trails = append(trails, found...)
	}
	f.makeInstead()
	f.moreBolts(after, outcomes)
	return trails, nil
}

// worry counts how many joints that need a part concern each position.
func (f *follower) worry(problems []examine.Outcome) {
	for _, o := range problems {
		if o.What != examine.OfJoint || onlyMeasuring(o) {
			continue
		}
		for _, e := range o.Ends {
			f.concern[e.Position]++
		}
	}
}

// needsPart reports whether an outcome got worse in a way that another part, or
// a part to be made, can put right.
func needsPart(o examine.Outcome) bool {
	if o.After <= o.Before || o.Same {
		return false
	}
	switch o.What {
	case examine.OfJoint, examine.OfRun, examine.OfStack, examine.OfDisc, examine.OfChain, examine.OfPair:
	default:
		return false
	}
	return o.After == graph.DoesNotFit || examine.HasOrders(o.Checks) ||
		examine.EffortOf(o.Checks) >= graph.EffortDrillShim || o.After == graph.Unknown
}

// partnersOf are the positions at which another part could put an outcome
// right: the ends that were not asked for.
func (f *follower) partnersOf(s *machine.Setup, o examine.Outcome) []graph.PositionID {
	var partners []graph.PositionID
	add := func(id graph.PositionID) {
		if seat := s.Seat(id); !seat.Changed && !seat.Empty && !IsMachine(seat.Part) && !f.isTooBig(seat) &&
			!slices.Contains(partners, id) {
			partners = append(partners, id)
		}
	}
	switch o.What {
	case examine.OfJoint:
		if examine.BlamesBolts(o.Checks) {
			for _, id := range o.Joint.Fasteners {
				add(id)
			}
			return partners
		}
		add(o.Joint.A.Position)
		add(o.Joint.B.Position)
	case examine.OfPair:
		add(o.Ends[0].Position)
		add(o.Ends[1].Position)
	case examine.OfDisc:
		add(o.Ends[0].Position)
	case examine.OfRun: // also when it was asked for: another of its sort may be long enough
		partners = append(partners, o.Ends[0].Position)
	case examine.OfStack:
		for _, e := range o.Ends[1:] {
			if examine.IsSpacer(s.Seat(e.Position)) {
				add(e.Position)
			}
		}
	case examine.OfChain: // the chain also when it was asked for
		partners = append(partners, o.Ends[0].Position)
		for _, e := range o.Ends[1:min(3, len(o.Ends))] {
			add(e.Position)
		}
	}
	return partners
}

// bigPart is how many features a part has at most that is exchanged for the sake
// of a single misfit. A fork leg or a wheel is a world of its own: whoever wants
// another one asks for it.
const bigPart = 9

// isTooBig reports whether a part is not worth exchanging for the misfits that
// concern it.
func (f *follower) isTooBig(seat machine.Seat) bool {
	return len(seat.Part.Features) > bigPart && f.concern[seat.Position.ID] < 2
}

// IsMachine reports whether a part is what makes the machine that machine: its
// frame and its papers are not changed to suit a part.
func IsMachine(p graph.Part) bool {
	return machine.HasKind(p, "frame-geometry") || machine.HasKind(p, "traffic")
}

// startOf is the changed part at which a trail begins.
func (f *follower) startOf(s *machine.Setup, o examine.Outcome) TrailStep {
	for _, e := range o.Ends {
		if e.Changed {
			return TrailStep{Position: e.Position, Feature: e.Feature, Part: e.Part, What: o.Why}
		}
	}
	e := o.Ends[0]
	return TrailStep{Position: e.Position, Feature: e.Feature, Part: e.Part, What: o.Why}
}

// trail follows one outcome: the part that closes the gap, then what that part
// upsets in its turn.
func (f *follower) trail(s *machine.Setup, o examine.Outcome, steps []TrailStep,
	visited map[graph.PositionID]bool) ([]Trail, error) {
	if onlyMeasuring(o) {
		return []Trail{ended(steps, f.otherEnd(s, o), EndsMeasure)}, nil
	}
	if adapter, ok := f.adapterFor(s, o); ok {
		f.addAdapter(o, adapter)
		part, _ := s.Library().Ranked(adapter.Part, &s.Variant)
		for _, bolts := range BoltsThroughPart(s, o, part) {
			f.get(bolts, o)
		}
		step := TrailStep{Position: o.Ends[len(o.Ends)-1].Position, Feature: o.Ends[len(o.Ends)-1].Feature,
			Part: adapter.Part, What: "through " + adapter.Name}
		return []Trail{ended(steps, step, EndsMates)}, nil
	}
	best, err := f.bestCandidate(s, o, visited)
	if err != nil {
		return nil, err
	}
	if best == nil {
		return f.trailWithout(s, o, steps)
	}
	f.fit(*best, o)
	step := TrailStep{Position: best.position, Feature: featureAt(o, best.position), Part: best.part.ID,
		What: "takes " + machine.NameOf(best.part)}
	steps = append(slices.Clone(steps), step)
	return f.further(best, steps, visited)
}

// trailWithout ends a trail for which no part was found that takes the place of
// another: with one that makes a lead longer, else with what to order.
func (f *follower) trailWithout(s *machine.Setup, o examine.Outcome, steps []TrailStep) ([]Trail, error) {
	extension, ok, err := f.extensionFor(s, o)
	if err != nil || !ok {
		return []Trail{f.endWithout(s, o, steps)}, err
	}
	f.addAdapter(o, extension)
	last := f.otherEnd(s, o)
	last.What = "through " + extension.Text
	return []Trail{ended(steps, last, EndsMates)}, nil
}

// further follows what a part that was put in upsets; a trail of which nothing
// is left open ends at the part's next neighbour.
func (f *follower) further(c *candidate, steps []TrailStep, visited map[graph.PositionID]bool) ([]Trail, error) {
	f.worry(c.left)
	seen := map[graph.PositionID]bool{c.position: true}
	for id := range visited {
		seen[id] = true
	}
	var trails []Trail
	for _, o := range c.left {
		if len(steps) >= maxTrail {
			break
		}
		from := TrailStep{Position: c.position, Feature: featureAt(o, c.position), Part: c.part.ID, What: o.Why}
		found, err := f.trail(c.setup, o, append(slices.Clone(steps), from), seen)
		if err != nil {
			return nil, err
		}
		trails = append(trails, found...)
	}
	if len(trails) == 0 {
		if next, ok := c.neighbour(seen); ok {
			steps = append(steps, next)
		}
		trails = append(trails, Trail{Steps: steps, Ends: EndsMates})
	}
	for i := range trails {
		trails[i].Text = trailText(trails[i].Steps)
	}
	return trails, nil
}
