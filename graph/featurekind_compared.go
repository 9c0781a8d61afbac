package graph

import "matewell/graph/measure"

// comparedKinds are what no rule can judge, since nothing that the part meets
// tells it: compared with that of the part which is replaced. Common practice,
// no source.
func comparedKinds() []FeatureKind {
	return []FeatureKind{
		{"gasket", "a sheet that seals two faces", []DimSpec{
			must("outline", "outline, by the number of what it seals or as traced", measure.Word, eye,
				"laid on the old one").compared(),
			must("thickness", "thickness, new", measure.Length, micro, hundredth).compared(),
			must("material", "what it is made of", measure.Word, eye, seen).compared(),
		}},
		{"friction", "the lining of a pad or shoe", []DimSpec{
			must("compound", "sort of lining", measure.Word, eye, "marking").oneOf("organic", "sintered",
				"semi-sintered").compared(),
			may("marks", "friction letters on the plate", measure.Word, eye, "marking").compared(),
		}},
		{"lever-throw", "how a lever blade moves what it works", []DimSpec{
			must("ratio", "pivot to hand over pivot to pushrod or cable", measure.Ratio, vernier, "2 %").compared(),
			may("rod", "form of what it pushes with", measure.Word, eye, seen).oneOf("face", "pushrod", "bushed pin").compared(),
			may("reach", "lever to grip at rest", measure.Length, rule, "1 mm").compared(),
			may("travel", "way of the lever at the fingers until all is open or released", measure.Length, rule,
				"1 mm").compared(),
		}},
		{"cam-lever", "the lever on a cam or shaft that a rod or cable pulls", []DimSpec{
			must("length", "middle of the cam or shaft to where it is pulled", measure.Length, vernier, halfMM).compared(),
		}},
		{"cam-lobe", "what of a brake cam spreads the shoes", []DimSpec{
			must("thickness", "across its flats, where the shoes rest", measure.Length, vernier, tenth).compared(),
			must("height", "across it the other way, as far as it can spread the shoes", measure.Length, vernier,
				tenth).compared(),
		}},
		{"over-ends", "how long a shaft is that works between two ends", []DimSpec{
			must("length", "length over both ends", measure.Length, vernier, halfMM).compared(),
		}},
		{"damping", "spring and damper of a shock absorber", []DimSpec{
			must("spring", "rate of the spring", measure.Stiffness, scale, "3 %").compared(),
			must("valving", "valving, by its maker's mark or by the machine it was set for", measure.Word, eye,
				"marking").compared(),
		}},
		{"spokes", "spokes of one wheel", []DimSpec{
			must("count", "number of spokes", measure.Count, eye, counted).compared(),
			must("length", "length from the bend to the end, of each sort", measure.Sizes, vernier, halfMM).compared(),
			must("thickness", "thickness of the wire", measure.Length, micro, hundredth).compared(),
		}},
		{"plug-heat", "how warm a spark plug runs", []DimSpec{
			must("heat", "heat value, by its maker's scale", measure.Word, eye, "marking").compared(),
			may("resistor", "has a resistor", measure.YesNo, eye, "marking").compared(),
		}},
		{"suppressor", "a cap on a spark plug", []DimSpec{
			must("resistance", "resistance", measure.Resistance, meter, "5 %").compared(),
			must("terminal", "end of the plug it takes", measure.Word, eye, seen).oneOf("nut", "thread").compared(),
		}},
		{"jetting", "what a carburettor is set to", []DimSpec{
			must("main", "main jets, from the first cylinder on", measure.Words, eye, "marking").compared(),
			may("needle", "needle and its clip", measure.Word, eye, "marking").compared(),
			may("idle", "idle jets", measure.Words, eye, "marking").compared(),
		}},
		{"pressure-cap", "a cap that holds pressure", []DimSpec{
			must("opens", "pressure at which it opens", measure.Pressure, eye, "marking").compared(),
			must("depth", "seat of the neck to the seat of its valve", measure.Length, depth, halfMM).compared(),
		}},
		{"thermostat", "a thermostat", []DimSpec{
			must("opens", "temperature at which it opens", measure.Temperature, eye, "marking").compared(),
			must("diameter", "outside diameter", measure.Length, vernier, tenth).compared(),
		}},
		{"ignition-map", "when an ignition unit fires", []DimSpec{
			must("map", "mark of the unit, or the machine it was set for", measure.Word, eye, "marking").compared(),
			may("limit", "engine speed at which it cuts out, in turns a minute", measure.Count, eye, "book").compared(),
		}},
		{"clock-scale", "what the speedometer is marked in", []DimSpec{
			must("unit", "unit that its figures are in", measure.Word, eye, seen).oneOf("km/h", "mph", "both").compared(),
		}},
		{"lamp-switch", "a switch that lights the brake lamp", []DimSpec{
			must("worked-by", "what works it", measure.Word, eye, seen).oneOf("lever", "spring", "pressure").compared(),
		}},
		{"stator-stack", "the iron of a stator, which the rotor turns round", []DimSpec{
			must("diameter", "diameter that faces the rotor", measure.Length, vernier, tenth).compared(),
			must("width", "width of the iron", measure.Length, vernier, tenth).compared(),
		}},
		{"starter-drive", "how a starter motor turns", []DimSpec{
			must("turns", "way its pinion turns, looked at from its end", measure.Word, eye, seen).oneOf("left",
				"right").compared(),
			must("reach", "mounting face to the end of its pinion", measure.Length, vernier, halfMM).compared(),
		}},
		{"injector-flow", "how much an injector lets through", []DimSpec{
			must("mark", "mark of the injector, or the machine it was made for", measure.Word, eye, "marking").compared(),
			must("resistance", "resistance", measure.Resistance, meter, "0.1 ohm").compared(),
		}},
		{"pump-output", "what a fuel pump gives", []DimSpec{
			must("pressure", "pressure that it holds", measure.Pressure, eye, "book").compared(),
		}},
	}
}
