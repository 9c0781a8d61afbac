package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// aspect is something that a machine is judged by besides what meets in a joint:
// the side a part is made for, the room on a bar, rake and trail. It takes a case
// of its own, made of features at several places.
type aspect struct {
	what, id string
	// meets are the features that decide it, by place and kind; all of the places
	// must hold a part.
	meets []featureAt
	// remedies are the places at which another part could put it right.
	remedies []graph.PositionID
	// unplanned is true for one that a plan tells and does not reckon with.
	unplanned bool
	// checks judges it on one state of the machine; none when that has nothing to
	// judge it by.
	checks func(x *Examiner, s *machine.Setup) []mating.Check
}

// featureAt is the feature of a kind at a place.
type featureAt struct {
	at   graph.PositionID
	kind string
	// dims are those of its dimensions that can decide; none for all.
	dims []string
}

// at are the places of a kind of feature, in the order given.
func at(kind string, ids ...graph.PositionID) []featureAt {
	return lists.Mapped(ids, func(id graph.PositionID) featureAt { return featureAt{at: id, kind: kind} })
}

func (a aspect) places() []graph.PositionID {
	return named(lists.Mapped(a.meets, func(m featureAt) graph.PositionID { return m.at }))
}

// aspectConnection is judged only where one of its places changed.
func aspectConnection(x *Examiner, a aspect) Connection {
	reads := func() map[graph.PositionID][]string {
		by := map[graph.PositionID][]string{}
		for _, m := range a.meets {
			names := lists.Mapped(m.dims, func(dim string) string { return m.kind + "." + dim })
			if len(names) == 0 {
				names = []string{m.kind}
			}
			by[m.at] = append(by[m.at], names...)
		}
		return by
	}
	return Connection{What: a.what, ID: a.id, Places: a.places(), reads: reads, Unplanned: a.unplanned,
		around: x.Connections, touched: true,
		judge:  func(x *Examiner) (Outcome, bool) { return aspectOf(x, a) },
		remedy: only(a.remedies...)}
}

// aspectOf judges an aspect before and after; false where a place is empty, which
// its joints tell, and where nobody recorded on this machine what it takes.
func aspectOf(x *Examiner, a aspect) (Outcome, bool) {
	if len(x.After.Absent(a.places()...)) > 0 {
		return Outcome{}, false
	}
	known := knownAsBuilt(x, a)
	told := func(checks []mating.Check) []mating.Check {
		return lists.Kept(slices.Clone(checks),
			func(c mating.Check) bool { return c.Verdict != graph.Unknown || known[c.Rule] })
	}
	is := told(a.checks(x, x.After))
	if len(is) == 0 {
		return Outcome{}, false
	}
	var refs []graph.FeatureRef
	for _, m := range a.meets {
		refs = append(refs, graph.FeatureRef{Position: m.at, Feature: x.After.KindAt(m.at, m.kind).Feature.Name})
	}
	o := Outcome{What: a.what, ID: a.id, Ends: x.Ends(refs...)}
	was := x.was(a.what+" "+a.id, func() []mating.Check {
		if absent := x.Before.Absent(a.places()...); len(absent) > 0 {
			return absent
		}
		return told(a.checks(x, x.Before))
	})
	return x.Judged(o, was, is), true
}

// knownAsBuilt names the rules by which the machine as built can be judged. What
// nobody recorded of the machine leaves no unknown behind that no measuring of the
// new part would settle; what then differs in the new part stands under what was
// not judged.
func knownAsBuilt(x *Examiner, a aspect) map[string]bool {
	checks := x.checksBefore("as built "+a.what+" "+a.id, func() []mating.Check {
		if absent := x.Built.Absent(a.places()...); len(absent) > 0 {
			return absent
		}
		return a.checks(x, x.Built)
	})
	known := map[string]bool{}
	for _, c := range checks {
		known[c.Rule] = c.Verdict != graph.Unknown
	}
	return known
}

// safetyAt is the first safety class of some places.
func safetyAt(x *Examiner, ids ...graph.PositionID) graph.Safety {
	return FirstSafety(x.SafetyOf(lists.Mapped(ids, func(id graph.PositionID) End { return End{Position: id} })))
}

// hasAt reports whether what sits at a place, as built or now, has a feature of a
// kind.
func hasAt(x *Examiner, id graph.PositionID, kind string) bool {
	return x.After.HasAt(id, kind) || x.Built.HasAt(id, kind)
}

// whereHas are those of the places where what sits there, as built or now, has a
// feature of a kind.
func whereHas(x *Examiner, ids []graph.PositionID, kind string) []graph.PositionID {
	return lists.Kept(slices.Clone(ids), func(id graph.PositionID) bool { return hasAt(x, id, kind) })
}

// aspects are all that the places of at may change the machine in, besides joints.
// Those that hang on one place come first.
func aspects(x *Examiner, at []graph.PositionID) []aspect {
	var all []aspect
	for _, id := range at {
		all = append(all, handAspects(x, id)...)
		all = append(all, bleedAspects(x, id)...)
		all = append(all, leverAspects(x, id)...)
		all = append(all, lineEndAspects(x, id)...)
		all = append(all, metalAspects(x, id)...)
		all = append(all, wallAspects(x, id)...)
		all = append(all, threadedShaftAspects(x, id)...)
		all = append(all, rubberAspects(x, id)...)
		all = append(all, twiceAspects(x, id)...)
		all = append(all, adjusterAspects(x, id)...)
	}
	all = append(all, leverageAspects(x)...)
	all = append(all, tyrePairAspects(x)...)
	all = append(all, guardAspects(x)...)
	all = append(all, yokeAspects(x)...)
	all = append(all, geometryAspects(x)...)
	all = append(all, standAspects(x)...)
	all = append(all, clampAspects(x)...)
	all = append(all, padAspects(x)...)
	all = append(all, axleAspects(x)...)
	all = append(all, throatAspects(x)...)
	all = append(all, lockAspects(x)...)
	all = append(all, innerRowAspects(x)...)
	all = append(all, hubSprocketAspects(x)...)
	all = append(all, chainPathAspects(x)...)
	all = append(all, spokeAspects(x)...)
	all = append(all, hoseEndAspects(x)...)
	all = append(all, barRoomAspects(x)...)
	all = append(all, rodAspects(x)...)
	all = append(all, clutchAspects(x)...)
	all = append(all, speedAspects(x)...)
	all = append(all, wireAspects(x)...)
	all = append(all, voltageAspects(x, at)...)
	return all
}
