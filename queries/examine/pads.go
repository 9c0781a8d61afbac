package examine

import (
	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// padAspects are pads in the caliper whose pin holds them: their plates lie in its
// guide, also where nobody wrote that as a joint of its own.
func padAspects(x *Examiner) []aspect {
	written := map[[2]graph.PositionID]bool{}
	var all []aspect
	for _, ends := range joined(x, "pad", "pad-seat") {
		written[[2]graph.PositionID{ends[0].Position, ends[1].Position}] = true
	}
	for _, ends := range joined(x, "bore", "shaft") {
		pair := [2]graph.PositionID{ends[0].Position, ends[1].Position}
		if written[pair] || !hasAt(x, pair[0], "pad") || !hasAt(x, pair[1], "pad-seat") {
			continue
		}
		written[pair] = true
		all = append(all, padsIn(pair[0], pair[1]))
	}
	return all
}

func padsIn(pads, caliper graph.PositionID) aspect {
	return aspect{what: OfPads, id: string(pads), remedies: []graph.PositionID{pads, caliper},
		meets: append(at("pad", pads), at("pad-seat", caliper)...),
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			return mating.Judge(mating.Meeting{A: s.KindAt(pads, "pad"), B: s.KindAt(caliper, "pad-seat"),
				Safety: safetyAt(x, pads, caliper)})
		}}
}

// scrapDiscs are the discs found to be scrap on which pads run: whatever goes into the
// caliper, the brake is no better than its disc, which is measured when pads are changed.
// Common practice, no source.
func scrapDiscs(x *Examiner, at []graph.PositionID) []Connection {
	var all []Connection
	for _, pads := range at {
		if !hasAt(x, pads, "pad") || !x.asksFor([]graph.PositionID{pads}) {
			continue
		}
		for _, disc := range scrapBetween(x, pads) {
			all = append(all, onScrap(x, pads, disc))
		}
	}
	return all
}

// scrapBetween are the places of the discs that pads work on, by the joints of their caliper, and
// at which what was found is scrap.
func scrapBetween(x *Examiner, pads graph.PositionID) []graph.PositionID {
	var discs []graph.PositionID
	for j := range x.JointsAt(pads) {
		caliper := otherEnd(*j, pads)
		for k := range x.JointsAt(caliper) {
			if disc := otherEnd(*k, caliper); machine.HasKind(x.After.Seat(disc).Scrap, "disc-rim") {
				discs = append(discs, disc)
			}
		}
	}
	return lists.Unique(discs) // a pin and a guide both join pads with their caliper
}

func onScrap(x *Examiner, pads, disc graph.PositionID) Connection {
	reads := map[graph.PositionID][]string{pads: {"pad"}, disc: {"disc-rim"}}
	name := string(pads) + " on " + disc.Local() // pads in their caliper are called by the pads alone
	return Connection{What: OfPads, ID: name, Places: []graph.PositionID{pads, disc},
		reads:  func() map[graph.PositionID][]string { return reads },
		around: x.Connections, touched: true, remedy: only(disc),
		judge: func(x *Examiner) (Outcome, bool) {
			o := Outcome{What: OfPads, ID: name,
				Ends: x.Ends(graph.FeatureRef{Position: pads}, graph.FeatureRef{Position: disc})}
			return x.Judged(o, x.Before.Absent(disc), x.After.Absent(disc)), true
		}}
}
