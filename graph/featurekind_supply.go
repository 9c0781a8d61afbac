package graph

import "matewell/graph/measure"

// lineEndKinds are the ends of hoses, what they go on, and how fuel and mixture
// come in.
func lineEndKinds() []FeatureKind {
	return []FeatureKind{
		{"spigot", "a pipe that a hose or rubber goes over", []DimSpec{
			must("diameter", "outside diameter, behind the bead", measure.Length, vernier, tenth),
			must("carries", "what flows in it", measure.Word, eye, seen),
		}},
		{"hose-end", "the end of a hose or rubber that goes over a pipe", []DimSpec{
			must("bore", "bore, off the pipe", measure.Length, vernier, tenth),
			must("outside", "outside diameter, off the pipe", measure.Length, vernier, tenth),
			must("for", "what it is made to carry, all of it", measure.Words, eye, "marking"),
		}},
		{"hose-clamp", "a clamp on a hose", []DimSpec{
			must("range", "diameters it closes on, as a range", measure.Length, eye, "marking"),
		}},
		{"tank-outlet", "where a tap or pump sits in the tank", []DimSpec{
			must("form", "threaded, or flange with bolts", measure.Word, eye, seen).oneOf("threaded", "flange"),
			must("opening", "free opening", measure.Length, vernier, tenth),
			may("thread", "thread of a threaded one", measure.Thread, pitch, "pitch and hand"),
			may("spacing", "bolt centres of a flange", measure.Length, vernier, tenth),
		}},
		{"tap-inlet", "the end of a tap or pump that goes into the tank", []DimSpec{
			must("form", "threaded, or flange with bolts", measure.Word, eye, seen).oneOf("threaded", "flange"),
			must("body", "thickest part that enters the tank", measure.Length, vernier, tenth),
			may("thread", "thread of a threaded one", measure.Thread, pitch, "pitch and hand"),
			may("spacing", "bolt centres of a flange", measure.Length, vernier, tenth),
		}},
		{"throat-row", "throats side by side: carburettors, inlet stubs, airbox", []DimSpec{
			must("count", "number of throats", measure.Count, eye, counted),
			may("spacing-1", "middle of the first to the middle of the second, from the left", measure.Length, vernier, halfMM),
			may("spacing-2", "second to third", measure.Length, vernier, halfMM),
			may("spacing-3", "third to fourth", measure.Length, vernier, halfMM),
		}},
	}
}

// supplyKinds are what makes, keeps, guards and takes current.
func supplyKinds() []FeatureKind {
	fuses := []string{"blade", "mini blade", "glass", "ceramic", "link"}
	return []FeatureKind{
		{"fuse", "a fuse", []DimSpec{
			must("rating", "rated current", measure.Current, eye, "marking"),
			must("form", "form", measure.Word, eye, seen).oneOf(fuses...),
		}},
		{"fuse-holder", "what holds a fuse", []DimSpec{
			must("rating", "fuse the place is made for", measure.Current, eye, "marking or wiring diagram"),
			must("form", "form", measure.Word, eye, seen).oneOf(fuses...),
		}},
		{"wire", "the thinnest wire of a lead", []DimSpec{
			must("size", "section, as 0.75 mm2 or 18 AWG", measure.Word, vernier, "0.05 mm over the strands"),
			may("rating", "current its maker allows", measure.Current, eye, "marking"),
		}},
		{"consumer", "what takes current", []DimSpec{
			must("power", "power", measure.Power, eye, "marking"),
			must("voltage", "voltage", measure.Voltage, eye, "marking"),
		}},
		{"stator", "what makes current", []DimSpec{
			must("phases", "number of phases: one with two wires, three with three", measure.Count, eye, counted),
			must("voltage", "system voltage", measure.Voltage, eye, "book"),
			may("power", "most it gives", measure.Power, eye, "book"),
			may("field", "what makes its field: magnets, or a winding that is fed", measure.Word, eye, seen).oneOf("magnets",
				"winding"),
		}},
		{"rectifier", "what makes direct current of alternating, apart from the regulator", []DimSpec{
			must("phases", "number of phases it takes", measure.Count, eye, counted),
			may("power", "most it stands", measure.Power, eye, "marking"),
		}},
		{"field-control", "what feeds the winding of an alternator, apart from the rectifier", []DimSpec{
			must("voltage", "system voltage", measure.Voltage, eye, "marking"),
			must("ceiling", "voltage it charges to", measure.Voltage, meter, "0.1 V"),
			must("switches", "which end of the winding it switches", measure.Word, meter, "function").oneOf("plus",
				"earth").compared(),
		}},
		{"regulator", "what rectifies and holds the voltage", []DimSpec{
			must("phases", "number of phases it takes", measure.Count, eye, counted),
			must("voltage", "system voltage", measure.Voltage, eye, "marking"),
			must("ceiling", "voltage it charges to", measure.Voltage, meter, "0.1 V"),
			may("power", "most it stands", measure.Power, eye, "marking"),
			may("field", "what it is made for: magnets, whose current it shorts, or a winding that it feeds", measure.Word,
				eye, "marking").oneOf("magnets", "winding"),
		}},
		{"battery", "a battery", []DimSpec{
			must("voltage", "voltage", measure.Voltage, eye, "marking"),
			must("length", "length", measure.Length, rule, "1 mm"),
			must("width", "width", measure.Length, rule, "1 mm"),
			must("height", "height with its terminals", measure.Length, rule, "1 mm"),
			must("plus", "side of the plus pole, terminals towards you", measure.Word, eye, seen).oneOf("left", "right"),
			must("ceiling", "charging voltage its maker allows, as a range", measure.Voltage, eye, "marking"),
		}},
		{"battery-box", "the room for a battery", []DimSpec{
			must("length", "length", measure.Length, rule, "1 mm"),
			must("width", "width", measure.Length, rule, "1 mm"),
			must("height", "height under the strap", measure.Length, rule, "1 mm"),
			must("plus", "side that the plus cable reaches", measure.Word, eye, seen).oneOf("left", "right"),
		}},
		{"ignition-coil", "an ignition coil", []DimSpec{
			must("voltage", "voltage", measure.Voltage, eye, "marking"),
			must("primary", "resistance of the primary", measure.Resistance, meter, "0.1 ohm"),
			must("leads", "number of plug leads", measure.Count, eye, counted),
		}},
		{"ignition-output", "what switches an ignition coil: points or a unit", []DimSpec{
			must("voltage", "voltage", measure.Voltage, eye, "marking"),
			must("primary", "primary resistance it allows, as a range", measure.Resistance, eye, "book"),
			must("leads", "plug leads that each output must serve", measure.Count, eye, counted),
		}},
	}
}
