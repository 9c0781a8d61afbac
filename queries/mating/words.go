package mating

import "matewell/graph"

// askFor is the measurement of one dimension, from its feature kind.
func askFor(s Side, dim string) Ask {
	a := Ask{Position: s.Position, Part: s.Part, Feature: s.Feature.Name, Dim: dim, What: dim, Where: label(s)}
	if kind, ok := graph.FeatureKindNamed(s.Feature.Kind); ok {
		if spec, ok := kind.Dim(dim); ok {
			a.What, a.Gauge, a.Accuracy = spec.Is, spec.Gauge, spec.Accuracy
		}
	}
	return a
}

// label is how an answer calls a side: its position and feature, else its part,
// else its kind.
func label(s Side) string {
	name := s.Position.Local()
	if name == "" {
		name = string(s.Part)
	}
	switch {
	case name == "" && s.Feature.Name == "":
		return kindWords(s)
	case name == "":
		return s.Feature.Name
	case s.Feature.Name == "":
		return name
	}
	return name + ", " + s.Feature.Name
}

// short is how an answer calls a side where its feature goes without saying:
// its position, else its part, else its kind.
func short(s Side) string {
	s.Feature.Name = ""
	return label(s)
}
