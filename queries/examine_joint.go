package queries

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/mating"
)

func (x *examiner) joint(j graph.Joint) Outcome {
	o := Outcome{What: OfJoint, ID: string(j.ID), Ends: x.ends(j.A, j.B), joint: j}
	o.Disturbed = slices.ContainsFunc(append([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners...), x.isChanged)
	was := x.was(OfJoint+string(j.ID), func() []mating.Check { return x.jointChecks(x.before, j) })
	is := x.jointChecks(x.after, j)
	if len(was) > 0 && was[0].Rule != noRule && len(is) == 1 && is[0].Rule == noRule {
		is[0] = x.otherSort(j, is[0])
	}
	return x.judged(o, was, is)
}

// noRule is the check of two features that no rule pairs.
const noRule = "no rule"

// otherSort says that a feature was replaced by one of another sort, for which
// the other side has nothing: a fluid port where a cable end was.
func (x *examiner) otherSort(j graph.Joint, c mating.Check) mating.Check {
	a, b := x.after.kindOf(j.A), x.after.kindOf(j.B)
	wasA, wasB := x.before.kindOf(j.A), x.before.kindOf(j.B)
	if a == "" || b == "" || a == wasA && b == wasB {
		return c
	}
	c.Verdict, c.Had, c.Wanted = graph.DoesNotFit, a, wasA
	if a == wasA {
		c.Had, c.Wanted = b, wasB
	}
	c.Why = fmt.Sprintf("a %s where a %s was: the other side has nothing for it", c.Had, c.Wanted)
	return c
}

// placesOf are the positions that decide a joint: those that take part in it,
// and for a caliper on its leg also the disc that it straddles.
func (x *examiner) placesOf(j graph.Joint) []graph.PositionID {
	places := jointPlaces(j)
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := x.discOf(x.after, ref.Position); ok {
			places = append(places, disc.Position)
		}
	}
	return places
}

func (x *examiner) isChanged(id graph.PositionID) bool { return x.after.Seat(id).Changed }

func (x *examiner) jointChecks(s *Setup, j graph.Joint) []mating.Check {
	if absent := s.absent(j.A.Position, j.B.Position); len(absent) > 0 {
		return absent
	}
	m := mating.Meeting{Joint: j.ID, A: s.side(j.A), B: s.side(j.B), Allow: j.Allow, New: x.newSide(j),
		Safety: firstSafety(x.safetyOf(x.ends(j.A, j.B)))}
	m.Bolts, m.Washers = s.fastenersOf(j)
	m.BoltCount = s.boltsOf(j)
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := x.discOf(s, ref.Position); ok && s.kindOf(ref) == "caliper-mount" {
			m.Disc = s.side(disc)
		}
	}
	if d, ok := x.discLineOf(j); ok {
		m.Line = func() mating.DiscLineCase { return x.discCase(s, d) }
	}
	return mating.Judge(m)
}

// newSide is the position of a joint that alone was changed.
func (x *examiner) newSide(j graph.Joint) graph.PositionID {
	a, b := x.isChanged(j.A.Position), x.isChanged(j.B.Position)
	switch {
	case a && !b:
		return j.A.Position
	case b && !a:
		return j.B.Position
	}
	return ""
}

// nothingAt begins the rule of a check at a place where nothing sits.
const nothingAt = "nothing at "

// hasAbsent reports whether something could not be judged because a place is
// empty.
func hasAbsent(checks []mating.Check) bool {
	return slices.ContainsFunc(checks, func(c mating.Check) bool { return strings.HasPrefix(c.Rule, nothingAt) })
}

// absent says of each position where nothing sits that nothing can be judged
// there; nil when every one holds a part.
func (s *Setup) absent(positions ...graph.PositionID) []mating.Check {
	var checks []mating.Check
	for _, id := range positions {
		if seat := s.Seat(id); seat.Empty {
			checks = append(checks, mating.Check{Rule: nothingAt + id.Local(), Verdict: graph.Unknown,
				Why: "nothing to judge at " + id.Local() + ": " + seat.Why})
		}
	}
	return checks
}

// fastenersOf are the bolts and washers of a joint: a washer for each that sits
// at its position.
func (s *Setup) fastenersOf(j graph.Joint) (bolts, washers []mating.Side) {
	for _, id := range j.Fasteners {
		seat := s.Seat(id)
		for _, f := range seat.Part.Features {
			side := mating.Side{Position: id, Part: seat.Part.ID, Feature: f}
			switch f.Kind {
			case "male-thread":
				bolts = append(bolts, side)
			case "washer":
				for range s.Quantity(id) {
					washers = append(washers, side)
				}
			}
		}
	}
	return bolts, washers
}

// boltsOf is how many bolts a joint has in all.
func (s *Setup) boltsOf(j graph.Joint) (n int) {
	for _, id := range j.Fasteners {
		seat := s.Seat(id)
		if _, ok := ofKind(seat.Part, "male-thread"); ok {
			n += s.Quantity(id)
		}
	}
	return n
}

// discOf is the disc that the caliper at a position straddles, found over the
// joint of its slot.
func (c *connections) discOf(s *Setup, caliper graph.PositionID) (graph.FeatureRef, bool) {
	for _, j := range c.known {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position == caliper && s.kindOf(ends[0]) == "caliper-slot" && s.kindOf(ends[1]) == "disc-rim" {
				return ends[1], true
			}
		}
	}
	return graph.FeatureRef{}, false
}
