package swap

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
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
	fitted  map[graph.PositionID]graph.PartID
	gets    []Get
	closed  map[examine.OutcomeID]bool // outcomes that are closed by what no rule judges
	through map[examine.OutcomeID]bool // joints that an adapter closes
	done    map[examine.OutcomeID]bool // outcomes that a part put in closes
	made    map[examine.OutcomeID]bool // outcomes for which something was ordered
	// workshop is what is made: the machine is judged again with it on.
	workshop *Workshop
	orders   []ordered
	start    *examine.Connections // what was read around the changes
	refused  *refusals            // what is not offered

	concern  map[graph.PositionID]int        // how many joints that need a part concern it
	wrong    map[examine.OutcomeID]bool      // what does not fit with only the asked parts on
	tooDear  map[examine.OutcomeID]string    // what would close a gap, but makes more wrong
	kinds    map[graph.KindID][]graph.PartID // parts to try, by kind
	also     map[graph.PartID][]graph.PartID // parts that do as well as one that was chosen
	like     map[string][]graph.KindID       // kinds of part by a kind of feature
	adapters []graph.PartID
}

func newFollower(ctx context.Context, before *examine.Before, after *machine.Setup,
	donors map[graph.PositionID]donorSeat) *follower {
	f := &follower{ctx: ctx, before: before, donors: donors, asked: map[graph.PositionID]bool{},
		around: map[graph.PositionID]*examine.Connections{}, fitted: map[graph.PositionID]graph.PartID{},
		closed: map[examine.OutcomeID]bool{}, through: map[examine.OutcomeID]bool{},
		done: map[examine.OutcomeID]bool{}, made: map[examine.OutcomeID]bool{},
		workshop: NewWorkshop(), refused: newRefusals(),
		concern: map[graph.PositionID]int{}, wrong: map[examine.OutcomeID]bool{}, tooDear: map[examine.OutcomeID]string{},
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
		f.wrong[o.Key()] = o.After == graph.DoesNotFit && o.Before < o.After
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
	return trails, f.noteRetired(after)
}

// noteRetired says of every part to get that gave way to another why it did.
func (f *follower) noteRetired(s *machine.Setup) error {
	parts := lists.Kept(lists.Mapped(f.gets, func(g Get) graph.PartID { return g.Part }),
		func(id graph.PartID) bool { return id != "" })
	if err := s.Library().ReadLineages(f.ctx, parts); err != nil {
		return err
	}
	for i, g := range f.gets {
		f.gets[i].Note = s.Library().Retired(g.Part)
	}
	return nil
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
	if !o.IsWorse() || o.After == graph.Unknown && o.Before == graph.Unknown {
		return false // what was not known before is to be measured, whatever is put on
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
			!f.isAbove(s, o, seat) && !slices.Contains(partners, id) {
			partners = append(partners, id)
		}
	}
	switch o.What {
	case examine.OfJoint:
		if only, ok := givesWay(s, o); ok {
			return append(partners, only)
		}
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

// isAbove reports whether a part of a safety class would give way to something without
// one that only screws into it: no brake is rebuilt to suit a mirror.
func (f *follower) isAbove(s *machine.Setup, o examine.Outcome, seat machine.Seat) bool {
	if o.What != examine.OfJoint || seat.Position.Safety == graph.SafetyNone {
		return false
	}
	return slices.ContainsFunc([]graph.FeatureRef{o.Joint.A, o.Joint.B}, func(ref graph.FeatureRef) bool {
		return f.asked[ref.Position] && s.KindOf(ref) == "male-thread" &&
			s.Seat(ref.Position).Position.Safety == graph.SafetyNone
	})
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
		part, _ := s.Library().Ranked(adapter.Part, &s.Variant)
		f.done[o.Key()], f.through[o.Key()] = true, true
		f.get(adapter, o)
		f.order(o, func(w *Workshop) { w.Put(o, part) })
		for _, bolts := range BoltsThroughPart(s, f.knownAround(o), o, part) {
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
	if best == nil || f.isForLead(s, o, *best) {
		return f.trailWithout(s, o, steps)
	}
	f.fit(*best, o)
	step := TrailStep{Position: best.position, Feature: featureAt(o, best.position), Part: best.part.ID,
		What: "takes " + machine.NameOf(best.part)}
	steps = append(slices.Clone(steps), step)
	return f.further(best, steps, visited)
}

// isForLead reports whether a part would be exchanged for nothing but the length of a lead
// that hangs on it, which perhaps is long enough: that is measured first, and lengthened.
func (f *follower) isForLead(s *machine.Setup, o examine.Outcome, c candidate) bool {
	return o.What == examine.OfRun && o.After == graph.Unknown && !c.donor &&
		f.around[o.Run.Line].Examiner(f.before, s).IsLead(o.Run)
}

// trailWithout ends a trail for which no part was found that takes the place of
// another: with one that makes a lead longer, else with what to order.
func (f *follower) trailWithout(s *machine.Setup, o examine.Outcome, steps []TrailStep) ([]Trail, error) {
	extension, ok, err := f.extensionFor(s, o)
	if err != nil {
		return nil, err
	}
	if !ok {
		end, err := f.endWithout(s, o, steps)
		return []Trail{end}, err
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

// adapterFor finds a part that goes between the two sides of a joint: one of
// its features mates with each.
func (f *follower) adapterFor(s *machine.Setup, o examine.Outcome) (Get, bool) {
	if o.What != examine.OfJoint || o.After == graph.Unknown || examine.BlamesBolts(o.Checks) ||
		f.refused.work[o.Key()] {
		return Get{}, false
	}
	a, b := s.Side(o.Joint.A), s.Side(o.Joint.B)
	for _, id := range f.adapters {
		part, ok := s.Library().Ranked(id, &s.Variant)
		if !ok || part.IsKit() || len(part.Features) > machine.MaxAdapter {
			continue
		}
		if examine.Joins(part, a, b) && examine.HasMetal(part, a, b) && examine.Shifts(part, a, b, f.discAt(s, o)) {
			return Get{What: GetAdapter, Position: o.Joint.B.Position, Part: part.ID, Name: machine.NameOf(part), Quantity: 1,
				Text: machine.NameOf(part), Price: PriceOf(part)}, true
		}
	}
	return Get{}, false
}

// discAt is the disc of the caliper that a joint holds, as far as it was read.
func (f *follower) discAt(s *machine.Setup, o examine.Outcome) mating.Side {
	around := []*examine.Connections{f.around[o.Joint.A.Position], f.around[o.Joint.B.Position], f.start}
	for _, c := range around {
		if c == nil {
			continue
		}
		if disc := c.DiscAt(s, o.Joint); !disc.IsZero() {
			return disc
		}
	}
	return mating.Side{}
}

func (f *follower) addAdapter(o examine.Outcome, g Get) {
	f.closed[o.Key()] = true
	f.done[o.Key()] = true
	f.get(g, o)
}

// readAdapters reads the parts that may go between two sides: those of kinds
// with a feature like either side of a failing joint, and little else.
func (f *follower) readAdapters(s *machine.Setup, problems []examine.Outcome) error {
	var kinds []graph.KindID
	for _, o := range problems {
		if o.What != examine.OfJoint || o.After == graph.Unknown || examine.BlamesBolts(o.Checks) {
			continue
		}
		between, err := f.kindsBetween(s, s.KindOf(o.Joint.A), s.KindOf(o.Joint.B))
		if err != nil {
			return err
		}
		kinds = append(kinds, between...)
	}
	if err := s.Library().ReadKinds(f.ctx, kinds); err != nil {
		return err
	}
	small := lists.Kept(lists.Unique(kinds), func(id graph.KindID) bool { return IsAdapterKind(s.Library().Kind(id)) })
	ids, err := s.Library().ReadPartsOf(f.ctx, small)
	f.adapters = ids
	return err
}

// kindsBetween are the kinds of part that have a feature like a and one like b.
func (f *follower) kindsBetween(s *machine.Setup, a, b string) ([]graph.KindID, error) {
	withA, err := f.kindsLike(s, a)
	if err != nil {
		return nil, err
	}
	withB, err := f.kindsLike(s, b)
	return lists.Kept(withA, func(id graph.KindID) bool { return slices.Contains(withB, id) }), err
}

// kindsLike are the kinds of part with a feature of a kind, or of one that goes
// where it goes.
func (f *follower) kindsLike(s *machine.Setup, kind string) ([]graph.KindID, error) {
	if of, read := f.like[kind]; read || kind == "" {
		return slices.Clone(of), nil
	}
	alike := []string{kind}
	if kind == "banjo" || kind == "screwed-end" {
		alike = []string{"banjo", "screwed-end"}
	}
	of, err := s.Library().Reader().KindsWith(f.ctx, alike...)
	f.like[kind] = of
	return slices.Clone(of), err
}

// candidateAt is a part to try at a position, unless it is there already or
// takes more than one part to be.
func (f *follower) candidateAt(s *machine.Setup, p graph.PositionID, id graph.PartID, donor bool) (candidate, bool) {
	part, ok := s.Library().Ranked(id, &s.Variant)
	ok = ok && !part.IsKit() && id != s.Seat(p).Part.ID && (donor || !isForOtherSide(s, p, part)) &&
		!machine.IsForOtherWheel(s.Seat(p).Position, part)
	ok = ok && s.Library().Refusal(id, f.before.Setup().Seat(p).Part.ID, s.Variant, s.Frame) == ""
	return candidate{position: p, part: part, donor: donor}, ok
}

// tryDonors tries what sits at the partners' places on the donors.
func (f *follower) tryDonors(s *machine.Setup, o examine.Outcome, partners []graph.PositionID) ([]candidate, error) {
	var tried []candidate
	for _, p := range partners {
		seen := map[graph.PartID]bool{}
		for _, id := range lists.KeysOf(f.donors) {
			d := f.donors[id]
			part := d.setup.Seat(onDonor(d, p)).Part.ID
			c, ok := f.candidateAt(s, p, part, true)
			if !ok || seen[part] {
				continue
			}
			seen[part] = true
			if err := f.try(s, o, &c); err != nil {
				return nil, err
			}
			tried = append(tried, c)
		}
	}
	return tried, nil
}

// tryKinds tries every part of the kinds that sit at the partners.
func (f *follower) tryKinds(s *machine.Setup, o examine.Outcome, partners []graph.PositionID) ([]candidate, error) {
	if err := f.readKinds(s, partners); err != nil {
		return nil, err
	}
	var tried []candidate
	for _, p := range partners {
		for _, id := range f.kinds[s.Seat(p).Part.Kind] {
			c, ok := f.candidateAt(s, p, id, false)
			if !ok {
				continue
			}
			if err := f.try(s, o, &c); err != nil {
				return nil, err
			}
			tried = append(tried, c)
		}
	}
	return tried, nil
}

// bestCandidate tries parts at every partner of an outcome and gives the one
// that closes the gap and leaves least wrong; nil when none closes it. What the
// new part meets on its donor is tried first, and is enough when it leaves
// nothing wrong. A gap that something made can close is worth a part only when
// that part leaves nothing wrong.
func (f *follower) bestCandidate(s *machine.Setup, o examine.Outcome,
	visited map[graph.PositionID]bool) (*candidate, error) {
	partners := lists.Kept(f.partnersOf(s, o), func(id graph.PositionID) bool {
		only, gives := givesWay(s, o)
		return !visited[id] || f.asked[id] && (o.What == examine.OfRun || o.What == examine.OfChain || gives && id == only)
	})
	if err := f.read(s, partners); err != nil {
		return nil, err
	}
	tried, err := f.tryDonors(s, o, partners)
	if err != nil {
		return nil, err
	}
	isGood := func(c candidate) bool {
		return c.isGood(o) && !f.isTaken(c, o) && !f.refused.refuses(c.position, c.part.ID)
	}
	found := lists.Kept(slices.Clone(tried), isGood)
	if !slices.ContainsFunc(found, candidate.isClean) {
		more, err := f.tryKinds(s, o, partners)
		if err != nil {
			return nil, err
		}
		tried = append(tried, more...)
		found = append(found, lists.Kept(more, isGood)...)
	}
	if len(found) == 0 {
		f.tooDear[o.Key()] = cmp.Or(f.refusedWords(o, tried), tooDear(tried, o))
		return nil, nil
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Or(slices.Compare(a.score[:], b.score[:]), cmp.Compare(lists.Order(!a.donor), lists.Order(!b.donor)),
			cmp.Compare(lists.Order(a.isRetired()), lists.Order(b.isRetired())),
			cmp.Compare(a.verdictOf(o), b.verdictOf(o)),
			cmp.Compare(lists.Order(!f.isBuiltHere(s, a)), lists.Order(!f.isBuiltHere(s, b))),
			cmp.Compare(lists.Order(a.isOutdated()), lists.Order(b.isOutdated())), cmp.Compare(a.excess(o), b.excess(o)),
			cmp.Compare(unlikeBuilt(s, a), unlikeBuilt(s, b)), cmp.Compare(a.part.ID, b.part.ID))
	})
	best := found[0]
	for _, c := range found[1:] {
		if c.score == best.score && c.position == best.position && !slices.Contains(f.also[best.part.ID], c.part.ID) &&
			c.part.ID != best.part.ID {
			f.also[best.part.ID] = append(f.also[best.part.ID], c.part.ID)
		}
	}
	return &best, nil
}

// undoes reports whether something to get is, for a place that was asked for, what sat there
// before, or what measures the same: then the part that was asked for does not go there, and
// nothing that there is to get changes that.
func (f *follower) undoes(g Get) bool {
	was := f.before.Setup().Seat(g.Position)
	if g.What != GetPart || !f.asked[g.Position] || was.Empty {
		return false
	}
	part := was.Part
	got, known := f.before.Setup().Library().Ranked(g.Part, &f.before.Setup().Variant)
	return part.ID == g.Part || known && part.Kind == got.Kind && len(got.Features) > 0 && evidence.Unlike(part, got) == 0
}

// isTaken reports whether another trail has put another part at a candidate's place, and
// the gap can be closed by something made.
func (f *follower) isTaken(c candidate, o examine.Outcome) bool {
	had := f.fitted[c.position]
	return had != "" && had != c.part.ID && o.After == graph.FitsWithChanges
}

// unlikeBuilt is how far a part measures from the one built in at its place.
func unlikeBuilt(s *machine.Setup, c candidate) float64 {
	return evidence.Unlike(s.AsBuilt().Seat(c.position).Part, c.part)
}

// isBuiltHere reports whether sources list the part at this very position.
func (f *follower) isBuiltHere(s *machine.Setup, c candidate) bool {
	return slices.ContainsFunc(s.Library().ListedAt(c.position),
		func(fit graph.Fitment) bool { return fit.Part == c.part.ID })
}

// try puts the candidate in and, when it closes the gap, judges everything at its
// position.
func (f *follower) try(s *machine.Setup, o examine.Outcome, c *candidate) error {
	setup, err := s.With(f.ctx, map[graph.PositionID]graph.PartID{c.position: c.part.ID})
	if err != nil {
		return err
	}
	c.setup = setup
	if c.lacksEnd(o) {
		return nil
	}
	x := f.around[c.position].Examiner(f.before, setup)
	if got, ok := x.JudgeAgain(o); ok && !isBetter(got.After, o) {
		return nil // most parts don't, and then the rest need not be judged
	}
	for _, got := range x.OutcomesOf(x.Touching(c.position)) {
		c.all = append(c.all, got)
		switch {
		case examine.IsOfPart(got): // one bearing or tube does not put a hub right
		case got.IsWorse() && got.After > graph.Fits && !f.closed[got.Key()] && !f.through[got.Key()]:
			c.count(got)
		case f.wrong[got.Key()] && got.After < graph.Unknown:
			c.helps++
		}
	}
	slices.SortStableFunc(c.left, func(a, b examine.Outcome) int { return cmp.Compare(b.After, a.After) })
	return nil
}

// extensionFor finds an extension for a lead that is too short.
func (f *follower) extensionFor(s *machine.Setup, o examine.Outcome) (Get, bool, error) {
	around := f.around[o.Run.Line]
	if o.What != examine.OfRun || around == nil || f.refused.work[o.Key()] {
		return Get{}, false, nil
	}
	x := around.Examiner(f.before, s)
	if !x.IsLead(o.Run) {
		return Get{}, false, nil
	}
	kinds, err := f.kindsBetween(s, "lead", "connector")
	if err != nil {
		return Get{}, false, err
	}
	ids, err := Extensions(f.ctx, s.Library(), kinds)
	if err != nil {
		return Get{}, false, err
	}
	for _, id := range ids {
		if get, ok := LengthenedBy(x, o, id); ok {
			return get, true, nil
		}
	}
	return Get{}, false, nil
}

// fit notes a part that closes a gap.
func (f *follower) fit(c candidate, o examine.Outcome) {
	f.overtake(c.position, o)
	f.fitted[c.position] = c.part.ID
	for _, got := range c.all {
		if got.After <= graph.FitsWithChanges {
			f.done[got.Key()] = true
		}
	}
	g := Get{What: GetPart, Position: c.position, Part: c.part.ID, Name: c.part.Name,
		Quantity: c.setup.Quantity(c.position), Text: machine.NameOf(c.part),
		Also: f.also[c.part.ID], Price: PriceOf(c.part)}
	for _, left := range c.left {
		g.Leaves = append(g.Leaves, left.ID)
	}
	g = f.takesOver(g)
	f.get(g, o)
}

// takesOver is a part to get that also closes what another one at its place was to close,
// which is left out: a place holds one part.
func (f *follower) takesOver(g Get) Get {
	isOther := func(have Get) bool {
		return have.What == GetPart && have.Position == g.Position && have.Part != g.Part
	}
	for _, have := range f.gets {
		if isOther(have) {
			g = g.closing(have.closes...)
		}
	}
	f.gets = slices.DeleteFunc(f.gets, isOther)
	return g
}

func (f *follower) addOrder(s *machine.Setup, o examine.Outcome, order mating.Order) {
	g := Ordered(s, o, order)
	if order.Under != "" {
		g.packing = order.Thicker
	}
	if g.What == GetBolts {
		g.Quantity = f.boltsAt(s, o, g.Position)
	}
	f.get(g, o)
	f.order(o, func(w *Workshop) { w.Make(o, order) })
	for _, bolts := range BoltsFor(s, f.knownAround(o), o, order, g.Position) {
		f.get(bolts, o)
		f.order(o, func(w *Workshop) { w.Bolts(bolts) })
	}
}

// ordered is something that was put on for an outcome.
type ordered struct {
	of  examine.Outcome
	put func(*Workshop)
}

func (f *follower) order(o examine.Outcome, put func(*Workshop)) {
	f.orders = append(f.orders, ordered{o, put})
	put(f.workshop)
}

// overtake takes back what was ordered for the sake of a part that another one takes the
// place of now: what is needful with that is found when the whole is judged again.
func (f *follower) overtake(at graph.PositionID, by examine.Outcome) {
	gone := map[examine.OutcomeID]bool{}
	kept := lists.Kept(slices.Clone(f.orders), func(one ordered) bool {
		o := one.of
		isOver := o.Key() != by.Key() && !f.through[o.Key()] && o.What != examine.OfStack &&
			slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at })
		if isOver {
			gone[o.Key()] = true
			delete(f.made, o.Key())
		}
		return !isOver
	})
	if len(gone) == 0 {
		return
	}
	f.orders, f.workshop = kept, NewWorkshop()
	for _, one := range kept {
		one.put(f.workshop)
	}
	for i, g := range f.gets {
		if g.IsOrdered() {
			f.gets[i] = g.only(lists.Kept(slices.Clone(g.closes), func(id examine.OutcomeID) bool { return !gone[id] })...)
		}
	}
	f.gets = slices.DeleteFunc(f.gets, func(g Get) bool { return g.IsOrdered() && len(g.For) == 0 })
}

// boltsAt is how many bolts of a place are wanted: as many as the joint that they
// hold has holes.
func (f *follower) boltsAt(s *machine.Setup, o examine.Outcome, at graph.PositionID) int {
	n := s.Quantity(at)
	for _, j := range f.knownAround(o) {
		if slices.Contains(j.Fasteners, at) {
			n = max(n, s.BoltsWanted(j, at))
		}
	}
	return n
}

// knownAround are the joints that were read around what an outcome is about.
func (f *follower) knownAround(o examine.Outcome) []graph.Joint {
	known, seen := slices.Clone(f.start.Known), map[graph.JointID]bool{}
	for _, j := range known {
		seen[j.ID] = true
	}
	for _, e := range o.Ends {
		if f.around[e.Position] == nil {
			continue
		}
		for _, j := range f.around[e.Position].Known {
			if !seen[j.ID] {
				seen[j.ID] = true
				known = append(known, j)
			}
		}
	}
	return known
}

// makeInstead leaves out a spacer to get where one of another width has to be
// made anyway: the one to get can be cut down when it is wide enough. Of two seals for one
// place it leaves the one that is ordered to suit both its sides.
func (f *follower) makeInstead() {
	for i, order := range f.gets {
		isSpacer := order.What == "spacer" && order.inRow
		if !isSpacer && order.What != "seal" {
			continue
		}
		at := slices.IndexFunc(f.gets, func(g Get) bool { return g.What == GetPart && g.Position == order.Position })
		if at < 0 {
			continue
		}
		part := f.gets[at]
		if isSpacer {
			f.gets[i].Spec = append(lists.Kept(slices.Clone(order.Spec),
				func(s mating.Field) bool { return s.Name != "instead of" }),
				mating.Field{Name: "or cut down", Value: part.Text})
		}
		for _, id := range part.closes {
			if !slices.Contains(order.closes, id) {
				f.closed[id] = true // by one made to the same sizes
			}
		}
		f.gets[i] = f.gets[i].closing(part.closes...)
		delete(f.fitted, part.Position)
		f.gets[at].What = ""
	}
	f.gets = slices.DeleteFunc(f.gets, func(g Get) bool { return g.What == "" })
}

// get adds a Get, or adds to one that is there already what it also closes.
func (f *follower) get(g Get, o examine.Outcome) {
	for i, have := range f.gets {
		if have.What == g.What && have.Part == g.Part && have.Text == g.Text && have.Position == g.Position {
			f.gets[i] = f.gets[i].Closing(o)
			return
		}
		if have.sizesSame(g) {
			if have.isLess(g) {
				f.gets[i] = g
			}
			f.gets[i] = f.gets[i].only(have.closes...).Closing(o)
			return
		}
	}
	f.gets = append(f.gets, g.Closing(o))
}

// alreadyClosed reports whether what an earlier trail put in closes an outcome
// too.
func (f *follower) alreadyClosed(s *machine.Setup, o examine.Outcome) bool {
	if !f.done[o.Key()] {
		return false
	}
	for i, g := range f.gets {
		if slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == g.Position && g.What == GetPart }) {
			f.gets[i] = f.gets[i].Closing(o)
		}
	}
	return true
}

// prepare reads in few calls what the first step of every trail needs: what
// touches the partners, what the new parts meet on their donors, and, where that
// does not put everything right, adapters and parts of the same kind.
func (f *follower) prepare(s *machine.Setup, problems []examine.Outcome) error {
	problems = lists.Kept(slices.Clone(problems), func(o examine.Outcome) bool { return !onlyMeasuring(o) })
	var partners []graph.PositionID
	for _, o := range problems {
		partners = append(partners, f.partnersOf(s, o)...)
	}
	if err := f.read(s, lists.Unique(partners)); err != nil {
		return err
	}
	var open []examine.Outcome
	partners = nil
	for _, o := range problems {
		tried, err := f.tryDonors(s, o, f.partnersOf(s, o))
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(tried, func(c candidate) bool { return c.isClean() && c.putsRight(o) }) {
			open = append(open, o)
			partners = append(partners, f.partnersOf(s, o)...)
		}
	}
	if err := f.readAdapters(s, open); err != nil {
		return err
	}
	return f.readKinds(s, partners)
}

// read reads the surroundings of positions that were not read yet, and what
// sits at the positions of the same names on the donors.
func (f *follower) read(s *machine.Setup, positions []graph.PositionID) error {
	missing := lists.Kept(positions, func(id graph.PositionID) bool { return f.around[id] == nil })
	if len(missing) == 0 {
		return nil
	}
	around, err := examine.ConnectionsAt(f.ctx, s, missing)
	if err != nil {
		return err
	}
	for _, id := range missing {
		f.around[id] = around
	}
	sitting := lists.Mapped(missing, func(id graph.PositionID) graph.PartID { return f.before.Setup().Seat(id).Part.ID })
	if err := s.Library().ReadLineages(f.ctx, sitting); err != nil {
		return err
	}
	for _, id := range lists.KeysOf(f.donors) {
		d := f.donors[id]
		if err := d.setup.Load(f.ctx, lists.Mapped(missing,
			func(p graph.PositionID) graph.PositionID { return onDonor(d, p) })...); err != nil {
			return err
		}
	}
	return nil
}

// readKinds reads the parts of the kinds that sit at positions.
func (f *follower) readKinds(s *machine.Setup, positions []graph.PositionID) error {
	var ids []graph.PartID
	for _, kind := range lists.Unique(lists.Mapped(positions,
		func(id graph.PositionID) graph.KindID { return s.Seat(id).Part.Kind })) {
		if _, read := f.kinds[kind]; read || machine.IsOrderedBySize(kind) {
			continue
		}
		of, err := s.Library().Reader().PartsOfKindUpTo(f.ctx, machine.MaxOfKind+1, kind)
		if err != nil {
			return err
		}
		if len(of) > machine.MaxOfKind {
			of = nil
		}
		f.kinds[kind] = of
		ids = append(ids, of...)
	}
	return s.Library().ReadParts(f.ctx, ids)
}

// endWithout ends a trail for which no part was found: with what to order or
// make, else open.
func (f *follower) endWithout(s *machine.Setup, o examine.Outcome, steps []TrailStep) (Trail, error) {
	last := f.otherEnd(s, o)
	how := EndsOpen
	if dear := f.tooDear[o.Key()]; dear != "" {
		last.What += "; " + dear
	}
	for _, c := range o.Checks {
		if c.Verdict == graph.Fits {
			continue
		}
		orders := UsefulOrders(s.Library(), o, c.Orders)
		if f.refused.work[o.Key()] {
			orders = nil
		}
		for _, order := range orders {
			f.made[o.Key()] = true
			part, ok, err := f.listedFor(s, o, c, order)
			if err != nil {
				return Trail{}, err
			}
			if ok {
				f.fit(part, o)
				last.What, how = "takes "+machine.NameOf(part.part), EndsMates
				continue
			}
			f.addOrder(s, o, order)
		}
		if how == EndsOpen && len(orders) > 0 {
			last.What, how = orderWords(orders), EndsOrder
		}
		// What is done about one check closes nothing where another one is a no.
		if how == EndsOpen && o.After == graph.FitsWithChanges && c.Verdict == o.After && len(c.Do) > 0 {
			last.What, how = strings.Join(c.Do, "; "), EndsOrder
		}
	}
	return ended(steps, last, how), nil
}

// otherEnd is the end of an outcome that was not asked for.
func (f *follower) otherEnd(s *machine.Setup, o examine.Outcome) TrailStep {
	for _, e := range o.Ends {
		if !s.Seat(e.Position).Changed {
			return TrailStep{Position: e.Position, Feature: e.Feature, Part: e.Part, What: o.Why}
		}
	}
	e := o.Ends[len(o.Ends)-1]
	return TrailStep{Position: e.Position, Feature: e.Feature, Part: e.Part, What: o.Why}
}

// moreBolts adds the bolts of joints that have more holes now than there were
// bolts.
func (f *follower) moreBolts(s *machine.Setup, outcomes []examine.Outcome) {
	for _, o := range outcomes {
		if o.What != examine.OfJoint || o.After != graph.FitsWithChanges {
			continue
		}
		for _, g := range MoreBolts(s, o.Joint) {
			if f.fitted[g.Position] == "" && !f.ordersBolts(g.Position) {
				f.get(g, o)
			}
		}
	}
}

// ordersBolts reports whether other bolts are ordered for a place.
func (f *follower) ordersBolts(id graph.PositionID) bool {
	return slices.ContainsFunc(f.gets, func(g Get) bool { return g.What == GetBolts && g.Position == id })
}

// allOn is the machine with all that is to be got and made on.
func (f *follower) allOn(after *machine.Setup) (*machine.Setup, error) {
	setup, err := after.With(f.ctx, f.fitted)
	if err != nil {
		return nil, err
	}
	return f.workshop.On(setup, f.fitted), nil
}

// mostRounds is how often what is made is looked at for what it makes needful: a
// ring under a disc its bolts, an adapter spacers and their bolts.
const mostRounds = 3

// makeFurther orders what becomes needful by what is made: with an adapter under its
// disc a caliper takes spacers, and those take longer bolts. It gives what the machine
// with all of it on comes to.
func (f *follower) makeFurther(after *machine.Setup) (trails []Trail, got []examine.Outcome, err error) {
	for range mostRounds {
		if len(f.gets) == 0 {
			break
		}
		setup, err := f.allOn(after)
		if err != nil {
			return nil, nil, err
		}
		if got, err = examine.Examine(f.ctx, f.before, setup); err != nil {
			return nil, nil, err
		}
		more := lists.Kept(got, func(o examine.Outcome) bool {
			return needsPart(o) && o.After != graph.Unknown && examine.HasOrders(o.Checks) && !f.closed[o.Key()] &&
				!f.made[o.Key()]
		})
		for _, o := range more {
			end, err := f.endWithout(setup, o, []TrailStep{f.startOf(setup, o)})
			if err != nil {
				return nil, nil, err
			}
			trails = append(trails, end)
			f.made[o.Key()] = true
		}
		if len(more) == 0 {
			return trails, got, nil
		}
	}
	return trails, got, nil
}

// withAllOn judges the machine with all that is to be got and made on as well. It is
// nil when that is nothing.
//
// Got is what it was judged to be, and j the judgement without those parts. Where
// parts of the trails are on as well, all is judged from the start: nothing of the
// parts that gave way may be left, and those that came must earn their verdict.
func (f *follower) withAllOn(j Judgement, after *machine.Setup, got []examine.Outcome) (*SwapThen, error) {
	if len(f.gets) == 0 {
		return nil, nil
	}
	numbers := j.Answer.Numbers
	setup, err := f.allOn(after)
	if err != nil {
		return nil, err
	}
	if len(f.fitted) > 0 {
		whole, err := Judge(f.ctx, f.before, setup, Asked{Bare: true})
		if err != nil {
			return nil, err
		}
		got, numbers = whole.Outcomes, whole.Answer.Numbers
	} else {
		got = append(slices.Clone(got), lists.Kept(slices.Clone(j.Outcomes), examine.IsSaid)...)
	}
	got = lists.Kept(Answered(lists.Mapped(got, f.asMade), f.gets),
		func(o examine.Outcome) bool { return !f.closed[o.Key()] && !f.isMade(o) })
	t, err := j.Then(f.ctx, setup, f.gets, got, numbers)
	if err != nil {
		return nil, err
	}
	for _, g := range f.gets {
		if f.undoes(g) {
			t.Verdict, t.Ready = t.Verdict.Worst(j.Answer.Verdict), false
			t.NotReady = append(t.NotReady, Judged(j.Answer.Verdict, string(after.Seat(g.Position).Part.ID)+" at "+
				g.Position.Local(), "put back "+g.Text+", as was there: nothing else makes it go"))
		}
	}
	t.OnceMade, t.fitted = slices.ContainsFunc(f.gets, Get.IsOrdered), f.fitted
	for _, n := range numbers {
		if n.Verdict > graph.FitsWithChanges {
			t.Figures = append(t.Figures, n.Name)
			if !slices.ContainsFunc(j.Answer.Numbers, func(had examine.Number) bool {
				return had.Name == n.Name && had.About == n.About && had.Words == n.Words
			}) {
				t.Numbers = append(t.Numbers, n)
			}
		}
	}
	for _, o := range got {
		if o.IsWorse() {
			t.Left = append(t.Left, o)
		}
	}
	return t, nil
}

// asMade leaves of a row whose spacers are ordered only what spacers don't put
// right: where the sprocket comes to stand.
func (f *follower) asMade(o examine.Outcome) examine.Outcome {
	rest := lists.Kept(slices.Clone(o.Checks),
		func(c mating.Check) bool { return c.Rule == mating.SprocketLine && c.Verdict != graph.Fits })
	if o.What != examine.OfStack || len(rest) == 0 || f.workshop.IsOn(o) || !f.isMade(o) {
		return o
	}
	delete(f.made, o.Key())
	o.Checks, o.After, o.Why = rest, mating.Worst(rest), examine.WhyOf(rest)
	return o
}

// isMade reports whether what was ordered for an outcome puts right all that is
// wrong with it, where that stands between the two sides: what takes the place of
// a part is judged again instead. What is not known stays so: it was ordered on a guess.
func (f *follower) isMade(o examine.Outcome) bool {
	if !f.made[o.Key()] || f.workshop.IsOn(o) || o.After == graph.Unknown {
		return false
	}
	return o.After == graph.FitsWithChanges || !slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Verdict == graph.DoesNotFit && len(c.Orders) == 0
	})
}

// listedFor is a part of the kind of what is ordered in another one's place, with which
// the check that ordered it is passed: best one that is listed there. Other orders alter
// a part, or are of hardware, of which there are hundreds.
func (f *follower) listedFor(s *machine.Setup, o examine.Outcome, c mating.Check,
	order mating.Order) (best candidate, found bool, err error) {
	at := order.Instead
	if order.Kind != "banjo bolt" || at == "" {
		return best, false, nil
	}
	if err := f.read(s, []graph.PositionID{at}); err != nil {
		return best, false, err
	}
	if err := f.readKinds(s, []graph.PositionID{at}); err != nil {
		return best, false, err
	}
	for _, id := range f.kinds[s.Seat(at).Part.Kind] {
		one, ok := f.candidateAt(s, at, id, false)
		if !ok || f.refused.refuses(at, id) || found && !f.isBuiltHere(s, one) {
			continue
		}
		if one.setup, err = s.With(f.ctx, map[graph.PositionID]graph.PartID{at: id}); err != nil {
			return best, false, err
		}
		got, _ := f.around[at].Examiner(f.before, one.setup).JudgeAgain(o)
		passes := slices.ContainsFunc(got.Checks, func(is mating.Check) bool {
			return is.Rule == c.Rule && is.Verdict == graph.Fits
		})
		if passes && (!found || !f.isBuiltHere(s, best)) {
			best, found = one, true
		}
	}
	return best, found, nil
}

// refuseFaulty refuses what the whole shows to be no help; false where there is nothing more
// to refuse.
func (f *follower) refuseFaulty(j Judgement, then *SwapThen) bool {
	was := map[examine.OutcomeID]graph.Verdict{}
	for _, o := range j.Outcomes {
		was[o.Key()] = o.After
	}
	stays := map[examine.OutcomeID]bool{}
	more := false
	for _, o := range then.Left {
		switch {
		case o.After != graph.DoesNotFit:
		case was[o.Key()] == graph.DoesNotFit:
			stays[o.Key()] = true
		default:
			more = f.refuseAt(o) || more
		}
	}
	for _, g := range f.gets {
		helpsNothing := len(g.closes) > 0 && !slices.ContainsFunc(g.closes,
			func(id examine.OutcomeID) bool { return !stays[id] })
		if helpsNothing {
			more = f.refuse(g, "it does not put that right") || more
		}
	}
	return more
}

// refuseAt refuses the parts that were put where something does not fit now, else what was
// ordered there.
func (f *follower) refuseAt(o examine.Outcome) bool {
	more, places := false, o.Places()
	why := fmt.Sprintf("then %s does not fit: %s", o.Name(), o.Why)
	fitted := lists.Kept(slices.Clone(f.gets), func(g Get) bool {
		return g.What == GetPart && slices.Contains(places, g.Position)
	})
	if len(fitted) == 0 {
		fitted = lists.Kept(slices.Clone(f.gets), func(g Get) bool { return slices.Contains(places, g.Position) })
	}
	for _, g := range fitted {
		more = f.refuse(g, why) || more
	}
	return more
}

func (f *follower) refuse(g Get, why string) bool {
	if g.What == GetPart {
		return f.refused.part(g.Position, g.Part, why)
	}
	more := false
	for _, of := range g.closes {
		more = f.refused.order(of) || more
	}
	return more
}

// refusedWords says which part would close a gap at a place, and why it is not offered;
// empty where none was refused.
func (f *follower) refusedWords(o examine.Outcome, tried []candidate) string {
	for _, c := range tried {
		why, refused := f.refused.parts[c.position][c.part.ID]
		if refused && c.putsRight(o) {
			return fmt.Sprintf("%s is no help: %s", machine.NameOf(c.part), why)
		}
	}
	return ""
}

// weighAlso tries what was said to do as well as a part in its place with all else on: what
// leaves more wrong there is not named, and what leaves less takes the part's place.
func (f *follower) weighAlso(after *machine.Setup) error {
	for i, g := range f.gets {
		if g.What != GetPart || len(g.Also) == 0 || f.fitted[g.Position] != g.Part {
			continue
		}
		all, err := f.allOn(after)
		if err != nil {
			return err
		}
		parts := append([]graph.PartID{g.Part}, g.Also...)
		scores := make([][4]int, len(parts))
		best := 0
		for k, id := range parts {
			if scores[k], err = f.scoreAt(all, g.Position, id); err != nil {
				return err
			}
			if slices.Compare(scores[k][:], scores[best][:]) < 0 {
				best = k
			}
		}
		f.gets[i].Also = nil
		for k, id := range parts {
			if k != best && scores[k] == scores[best] {
				f.gets[i].Also = append(f.gets[i].Also, id)
			}
		}
		if best > 0 {
			f.gets[i] = f.gets[i].with(after.Library().Part(parts[best]))
			f.fitted[g.Position] = parts[best]
		}
	}
	return nil
}

// scoreAt is what a part at a place leaves wrong there, as candidates are counted, and then
// how much of it asks for hand tools.
func (f *follower) scoreAt(on *machine.Setup, at graph.PositionID, id graph.PartID) ([4]int, error) {
	setup, err := on.With(f.ctx, map[graph.PositionID]graph.PartID{at: id})
	if err != nil {
		return [4]int{}, err
	}
	work := 0
	c := candidate{position: at, setup: setup}
	x := f.around[at].Examiner(f.before, setup)
	for _, o := range x.OutcomesOf(x.Touching(at)) {
		if o.IsWorse() && o.After > graph.Fits && !f.closed[o.Key()] {
			if c.count(o); o.HasWork() {
				work++
			}
		}
	}
	return [4]int{c.score[0], c.score[1], c.score[2], work}, nil
}

// IsAdapterKind reports whether a kind of part is made to go between two others, and
// is little else than two sides. A part of any other kind has a place of its own: a
// drive shaft put behind a drive shaft joins nothing, whatever its splines measure.
func IsAdapterKind(k graph.Kind) bool {
	return k.Joins && len(SidesOf(k)) == 2 && len(k.Features) <= machine.MaxAdapter
}

// SidesOf are the features by which every part of a kind meets others: not its
// paint, its metal, how far it carries something or how long its wires are.
func SidesOf(k graph.Kind) []graph.KindFeature {
	return lists.Kept(slices.Clone(k.Features), func(f graph.KindFeature) bool {
		return !f.May && !slices.Contains([]string{"finish", "plate", "shift", "lead"}, f.Kind)
	})
}

// onlyMeasuring reports whether nothing but a measurement can help.
func onlyMeasuring(o examine.Outcome) bool {
	return o.After == graph.Unknown && !examine.HasOrders(o.Checks)
}

// onDonor is the position of a donor that goes by the same name.
func onDonor(d donorSeat, p graph.PositionID) graph.PositionID {
	return p.On(d.setup.Variant.Model)
}
