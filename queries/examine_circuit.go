package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// carriesCurrent is what Circuit.Carries says of an electric circuit: it has
// joints for its plugs and no rule of its own.
const carriesCurrent = "current"

// circuit judges the fluid of a circuit; nothing for a circuit that carries
// current.
func (x *examiner) circuit(c graph.Circuit) []Outcome {
	if c.Carries == carriesCurrent {
		return nil
	}
	var refs []graph.FeatureRef
	for _, id := range c.Members {
		f, _ := ofKind(x.after.Seat(id).Part, "fluid")
		refs = append(refs, graph.FeatureRef{Position: id, Feature: f.Name})
	}
	o := Outcome{What: OfCircuit, ID: string(c.ID), Ends: x.ends(refs...)}
	return []Outcome{x.judged(o, x.circuitChecks(x.before, c), x.circuitChecks(x.after, c))}
}

func (x *examiner) circuitChecks(s *Setup, c graph.Circuit) []mating.Check {
	if absent := s.absent(c.Members...); len(absent) > 0 {
		return absent
	}
	in := mating.FluidCase{Circuit: c.ID, Carries: c.Carries}
	for _, id := range c.Members {
		seat := s.Seat(id)
		f, ok := ofKind(seat.Part, "fluid")
		if ok || s.expectsFluid(seat) {
			in.Members = append(in.Members, mating.Side{Position: id, Part: seat.Part.ID, Feature: f})
		}
	}
	if len(in.Members) == 0 {
		return []mating.Check{{Rule: "fluid", Verdict: graph.Unknown, Why: "nobody said of any part which fluid it allows"}}
	}
	return mating.JudgeFluid(in)
}

// expectsFluid reports whether a part of the kind, or what belongs at the
// position, meets the fluid with a seal. A hose does not.
func (s *Setup) expectsFluid(seat Seat) bool {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		if slices.ContainsFunc(s.library.kinds[kind].Features, func(f graph.KindFeature) bool { return f.Kind == "fluid" && !f.May }) {
			return true
		}
	}
	return false
}

// sealKinds are the kinds of the members of circuits that no fluid is known of.
func (c *connections) sealKinds(s *Setup) []graph.KindID {
	var kinds []graph.KindID
	for _, circuit := range c.circuits {
		for _, id := range circuit.Members {
			if seat := s.Seat(id); !hasKind(seat.Part, "fluid") {
				kinds = append(kinds, seat.Part.Kind, seat.Position.Kind)
			}
		}
	}
	return kinds
}
