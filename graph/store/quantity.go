package store

import (
	"math"
	"math/big"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
	"matewell/graph/measure"
)

// quantitiesOf is what the readings of parts say, once more as numbers with a
// unit, for readers that know QUDT and not our way of writing "22.2 mm
// +0/-0.1". It follows from the readings and is written to exports only; when
// it is read back, it adds nothing.
func quantitiesOf(f graph.Facts) []quad.Quad {
	var quads []quad.Quad
	for _, p := range f.Parts {
		for _, feature := range p.Features {
			kind, _ := graph.FeatureKindNamed(feature.Kind)
			node := within(iri(p.ID), "feature", feature.Name)
			for _, spec := range kind.Dims {
				for _, r := range feature.Dims[spec.Name] {
					quads = append(quads, quantity(node, spec, r)...)
				}
			}
		}
	}
	return unique(quads)
}

// quantity is one reading as a number in the base unit of its type; nothing
// for one that is no number. A text that several sources give is one node that
// each of them speaks of.
func quantity(feature quad.IRI, spec graph.DimSpec, r graph.Reading) []quad.Quad {
	unit, ok := unitOf(spec.Type)
	q, err := measure.ParseQuantity(r.Text, spec.Type)
	if !ok || err != nil {
		return nil
	}
	node, label := within(feature, "quantity", spec.Name, r.Text), sourceLabel(r.Source)
	quads := []quad.Quad{
		{Subject: feature, Predicate: qudtHasQuantity, Object: node, Label: label},
		{Subject: node, Predicate: termName, Object: quad.String(spec.Name), Label: label},
		{Subject: node, Predicate: qudtNumericValue, Object: decimal(q.Nominal), Label: label},
		{Subject: node, Predicate: qudtHasUnit, Object: unit, Label: label},
	}
	if q.Low == q.High {
		return quads
	}
	return append(quads, quad.Quad{Subject: node, Predicate: qudtLowerBound, Object: decimal(q.Low), Label: label},
		quad.Quad{Subject: node, Predicate: qudtUpperBound, Object: decimal(q.High), Label: label})
}

// unitOf is the QUDT unit of a type's base unit; false for what has none.
func unitOf(t measure.Type) (quad.IRI, bool) {
	name, ok := map[measure.Type]string{
		measure.Length: "MilliM", measure.Angle: "DEG", measure.Torque: "N-M", measure.Pressure: "BAR",
		measure.Mass: "KiloGM", measure.Volume: "CentiM3", measure.Power: "W", measure.Voltage: "V",
		measure.Temperature: "DEG_C", measure.Force: "N", measure.Speed: "KiloM-PER-HR",
		measure.Current: "A", measure.Resistance: "OHM", measure.Stiffness: "N-PER-MilliM",
	}[t]
	return quad.IRI(qudtUnits + name), ok
}

// decimal is a number as xsd:decimal, to the nanometre and the like: what is
// beyond that is the noise of binary arithmetic.
func decimal(v float64) quad.Value {
	text := new(big.Float).SetFloat64(v).Text('f', 6)
	text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	if math.Abs(v) < 5e-7 {
		text = "0"
	}
	return quad.TypedString{Value: quad.String(text), Type: xsdDecimal}
}

// unique drops the doubles of quads, in the order they first come.
func unique(quads []quad.Quad) []quad.Quad {
	seen := make(map[quad.Quad]bool, len(quads))
	return slices.DeleteFunc(quads, func(q quad.Quad) bool {
		double := seen[q]
		seen[q] = true
		return double
	})
}
