package graph

import "matewell/graph/measure"

// madeKinds are what parts that are made, and rings that keep parts in place,
// are judged by.
func madeKinds() []FeatureKind {
	return []FeatureKind{
		{"plate", "the metal of a bracket, ring or adapter", []DimSpec{
			must("thickness", "thickness", measure.Length, vernier, tenth),
			must("material", "what it is made of", measure.Word, eye, seen).oneOf("steel", "aluminium"),
			must("edge", "centre of the nearest hole to the edge", measure.Length, vernier, tenth),
			must("between", "nearest two holes, centre to centre", measure.Length, vernier, tenth),
		}},
		{"shift", "how far a bracket moves what it carries", []DimSpec{
			must("outward", "further from the axle (minus: nearer)", measure.Length, vernier, tenth).signed(),
			must("sideways", "further from the face it bolts to (minus: nearer)", measure.Length, vernier, tenth).signed(),
		}},
		{"sleeve", "a sleeve between a bore and what goes through it", []DimSpec{
			must("inside", "inside diameter", measure.Length, bore, hundredth),
			must("outside", "outside diameter", measure.Length, micro, hundredth),
			must("length", "length", measure.Length, vernier, tenth),
			may("split", "split over its whole length", measure.YesNo, eye, seen),
		}},
		{"circlip", "a ring that snaps into a groove", []DimSpec{
			must("nominal", "shaft or bore it is made for", measure.Length, eye, "marking"),
			must("thickness", "thickness", measure.Length, micro, hundredth),
			must("on", "on a shaft or in a bore", measure.Word, eye, seen).oneOf("shaft", "bore"),
		}},
		{"circlip-groove", "the groove a circlip snaps into", []DimSpec{
			must("nominal", "shaft or bore beside the groove", measure.Length, vernier, tenth),
			must("diameter", "diameter at the bottom of the groove", measure.Length, vernier, tenth),
			must("width", "width of the groove", measure.Length, vernier, tenth),
			must("on", "on a shaft or in a bore", measure.Word, eye, seen).oneOf("shaft", "bore"),
		}},
	}
}
