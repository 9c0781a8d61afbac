package graph

import "matewell/graph/measure"

// loadIndex is a dimension that is a load index of a tyre, 0 to 279. Source: the table of
// load indices of the tyre standards (ISO 4000-1, UN R75), its ends from memory.
func loadIndex(d DimSpec) DimSpec { return d.within(0, 279) }

func axleKinds() []FeatureKind {
	return []FeatureKind{
		{"shaft", "a round shaft or spigot", []DimSpec{
			must("diameter", "diameter", measure.Length, micro, hundredth),
			may("length", "length of that diameter", measure.Length, vernier, halfMM).usual(0, 1500),
			may("runout", "swing of the gauge over a whole turn, on blocks", measure.Length, dial, hundredth).
				informs("only tells how straight this one is"),
			may("most-runout", "swing over a whole turn that its maker allows", measure.Length, dial, "manual").
				informs("only tells when this one is bent"),
		}},
		{"bore", "a round hole a shaft goes into", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, hundredth),
			may("length", "length of the bore", measure.Length, vernier, halfMM),
		}},
		{"bearing", "a rolling bearing or bush", []DimSpec{
			must("inside", "bore", measure.Length, vernier, hundredth).usual(3, 150),
			must("outside", "outside diameter", measure.Length, vernier, hundredth).usual(6, 200),
			must("width", "width over the rings", measure.Length, vernier, hundredth).usual(2, 60),
			must("form", "sort of bearing", measure.Word, eye, seen).oneOf(bearingForms...),
			may("designation", "number on the ring", measure.Word, eye, "marking").informs(
				"only names sizes and sort, which decide"),
			may("play", "group of radial play on the ring; none is CN", measure.Word, eye, "marking").oneOf("C2", "CN", "C3",
				"C4").informs("is no size: a ring goes where one of another group goes (ISO 5753-1)"),
		}},
		{"bearing-seat", "the bore a bearing sits in", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, hundredth),
			must("depth", "depth to the shoulder", measure.Length, depth, tenth),
			must("form", "sort of bearing it is made for", measure.Word, eye, seen).oneOf(bearingForms...),
			may("fit", "tolerance class it is bored to", measure.Word, eye, "drawing"),
			may("turns", "the part turns round its axle, as a wheel hub does", measure.YesNo, eye, seen),
		}},
		{"hub-row", "the inside of a hub, between its two bearings", []DimSpec{
			must("between", "shoulder to shoulder of the two seats", measure.Length, depth, tenth),
			may("width", "end face to end face of the hub", measure.Length, vernier, tenth),
		}},
		{"seal", "a shaft seal", []DimSpec{
			must("inside", "diameter it runs on", measure.Length, vernier, tenth),
			must("outside", "outside diameter", measure.Length, vernier, tenth),
			must("width", "width", measure.Length, vernier, tenth),
		}},
		{"seal-seat", "the bore a seal sits in", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, tenth),
			must("depth", "depth", measure.Length, depth, tenth),
		}},
		{"row-width", "what a member adds to a row", []DimSpec{
			must("width", "width over the faces that touch", measure.Length, vernier, tenth),
			may("offset", "its centre plane from the middle of those faces, left positive", measure.Length, straight,
				halfMM).signed(),
		}},
		{"gap", "the room a row must fill", []DimSpec{
			must("width", "inside width", measure.Length, vernier, tenth).usual(0, 800),
		}},
		{"tyre", "a tyre", []DimSpec{
			must("size", "size on the wall", measure.Word, eye, "marking").checked(measure.CheckTyreSize),
			loadIndex(may("load", "load index", measure.Count, eye, "marking")),
			may("speed", "speed symbol", measure.Word, eye, "marking").checked(measure.CheckSpeedSymbol),
			may("construction", "how it is built, where the size does not say", measure.Word, eye, "marking").oneOf("radial",
				"bias-belted", "diagonal"),
			may("place", "wheel it is made for", measure.Word, eye, "marking").oneOf("front", "rear", "either"),
			may("arrow", "arrow for the way it turns", measure.Word, eye, "marking").oneOf("none", "one way",
				"front and rear differ").informs("tells which way round it goes on the rim"),
			may("service", "what it is made for", measure.Word, eye, "marking").oneOf("road", "race", "car", "sidecar"),
			may("section", "width over the walls, fitted and blown up", measure.Length, vernier, "1 mm"),
			may("radius", "axle to tread, fitted and blown up", measure.Length, tape, "1 mm").usual(120, 500),
			may("tread", "depth of tread where it is least", measure.Length, depth, tenth).
				informs("only tells how far this one is worn"),
			may("least-tread", "least depth that its maker and the rules of the road allow", measure.Length, depth, "manual").
				informs("only tells when this tyre is worn out"),
		}},
		{"tyre-need", "what the machine asks of a tyre at one end", []DimSpec{
			loadIndex(must("load", "least load index", measure.Count, eye, "manual")),
			must("speed", "least speed symbol", measure.Word, eye, "manual").checked(measure.CheckSpeedSymbol),
			may("wheel", "which wheel", measure.Word, eye, seen).oneOf("front", "rear"),
			may("mix", "constructions the maker allows to differ, front then rear", measure.Word, eye, "manual"),
		}},
		{"tyre-room", "the room a tyre turns in", []DimSpec{
			must("width", "narrowest between arm or legs and the wheel's middle, both sides together", measure.Length, vernier,
				"1 mm"),
			must("radius", "axle to the nearest part above or before it, wheel foremost", measure.Length, tape, "1 mm"),
			may("chain", "wheel's middle to the inner face of the chain", measure.Length, vernier, "1 mm"),
		}},
		{"rim", "the rim a tyre sits on", []DimSpec{
			must("diameter", "nominal diameter", measure.Length, eye, "marking").usual(100, 670),
			must("width", "width between the flanges", measure.Length, vernier, "1 mm"),
			may("type", "whether a tyre holds air on it by itself", measure.Word, eye, "marking").oneOf("tubeless",
				"tube type"),
			may("hop", "up and down over a whole turn", measure.Length, dial, tenth).
				informs("only tells how true this one runs"),
			may("most-hop", "up and down that its maker allows", measure.Length, dial, "manual").
				informs("only tells when this rim must be trued or is scrap"),
			may("sway", "side to side over a whole turn", measure.Length, dial, tenth).
				informs("only tells how true this one runs"),
			may("most-sway", "side to side that its maker allows", measure.Length, dial, "manual").
				informs("only tells when this rim must be trued or is scrap"),
		}},
	}
}

func driveKinds() []FeatureKind {
	return []FeatureKind{
		{"chain", "a roller chain", []DimSpec{
			must("pitch", "pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter", measure.Length, vernier, hundredth),
			must("inner-width", "width between inner plates", measure.Length, vernier, hundredth),
			must("links", "number of links", measure.Count, eye, counted).usual(40, 220).spans(),
			may("make", "maker and series on the side plates", measure.Word, eye, "marking"),
			may("pin", "pin diameter", measure.Length, micro, hundredth),
			may("span", "length over the links that its maker measures, pulled taut", measure.Length, rule, halfMM).
				informs("only tells how far this one is drawn out"),
			may("most-span", "length over those links that its maker allows", measure.Length, rule, "manual").
				informs("only tells when this chain is worn out"),
		}},
		{"sprocket", "the teeth of a sprocket", []DimSpec{
			must("pitch", "chain pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter it is cut for", measure.Length, vernier, hundredth),
			must("width", "width of the teeth", measure.Length, vernier, tenth),
			must("teeth", "number of teeth", measure.Count, eye, counted),
			must("line", "middle of the teeth from the mounting face, outward positive", measure.Length, vernier,
				tenth).signed(),
		}},
		{"belt", "a toothed drive belt", []DimSpec{
			must("pitch", "middle of one tooth to the middle of the next", measure.Length, vernier, tenth),
			must("profile", "profile of its teeth", measure.Word, eye, "marking"),
			must("teeth", "number of teeth", measure.Count, eye, counted).usual(40, 300).spans(),
			must("width", "width", measure.Length, vernier, tenth),
		}},
		{"pulley", "the teeth of a belt pulley", []DimSpec{
			must("pitch", "belt pitch", measure.Length, vernier, tenth),
			must("profile", "profile that its teeth are cut for", measure.Word, eye, "marking"),
			must("width", "width that a belt runs on, between its flanges", measure.Length, vernier, tenth),
			must("teeth", "number of teeth", measure.Count, eye, counted),
			must("line", "middle of the teeth from the mounting face, outward positive", measure.Length, vernier,
				tenth).signed(),
		}},
		{"spline", "a splined shaft or bore", []DimSpec{
			must("teeth", "number of splines", measure.Count, eye, counted),
			must("major", "diameter over the splines", measure.Length, vernier, tenth),
			may("minor", "diameter at the roots", measure.Length, vernier, tenth),
		}},
		{"sprocket-plane", "the face a sprocket mounts on, from the middle of the machine", []DimSpec{
			must("plane", "face from the middle of the machine, left positive", measure.Length, straight, halfMM).signed(),
		}},
		{"sensor-ring", "the ring a speed sensor reads", []DimSpec{
			must("teeth", "number of teeth or slots", measure.Count, eye, counted),
			must("diameter", "pitch diameter", measure.Length, vernier, halfMM),
		}},
	}
}

func geometryKinds() []FeatureKind {
	return []FeatureKind{
		{"frame-geometry", "steering head and wheelbase", []DimSpec{
			must("head-angle", "steering head from the vertical", measure.Angle, protract, halfDeg),
			must("wheelbase", "axle to axle", measure.Length, tape, fiveMM),
		}},
		{"yoke-offset", "steering axis to fork tubes", []DimSpec{
			must("offset", "offset", measure.Length, vernier, tenth).signed(),
			may("spacing", "middle to middle of the two tubes", measure.Length, vernier, tenth),
			may("angle", "angle of the tubes to the steering axis", measure.Angle, protract, "0.1 deg").signed(),
		}},
		{"fork-length", "length of a fork, riser or shock", []DimSpec{
			must("length", "length, axle or eye to top", measure.Length, tape, "1 mm"),
			may("travel", "travel", measure.Length, tape, "1 mm"),
		}},
		{"link-ratio", "rear height per shock length", []DimSpec{
			must("ratio", "wheel movement over shock movement", measure.Ratio, tape, "5 %"),
		}},
		{"primary-gearing", "engine to gearbox output in top gear", []DimSpec{
			must("ratio", "engine turns per output turn in top gear", measure.Ratio, eye, "manual"),
			may("speed-sensed", "where road speed is taken", measure.Word, eye, "marking").oneOf("front wheel", "gearbox",
				"rear wheel"),
		}},
	}
}

// bearingForms are the sorts of bearing: roller are cylindrical rollers, self-aligning
// balls in a hollow race, spherical barrels in one. Source of the sorts: DIN 623-1.
var bearingForms = []string{"ball", "taper", "needle", "plain", "angular", "roller", "self-aligning", "spherical",
	"thrust"}
