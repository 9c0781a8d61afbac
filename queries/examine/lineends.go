package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// endKinds are the kinds of feature that a line ends in.
func endKinds() []string {
	return []string{"banjo", "screwed-end", "hose-end", "nipple", "ferrule", "connector"}
}

// lineEndAspects is whether every end of a hose, cable or lead is judged against
// something.
func lineEndAspects(x *Examiner, id graph.PositionID) []aspect {
	line := ""
	for _, kind := range machine.LineKinds() {
		if hasAt(x, id, kind) {
			line = kind
		}
	}
	if line == "" {
		return nil
	}
	meets := at(line, id)
	for _, kind := range endKinds() {
		meets = append(meets, featureAt{at: id, kind: kind})
	}
	return []aspect{{what: OfLineEnds, id: string(id), meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			in := mating.LineEndsCase{Line: s.KindAt(id, line), Ends: lineEnds(x, s, id), Safety: s.Seat(id).Position.Safety}
			return mating.JudgeLineEnds(in)
		}}}
}

// lineEnds are the ends that a line has, with what each meets in a joint; and those
// that a joint names and the line has not described.
func lineEnds(x *Examiner, s *machine.Setup, id graph.PositionID) []mating.LineEnd {
	var ends []mating.LineEnd
	part := s.Seat(id).Part
	for _, f := range part.Features {
		if slices.Contains(endKinds(), f.Kind) {
			end := mating.LineEnd{End: mating.Side{Position: id, Part: part.ID, Feature: f}}
			ref := graph.FeatureRef{Position: id, Feature: f.Name}
			end.Meets = metBy(x, s, ref)
			// That another part there has nothing for this end is told by their joint.
			if built := metBy(x, x.Built, ref); !mating.Compares(f.Kind, end.Meets.Feature.Kind) &&
				mating.Compares(f.Kind, built.Feature.Kind) {
				end.Meets = built
			}
			ends = append(ends, end)
		}
	}
	return ends
}

// metBy is the other side of the first joint of a feature; zero when it is in none.
func metBy(x *Examiner, s *machine.Setup, ref graph.FeatureRef) mating.Side {
	_, other, ok := x.meets(ref.Position, func(own, _ graph.FeatureRef) bool { return own == ref })
	if !ok {
		return mating.Side{}
	}
	return s.Side(other)
}

// hoseEndAspects is whether the clamp of each hose closes on it, where a clamp is
// among what holds the hose on its pipe.
func hoseEndAspects(x *Examiner) []aspect {
	var all []aspect
	for j, ends := range joined(x, "hose-end", "spigot") {
		hose, pipe := ends[0], ends[1]
		clamps := whereHas(x, j.Fasteners, "hose-clamp")
		if len(clamps) == 0 {
			continue
		}
		clamp := clamps[0]
		all = append(all, aspect{what: OfHoseEnd, id: string(j.ID), remedies: []graph.PositionID{clamp},
			meets: []featureAt{{at: hose.Position, kind: "hose-end"}, {at: pipe.Position, kind: "spigot"},
				{at: clamp, kind: "hose-clamp"}},
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				return mating.JudgeHoseEnd(mating.HoseEndCase{Hose: s.Side(hose), Pipe: s.Side(pipe),
					Clamp:  s.KindAt(clamp, "hose-clamp"),
					Safety: safetyAt(x, hose.Position, pipe.Position)})
			}})
	}
	return all
}

// kindAsBuilt is the kind of a feature as built, else of what sits there now.
func kindAsBuilt(x *Examiner, ref graph.FeatureRef) string {
	if kind := x.Built.KindOf(ref); kind != "" {
		return kind
	}
	return x.After.KindOf(ref)
}

// barRoomAspects is whether all that sits on one end of a bar has room there.
func barRoomAspects(x *Examiner) []aspect {
	fittings := map[graph.FeatureRef][]graph.FeatureRef{}
	for _, ends := range joined(x, "bar-end", "bar-fitting") {
		fittings[ends[0]] = append(fittings[ends[0]], ends[1])
	}
	clamps := barClamps(x)
	var all []aspect
	for bar, on := range fittings {
		_, side, _ := strings.Cut(bar.Feature, "-")
		also := lists.Kept(clamps[graph.FeatureRef{Position: bar.Position, Feature: "grip-" + side}],
			func(ref graph.FeatureRef) bool {
				return !slices.ContainsFunc(on, func(f graph.FeatureRef) bool { return f.Position == ref.Position })
			})
		clamped := lists.Mapped(also, func(ref graph.FeatureRef) graph.PositionID { return ref.Position })
		places := lists.Mapped(on, func(ref graph.FeatureRef) graph.PositionID { return ref.Position })
		open := unrecordedOn(x, bar)
		all = append(all, aspect{what: OfBarRoom, id: string(bar.Position) + "/" + bar.Feature, remedies: places,
			meets: slices.Concat(at("bar-end", bar.Position), at("bar-fitting", places...), at("clamp", clamped...)),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				sides := lists.Mapped(on, s.Side)
				return mating.JudgeBarRoom(mating.BarRoomCase{Bar: s.Side(bar), Fittings: sides,
					Clamps: lists.Mapped(also, s.Side), Open: openOn(s, open), Safety: safetyAt(x, bar.Position)})
			}})
	}
	return sortedAspects(all)
}

// unrecordedOn are the places that something joins to the end of a bar, and of which nobody recorded what sits there.
func unrecordedOn(x *Examiner, bar graph.FeatureRef) []graph.PositionID {
	var open []graph.PositionID
	for j := range x.JointsAt(bar.Position) {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0] == bar && ends[1].Position != bar.Position && kindAsBuilt(x, ends[1]) == "" {
				open = append(open, ends[1].Position)
			}
		}
	}
	return lists.Unique(open)
}

// openOn are those of some places at which something sits that nobody recorded, and is not known to be missing.
func openOn(s *machine.Setup, places []graph.PositionID) []graph.PositionID {
	return lists.Kept(slices.Clone(places), func(id graph.PositionID) bool {
		seat := s.Seat(id)
		return seat.Empty && !seat.Missing
	})
}

// barClamps are what is clamped on each grip of a handlebar.
func barClamps(x *Examiner) map[graph.FeatureRef][]graph.FeatureRef {
	clamps := map[graph.FeatureRef][]graph.FeatureRef{}
	for _, ends := range joined(x, "tube", "clamp") {
		clamps[ends[0]] = append(clamps[ends[0]], ends[1])
	}
	return clamps
}

// rodAspects are threaded rods with what screws on both their ends. What the
// controls want is the need of a run whose line is the rod.
func rodAspects(x *Examiner) []aspect {
	ends := map[graph.PositionID][]graph.FeatureRef{}
	for _, joined := range joined(x, "link-rod", "rod-end") {
		rod := joined[0].Position
		ends[rod] = append(ends[rod], joined[1])
	}
	var all []aspect
	for id, on := range ends {
		if len(on) != 2 {
			continue
		}
		all = append(all, aspect{what: OfRod, id: string(id), remedies: []graph.PositionID{id},
			meets: append(at("link-rod", id), at("rod-end", on[0].Position, on[1].Position)...),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				in := mating.RodCase{Rod: s.KindAt(id, "link-rod"), Ends: [2]mating.Side{s.Side(on[0]), s.Side(on[1])},
					Safety: s.Seat(id).Position.Safety}
				for _, run := range x.runs {
					if run.Line == id && len(run.Needs) > 0 {
						in.Between = rankedReadings(x, run.Needs[0].Length, measure.Length)
					}
				}
				return mating.JudgeRod(in)
			}})
	}
	return sortedAspects(all)
}

func sortedAspects(all []aspect) []aspect {
	slices.SortFunc(all, func(a, b aspect) int { return compareText(a.id, b.id) })
	return all
}
