package graph

import "matewell/graph/measure"

// brakeKinds are what pads, calipers, shoes and drums meet by.
func brakeKinds() []FeatureKind {
	return []FeatureKind{
		{"pad", "one brake pad", []DimSpec{
			must("outline", "outline of the plate, by its shape number or as traced", measure.Word, eye, "laid on the old one"),
			must("plate", "thickness of the backing plate", measure.Length, vernier, tenth),
			must("thickness", "thickness with the lining, new", measure.Length, vernier, tenth),
			must("pin", "hole for the pin, or slot it rides in", measure.Length, vernier, tenth),
			may("lining", "thickness of lining left", measure.Length, vernier, tenth).
				informs("only tells how far this one is worn"),
			may("minimum", "least lining its maker allows", measure.Length, vernier, "manual").
				informs("only tells when these pads are worn out"),
		}},
		{"pad-seat", "where a pad sits in its caliper", []DimSpec{
			must("outline", "outline it takes, by its shape number or as traced", measure.Word, eye, "laid on the old one"),
			must("plate", "width of the guide for the backing plate", measure.Length, vernier, tenth),
			must("thickness", "thickest new pad beside a new disc", measure.Length, vernier, tenth),
			must("pin", "diameter of the pin", measure.Length, vernier, tenth),
		}},
		{"bleed-screw", "the bleed screw of a caliper or cylinder", []DimSpec{
			must("top", "side of the machine on which it stands at the top", measure.Word, eye, seen).oneOf("left", "right",
				"either"),
		}},
		{"drum", "a brake drum", []DimSpec{
			must("diameter", "inside diameter", measure.Length, vernier, tenth),
			must("width", "width of the track the shoes run on", measure.Length, vernier, tenth),
			may("most", "largest diameter cast on it", measure.Length, eye, "marking").
				informs("only tells when this drum is worn out"),
		}},
		{"shoes", "a pair of brake shoes", []DimSpec{
			must("diameter", "diameter over the linings, as fitted", measure.Length, vernier, tenth),
			must("width", "width of the lining", measure.Length, vernier, tenth),
			must("pivot", "hole or hollow for the pivot", measure.Length, vernier, tenth),
			must("cam", "width of the face the cam works on, along the cam's shaft", measure.Length, vernier, tenth),
			may("lining", "thickness of lining left", measure.Length, vernier, tenth).
				informs("only tells how far these are worn"),
			may("minimum", "least lining their maker allows", measure.Length, vernier, "manual").
				informs("only tells when these shoes are worn out"),
		}},
		{"shoe-carrier", "pivot and cam of a brake plate", []DimSpec{
			must("pivot", "diameter of the pivot", measure.Length, vernier, tenth),
			must("cam", "width of the cam along its shaft", measure.Length, vernier, tenth),
		}},
		{"brake-rod", "a rod that pulls the lever of a brake plate", []DimSpec{
			must("length", "pivot to the end of the thread", measure.Length, tape, "1 mm").spans(),
			must("thread-length", "length of thread for the adjusting nut", measure.Length, vernier, halfMM),
			may("pivot", "diameter of its pivot", measure.Length, vernier, tenth),
		}},
		{"rod-room", "what a brake rod reaches over", []DimSpec{
			must("length", "pedal pivot to the eye of the lever, brake just on", measure.Length, tape, "1 mm").spans(),
			must("nut", "nut and what stands between it and the eye", measure.Length, vernier, halfMM),
			may("pivot", "hole for its pivot", measure.Length, vernier, tenth),
		}},
	}
}
