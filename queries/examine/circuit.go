package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// CarriesCurrent is what Circuit.Carries says of an electric circuit: it has
// joints for its plugs and no rule of its own.
const CarriesCurrent = "current"

// circuit judges the fluid of a circuit that carries one.
func (x *Examiner) circuit(c graph.Circuit) Outcome {
	var refs []graph.FeatureRef
	for _, id := range c.Members {
		f, _ := machine.FeatureOfKind(x.After.Seat(id).Part, "fluid")
		refs = append(refs, graph.FeatureRef{Position: id, Feature: f.Name})
	}
	o := Outcome{What: OfCircuit, ID: string(c.ID), Ends: x.Ends(refs...)}
	was := x.checksBefore(OfCircuit+string(c.ID), func() []mating.Check { return x.circuitChecks(x.Before, c) })
	if queries.LocalName(string(c.ID)) == NewCircuit {
		was = []mating.Check{{Rule: "fluid", Verdict: graph.Fits, Why: "there was no fluid here"}}
	}
	return x.Judged(o, was, x.circuitChecks(x.After, c))
}

func (x *Examiner) circuitChecks(s *machine.Setup, c graph.Circuit) []mating.Check {
	if absent := s.Absent(c.Members...); len(absent) > 0 {
		return absent
	}
	in := mating.FluidCase{Circuit: c.ID, Carries: c.Carries}
	for _, id := range c.Members {
		seat := s.Seat(id)
		f, ok := machine.FeatureOfKind(seat.Part, "fluid")
		if ok || s.ExpectsFluid(seat) {
			in.Members = append(in.Members, mating.Side{Position: id, Part: seat.Part.ID, Feature: f})
		}
	}
	if len(in.Members) == 0 {
		return []mating.Check{{Rule: "fluid", Verdict: graph.Unknown, Why: "nobody said of any part which fluid it allows"}}
	}
	return mating.JudgeFluid(in)
}

// NewCircuit is the identity of a circuit that the swap itself brings.
const NewCircuit = "new-circuit"

// AddNewCircuit joins parts that work by a fluid and sit where no circuit was,
// such as a hydraulic clutch in the place of a cable: together they are a
// circuit of their own.
func (a *Connections) AddNewCircuit(s *machine.Setup, changed []graph.PositionID) {
	c := graph.Circuit{ID: graph.CircuitID(string(s.Variant.Model) + ":" + NewCircuit), Model: s.Variant.Model,
		Carries: "fluid",
		On:      []graph.VariantID{s.Variant.ID}}
	for _, id := range changed {
		if slices.ContainsFunc(a.Circuits, func(c graph.Circuit) bool { return slices.Contains(c.Places(), id) }) {
			continue
		}
		part := s.Seat(id).Part
		if machine.HasKind(part, "master-bore") {
			c.Feeds = append(c.Feeds, id)
		}
		if machine.HasKind(part, "pistons") {
			c.Fed = append(c.Fed, id)
		}
		if machine.HasKind(part, "fluid") || machine.HasKind(part, "master-bore") || machine.HasKind(part, "pistons") {
			c.Members = append(c.Members, id)
		}
	}
	if len(c.Feeds) > 0 && len(c.Fed) > 0 {
		a.Circuits = append(a.Circuits, c)
	}
}

// sealKinds are the kinds of the members of circuits that no fluid is known of.
func (c *Connections) sealKinds(s *machine.Setup) []graph.KindID {
	var kinds []graph.KindID
	for _, circuit := range c.Circuits {
		for _, id := range circuit.Members {
			if seat := s.Seat(id); !machine.HasKind(seat.Part, "fluid") {
				kinds = append(kinds, seat.Part.Kind, seat.Position.Kind)
			}
		}
	}
	return kinds
}

// DonorCircuit is the circuit of a donor that a changed part belongs to there.
type DonorCircuit struct {
	Setup   *machine.Setup
	Circuit graph.Circuit
}
