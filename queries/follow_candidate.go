package queries

import (
	"cmp"
	"slices"

	"matewell/graph"
)

// candidate is a part that may put an outcome right.
type candidate struct {
	position graph.PositionID
	part     graph.Part
	setup    *Setup
	left     []Outcome // what it leaves or makes wrong, worst first
	all      []Outcome // everything at its position
	donor    bool      // what the new part meets on its donor
	score    [3]int    // does not fit, unknown, changes by effort
}

// maxOfKind is how many parts of one kind are tried; hardware, of which there
// are hundreds, is ordered by its sizes instead.
const maxOfKind = 60

// prepare reads in few calls what the first step of every trail needs: what
// touches the partners, and the parts that may go there.
func (f *follower) prepare(s *Setup, problems []Outcome) error {
	var partners []graph.PositionID
	for _, o := range problems {
		partners = append(partners, f.partnersOf(s, o)...)
	}
	return f.read(s, unique(partners))
}

// read reads the surroundings of positions that were not read yet, and parts
// that may sit there.
func (f *follower) read(s *Setup, positions []graph.PositionID) error {
	missing := kept(positions, func(id graph.PositionID) bool { return f.around[id] == nil })
	if len(missing) == 0 {
		return nil
	}
	around, err := connectionsAt(f.ctx, s, missing)
	if err != nil {
		return err
	}
	for _, id := range missing {
		f.around[id] = around
	}
	return f.readParts(s, missing)
}

// readParts reads the parts that may go to positions: what the new parts meet
// on their donors, and the parts of the kinds that sit there now.
func (f *follower) readParts(s *Setup, positions []graph.PositionID) error {
	for _, id := range keysOf(f.donors) {
		d := f.donors[id]
		var theirs []graph.PositionID
		for _, p := range positions {
			theirs = append(theirs, onDonor(d, p))
		}
		if err := d.setup.Load(f.ctx, theirs...); err != nil {
			return err
		}
	}
	var ids []graph.PartID
	for _, kind := range unique(mapped(positions, func(id graph.PositionID) graph.KindID { return s.Seat(id).Part.Kind })) {
		of, err := f.ofKind(s, kind)
		if err != nil {
			return err
		}
		ids = append(ids, of...)
	}
	return s.library.readParts(f.ctx, ids)
}

// ofKind lists the parts of a kind, none when there are too many to try.
func (f *follower) ofKind(s *Setup, kind graph.KindID) ([]graph.PartID, error) {
	if of, ok := f.kinds[kind]; ok || kind == "" {
		return of, nil
	}
	of, err := s.library.r.PartsOfKind(f.ctx, kind)
	if len(of) > maxOfKind {
		of = nil
	}
	f.kinds[kind] = of
	return of, err
}

// onDonor is the position of a donor that goes by the same name.
func onDonor(d donorSeat, p graph.PositionID) graph.PositionID {
	return graph.PositionID(string(d.setup.Variant.Model) + ":" + p.Local())
}

// candidatesAt lists the parts to try at a position: those of the donors
// first.
func (f *follower) candidatesAt(s *Setup, p graph.PositionID) []candidate {
	var list []candidate
	seen := map[graph.PartID]bool{s.Seat(p).Part.ID: true, "": true}
	add := func(id graph.PartID, donor bool) {
		if seen[id] {
			return
		}
		seen[id] = true
		if part, ok := s.library.ranked(id, &s.Variant); ok && !part.IsKit() {
			list = append(list, candidate{position: p, part: part, donor: donor})
		}
	}
	for _, id := range keysOf(f.donors) {
		add(f.donors[id].setup.Seat(onDonor(f.donors[id], p)).Part.ID, true)
	}
	for _, id := range f.kinds[s.Seat(p).Part.Kind] {
		add(id, false)
	}
	return list
}

// bestCandidate tries every part at every partner of an outcome and gives the
// one that closes the gap and leaves least wrong; nil when none closes it. A
// gap that something made can close is worth a part only when that part leaves
// nothing wrong.
func (f *follower) bestCandidate(s *Setup, o Outcome, visited map[graph.PositionID]bool) (*candidate, error) {
	partners := kept(f.partnersOf(s, o), func(id graph.PositionID) bool { return !visited[id] })
	if err := f.read(s, partners); err != nil {
		return nil, err
	}
	var found []candidate
	for _, p := range partners {
		for _, c := range f.candidatesAt(s, p) {
			if err := f.try(s, o, &c); err != nil {
				return nil, err
			}
			clean := c.score == [3]int{}
			if c.closes(o) && (clean || o.After != graph.FitsWithChanges) {
				found = append(found, c)
			}
		}
	}
	if len(found) == 0 {
		return nil, nil
	}
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Or(slices.Compare(a.score[:], b.score[:]), cmp.Compare(order(!a.donor), order(!b.donor)),
			cmp.Compare(order(!f.isBuiltHere(s, a)), order(!f.isBuiltHere(s, b))), cmp.Compare(a.part.ID, b.part.ID))
	})
	best := found[0]
	for _, c := range found[1:] {
		if c.score == best.score && c.position == best.position {
			f.also[best.part.ID] = append(f.also[best.part.ID], c.part.ID)
		}
	}
	return &best, nil
}

func order(last bool) int {
	if last {
		return 1
	}
	return 0
}

// isBuiltHere reports whether sources list the part at this very position.
func (f *follower) isBuiltHere(s *Setup, c candidate) bool {
	return slices.ContainsFunc(s.library.fitments[c.position], func(fit graph.Fitment) bool { return fit.Part == c.part.ID })
}

// try puts the candidate in and judges everything at its position.
func (f *follower) try(s *Setup, o Outcome, c *candidate) error {
	setup, err := s.With(f.ctx, map[graph.PositionID]graph.PartID{c.position: c.part.ID})
	if err != nil {
		return err
	}
	c.setup = setup
	x := &examiner{built: s.AsBuilt(), before: f.before, after: setup, connections: f.around[c.position]}
	for _, got := range x.outcomes() {
		if !slices.ContainsFunc(got.Ends, func(e End) bool { return e.Position == c.position }) && got.ID != o.ID {
			continue
		}
		c.all = append(c.all, got)
		if got.After <= graph.Fits || got.Same && got.After == got.Before || f.closed[got.ID] {
			continue
		}
		c.count(got)
	}
	slices.SortStableFunc(c.left, func(a, b Outcome) int { return cmp.Compare(b.After, a.After) })
	return nil
}

// count adds an outcome to the score. One that only asks for hand tools is no
// reason to look for another part.
func (c *candidate) count(o Outcome) {
	switch o.After {
	case graph.DoesNotFit:
		c.score[0]++
	case graph.Unknown:
		c.score[1]++
	case graph.FitsWithChanges:
		effort := effortOf(o.Checks)
		if effort <= graph.EffortHandTools {
			return
		}
		c.score[2] += int(effort)
	}
	if needsPart(o) {
		c.left = append(c.left, o)
	}
}

// closes reports whether the outcome is better with the candidate in.
func (c *candidate) closes(o Outcome) bool {
	for _, got := range c.all {
		if got.What == o.What && got.ID == o.ID {
			return got.After < o.After && got.After != graph.DoesNotFit
		}
	}
	return false
}

// neighbour is the next thing that the part in its new place meets, to show
// where a trail comes to rest.
func (c *candidate) neighbour(seen map[graph.PositionID]bool) (TrailStep, bool) {
	for _, o := range c.all {
		if o.What != OfJoint || o.After > graph.FitsWithChanges {
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
	return hasKind(c.setup.Seat(id).Part, "male-thread") || hasKind(c.setup.Seat(id).Part, "washer")
}
