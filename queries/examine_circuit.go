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
	was := x.was(OfCircuit+string(c.ID), func() []mating.Check { return x.circuitChecks(x.before, c) })
	if localName(string(c.ID)) == newCircuit {
		was = []mating.Check{{Rule: "fluid", Verdict: graph.Fits, Why: "there was no fluid here"}}
	}
	return []Outcome{x.judged(o, was, x.circuitChecks(x.after, c))}
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

// newCircuit is the identity of a circuit that the swap itself brings.
const newCircuit = "new-circuit"

// addNewCircuit joins parts that work by a fluid and sit where no circuit was,
// such as a hydraulic clutch in the place of a cable: together they are a
// circuit of their own.
func (a *connections) addNewCircuit(s *Setup, changed []graph.PositionID) {
	c := graph.Circuit{ID: graph.CircuitID(string(s.Variant.Model) + ":" + newCircuit), Model: s.Variant.Model, Carries: "fluid",
		On: []graph.VariantID{s.Variant.ID}}
	for _, id := range changed {
		if slices.ContainsFunc(a.circuits, func(c graph.Circuit) bool { return slices.Contains(circuitPlaces(c), id) }) {
			continue
		}
		part := s.Seat(id).Part
		if hasKind(part, "master-bore") {
			c.Feeds = append(c.Feeds, id)
		}
		if hasKind(part, "pistons") {
			c.Fed = append(c.Fed, id)
		}
		if hasKind(part, "fluid") || hasKind(part, "master-bore") || hasKind(part, "pistons") {
			c.Members = append(c.Members, id)
		}
	}
	if len(c.Feeds) > 0 && len(c.Fed) > 0 {
		a.circuits = append(a.circuits, c)
	}
}

// expectsFluid reports whether a part of the kind, or what belongs at the
// position, meets the fluid with a seal. A hose does not.
func (s *Setup) expectsFluid(seat Seat) bool {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		if slices.ContainsFunc(s.Library().kind(kind).Features, func(f graph.KindFeature) bool { return f.Kind == "fluid" && !f.May }) {
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
