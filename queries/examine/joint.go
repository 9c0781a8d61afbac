package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/article"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

func joint(x *Examiner, j graph.Joint) Outcome {
	o := Outcome{What: OfJoint, ID: string(j.ID), Joint: j}
	if !x.checksOnly {
		o.Ends = x.Ends(append([]graph.FeatureRef{j.A, j.B}, passed(x, j)...)...)
		o.Disturbed = slices.ContainsFunc(append([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners...), x.isChanged)
	}
	key, on := OfJoint+string(j.ID), func(s *machine.Setup) []mating.Check { return jointChecks(x, s, j) }
	was, is := x.checks(key, on)
	if len(is) == 1 && is[0].Rule == noRule && x.Before != x.After {
		before := x.checksBefore(key, func() []mating.Check { return on(x.Before) })
		if len(before) > 0 && before[0].Rule != noRule {
			is[0] = otherSort(x, j, is[0])
		}
	}
	return x.Judged(o, was, is)
}

// noRule is the check of two features that no rule pairs.
const noRule = "no rule"

// otherSort says that a feature was replaced by one of another sort, for which
// the other side has nothing: a fluid port where a cable end was.
func otherSort(x *Examiner, j graph.Joint, c mating.Check) mating.Check {
	a, b := x.After.KindOf(j.A), x.After.KindOf(j.B)
	wasA, wasB := x.Before.KindOf(j.A), x.Before.KindOf(j.B)
	if a == "" || b == "" || a == wasA && b == wasB {
		return c
	}
	c.Verdict, c.Had, c.Wanted = graph.DoesNotFit, a, wasA
	if a == wasA {
		c.Had, c.Wanted = b, wasB
	}
	c.Why = article.Sprintf("a %s where a %s was: the other side has nothing for it", c.Had, c.Wanted)
	return c
}

func jointChecks(x *Examiner, s *machine.Setup, j graph.Joint) []mating.Check {
	if absent := s.Absent(append(missedBolts(s, j), j.A.Position, j.B.Position)...); len(absent) > 0 {
		return absent
	}
	if cases, ok := boltCases(x, s, j); ok {
		return boltChecks(x, s, j, cases)
	}
	if part, ok := s.Between(j.ID); ok {
		return throughChecks(x, s, j, part)
	}
	m := meeting(x, s, j)
	if s != x.Built && len(x.Built.Absent(j.A.Position, j.B.Position)) == 0 {
		built := meeting(x, x.Built, j)
		m.Built = &built
	}
	m.WasBuilt = wasBuilt(x, s, j)
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := discOf(x.Connections, s, ref.Position); ok && s.KindOf(ref) == "caliper-mount" {
			m.Disc = s.Side(disc)
		}
	}
	if d, ok := discLineOf(x.Connections, j); ok {
		m.Line = func() mating.DiscLineCase { return discCase(x, s, d) }
	}
	m.Brief = x.isBrief(s)
	return append(mating.Judge(m), s.Absent(lackedFasteners(x, s, j)...)...)
}

// leftOutOf are the places of a joint that only one of machine and donor has, and that are
// empty.
func leftOutOf(s *machine.Setup, ids ...graph.PositionID) []graph.PositionID {
	var out []graph.PositionID // none as a rule, and every joint asks
	for _, id := range ids {
		if s.IsLeftOut(id) {
			out = append(out, id)
		}
	}
	return out
}

// isUnbrought reports whether an end of a joint is a place that the machine as built has not, and
// that stays empty.
func isUnbrought(s *machine.Setup, j graph.Joint) bool {
	return slices.ContainsFunc(leftOutOf(s, j.A.Position, j.B.Position), s.Brings)
}

// isLeftOut reports whether there is nothing to judge at a joint since an end of it is left
// out, and what is at the other misses nothing. What has nothing for an end that the machine
// as built has not either misses nothing there.
func isLeftOut(s *machine.Setup, j graph.Joint) bool {
	out := leftOutOf(s, j.A.Position, j.B.Position)
	return len(out) > 0 && (isUnbrought(s, j) && (hasNothingFor(s, j.A) || hasNothingFor(s, j.B)) ||
		len(s.Missed(out, j.A.Position, j.B.Position)) == 0)
}

// hasNothingFor reports whether what sits somewhere is recorded without a feature.
func hasNothingFor(s *machine.Setup, ref graph.FeatureRef) bool {
	part := s.Seat(ref.Position).Part
	_, has := part.Feature(ref.Feature)
	return !has && len(part.Features) > 0
}

// isVoid reports whether a joint has lost its meaning: at both its ends sits a part of
// another kind than belongs there, which by its kind has nothing of the sort. The stops of
// a cable are void once a hose runs from a master cylinder to a slave.
func isVoid(s *machine.Setup, j graph.Joint) bool {
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		seat := s.Seat(ref.Position)
		if seat.Empty || seat.Part.Kind == seat.Position.Kind {
			return false
		}
		kind := s.Library().Kind(seat.Part.Kind)
		if _, has := kind.Feature(ref.Feature); has || len(kind.Features) == 0 {
			return false
		}
		if _, has := seat.Part.Feature(ref.Feature); has {
			return false
		}
	}
	return true
}

// missedBolts are bolts of a joint that are left out, and that its sides may need.
func missedBolts(s *machine.Setup, j graph.Joint) []graph.PositionID {
	out := leftOutOf(s, j.Fasteners...)
	if len(out) == 0 {
		return nil
	}
	return s.Missed(out, j.A.Position, j.B.Position)
}

// lackedFasteners are the places of what holds a joint as built at which nothing is: the
// sides may mate, but nothing holds them together. Where a joint of the bolt's own says
// what its thread goes into, that one tells.
func lackedFasteners(x *Examiner, s *machine.Setup, j graph.Joint) []graph.PositionID {
	var lacked []graph.PositionID // none as a rule, and every joint asks
	for _, id := range j.Fasteners {
		if s.Seat(id).Empty && !x.Built.Seat(id).Empty && !isThreadJoined(x, id) {
			lacked = append(lacked, id)
		}
	}
	return lacked
}

// wasBuilt are the sides of a joint as built, where that is known: where it is not,
// what sat there before the change. Nil for the machine as built.
func wasBuilt(x *Examiner, s *machine.Setup, j graph.Joint) []mating.Side {
	if s == x.Built {
		return nil
	}
	sides := []mating.Side{}
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		switch {
		case !x.Built.Seat(ref.Position).Empty:
			sides = append(sides, x.Built.Side(ref))
		case !x.isChanged(ref.Position):
			sides = append(sides, s.Side(ref))
		}
	}
	return sides
}

// meeting is what meets in a joint on one state of the machine, and what holds it.
func meeting(x *Examiner, s *machine.Setup, j graph.Joint) mating.Meeting {
	m := mating.Meeting{Joint: j.ID, A: s.Side(j.A), B: s.Side(j.B), Allow: j.Allow, New: newSide(x, j),
		Uncut: uncut(x, j.A, j.B), Over: overSpigot(x, s, j), Packed: s.PackedUnder(j.A.Position, j.B.Position),
		Safety: FirstSafety(x.SafetyOf(x.Ends(j.A, j.B)))}
	m.Direct = isDirect(s, j.A) || isDirect(s, j.B)
	m.Steers = s.SafetyAt(j.A.Position) == graph.SafetySteering && s.SafetyAt(j.B.Position) == graph.SafetySteering
	addBearing(x, s, &m, j)
	addSeal(x, s, &m, j)
	m.Tube = airTube(x, s, j)
	m.Bolts, m.Washers = s.FastenersOf(j)
	m.Sealing = s.SealingOf(j)
	m.BoltCount = s.BoltsOf(j)
	if at, into, ok := threadsOf(x, j); ok {
		_, root := studOf(x, s, at)
		m.Nutted = root == into
	}
	m.BoltsJudged = slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return isThreadJoined(x, id) })
	return m
}

// airTube is the inner tube in a tyre on its rim: what is joined to either and lies in the one.
// None where the joint is another, or the tube's own.
func airTube(x *Examiner, s *machine.Setup, j graph.Joint) mating.Side {
	if s.KindOf(j.A) != "tyre" && s.KindOf(j.A) != "rim" || s.KindOf(j.B) != "tyre" && s.KindOf(j.B) != "rim" {
		return mating.Side{}
	}
	for k := range x.JointsAt(j.A.Position, j.B.Position) {
		for _, ref := range []graph.FeatureRef{k.A, k.B} {
			if ref.Position != j.A.Position && ref.Position != j.B.Position && s.Seat(ref.Position).Part.Kind == "inner-tube" {
				return s.Side(ref)
			}
		}
	}
	return mating.Side{}
}

// isThreadJoined reports whether a joint of its own says what the thread of the bolts at
// a place goes into.
func isThreadJoined(x *Examiner, bolt graph.PositionID) bool {
	for j := range x.JointsAt(bolt) {
		if at, _, ok := threadsOf(x, *j); ok && at.Position == bolt {
			return true
		}
	}
	return false
}

// isDirect reports whether the kind of a part, or of its place, says that nothing is
// made to go between a feature and what that meets.
func isDirect(s *machine.Setup, ref graph.FeatureRef) bool {
	seat := s.Seat(ref.Position)
	return slices.ContainsFunc([]graph.KindID{seat.Part.Kind, seat.Position.Kind}, func(id graph.KindID) bool {
		f, ok := s.Library().Kind(id).Feature(ref.Feature)
		return ok && f.Direct
	})
}

// addBearing says of a bearing what its other ring meets, and which spacers stand in
// its row.
func addBearing(x *Examiner, s *machine.Setup, m *mating.Meeting, j graph.Joint) {
	own, other, ok := endsOf(&j, func(own, other graph.FeatureRef) bool {
		return s.KindOf(own) == "bearing" && slices.Contains([]string{"shaft", "bearing-seat"}, s.KindOf(other))
	})
	if !ok {
		return
	}
	wants := map[string]string{"shaft": "bearing-seat", "bearing-seat": "shaft"}[s.KindOf(other)]
	seat := other
	for k := range x.JointsAt(own.Position) {
		if _, met, ok := endsOf(k, func(a, b graph.FeatureRef) bool {
			return a.Position == own.Position && s.KindOf(b) == wants
		}); ok {
			m.Across = s.Side(met)
			if wants == "bearing-seat" {
				seat = met
			}
		}
	}
	if s.KindOf(other) == "bearing-seat" {
		m.SealSeat, m.Seal = sealBeside(x, s, other)
	}
	m.NewBearing = x.isChanged(own.Position)
	m.Spacers = spacersBeside(x, s, own.Position, seat.Position)
}

// sealBeside are the seat of the seal outside a bearing's seat, which has the same name
// for its side of the part, and the seal in it; zero where there is none.
func sealBeside(x *Examiner, s *machine.Setup, seat graph.FeatureRef) (sealSeat, seal mating.Side) {
	side, ok := strings.CutPrefix(seat.Feature, "bearing-seat")
	if !ok {
		return mating.Side{}, mating.Side{}
	}
	ref := graph.FeatureRef{Position: seat.Position, Feature: "seal-seat" + side}
	for j := range x.JointsAt(seat.Position) {
		if _, met, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return own == ref && s.KindOf(other) == "seal"
		}); ok {
			return s.Side(ref), s.Side(met)
		}
	}
	if s.KindOf(ref) == "seal-seat" {
		return s.Side(ref), mating.Side{}
	}
	return mating.Side{}, mating.Side{}
}

// addSeal says of a seal what it meets besides: its seat, or the shaft it runs on.
func addSeal(x *Examiner, s *machine.Setup, m *mating.Meeting, j graph.Joint) {
	own, other, ok := endsOf(&j, func(own, other graph.FeatureRef) bool { return s.KindOf(own) == "seal" })
	if !ok {
		return
	}
	wants := map[string]string{"shaft": "seal-seat", "seal-seat": "shaft"}[s.KindOf(other)]
	for k := range x.JointsAt(own.Position) {
		if _, met, ok := endsOf(k, func(a, b graph.FeatureRef) bool {
			return a == own && s.KindOf(b) == wants
		}); ok {
			m.Across = s.Side(met)
		}
	}
}

// spacersBeside are the spacers of the row that one of some parts stands in; nil when
// nobody recorded one, empty when there is no spacer in it.
func spacersBeside(x *Examiner, s *machine.Setup, ids ...graph.PositionID) []mating.Side {
	for _, id := range ids {
		st, member := stackOf(x, id)
		if member == 0 {
			continue
		}
		spacers := []mating.Side{}
		for _, ref := range st.Row {
			if IsSpacer(s.Seat(ref.Position)) {
				spacers = append(spacers, s.Side(ref))
			}
		}
		return spacers
	}
	return nil
}

// newSide is the position of a joint that alone was changed.
func newSide(x *Examiner, j graph.Joint) graph.PositionID {
	a, b := x.isChanged(j.A.Position), x.isChanged(j.B.Position)
	switch {
	case a && !b:
		return j.A.Position
	case b && !a:
		return j.B.Position
	}
	return ""
}

// HasAbsent reports whether something could not be judged because a place is
// empty.
func HasAbsent(checks []mating.Check) bool {
	return slices.ContainsFunc(checks, func(c mating.Check) bool { return c.Empty != "" })
}

// discOf is the disc that the caliper at a position straddles, found over the
// joint of its slot.
func discOf(c *Connections, s *machine.Setup, caliper graph.PositionID) (graph.FeatureRef, bool) {
	_, rim, ok := c.meets(caliper, func(own, other graph.FeatureRef) bool {
		return s.KindOf(own) == "caliper-slot" && s.KindOf(other) == "disc-rim"
	})
	return rim, ok
}
