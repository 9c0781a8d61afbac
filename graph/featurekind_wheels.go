package graph

import "matewell/graph/measure"

func axleKinds() []FeatureKind {
	return []FeatureKind{
		{"shaft", "a round shaft or spigot", []DimSpec{
			must("diameter", "diameter", measure.Length, micro, hundredth),
			may("length", "length of that diameter", measure.Length, vernier, halfMM),
		}},
		{"bore", "a round hole a shaft goes into", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, hundredth),
			may("length", "length of the bore", measure.Length, vernier, halfMM),
		}},
		{"bearing", "a rolling bearing or bush", []DimSpec{
			must("inside", "bore", measure.Length, vernier, hundredth),
			must("outside", "outside diameter", measure.Length, vernier, hundredth),
			must("width", "width over the rings", measure.Length, vernier, hundredth),
			must("form", "sort of bearing", measure.Word, eye, seen).oneOf("ball", "taper", "needle", "plain", "angular"),
			may("designation", "number on the ring", measure.Word, eye, "marking"),
		}},
		{"bearing-seat", "the bore a bearing sits in", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, hundredth),
			must("depth", "depth to the shoulder", measure.Length, depth, tenth),
			must("form", "sort of bearing it is made for", measure.Word, eye, seen).oneOf("ball", "taper", "needle", "plain", "angular"),
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
			may("offset", "its centre plane from the middle of those faces, left positive", measure.Length, straight, halfMM).signed(),
		}},
		{"gap", "the room a row must fill", []DimSpec{
			must("width", "inside width", measure.Length, vernier, tenth),
		}},
		{"tyre", "a tyre", []DimSpec{
			must("size", "size on the wall", measure.Word, eye, "marking"),
			may("load", "load index", measure.Count, eye, "marking"),
			may("speed", "speed symbol", measure.Word, eye, "marking"),
		}},
		{"rim", "the rim a tyre sits on", []DimSpec{
			must("diameter", "nominal diameter", measure.Length, eye, "marking"),
			must("width", "width between the flanges", measure.Length, vernier, "1 mm"),
		}},
	}
}

func driveKinds() []FeatureKind {
	return []FeatureKind{
		{"chain", "a roller chain", []DimSpec{
			must("pitch", "pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter", measure.Length, vernier, hundredth),
			must("inner-width", "width between inner plates", measure.Length, vernier, hundredth),
			must("links", "number of links", measure.Count, eye, counted),
			may("make", "maker and series on the side plates", measure.Word, eye, "marking"),
			may("pin", "pin diameter", measure.Length, micro, hundredth),
		}},
		{"sprocket", "the teeth of a sprocket", []DimSpec{
			must("pitch", "chain pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter it is cut for", measure.Length, vernier, hundredth),
			must("width", "width of the teeth", measure.Length, vernier, tenth),
			must("teeth", "number of teeth", measure.Count, eye, counted),
			must("line", "middle of the teeth from the mounting face, outward positive", measure.Length, vernier, tenth).signed(),
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
			may("speed-sensed", "where road speed is taken", measure.Word, eye, "marking").oneOf("front wheel", "gearbox", "rear wheel"),
		}},
	}
}
