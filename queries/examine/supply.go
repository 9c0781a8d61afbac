package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// voltageKinds are the kinds of feature that are made for a voltage.
func voltageKinds() []string {
	return []string{"lamp-cap", "lamp-holder", "consumer", "ignition-coil", "ignition-output", "stator", "regulator",
		"signal-in"}
}

// voltageAspects are the things that hang on the battery: each that may change, and
// all of them where the battery may.
func voltageAspects(x *Examiner, may []graph.PositionID) []aspect {
	var all []aspect
	for _, source := range voltageSources(x) {
		battery := source.at
		for _, kind := range voltageKinds() {
			ids := x.spots[kind]
			if !slices.Contains(may, battery) && !x.whole {
				ids = whereHas(x, may, kind)
			}
			for _, id := range ids {
				if id != battery {
					all = append(all, voltageAspect(x, source, id, kind))
				}
			}
		}
	}
	return all
}

// voltageSources is what tells the voltage of the machine: its battery, or, where it
// has none or nobody said, the first thing that does, what makes the current first.
func voltageSources(x *Examiner) []featureAt {
	for _, kind := range append([]string{"battery", "regulator", "stator"}, voltageKinds()...) {
		for _, id := range x.spots[kind] {
			f, ok := machine.FeatureOfKind(x.Built.Seat(id).Part, kind)
			if ok && len(f.Dims["voltage"]) > 0 {
				return []featureAt{{at: id, kind: kind}}
			}
		}
	}
	return nil
}

func voltageAspect(x *Examiner, source featureAt, id graph.PositionID, kind string) aspect {
	return aspect{what: OfVoltage, id: string(id) + "/" + kind, remedies: []graph.PositionID{id},
		meets: []featureAt{source, {at: id, kind: kind}},
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			members := lists.Kept(sidesOf(s, []graph.PositionID{id}, kind), func(m mating.Side) bool {
				return len(m.Feature.Dims["voltage"]) > 0 || saysVoltage(x, m)
			})
			if len(members) == 0 {
				return nil
			}
			return mating.JudgeVoltage(mating.VoltageCase{Battery: s.KindAt(source.at, source.kind), Members: members,
				Safety: s.Seat(id).Position.Safety})
		}}
}

// saysVoltage reports whether the feature of the part as built says its voltage:
// then the new one must too.
func saysVoltage(x *Examiner, m mating.Side) bool {
	f, _ := x.Built.Seat(m.Position).Part.Feature(m.Feature.Name)
	return len(f.Dims["voltage"]) > 0
}

// wireAspects are the fuse of each circuit with the wires behind it and what they
// feed.
func wireAspects(x *Examiner) []aspect {
	var all []aspect
	for _, c := range x.Circuits {
		if !x.asksFor(c.Members) {
			continue
		}
		fuses := whereHas(x, c.Members, "fuse")
		wires := whereHas(x, c.Members, "wire")
		consumers, lamps := whereHas(x, c.Members, "consumer"), whereHas(x, c.Members, "lamp-cap")
		if c.Carries != CarriesCurrent || len(fuses) == 0 || len(wires)+len(consumers)+len(lamps) == 0 {
			continue
		}
		fuse := fuses[0]
		all = append(all, aspect{what: OfWire, id: string(c.ID), remedies: []graph.PositionID{fuse},
			meets: slices.Concat(at("fuse", fuse), at("wire", wires...), at("consumer", consumers...), at("lamp-cap", lamps...)),
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				in := mating.WireCase{Fuse: s.KindAt(fuse, "fuse"), Wires: sidesOf(s, wires, "wire"),
					Safety: safetyAt(x, c.Members...)}
				for _, load := range slices.Concat(sidesOf(s, consumers, "consumer"), sidesOf(s, lamps, "lamp-cap")) {
					for range s.Quantity(load.Position) {
						in.Loads = append(in.Loads, load)
					}
				}
				return mating.JudgeWire(in)
			}})
	}
	return all
}
