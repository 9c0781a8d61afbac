package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// geometryAspects are rake and trail, and the rear that each shock holds up.
func geometryAspects(x *Examiner) []aspect {
	l := x.landmarks
	if l == nil {
		return nil
	}
	var all []aspect
	if yoke := lowerYoke(l); l.Frame != "" && yoke != "" && l.Tyre["front"] != "" {
		all = append(all, trailAspect(x, l, yoke))
	}
	for _, id := range l.Shocks {
		all = append(all, shockAspect(x, l, id))
	}
	return all
}

// lowerYoke is the yoke that carries the legs: by its name, else the first.
func lowerYoke(l *machine.Landmarks) graph.PositionID {
	for _, id := range l.Yokes {
		if strings.Contains(id.Local(), "lower") {
			return id
		}
	}
	if len(l.Yokes) == 0 {
		return ""
	}
	return l.Yokes[0]
}

func trailAspect(x *Examiner, l *machine.Landmarks, yoke graph.PositionID) aspect {
	meets := slices.Concat(at("frame-geometry", l.Frame), at("yoke-offset", yoke), at("tyre", l.Tyre["front"]))
	if rear := l.Tyre["rear"]; rear != "" {
		meets = append(meets, featureAt{at: rear, kind: "tyre"})
	}
	meets = append(meets, at("fork-length", firstPlaces(l.Legs)...)...)
	meets = append(meets, at("axle-lead", firstPlaces(l.Legs)...)...)
	meets = append(meets, at("fork-length", firstPlaces(l.Shocks)...)...)
	if l.Rocker != "" {
		meets = append(meets, featureAt{at: l.Rocker, kind: "link-ratio"})
	}
	return aspect{what: OfTrail, id: string(l.Frame), meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check { return mating.JudgeTrail(trailCase(x, s, l, yoke)) }}
}

// firstPlaces is the first of a left and a right: where they differ, the pair
// says so.
func firstPlaces(ids []graph.PositionID) []graph.PositionID { return ids[:min(1, len(ids))] }

func trailCase(x *Examiner, s *machine.Setup, l *machine.Landmarks, yoke graph.PositionID) mating.TrailCase {
	in := mating.TrailCase{Frame: s.KindAt(l.Frame, "frame-geometry"), Lower: s.KindAt(yoke, "yoke-offset"),
		WasLower: x.Built.KindAt(yoke, "yoke-offset"), Tyre: s.KindAt(l.Tyre["front"], "tyre"),
		WasTyre: x.Built.KindAt(l.Tyre["front"], "tyre"), Safety: graph.SafetySteering}
	if !asBuilt(x, s, l.Frame) {
		in.WasFrame = x.Built.KindAt(l.Frame, "frame-geometry")
	}
	if rear := l.Tyre["rear"]; rear != "" && !asBuilt(x, s, rear) {
		in.RearTyre, in.WasRearTyre = s.KindAt(rear, "tyre"), x.Built.KindAt(rear, "tyre")
	}
	for _, leg := range firstPlaces(l.Legs) {
		in.Lead, in.WasLead = s.KindAt(leg, "axle-lead"), x.Built.KindAt(leg, "axle-lead")
		if !asBuilt(x, s, leg) || len(in.Lower.Feature.Dims["angle"])+len(in.WasLower.Feature.Dims["angle"]) > 0 {
			in.Fork, in.WasFork = s.KindAt(leg, "fork-length"), x.Built.KindAt(leg, "fork-length")
		}
	}
	for _, shock := range firstPlaces(l.Shocks) {
		if !asBuilt(x, s, shock) {
			in.Shock, in.WasShock, in.Link = s.KindAt(shock, "fork-length"), x.Built.KindAt(shock, "fork-length"), linkAt(x, s,
				l)
		}
	}
	return in
}

// linkAt is the link between wheel and shock; without one the shock moves with the
// wheel.
func linkAt(x *Examiner, s *machine.Setup, l *machine.Landmarks) mating.Side {
	if l.Rocker != "" {
		return s.KindAt(l.Rocker, "link-ratio")
	}
	return mating.Side{Feature: graph.Feature{Name: "no link", Kind: "link-ratio",
		Dims: map[string][]graph.Reading{"ratio": {{Text: "1"}}}}}
}

func shockAspect(x *Examiner, l *machine.Landmarks, id graph.PositionID) aspect {
	meets := at("fork-length", id)
	if l.Rocker != "" {
		meets = append(meets, featureAt{at: l.Rocker, kind: "link-ratio"})
	}
	return aspect{what: OfShock, id: string(id), meets: meets,
		checks: func(x *Examiner, s *machine.Setup) []mating.Check {
			if x.Built.Seat(id).Empty {
				return nil
			}
			in := mating.ShockCase{Now: s.KindAt(id, "fork-length"), Was: x.Built.KindAt(id, "fork-length"),
				Link:   linkAt(x, s, l),
				Safety: s.Seat(id).Position.Safety}
			if l.Rocker != "" && !asBuilt(x, s, l.Rocker) {
				in.WasLink = x.Built.KindAt(l.Rocker, "link-ratio")
			}
			return mating.JudgeShock(in)
		}}
}
