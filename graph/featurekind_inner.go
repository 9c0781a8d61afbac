package graph

import "matewell/graph/measure"

// innerKinds are what sits inside a leg, a clutch or a hub, and what holds a
// chain and its sprockets.
func innerKinds() []FeatureKind {
	return []FeatureKind{
		{"spring", "a coil spring", []DimSpec{
			must("outside", "outside diameter", measure.Length, vernier, tenth),
			must("length", "free length", measure.Length, tape, "1 mm"),
			must("rate", "force for each millimetre", measure.Stiffness, scale, "3 %"),
			may("solid", "length with its coils closed", measure.Length, tape, "1 mm"),
			may("pieces", "how many come as one set", measure.Count, eye, counted),
			may("minimum", "least free length its maker allows", measure.Length, tape, "manual").
				informs("only tells when this spring has sagged"),
		}},
		{"spring-room", "the tube or seat a spring works in", []DimSpec{
			must("bore", "bore it stands in", measure.Length, bore, tenth),
			must("length", "room for it, extended, spacers in place", measure.Length, tape, "1 mm"),
			may("preload", "preload wanted", measure.Length, eye, "book"),
			may("travel", "how far it is pressed beyond that", measure.Length, tape, "1 mm"),
			may("rate", "rate of the spring it is made for", measure.Stiffness, eye, "book"),
			may("pieces", "how many springs it takes, of which this is the place of one", measure.Count, eye, counted),
		}},
		{"oil-fill", "the oil in a fork leg", []DimSpec{
			may("level", "air over the oil, spring out, leg fully compressed", measure.Length, depth, "1 mm").
				informs("it goes with the leg, whose own maker says it"),
			may("grade", "kind of oil", measure.Word, eye, "marking").informs("it goes with the leg, whose own maker says it"),
		}},
		{"cap", "what closes a tube", []DimSpec{
			must("form", "screwed, or pushed in and held by a ring", measure.Word, eye, seen).oneOf("screwed", "ringed"),
			may("thread", "thread of a screwed one", measure.Thread, pitch, "pitch"),
			may("length", "length of that thread", measure.Length, vernier, halfMM),
			may("diameter", "diameter over the land of its seal", measure.Length, vernier, hundredth),
		}},
		{"cap-seat", "the end of a tube that a cap closes", []DimSpec{
			must("form", "screwed, or pushed in and held by a ring", measure.Word, eye, seen).oneOf("screwed", "ringed"),
			may("thread", "thread of a screwed one", measure.Thread, pitch, "pitch"),
			may("depth", "length of that thread", measure.Length, depth, halfMM),
			may("diameter", "bore the seal of the cap sits in", measure.Length, bore, hundredth),
		}},
		{"friction-plate", "a clutch plate with tabs outside", []DimSpec{
			must("tabs", "number of tabs", measure.Count, eye, counted),
			must("tab-width", "width of a tab", measure.Length, vernier, tenth),
			must("outside", "diameter over the tabs", measure.Length, vernier, tenth),
			must("thickness", "thickness", measure.Length, micro, hundredth),
			must("bath", "made to run in oil, or dry", measure.Word, eye, "marking").oneOf("wet", "dry"),
			may("minimum", "least thickness its maker allows", measure.Length, micro, "manual").
				informs("only tells when this plate is worn out"),
		}},
		{"clutch-basket", "the slots that the tabs run in", []DimSpec{
			must("slots", "number of slots", measure.Count, eye, counted),
			must("slot-width", "width of a slot", measure.Length, vernier, tenth),
			must("diameter", "diameter at the bottom of the slots", measure.Length, vernier, tenth),
			must("bath", "runs in oil, or dry", measure.Word, eye, seen).oneOf("wet", "dry"),
		}},
		{"steel-plate", "a clutch plate with teeth inside", []DimSpec{
			must("teeth", "number of teeth", measure.Count, eye, counted),
			must("inside", "diameter over the tips of its teeth", measure.Length, vernier, tenth),
			must("thickness", "thickness", measure.Length, micro, hundredth),
			may("warp", "how far it is out of flat, on a plate", measure.Length, feeler, hundredth).
				informs("only tells how this one is"),
			may("most-warp", "how far out of flat its maker allows", measure.Length, feeler, "manual").
				informs("only tells when this plate is scrap"),
		}},
		{"clutch-hub", "the teeth that steel plates run on", []DimSpec{
			must("teeth", "number of teeth", measure.Count, eye, counted),
			must("root", "diameter at the roots of its teeth", measure.Length, vernier, tenth),
			must("pack", "thickness of the whole pack, as a range", measure.Length, eye, "book"),
		}},
		{"cush-rubber", "the rubbers of a cush drive", []DimSpec{
			must("pieces", "number of pieces", measure.Count, eye, counted),
			must("width", "width between the vanes, new", measure.Length, vernier, halfMM),
			must("height", "height", measure.Length, vernier, halfMM),
			must("length", "length from the hub outward", measure.Length, vernier, halfMM),
		}},
		{"cush-bay", "the bays that cush rubbers sit in", []DimSpec{
			must("pieces", "number of rubbers it takes", measure.Count, eye, counted),
			must("width", "room between the vanes for one rubber", measure.Length, vernier, halfMM),
			must("depth", "depth", measure.Length, depth, halfMM),
			must("length", "room from the hub outward", measure.Length, vernier, halfMM),
		}},
		{"joining-link", "the link that closes a chain", []DimSpec{
			must("form", "how it is closed", measure.Word, eye, seen).oneOf("clip", "riveted", "cranked"),
			must("pitch", "pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter it is made for", measure.Length, vernier, hundredth),
			must("inner-width", "inner width of the chain it is made for", measure.Length, vernier, hundredth),
			may("make", "maker and series", measure.Word, eye, "marking"),
			may("pin", "pin diameter", measure.Length, micro, hundredth),
		}},
		{"sprocket-seat", "where a shaft holds its sprocket endwise", []DimSpec{
			must("form", "what holds it", measure.Word, eye, seen).oneOf("nut", "circlip", "bolted plate", "bolt"),
			must("width", "shoulder to what holds it", measure.Length, vernier, tenth),
		}},
		{"sprocket-boss", "the middle of a sprocket that is held endwise", []DimSpec{
			must("form", "what it is made to be held by", measure.Word, eye, seen).oneOf("nut", "circlip", "bolted plate",
				"bolt"),
			must("width", "width over its faces", measure.Length, vernier, tenth),
		}},
		{"tab-washer", "a washer with a tab that is bent up against a nut", []DimSpec{
			must("inside", "diameter it goes over", measure.Length, vernier, tenth),
			must("key", "what keeps it from turning", measure.Word, eye, seen).oneOf("splines", "tongue", "pin", "none"),
			must("flat", "width of the nut it is made for, across flats", measure.Length, vernier, tenth),
			may("teeth", "number of splines inside", measure.Count, eye, counted),
		}},
	}
}
