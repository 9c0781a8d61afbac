package graph

import "matewell/graph/measure"

func hydraulicKinds() []FeatureKind {
	return []FeatureKind{
		{"banjo", "the eye of a hose end", []DimSpec{
			must("eye", "bore of the eye", measure.Length, vernier, tenth),
			must("thickness", "thickness over the faces", measure.Length, vernier, tenth),
			may("angle", "bend between hose and eye", measure.Angle, protract, "5 deg").signed(),
		}},
		{"screwed-end", "a hose or pipe end that screws in", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("seat", "how it seals", measure.Word, eye, seen).oneOf("flat washer", "flare", "inverted flare"),
			may("length", "length of thread", measure.Length, vernier, halfMM),
		}},
		{"port", "a threaded fluid port", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("seat", "how it seals", measure.Word, eye, seen).oneOf("flat washer", "flare", "inverted flare"),
			must("depth", "depth of full thread", measure.Length, depth, halfMM),
			may("banjos", "how many banjos are stacked on it", measure.Count, eye, counted),
		}},
		{"pistons", "the pistons of a caliper or slave cylinder", []DimSpec{
			must("sizes", "piston diameters, all of them", measure.Sizes, vernier, tenth),
			must("layout", "opposed or sliding", measure.Word, eye, seen).oneOf("opposed", "sliding", "slave"),
			may("stroke", "travel to where it bottoms", measure.Length, depth, halfMM),
			may("slide", "how far a sliding one goes on its pins either way, beyond what worn pads take", measure.Length,
				depth, halfMM),
		}},
		{"master-bore", "the bore and lever of a master cylinder", []DimSpec{
			must("bore", "bore", measure.Length, bore, hundredth),
			must("stroke", "usable stroke of the piston", measure.Length, depth, halfMM),
			must("style", "axial or radial", measure.Word, eye, seen).oneOf("axial", "radial"),
			must("lever-ratio", "pivot to hand over pivot to pushrod", measure.Ratio, vernier, "2 %"),
			may("reach", "lever to grip at rest", measure.Length, vernier, "1 mm"),
		}},
		{"fluid", "what its seals stand", []DimSpec{
			must("allows", "fluids it allows", measure.Words, eye, "marking"),
		}},
		{"caliper-mount", "how caliper and leg meet", []DimSpec{
			must("style", "axial or radial", measure.Word, eye, seen).oneOf("axial", "radial"),
			must("spacing", "bolt centres", measure.Length, vernier, tenth),
			must("disc", "disc diameter it is made for: that of the disc it came with", measure.Length, rule, halfMM),
			may("hole", "clearance hole", measure.Length, vernier, tenth),
			may("thread", "thread in the lug", measure.Thread, pitch, "pitch"),
			may("offset", "slot centre, or disc centre, from the mounting face, outward positive", measure.Length, vernier,
				tenth).signed(),
			may("slot-line", "how far the middle of its own caliper's slot lies inside the face beside the wheel (minus: "+
				"outside)", measure.Length, depth, tenth).signed(),
			may("height", "of a leg: axle to the bolts' line or radial face; of a caliper: from there to the outer edge of "+
				"its pads", measure.Length, vernier, tenth).signed(),
			may("thickness", throughMetal, measure.Length, vernier, tenth),
			may("edge", holeToEdge, measure.Length, vernier, tenth),
			may("bolt-class", boltClassOf, measure.Word, eye, "parts list"),
			may("tapped-depth", "depth of full thread in the lug", measure.Length, depth, halfMM),
			may("bottom", "tapped hole with a bottom, or through", measure.Word, eye, seen).oneOf("blind", "through"),
			may("material", "what the lug is made of", measure.Word, eye, seen).oneOf(metals...),
		}},
		{"caliper-slot", "the slot a disc runs in", []DimSpec{
			must("disc-thickness", "thickest disc that runs free with new pads", measure.Length, vernier, tenth),
			must("pad-height", "radial height of the pads", measure.Length, vernier, halfMM),
		}},
		{"disc-rim", "the braking band of a disc", []DimSpec{
			must("diameter", "outside diameter", measure.Length, rule, halfMM).usual(80, 420),
			must("thickness", "thickness", measure.Length, micro, hundredth).usual(1, 15),
			must("band", "radial height of the band", measure.Length, vernier, halfMM),
			may("minimum", "least thickness stamped on it", measure.Length, eye, "marking").
				informs("only tells when this disc is worn out"),
			may("runout", "swing of the gauge over a whole turn, on its hub", measure.Length, dial, hundredth).
				informs("only tells how true this one runs"),
			may("most-runout", "swing over a whole turn that its maker allows", measure.Length, dial, "manual").
				informs("only tells when this disc is scrap"),
			may("offset", "band centre from the mounting face, outward positive", measure.Length, vernier, tenth).signed(),
		}},
	}
}

func runKinds() []FeatureKind {
	return []FeatureKind{
		{"hose", "a flexible hose between its ends", []DimSpec{
			must("length", "length between the eyes", measure.Length, tape, fiveMM),
			may("bend", "least bend radius", measure.Length, tape, fiveMM),
			may("bore", "bore", measure.Length, vernier, tenth),
		}},
		{"cable", "a control cable", []DimSpec{
			must("outer", "length of the outer", measure.Length, tape, fiveMM),
			must("inner", "free inner, with the adjuster in its middle", measure.Length, tape, "1 mm"),
			may("adjust", "travel of the adjuster, all of it", measure.Length, vernier, "1 mm"),
		}},
		{"lead", "a wiring lead", []DimSpec{
			must("length", "length to the plug", measure.Length, tape, fiveMM),
		}},
		{"place", "where a part puts the end of a run, from the middle of the steering head", []DimSpec{
			must("x", "forward", measure.Length, straight, fiveMM).signed(),
			must("y", "to the left", measure.Length, straight, fiveMM).signed(),
			must("z", "upward", measure.Length, straight, fiveMM).signed(),
		}},
	}
}

func electricKinds() []FeatureKind {
	return []FeatureKind{
		{"connector", "one half of a plug", []DimSpec{
			must("family", "family of plug", measure.Word, eye, "marking"),
			must("gender", "which half", measure.Word, eye, seen).oneOf("pins", "sockets"),
			must("pins", "what each pin carries", measure.Pins, meter, "function"),
		}},
		{"lamp-holder", "what holds a bulb", []DimSpec{
			must("cap", "bulb cap", measure.Word, eye, "marking"),
			must("power", "most power it stands", measure.Power, eye, "marking"),
			may("voltage", "voltage", measure.Voltage, meter, "1 V"),
		}},
		{"lamp-cap", "the cap of a bulb", []DimSpec{
			must("cap", "bulb cap", measure.Word, eye, "marking"),
			must("power", "power", measure.Power, eye, "marking"),
			must("voltage", "voltage", measure.Voltage, eye, "marking"),
		}},
		{"beam", "the dipped beam of a headlamp", []DimSpec{
			must("kick", "side the beam kicks up to", measure.Word, eye, "lens marking").oneOf("left", "right", "both"),
			may("approval", "approval mark", measure.Word, eye, "marking").
				informs("is for local rules to judge"),
		}},
		{"traffic", "the traffic a market drives in", []DimSpec{
			must("kick", "side the beam must kick up to", measure.Word, eye, "local rules").oneOf("left", "right"),
		}},
	}
}
