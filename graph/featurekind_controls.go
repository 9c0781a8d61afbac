package graph

import "matewell/graph/measure"

// controlKinds are what sits on the bars, what a hand or foot moves, and what
// tells the clocks.
func controlKinds() []FeatureKind {
	forms := []string{"hall", "inductive", "reed", "resistance", "switch", "voltage", "cable"}
	return []FeatureKind{
		{"bar-end", "the straight end of a handlebar or clip-on", []DimSpec{
			must("diameter", "outside diameter", measure.Length, vernier, tenth),
			must("straight", "straight length of one side, bend or clamp to the end", measure.Length, tape, "1 mm"),
			may("inside", "inside diameter at the end", measure.Length, vernier, tenth),
			may("peg-hole", "has a hole for the peg of a switch", measure.YesNo, eye, seen),
		}},
		{"bar-fitting", "what sits on the straight of a bar", []DimSpec{
			must("bore", "bore, closed on the bar", measure.Length, vernier, tenth),
			must("width", "length it takes of the bar", measure.Length, vernier, halfMM),
			must("turns", "turns on the bar, as a throttle does", measure.YesNo, eye, seen),
			may("peg", "has a peg that wants a hole in the bar", measure.YesNo, eye, seen),
		}},
		{"bar-weight", "a weight in the end of a bar", []DimSpec{
			must("plug", "bore it holds in, from slack to tight, as a range", measure.Length, vernier, tenth),
		}},
		{"cable-pull", "what draws a cable: lever, twist grip, pedal", []DimSpec{
			must("travel", "how far it draws the inner, all of its way", measure.Length, rule, halfMM),
			must("cables", "how many cables it works", measure.Count, eye, counted),
		}},
		{"cable-draw", "what a cable works: clutch arm, throttle wheel, brake arm", []DimSpec{
			must("travel", "how far it must be drawn, all of its way", measure.Length, rule, halfMM),
			must("cables", "how many cables it wants", measure.Count, eye, counted),
			may("most", "how far it may be drawn at most", measure.Length, rule, halfMM),
		}},
		{"ferrule", "the end of a cable's outer", []DimSpec{
			must("form", "plain or threaded", measure.Word, eye, seen).oneOf("plain", "threaded"),
			may("diameter", "diameter of a plain one", measure.Length, vernier, tenth),
			may("thread", "thread of a threaded one", measure.Thread, pitch, "pitch"),
		}},
		{"ferrule-seat", "where the end of a cable's outer sits", []DimSpec{
			must("form", "plain or threaded", measure.Word, eye, seen).oneOf("plain", "threaded"),
			may("diameter", "bore of a plain one", measure.Length, vernier, tenth),
			may("thread", "thread of a threaded one", measure.Thread, pitch, "pitch"),
		}},
		{"pedal", "the arms of a pedal or a bell crank", []DimSpec{
			must("foot", "pivot to the middle of the foot pad", measure.Length, tape, "1 mm"),
			must("rod", "pivot to the middle of the rod's eye", measure.Length, vernier, halfMM),
		}},
		{"pushrod", "a rod that pushes", []DimSpec{
			must("length", "length over its ends", measure.Length, vernier, halfMM),
			must("diameter", "diameter", measure.Length, vernier, tenth),
			must("end", "form of the end that pushes", measure.Word, eye, seen).oneOf("ball", "flat", "fork"),
		}},
		{"pushrod-seat", "where a pushrod works", []DimSpec{
			must("length", "length of rod that leaves its free play, shortest to longest setting", measure.Length, vernier,
				halfMM),
			must("bore", "bore it slides in", measure.Length, bore, tenth),
			must("end", "form of the end it takes", measure.Word, eye, seen).oneOf("ball", "flat", "fork"),
		}},
		{"link-rod", "a rod threaded at both ends, as of a gear pedal", []DimSpec{
			must("length", "length over all", measure.Length, vernier, halfMM).spans(),
			must("thread-1", "thread of one end", measure.Thread, pitch, "pitch and hand"),
			must("thread-2", "thread of the other end", measure.Thread, pitch, "pitch and hand"),
		}},
		{"rod-end", "a ball joint or fork that screws on a rod", []DimSpec{
			must("thread", "thread", measure.Thread, pitch, "pitch and hand"),
			must("depth", "depth of full thread", measure.Length, depth, halfMM),
			must("reach", "middle of the eye to the end of the thread's mouth", measure.Length, vernier, halfMM).spans(),
		}},
		{"signal-out", "what a sensor, sender or drive gives", []DimSpec{
			must("tells", "what it tells: speed, revs, temperature ...", measure.Word, eye, "marking"),
			must("form", "how it tells", measure.Word, meter, "function").oneOf(forms...),
			may("per-turn", "pulses, or turns of the cable, for each turn of what it reads", measure.Ratio, eye, counted),
			may("voltage", "feed it wants", measure.Voltage, meter, "1 V"),
			may("resistance", "resistance at 20 °C", measure.Resistance, meter, "5 %"),
			may("end", "form of the cable's end", measure.Word, eye, seen),
		}},
		{"signal-in", "what clocks or a control unit read", []DimSpec{
			must("tells", "what it reads: speed, revs, temperature ...", measure.Word, eye, "marking"),
			must("form", "how it wants to be told", measure.Word, meter, "function").oneOf(forms...),
			may("per-turn", "pulses, or turns of the cable, it takes for each turn", measure.Ratio, eye, "book"),
			may("per-km", "pulses, or turns of the cable, it takes for a kilometre", measure.Ratio, eye, "marking"),
			may("voltage", "feed it gives", measure.Voltage, meter, "1 V"),
			may("resistance", "resistance at 20 °C of the sender it wants", measure.Resistance, eye, "book"),
			may("end", "form of the cable's end it takes", measure.Word, eye, seen),
		}},
	}
}
