package graph

import (
	"slices"
	"strings"

	"matewell/graph/measure"
)

// What several kinds of fixing have, in one wording.
const (
	jointsOwn    = "is that of a plain joint: the torque that counts is the joint's own"
	threadDuty   = "what it does: holds parts together as a bolt, closes a tube as a cap, sets play as a ring nut"
	boltClassOf  = "property class of the bolt that belongs in it"
	throughMetal = "thickness of metal the bolt passes"
	holeToEdge   = "centre of the hole to the nearest edge"
)

// turnedBy is why a spanner size decides nothing.
const turnedBy = "only tells which spanner turns it: see that there is room for that"

// neverAlike counts every difference of what was recorded, though a kind may say that a
// value nobody recorded decides nothing: another washer takes another share of the thread.
func neverAlike(string, string) string { return "" }

// softAlike says why a sealing washer of the other soft metal changes nothing: under a plug either
// is squeezed flat. Common practice, no source.
func softAlike(was, now string) string {
	soft := func(of string) bool { return strings.EqualFold(of, "copper") || strings.EqualFold(of, "aluminium") }
	if !soft(was) || !soft(now) {
		return ""
	}
	return "copper and aluminium both seal a flat face, and go on new each time"
}

// seatAlike says why another form of head changes nothing about a joint: both sit
// flat on what they hold. One that sits in a cone does not go where a flat one goes,
// and of a head that is not known nobody can say. Common practice, no source.
func seatAlike(was, now string) string {
	forms := []string{"hexagon", "hex", "socket", "button", "pan", "cheese", "fillister", "hexalobular"}
	besides := []string{"flange", "flanged", "washer", "cap", "head", "low", "thin", "cross", "slotted", "internal",
		"inner", "screw", "bolt"}
	flat := func(head string) bool {
		words := strings.FieldsFunc(head, func(r rune) bool { return r == ' ' || r == '-' || r == ',' })
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(forms, w) }) &&
			!slices.ContainsFunc(words, func(w string) bool {
				return !slices.Contains(forms, w) &&
					!slices.Contains(besides, w)
			})
	}
	if !flat(strings.ToLower(was)) || !flat(strings.ToLower(now)) {
		return ""
	}
	return "both heads sit flat; where a flange or washer head was, put a washer of its size under a plain one"
}

// metals are what threads and holes are cut in.
var metals = []string{"steel", "aluminium", "cast iron", "steel insert"}

func threadKinds() []FeatureKind {
	return []FeatureKind{
		{"male-thread", "a bolt, stud or threaded end", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("length", "length under the head", measure.Length, vernier, halfMM).usual(0, 800),
			may("grip", "plain length under the head before the thread", measure.Length, vernier, halfMM),
			may("class", "property class", measure.Word, eye, "marking"),
			may("head", "form of head", measure.Word, eye, seen).alike(seatAlike),
			may("across-flats", "spanner size", measure.Length, vernier, tenth).informs(turnedBy),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
			may("torque", "torque a source gives for a plain joint", measure.Torque, eye, "book").informs(jointsOwn),
			may("shank", "diameter of the plain shank, where it is not that of the thread", measure.Length, micro, hundredth),
			may("duty", threadDuty, measure.Word, eye, seen).oneOf("bolt", "cap", "ring"),
		}},
		{"female-thread", "a tapped hole or nut", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch"),
			must("depth", "depth of full thread", measure.Length, depth, halfMM),
			must("hole", "blind or through", measure.Word, eye, seen).oneOf("blind", "through"),
			must("material", "what the thread is cut in", measure.Word, eye, seen).
				oneOf(append(slices.Clone(metals), "brass")...),
			may("grip", "thickness clamped between head and thread", measure.Length, vernier, halfMM),
			may("class", "property class of a nut", measure.Word, eye, "marking"),
			may("across-flats", "spanner size", measure.Length, vernier, tenth).informs(turnedBy),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
			may("torque", "torque a source gives for a plain joint", measure.Torque, eye, "book").informs(jointsOwn),
			may("bolt-class", boltClassOf, measure.Word, eye, "parts list"),
			may("duty", threadDuty, measure.Word, eye, seen).oneOf("bolt", "cap", "ring"),
		}},
		{"washer", "a washer, plain or sealing", []DimSpec{
			must("inside", "inside diameter", measure.Length, vernier, tenth),
			must("outside", "outside diameter", measure.Length, vernier, tenth),
			must("thickness", "thickness", measure.Length, micro, hundredth).alike(neverAlike),
			may("material", "material", measure.Word, eye, seen).alike(softAlike),
			may("finish", "surface", measure.Word, eye, "marking").looks(),
		}},
	}
}

func mountKinds() []FeatureKind {
	return []FeatureKind{
		{"bolt-pattern", "holes that bolt to holes", []DimSpec{
			must("count", "number of holes", measure.Count, eye, counted),
			must("spacing", "hole centres for two holes, pitch circle for more", measure.Length, vernier, tenth),
			may("spacing-2", "second hole centres of a rectangle", measure.Length, vernier, tenth),
			may("hole", "clearance hole", measure.Length, vernier, tenth),
			may("slot", "how far a slotted hole lets it move", measure.Length, vernier, tenth),
			may("thread", "thread in the hole", measure.Thread, pitch, "pitch"),
			may("spigot", "locating diameter", measure.Length, vernier, hundredth),
			may("locates", "whether that is a raised spigot or a recess for one", measure.Word, eye, seen).oneOf("raised",
				"recess"),
			may("offset", "face to face", measure.Length, vernier, tenth).signed(),
			may("inset", "how far this face lies inside the hub's end face (minus: outside)", measure.Length, depth,
				tenth).signed(),
			may("thickness", throughMetal, measure.Length, vernier, tenth),
			may("edge", holeToEdge, measure.Length, vernier, tenth),
			may("bolt-class", boltClassOf, measure.Word, eye, "parts list"),
			may("tapped-depth", "depth of full thread in the hole", measure.Length, depth, halfMM),
			may("bottom", "tapped hole with a bottom, or through", measure.Word, eye, seen).oneOf("blind", "through"),
			may("material", "what the hole is in", measure.Word, eye, seen).oneOf(metals...),
		}},
		{"clamp", "a split bore that grips a tube", []DimSpec{
			must("diameter", "bore when just closed", measure.Length, bore, hundredth),
			may("length", "length of the grip", measure.Length, vernier, halfMM),
			may("split", "split, so that it closes", measure.YesNo, eye, seen),
		}},
		{"tube", "a round tube that is gripped", []DimSpec{
			must("diameter", "outside diameter", measure.Length, micro, hundredth),
			may("length", "length free to be gripped", measure.Length, vernier, halfMM),
		}},
		{"eye", "an eye that a bolt passes through", []DimSpec{
			must("bore", "bore", measure.Length, vernier, tenth),
			must("width", "width over the faces", measure.Length, vernier, tenth),
			may("edge", holeToEdge, measure.Length, vernier, tenth),
		}},
		{"clevis", "a fork that takes an eye", []DimSpec{
			must("gap", "gap between the cheeks", measure.Length, vernier, tenth),
			must("bolt", "bolt or pin diameter", measure.Length, vernier, tenth),
			may("cheek", "thickness of one cheek", measure.Length, vernier, tenth),
		}},
		{"nipple", "a cable end", []DimSpec{
			must("diameter", "diameter", measure.Length, vernier, tenth),
			must("form", "barrel, pear or ball", measure.Word, eye, seen).oneOf("barrel", "pear", "ball"),
		}},
		{"nipple-seat", "where a cable end sits", []DimSpec{
			must("diameter", "diameter", measure.Length, vernier, tenth),
			must("form", "barrel, pear or ball", measure.Word, eye, seen).oneOf("barrel", "pear", "ball"),
			may("pull-radius", "radius the cable is wound on", measure.Length, vernier, halfMM),
		}},
	}
}

func bodyKinds() []FeatureKind {
	return []FeatureKind{
		{"points", "the mounting points of a panel or its carrier", []DimSpec{
			must("points", "each point: place, hole or thread, insert, position", measure.Points, vernier, halfMM),
			may("seen-from", "how the positions are seen, by the machine's own directions: side, forward and up; top, "+
				"forward and to the left; "+
				"front, to the left and up", measure.Word, eye, seen).oneOf("side", "top", "front"),
		}},
		{"finish", "colour and surface", []DimSpec{
			may("colour", "colour", measure.Word, eye, seen).looks(),
			may("paint", "paint code", measure.Word, eye, "marking").looks(),
			may("decal", "decal", measure.Word, eye, seen).looks(),
			may("scheme", "colour scheme it belongs to", measure.Word, eye, "marking").looks(),
			may("surface", "gloss, matt, plated", measure.Word, eye, seen).looks(),
		}},
	}
}
