package graph

import (
	"sync"

	"matewell/graph/measure"
)

// FeatureKind says what one sort of mating feature must measure. The kinds are
// fixed in code because each has its rule in queries/mating; which features a
// kind of part has is data.
type FeatureKind struct {
	Name string
	Is   string    // in words, for help and faults
	Dims []DimSpec // in the order a person would measure them
}

// DimSpec describes one dimension of a feature kind.
type DimSpec struct {
	Name string
	Is   string
	Type measure.Type
	// Must is true when a joint can't be judged without it.
	Must bool
	// Signed is true when a negative value makes sense, as for an offset.
	Signed bool
	// Words are the values allowed for a Word dimension; empty allows any.
	Words []string
	// Looks is true when the dimension only changes how the part looks.
	Looks bool
	// Gauge and Accuracy say how to measure it: "vernier caliper", "0.1 mm".
	Gauge, Accuracy string
}

// Dim finds a dimension by name.
func (k FeatureKind) Dim(name string) (DimSpec, bool) {
	for _, d := range k.Dims {
		if d.Name == name {
			return d, true
		}
	}
	return DimSpec{}, false
}

// FeatureKindNamed finds a feature kind by name.
func FeatureKindNamed(name string) (FeatureKind, bool) {
	k, ok := kindsByName()[name]
	return k, ok
}

// kindsByName is made once and then only read: rules look a kind up for every
// dimension they take.
var kindsByName = sync.OnceValue(func() map[string]FeatureKind {
	byName := map[string]FeatureKind{}
	for _, k := range FeatureKinds() {
		byName[k.Name] = k
	}
	return byName
})

// FeatureKinds lists every feature kind, grouped as the rules of
// queries/mating are.
func FeatureKinds() []FeatureKind {
	groups := [][]FeatureKind{threadKinds(), hydraulicKinds(), mountKinds(), axleKinds(),
		runKinds(), driveKinds(), electricKinds(), bodyKinds(), geometryKinds()}
	var all []FeatureKind
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// The gauges, so that one tool keeps one name.
const (
	vernier   = "vernier caliper"
	bore      = "bore gauge"
	micro     = "micrometer"
	tape      = "steel tape"
	pitch     = "thread gauge"
	depth     = "depth gauge"
	eye       = "by eye"
	protract  = "protractor"
	meter     = "multimeter"
	straight  = "straight edge and rule"
	tenth     = "0.1 mm"
	hundredth = "0.01 mm"
	halfMM    = "0.5 mm"
	fiveMM    = "5 mm"
	halfDeg   = "0.5 deg"
)

func must(name, is string, t measure.Type, gauge, accuracy string) DimSpec {
	return DimSpec{Name: name, Is: is, Type: t, Must: true, Gauge: gauge, Accuracy: accuracy}
}

func may(name, is string, t measure.Type, gauge, accuracy string) DimSpec {
	return DimSpec{Name: name, Is: is, Type: t, Gauge: gauge, Accuracy: accuracy}
}

func (d DimSpec) oneOf(words ...string) DimSpec { d.Words = words; return d }
func (d DimSpec) signed() DimSpec               { d.Signed = true; return d }
func (d DimSpec) looks() DimSpec                { d.Looks = true; return d }

func threadKinds() []FeatureKind {
	return []FeatureKind{
		{"male-thread", "a bolt, stud or threaded end", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("length", "length under the head", measure.Length, vernier, halfMM),
			may("grip", "plain length under the head before the thread", measure.Length, vernier, halfMM),
			may("class", "property class", measure.Word, eye, "marking"),
			may("head", "form of head", measure.Word, eye, "marking"),
			may("across-flats", "spanner size", measure.Length, vernier, tenth),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
			may("torque", "torque a source gives for a plain joint", measure.Torque, eye, "book"),
		}},
		{"female-thread", "a tapped hole or nut", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("depth", "depth of full thread", measure.Length, depth, halfMM),
			must("hole", "blind or through", measure.Word, eye, "marking").oneOf("blind", "through"),
			must("material", "what the thread is cut in", measure.Word, eye, "marking").oneOf("steel", "aluminium", "cast iron", "steel insert"),
			may("grip", "thickness clamped between head and thread", measure.Length, vernier, halfMM),
			may("class", "property class of a nut", measure.Word, eye, "marking"),
			may("across-flats", "spanner size", measure.Length, vernier, tenth),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
			may("torque", "torque a source gives for a plain joint", measure.Torque, eye, "book"),
		}},
		{"washer", "a washer, plain or sealing", []DimSpec{
			must("inside", "inside diameter", measure.Length, vernier, tenth),
			must("outside", "outside diameter", measure.Length, vernier, tenth),
			must("thickness", "thickness", measure.Length, micro, hundredth),
			may("material", "material", measure.Word, eye, "marking"),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
		}},
	}
}

func hydraulicKinds() []FeatureKind {
	return []FeatureKind{
		{"banjo", "the eye of a hose end", []DimSpec{
			must("eye", "bore of the eye", measure.Length, vernier, tenth),
			must("thickness", "thickness over the faces", measure.Length, vernier, tenth),
			may("angle", "bend between hose and eye", measure.Angle, protract, "5 deg").signed(),
		}},
		{"screwed-end", "a hose or pipe end that screws in", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("seat", "how it seals", measure.Word, eye, "marking").oneOf("flat washer", "flare", "inverted flare"),
			may("length", "length of thread", measure.Length, vernier, halfMM),
		}},
		{"port", "a threaded fluid port", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("seat", "how it seals", measure.Word, eye, "marking").oneOf("flat washer", "flare", "inverted flare"),
			must("depth", "depth of full thread", measure.Length, depth, halfMM),
			may("banjos", "how many banjos are stacked on it", measure.Count, eye, "marking"),
		}},
		{"pistons", "the pistons of a caliper or slave cylinder", []DimSpec{
			must("sizes", "piston diameters, all of them", measure.Sizes, vernier, tenth),
			must("layout", "opposed or sliding", measure.Word, eye, "marking").oneOf("opposed", "sliding", "slave"),
			may("stroke", "travel to where it bottoms", measure.Length, depth, halfMM),
		}},
		{"master-bore", "the bore and lever of a master cylinder", []DimSpec{
			must("bore", "bore", measure.Length, bore, hundredth),
			must("stroke", "usable stroke of the piston", measure.Length, depth, halfMM),
			must("style", "axial or radial", measure.Word, eye, "marking").oneOf("axial", "radial"),
			must("lever-ratio", "pivot to hand over pivot to pushrod", measure.Ratio, vernier, "2 %"),
			may("reach", "lever to grip at rest", measure.Length, vernier, "1 mm"),
		}},
		{"fluid", "what its seals stand", []DimSpec{
			must("allows", "fluids it allows", measure.Words, eye, "marking"),
		}},
		{"caliper-mount", "how caliper and leg meet", []DimSpec{
			must("style", "axial or radial", measure.Word, eye, "marking").oneOf("axial", "radial"),
			must("spacing", "bolt centres", measure.Length, vernier, tenth),
			must("disc", "disc diameter it is made for", measure.Length, vernier, halfMM),
			may("hole", "clearance hole", measure.Length, vernier, tenth),
			may("thread", "thread in the lug", measure.Thread, pitch, "pitch"),
			may("offset", "slot centre, or disc centre, from the mounting face, outward positive", measure.Length, vernier, tenth).signed(),
			may("slot-line", "how far the middle of its own caliper's slot lies inside the face beside the wheel (minus: outside)", measure.Length, depth, tenth).signed(),
		}},
		{"caliper-slot", "the slot a disc runs in", []DimSpec{
			must("disc-thickness", "thickest disc that runs free with new pads", measure.Length, vernier, tenth),
			must("pad-height", "radial height of the pads", measure.Length, vernier, halfMM),
		}},
		{"disc-rim", "the braking band of a disc", []DimSpec{
			must("diameter", "outside diameter", measure.Length, vernier, halfMM),
			must("thickness", "thickness", measure.Length, micro, hundredth),
			must("band", "radial height of the band", measure.Length, vernier, halfMM),
			may("minimum", "least thickness stamped on it", measure.Length, eye, "marking"),
			may("offset", "band centre from the mounting face, outward positive", measure.Length, vernier, tenth).signed(),
		}},
	}
}

func mountKinds() []FeatureKind {
	return []FeatureKind{
		{"bolt-pattern", "holes that bolt to holes", []DimSpec{
			must("count", "number of holes", measure.Count, eye, "marking"),
			must("spacing", "hole centres for two holes, pitch circle for more", measure.Length, vernier, tenth),
			may("spacing-2", "second hole centres of a rectangle", measure.Length, vernier, tenth),
			may("hole", "clearance hole", measure.Length, vernier, tenth),
			may("slot", "how far a slotted hole lets it move", measure.Length, vernier, tenth),
			may("thread", "thread in the hole", measure.Thread, pitch, "pitch"),
			may("spigot", "locating diameter", measure.Length, vernier, hundredth),
			may("offset", "face to face", measure.Length, vernier, tenth).signed(),
			may("inset", "how far this face lies inside the hub's end face (minus: outside)", measure.Length, depth, tenth).signed(),
		}},
		{"clamp", "a split bore that grips a tube", []DimSpec{
			must("diameter", "bore when just closed", measure.Length, bore, hundredth),
			may("length", "length of the grip", measure.Length, vernier, halfMM),
			may("split", "split, so that it closes", measure.YesNo, eye, "marking"),
		}},
		{"tube", "a round tube that is gripped", []DimSpec{
			must("diameter", "outside diameter", measure.Length, micro, hundredth),
			may("length", "length free to be gripped", measure.Length, vernier, halfMM),
		}},
		{"eye", "an eye that a bolt passes through", []DimSpec{
			must("bore", "bore", measure.Length, vernier, tenth),
			must("width", "width over the faces", measure.Length, vernier, tenth),
		}},
		{"clevis", "a fork that takes an eye", []DimSpec{
			must("gap", "gap between the cheeks", measure.Length, vernier, tenth),
			must("bolt", "bolt or pin diameter", measure.Length, vernier, tenth),
		}},
		{"nipple", "a cable end", []DimSpec{
			must("diameter", "diameter", measure.Length, vernier, tenth),
			must("form", "barrel, pear or ball", measure.Word, eye, "marking").oneOf("barrel", "pear", "ball"),
		}},
		{"nipple-seat", "where a cable end sits", []DimSpec{
			must("diameter", "diameter", measure.Length, vernier, tenth),
			must("form", "barrel, pear or ball", measure.Word, eye, "marking").oneOf("barrel", "pear", "ball"),
			may("pull-radius", "radius the cable is wound on", measure.Length, vernier, halfMM),
		}},
	}
}

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
			must("form", "sort of bearing", measure.Word, eye, "marking").oneOf("ball", "taper", "needle", "plain", "angular"),
			may("designation", "number on the ring", measure.Word, eye, "marking"),
		}},
		{"bearing-seat", "the bore a bearing sits in", []DimSpec{
			must("diameter", "diameter", measure.Length, bore, hundredth),
			must("depth", "depth to the shoulder", measure.Length, depth, tenth),
			must("form", "sort of bearing it is made for", measure.Word, eye, "marking").oneOf("ball", "taper", "needle", "plain", "angular"),
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

func driveKinds() []FeatureKind {
	return []FeatureKind{
		{"chain", "a roller chain", []DimSpec{
			must("pitch", "pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter", measure.Length, vernier, hundredth),
			must("inner-width", "width between inner plates", measure.Length, vernier, hundredth),
			must("links", "number of links", measure.Count, eye, "marking"),
		}},
		{"sprocket", "the teeth of a sprocket", []DimSpec{
			must("pitch", "chain pitch", measure.Length, vernier, hundredth),
			must("roller", "roller diameter it is cut for", measure.Length, vernier, hundredth),
			must("width", "width of the teeth", measure.Length, vernier, tenth),
			must("teeth", "number of teeth", measure.Count, eye, "marking"),
			must("line", "middle of the teeth from the mounting face, outward positive", measure.Length, vernier, tenth).signed(),
		}},
		{"spline", "a splined shaft or bore", []DimSpec{
			must("teeth", "number of splines", measure.Count, eye, "marking"),
			must("major", "diameter over the splines", measure.Length, vernier, tenth),
			may("minor", "diameter at the roots", measure.Length, vernier, tenth),
		}},
		{"sprocket-plane", "the face a sprocket mounts on, from the middle of the machine", []DimSpec{
			must("plane", "face from the middle of the machine, left positive", measure.Length, straight, halfMM).signed(),
		}},
		{"sensor-ring", "the ring a speed sensor reads", []DimSpec{
			must("teeth", "number of teeth or slots", measure.Count, eye, "marking"),
			must("diameter", "pitch diameter", measure.Length, vernier, halfMM),
		}},
	}
}

func electricKinds() []FeatureKind {
	return []FeatureKind{
		{"connector", "one half of a plug", []DimSpec{
			must("family", "family of plug", measure.Word, eye, "marking"),
			must("gender", "which half", measure.Word, eye, "marking").oneOf("pins", "sockets"),
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
			may("approval", "approval mark", measure.Word, eye, "marking"),
		}},
		{"traffic", "the traffic a market drives in", []DimSpec{
			must("kick", "side the beam must kick up to", measure.Word, eye, "local rules").oneOf("left", "right"),
		}},
	}
}

func bodyKinds() []FeatureKind {
	return []FeatureKind{
		{"points", "the mounting points of a panel or its carrier", []DimSpec{
			must("points", "each point: place, hole or thread, insert, position", measure.Points, vernier, halfMM),
		}},
		{"finish", "colour and surface", []DimSpec{
			may("colour", "colour", measure.Word, eye, "marking").looks(),
			may("paint", "paint code", measure.Word, eye, "marking").looks(),
			may("decal", "decal", measure.Word, eye, "marking").looks(),
			may("scheme", "colour scheme it belongs to", measure.Word, eye, "marking").looks(),
			may("surface", "gloss, matt, plated", measure.Word, eye, "marking").looks(),
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
