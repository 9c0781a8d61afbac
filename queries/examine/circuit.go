package examine

import (
	"matewell/graph"
	"matewell/queries"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// CarriesCurrent is what Circuit.Carries says of an electric circuit: it has
// joints for its plugs and no rule of its own.
const CarriesCurrent = "current"

// circuit judges the fluid of a circuit that carries one.
func circuit(x *Examiner, c graph.Circuit) Outcome {
	var refs []graph.FeatureRef
	for _, id := range c.Members {
		f, _ := machine.FeatureOfKind(x.After.Seat(id).Part, "fluid")
		refs = append(refs, graph.FeatureRef{Position: id, Feature: f.Name})
	}
	o := Outcome{What: OfCircuit, ID: string(c.ID), Ends: x.Ends(refs...)}
	was, is := x.checks(OfCircuit+string(c.ID), func(s *machine.Setup) []mating.Check { return circuitChecks(x, s, c) })
	if queries.LocalName(string(c.ID)) == NewCircuit {
		was = []mating.Check{{Rule: "fluid", Verdict: graph.Fits, Why: "there was no fluid here"}}
	}
	return x.Judged(o, was, is)
}

func circuitChecks(x *Examiner, s *machine.Setup, c graph.Circuit) []mating.Check {
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

// sealKinds are the kinds of the members of circuits that no fluid is known of.
func sealKinds(c *Connections, s *machine.Setup) []graph.KindID {
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
