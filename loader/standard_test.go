package loader_test

import (
	"testing"

	"matewell/graph"
	"matewell/loader"
)

// endsAreAll are the standard kinds that demand nothing which must be compared with the
// part that is replaced, though they have a safety class, and those that demand nothing at
// all; each with why that is enough. Common practice, no source.
var endsAreAll = map[graph.KindID]string{
	"master-cylinder":  "bore, stroke, style and lever ratio are judged with what they work",
	"caliper":          "mount, pistons, slot, pads, hand and bleed screw are each judged by a rule",
	"brake-pads":       "outline, plate, thickness and pin are judged in the caliper; a lining is compared where given",
	"brake-disc":       "rim, offset and holes are judged in caliper and hub",
	"brake-hose":       "length, bend and both ends are judged along its run",
	"hose-splitter":    "ports and holes are all that it does",
	"reservoir":        "spigot, holes and fluid are judged; its level shows when it is filled",
	"reservoir-hose":   "length and both ends are judged along its run",
	"bleed-screw":      "thread and length are judged in the port",
	"caliper-bracket":  "metal, both mounts and what it shifts are judged",
	"port-adapter":     "both its threads and seats are judged",
	"caliper-shim":     "judged in the row of its caliper",
	"piston-seals":     "piston sizes and fluid are judged",
	"brake-shoes":      "diameter, width, pivot and cam are judged in drum and plate",
	"brake-cable":      "outer, free inner and both ends are judged along its run",
	"brake-rod":        "length and thread are judged over what it reaches",
	"banjo-bolt":       "thread and length are judged in the port, with banjos and washers",
	"handlebar":        "its places give where hands and levers come to sit",
	"clip-on":          "its place gives where the hand comes to sit",
	"bar-cap":          "bore and holes are all that it does",
	"grip":             "slips on by its bore; its looks are the rider's",
	"switchgear":       "bore, lead and what each pin carries are judged",
	"throttle-grip":    "what it draws is judged against what it works",
	"throttle-cable":   "outer, free inner and both ends are judged along its run",
	"ignition-switch":  "holes, lead and what each pin carries are judged",
	"wiring-loom":      "each plug is judged pin by pin",
	"battery":          "size, poles and voltages are judged in box and circuit",
	"rectifier":        "phases, power and what each pin carries are judged",
	"regulator":        "phases, voltages and what each pin carries are judged",
	"ignition-coil":    "voltage, primary and leads are judged with what switches it",
	"fuse-box":         "each plug is judged pin by pin",
	"fuse":             "rating and form are judged in its holder",
	"horn":             "plug and voltage are judged; that it sounds shows at once",
	"headlamp":         "beam, holders, holes and plug are judged",
	"bulb":             "cap, power and voltage are judged in the holder",
	"indicator":        "stem, holder and plug are judged",
	"tail-lamp":        "holes, holder and plug are judged",
	"plate-lamp":       "holes, holder and plug are judged",
	"lead-extension":   "both plugs and its length are judged",
	"battery-cable":    "length and wire are judged",
	"engine":           "each mount, output, plug and port is judged",
	"chain":            "pitch, roller, width and links are judged on both sprockets",
	"chain-link":       "judged against its chain",
	"drive-belt":       "pitch, profile, width and length are judged on both pulleys",
	"front-pulley":     "teeth, line and splines are judged",
	"rear-pulley":      "teeth, line and holes are judged",
	"front-sprocket":   "teeth, line and splines are judged",
	"rear-sprocket":    "teeth, line and holes are judged",
	"sprocket-carrier": "plane, row, bearing and spigot are judged",
	"tab-washer":       "judged with its nut and shaft",
	"sprocket-spacer":  "judged in the chain line",
	"final-drive":      "splines, row, holes and ratio are judged",
	"cush-rubbers":     "pieces and sizes are judged in their bays",
	"frame":            "head, pivot, mounts and geometry are judged",
	"fork-tube":        "diameters and length are judged in yokes and slider",
	"fork-bush":        "inside, outside and length are judged",
	"fork-seal":        "judged on its tube and in its seat",
	"fork-spring":      "rate, length and diameter are judged in the leg",
	"fork-cap":         "judged in the end of its tube",
	"fork-boot":        "seen by eye; it guards and carries nothing",
	"yoke-lower":       "stem, clamps, offset and spacing are judged",
	"yoke-upper":       "bore, clamps, offset and spacing are judged",
	"ring-nut":         "thread is judged on the stem",
	"seal-washer":      "ring is judged on its thread, and each size that differs stands under what was not judged",
	"stem-nut":         "thread is judged on the stem",
	"head-spacer":      "judged in the row of the head",
	"seat-ring":        "made to measure; both its diameters are judged",
	"fuel-rail":        "holes and inlet are judged",
	"fuel-tank":        "its points are judged, its outlet where a tap or pump goes in",
	"fuel-tap":         "holes, pipe and what enters the tank are judged",
	"fuel-hose":        "length, bore and what it is made for are judged",
	"fuel-filter":      "both pipes are judged",
	"throttle-bodies":  "throats, pull and rail are judged; the control unit has the map",
	"pivot-shaft":      "diameter, plain length and thread are judged in its row",
	"axle":             "diameter, plain length and thread are judged in its row",
	"spacer":           "width and bore are judged in its row",
	"distance-tube":    "length and bore are judged between its bearings",
	"sleeve":           "made to measure; bore and surface are judged where it sits",
	"front-wheel":      "rim, row, seats, discs or drum are judged",
	"rear-wheel":       "rim, row, seats, sprocket, disc or drum are judged",
	"wheel-rim":        "holes, diameter and width are judged with spokes and tyre",
	"speedo-drive":     "row, bore and drive are judged",
	"tyre":             "size is judged on its rim, load and speed by what the machine asks, else against the old one's",
	"inner-tube":       "size and stem are judged in tyre and rim",
	"rim-tape":         "judged by its rim",
	"valve":            "stem is judged in its hole; its length shows as the wheel is turned by hand",
	"bar-weight":       "judged in the end of its bar",
	"centre-stand":     "pivots and height are judged as the machine stands on it",
	"side-stand":       "pivot and height are judged as the machine leans on it",
	"chain-guard":      "holes are judged; that it clears the chain shows as the wheel is turned by hand",
	"sprocket-cover":   "holes are judged; that it clears the chain shows as the wheel is turned by hand",
	"choke-cable":      "outer, free inner and both ends are judged along its run",
	"clutch-arm":       "pull and ends are judged with lever and cable",
	"clutch-basket":    "slots and depth are judged with plates and hub",
	"clutch-cable":     "outer, free inner and both ends are judged along its run",
	"clutch-cover":     "holes, seal face and ports are judged on the engine",
	"clutch-hose":      "length, bend and both ends are judged along its run",
	"clutch-hub":       "splines and height are judged with plates and basket",
	"clutch-lever":     "hinge, pull and clamp are judged with what it works",
	"clutch-master":    "bore, stroke and lever ratio are judged with what they work",
	"clutch-plates":    "each plate is judged in basket and on hub, the pack by its height",
	"clutch-pushrod":   "length and diameter are judged between slave and plate",
	"clutch-slave":     "bore, stroke and holes are judged with the master",
	"clutch-springs":   "length, rate and diameter are judged in the hub",
	"clutch-stay":      "holes and what it carries are judged",
	"clutch-switch":    "plug and holes are judged",
	"contact-breaker":  "holes and lead are judged; its gap is set",
	"drain-plug":       "thread and length are judged in its hole",
	"filler-plug":      "thread and length are judged in its hole",
	"engine-cover":     "holes are judged; what stands inside it meets nothing that moves, or is a part of its own",
	"engine-plate":     "both its patterns are judged",
	"fork-guard":       "holes are judged; that it clears the wheel shows as the wheel is turned by hand",
	"plate-holder":     "holes are judged; that it clears the wheel is looked at with the shock compressed",
	"gear-rod":         "length and both threads are judged over what it reaches",
	"rod-end":          "thread and eye are judged on rod and pedal",
	"grab-rail":        "holes are judged where it bolts on",
	"headlamp-bracket": "clamp and holes are judged on leg and lamp",
	"manifold":         "holes and throat are judged between head and carburettor",
	"oil-cooler":       "holes and both ports are judged",
	"oil-filter":       "judged where it screws or slips on",
	"oil-hose":         "length, bore and both ends are judged along its run",
	"pickup":           "holes and what each pin carries are judged",
	"relay":            "what each pin carries is judged",
	"rotor":            "judged on its taper or shaft",
	"seat":             "what it rests on and its latch are judged",
	"seat-latch":       "judged in its lock",
	"seat-lock":        "judged on its latch",
	"stand-switch":     "holes and what each pin carries are judged",
	"subframe":         "each of its points is judged",
	"wheel-seal":       "judged on its sleeve and in its seat",
	"circlip":          "judged in its groove where one is recorded",
	"clip":             "holds a hose or lead, seen by eye",
	"lock-plate":       "holes or tabs are judged where recorded",
	"kit":              "judged part by part",
	"jet-kit":          "compared where recorded; the carburettor is set by them",
	"mirror":           "stem or holes are judged where recorded",
	"decal":            "looks",
	"reflector":        "looks, and local rules",
	"tool-tray":        "holds tools",
	"tool-kit":         "tools",
	"tank-bag":         "lies on the tank",
	"balance-weight":   "set where the wheel asks for it",
}

// harmless are the standard kinds without a safety class, each with why a place of theirs
// has none unless the machine gives it one. Common practice, no source.
var harmless = map[graph.KindID]string{
	// What is everywhere has the class of what it holds, seals or carries.
	"bearing": "of its place", "dust-seal": "of its place", "bolt": "of what it holds", "nut": "of what it holds",
	"stud": "of what it holds", "washer": "of what it lies under",
	"circlip": "of what it keeps", "split-pin": "of what it keeps", "clip": "of what it holds",
	"insert": "of the part it is set in", "collar": "of what bears on it", "grommet": "of what it carries",
	"gasket": "of what it seals", "o-ring": "of what it seals", "spring": "of what it draws back",
	"lock-plate": "of what it keeps from turning", "kit": "of each of its parts",
	"hose-clamp": "of the hose it closes", "rubber-hose": "of what goes through it",

	"choke-lever":    "a choke that stays shut or open is felt, and the cable, which can hold the throttle, has a class",
	"choke-plunger":  "a mixture too rich or too thin; the throttle shuts all the same",
	"airbox":         "holds the filter; the throttle shuts all the same",
	"airbox-boot":    "leads air; the throttle shuts all the same",
	"air-filter":     "dirt wears the engine in the long run",
	"jet-kit":        "sets the mixture; the throttle shuts all the same",
	"engine-sensor":  "a wrong value makes the engine run badly, or in the control unit's own way home",
	"speed-sensor":   "a wrong speed shown is judged by what the clocks show",
	"speedo-cable":   "a wrong speed shown is judged by what the clocks show",
	"clocks":         "what they show is judged by itself",
	"clock-bracket":  "holds what is read; what turns with the bars is judged at full lock",
	"radiator":       "without water the engine gets hot, which shows in time",
	"fan":            "as the radiator",
	"thermo-switch":  "as the radiator",
	"radiator-cap":   "as the radiator",
	"thermostat":     "as the radiator",
	"water-pump":     "as the radiator",
	"expansion-tank": "as the radiator",

	"exhaust-header":    "heat beside a line is judged with the line's class",
	"exhaust-collector": "heat beside a line is judged with the line's class",
	"silencer":          "heat beside a line is judged with the line's class",
	"exhaust-guard":     "keeps a leg off the heat",
	"exhaust-clamp":     "a leak is heard",
	"exhaust-gasket":    "a leak is heard",

	"type-plate":     "says which machine it is",
	"fork-dust-seal": "the oil seal behind it keeps the oil, and has a class",
	"fork-boot":      "a rubber that carries nothing and can't reach the wheel",
	"panel":          "on the frame; what turns with the bars is judged at full lock",
	"screen":         "what turns with the bars is judged at full lock",
	"fairing-stay":   "what turns with the bars is judged at full lock",
	"mirror":         "what the road asks for is told by itself",
	"mirror-adapter": "what the road asks for is told by itself",
	"reflector":      "what the road asks for is told by itself",
	"decal":          "looks",
	"tool-tray":      "holds tools",
	"tool-kit":       "tools",
	"tank-bag":       "lies on the tank",
}

// TestStandardKindsHaveAClass holds that a kind of part has a safety class, or is on the
// list with the reason why it needs none: unknown at a place without one is exit 0.
func TestStandardKindsHaveAClass(t *testing.T) {
	facts, err := loader.StandardSet(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	without := map[graph.KindID]bool{}
	for _, k := range facts.Kinds {
		if k.Safety != graph.SafetyNone {
			continue
		}
		without[k.ID] = true
		if harmless[k.ID] == "" {
			t.Errorf("%s has no safety class, and nobody says why", k.ID)
		}
	}
	for id := range harmless {
		if !without[id] {
			t.Errorf("%s is on the list and has a class", id)
		}
	}
	// Those that a review found without one, and what gives way with each.
	for id, want := range map[graph.KindID]graph.Safety{"footrest": graph.SafetyFooting, "hanger": graph.SafetyFooting,
		"side-stand": graph.SafetyFooting, "centre-stand": graph.SafetyFooting, "gear-pedal": graph.SafetyDrive,
		"chain-guard": graph.SafetyDrive, "front-mudguard": graph.SafetyWheel, "rear-mudguard": graph.SafetyWheel,
		"hugger": graph.SafetyWheel, "plate-holder": graph.SafetyWheel, "bar-weight": graph.SafetySteering,
		"grip":        graph.SafetySteering,
		"seal-washer": graph.SafetyDrive, "clutch-lever": graph.SafetyDrive, "spark-plug": graph.SafetyDrive} {
		for _, k := range facts.Kinds {
			if k.ID == id && k.Safety != want {
				t.Errorf("%s is of class %q, want %s", id, k.Safety, want)
			}
		}
	}
}

// TestStandardKindsAskForWhatDecides holds that a kind with a safety class demands
// something that is compared with the part which is replaced, or is on the list with the
// reason why its rules are enough: ends alone go on many a machine.
func TestStandardKindsAskForWhatDecides(t *testing.T) {
	facts, err := loader.StandardSet(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	wanted := map[graph.KindID]bool{}
	for _, k := range facts.Kinds {
		demands, compares := demandsOf(t, k)
		if demands == 0 || k.Safety != "" && compares == 0 {
			wanted[k.ID] = true
		}
		if wanted[k.ID] && endsAreAll[k.ID] == "" {
			t.Errorf("%s (%s) demands %d dimensions, none that is compared with the part it replaces: ask for what decides, "+
				"or say why its ends are all", k.ID, k.Safety, demands)
		}
	}
	for id := range endsAreAll {
		if !wanted[id] {
			t.Errorf("%s is on the list and need not be", id)
		}
	}
}

// demandsOf says how many dimensions every part of the kind must have, and how many of
// them are compared with those of the part that is replaced.
func demandsOf(t *testing.T, k graph.Kind) (demands, compares int) {
	for _, f := range k.Features {
		spec, ok := graph.FeatureKindNamed(f.Kind)
		if !ok {
			t.Fatalf("%s: no kind of feature %q", k.ID, f.Kind)
		}
		for _, d := range spec.Dims {
			if f.May || !d.Must || !d.Decides() {
				continue
			}
			demands++
			if d.Compared {
				compares++
			}
		}
	}
	return demands, compares
}

// packable are the hole patterns of standard kinds between which something may be made to
// go, and why: nothing that turns, slides or meshes stands elsewhere by it, or where it then
// stands is judged.
var packable = map[string][]string{
	"judged with the metal under it": {"brake-disc mount", "front-wheel disc-mount-left", "front-wheel disc-mount-right",
		"rear-wheel disc-mount", "wheel-hub disc-mount", "rear-sprocket mount", "rear-pulley mount",
		"sprocket-carrier sprocket-mount", "rear-wheel sprocket-mount", "wheel-hub sprocket-mount"},
	"a duct, with a gasket to either side": {"engine inlet-1", "engine inlet-2", "engine inlet-3", "engine inlet-4",
		"engine exhaust-1", "engine exhaust-2", "engine exhaust-3", "engine exhaust-4", "exhaust-header flange",
		"manifold mount", "fuel-tap mount", "fuel-tank tap-mount", "fuel-tank cap-mount", "fuel-tank pump-mount"},
	"carries what only hangs there": {"frame subframe-mount", "subframe frame-mount", "frame hanger-left",
		"frame hanger-right", "subframe rest-left", "subframe rest-right", "subframe silencer-hanger", "hanger mount",
		"frame coil-mount", "frame fairing-mount", "frame horn-mount", "silencer hanger",
		"exhaust-guard mount", "oil-cooler mount", "radiator fan-mount", "fan mount", "regulator mount",
		"rectifier mount", "field-regulator mount",
		"ignition-coil mount", "horn mount", "headlamp mount", "headlamp-bracket lamp-mount", "tail-lamp mount",
		"plate-lamp mount", "clocks mount", "clock-bracket yoke-side", "clock-bracket clock-side", "hose-splitter mount",
		"yoke-lower splitter-mount", "yoke-upper clock-mount", "reservoir mount", "mirror mount", "panel lamp-mount",
		"panel mirror-mount", "fairing-stay frame-side", "fairing-stay lamp-mount", "fairing-stay clock-mount",
		"fairing-stay mirror-mount", "seat-lock mount", "grab-rail mount", "plate-holder lamp-mount"},
	"covers or guards": {"chain-guard mount", "chain-slider mount", "swingarm slider-mount", "swingarm guard-mount",
		"sprocket-cover mount", "engine sprocket-cover-mount", "fork-guard mount", "fork-leg guard-mount",
		"front-mudguard mount-left", "front-mudguard mount-right", "fork-leg mudguard-lug", "fork-slider mudguard-lug",
		"hugger mount"},
	"a switch, set on its holes": {"brake-switch mount", "master-cylinder switch-mount", "brake-perch switch-mount",
		"clutch-lever switch-mount", "clutch-master switch-mount", "clutch-switch mount", "ignition-switch mount",
		"yoke-upper switch-mount", "stand-switch mount", "side-stand switch-mount"},
	"the other side says that nothing goes between": {"clutch-cover stay-mount", "hanger master-mount"},
}

// What is bolted on and fixes where a shaft, a gear, a pushrod or the chain's line stands
// has nothing made to go between it and what carries it: a plate would move all of that, and
// nothing judges by how much. Geometry.
func TestNothingGoesUnderWhatFixesAShaft(t *testing.T) {
	facts, err := loader.StandardSet(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	why := map[string]string{}
	for reason, names := range packable {
		for _, name := range names {
			why[name] = reason
		}
	}
	for _, k := range facts.Kinds {
		for _, f := range k.Features {
			name := string(k.ID) + " " + f.Name
			switch reason, ok := why[name]; {
			case f.Kind != "bolt-pattern":
			case ok && f.Direct:
				t.Errorf("%s is direct, and listed as %q", name, reason)
			case !ok && !f.Direct:
				t.Errorf("%s: may something be made to go between? Then list why, else say direct", name)
			}
			delete(why, name)
		}
	}
	for name := range why {
		t.Errorf("%s is no feature of a standard kind", name)
	}
}
