package swap

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// candidate is a part that may put an outcome right.
type candidate struct {
	position graph.PositionID
	part     graph.Part
	setup    *machine.Setup
	left     []examine.Outcome // what it leaves or makes wrong, worst first
	all      []examine.Outcome // everything at its position
	donor    bool              // what the new part meets on its donor
	score    [3]int            // does not fit, unknown, changes by effort
	helps    int               // how many misfits it takes away
}

// candidateAt is a part to try at a position, unless it is there already or
// takes more than one part to be.
func (f *follower) candidateAt(s *machine.Setup, p graph.PositionID, id graph.PartID, donor bool) (candidate, bool) {
	part, ok := s.Library().Ranked(id, &s.Variant)
	ok = ok && !part.IsKit() && id != s.Seat(p).Part.ID && (donor || !isForOtherSide(s, p, part))
	return candidate{position: p, part: part, donor: donor}, ok
}

// isForOtherSide reports whether a part belongs on the other side of the
// machine: sources list it there and not here, or its name says so.
func isForOtherSide(s *machine.Setup, p graph.PositionID, part graph.Part) bool {
	twin := machine.OtherSide(p)
	if twin == "" {
		return false
	}
	listed := func(at graph.PositionID) bool {
		return slices.ContainsFunc(s.Library().ListedAt(at), func(f graph.Fitment) bool { return f.Part == part.ID })
	}
	if listed(twin) != listed(p) {
		return listed(twin)
	}
	own, other := "left", "right"
	if strings.HasSuffix(string(p), "-right") {
		own, other = other, own
	}
	return strings.Contains(part.Name, other) && !strings.Contains(part.Name, own)
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
func (f *follower) bestCandidate(s *machine.Setup, o examine.Outcome, visited map[graph.PositionID]bool) (*candidate,
	error) {
	partners := lists.Kept(f.partnersOf(s, o), func(id graph.PositionID) bool {
		return !visited[id] || f.asked[id] && (o.What == examine.OfRun || o.What == examine.OfChain)
	})
	if err := f.read(s, partners); err != nil {
		return nil, err
	}
	tried, err := f.tryDonors(s, o, partners)
	if err != nil {
		return nil, err
	}
	found := lists.Kept(slices.Clone(tried), func(c candidate) bool { return c.isGood(o) })
	if !slices.ContainsFunc(found, candidate.isClean) {
		more, err := f.tryKinds(s, o, partners)
		if err != nil {
			return nil, err
		}
		tried = append(tried, more...)
		found = append(found, lists.Kept(more, func(c candidate) bool { return c.isGood(o) })...)
	}
	if len(found) == 0 {
		f.tooDear[o.What+o.ID] = tooDear(tried, o)
		return nil, nil
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Or(slices.Compare(a.score[:], b.score[:]), cmp.Compare(lists.Order(!a.donor), lists.Order(!b.donor)),
			cmp.Compare(lists.Order(!f.isBuiltHere(s, a)), lists.Order(!f.isBuiltHere(s, b))), cmp.Compare(a.part.ID, b.part.ID))
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

// isGood reports whether the candidate closes the gap without making more wrong
// than it puts right. A gap that something made can close is worth a part only
// when that part leaves nothing wrong; of a pair both sides must be alike,
// whatever that takes.
func (c candidate) isGood(o examine.Outcome) bool {
	switch {
	case !c.putsRight(o):
		return false
	case c.isClean() || o.What == examine.OfPair:
		return true
	}
	return o.After != graph.FitsWithChanges && c.score[0] <= c.helps
}

// tooDear says which part would close a gap at the price of more misfits than
// it takes away; empty when none would.
func tooDear(tried []candidate, o examine.Outcome) string {
	best := -1
	for i, c := range tried {
		if c.putsRight(o) && (best < 0 || slices.Compare(c.score[:], tried[best].score[:]) < 0) {
			best = i
		}
	}
	if best < 0 || o.After == graph.FitsWithChanges {
		return ""
	}
	return fmt.Sprintf("%s would take it, but then %d other things do not fit", machine.NameOf(tried[best].part),
		tried[best].score[0])
}

// isClean reports whether the candidate leaves nothing wrong.
func (c candidate) isClean() bool { return c.score == [3]int{} }

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
	x := f.around[c.position].Examiner(f.before, setup)
	if got, ok := x.JudgeAgain(o); ok && !isBetter(got, o) {
		return nil // most parts don't, and then the rest need not be judged
	}
	for _, got := range x.Outcomes(c.position) {
		c.all = append(c.all, got)
		switch {
		case examine.IsOfPart(got): // one bearing or tube does not put a hub right
		case got.After > got.Before && got.After > graph.Fits && !f.closed[got.ID]:
			c.count(got)
		case f.wrong[got.What+got.ID] && got.After < graph.Unknown:
			c.helps++
		}
	}
	slices.SortStableFunc(c.left, func(a, b examine.Outcome) int { return cmp.Compare(b.After, a.After) })
	return nil
}

// count adds an outcome to the score. One that only asks for hand tools is no
// reason to look for another part.
func (c *candidate) count(o examine.Outcome) {
	switch o.After {
	case graph.DoesNotFit:
		c.score[0]++
	case graph.Unknown:
		c.score[1]++
	case graph.FitsWithChanges:
		effort := examine.EffortOf(o.Checks)
		if effort <= graph.EffortHandTools {
			return
		}
		c.score[2] += int(effort)
	}
	if needsPart(o) {
		c.left = append(c.left, o)
	}
}

// putsRight reports whether the outcome is better with the candidate in.
func (c *candidate) putsRight(o examine.Outcome) bool {
	for _, got := range c.all {
		if got.What == o.What && got.ID == o.ID {
			return isBetter(got, o)
		}
	}
	return false
}

// isBetter reports whether an outcome is better than it was.
func isBetter(got, was examine.Outcome) bool {
	return got.After < was.After && got.After != graph.DoesNotFit
}

// neighbour is the next thing that the part in its new place meets, to show
// where a trail comes to rest.
func (c *candidate) neighbour(seen map[graph.PositionID]bool) (TrailStep, bool) {
	for _, o := range c.all {
		if o.What != examine.OfJoint || o.After > graph.FitsWithChanges {
			continue
		}
		for i, e := range o.Ends {
			other := o.Ends[len(o.Ends)-1-i]
			if e.Position == c.position && !seen[other.Position] && !c.isFastener(other.Position) {
				return TrailStep{Position: other.Position, Feature: other.Feature, Part: other.Part, What: o.After.String()}, true
			}
		}
	}
	return TrailStep{}, false
}

func (c *candidate) isFastener(id graph.PositionID) bool {
	return machine.HasKind(c.setup.Seat(id).Part, "male-thread") || machine.HasKind(c.setup.Seat(id).Part, "washer")
}
