package graph

import "matewell/graph/measure"

// reachKinds are how far a part reaches from where it is held: where it puts a foot, a
// hand, a wheel or the end of a rod. Its ends may well go on another machine that it does
// not suit, and no rule can tell from what it meets: it is compared with the part that is
// replaced. Common practice, no source.
func reachKinds() []FeatureKind {
	up := func(name, is string) DimSpec {
		return must(name, is, measure.Length, rule, "1 mm").signed().compared()
	}
	long := func(name, is string) DimSpec {
		return must(name, is, measure.Length, vernier, halfMM).compared()
	}
	return []FeatureKind{
		{"foot-place", "where a hanger has its rest or pedal, from its foremost mounting hole", []DimSpec{
			up("forward", "middle of the bolt or pivot forward of the hole (minus: behind)"),
			up("upward", "middle of the bolt or pivot above the hole (minus: below)"),
			up("outward", "middle of the hinge or pivot outward from the face it bolts to"),
		}},
		{"rest-reach", "where a footrest has the foot, from its hinge", []DimSpec{
			must("length", "hinge to the outer end", measure.Length, rule, "1 mm").compared(),
			up("rise", "top of the rest above the hinge bolt (minus: below)"),
			up("back", "middle of the rest behind the hinge bolt (minus: before)"),
		}},
		{"pedal-pad", "where a pedal has the foot, from its pivot", []DimSpec{
			up("rise", "top of the pad above the pivot, at rest (minus: below)"),
			up("out", "middle of the pad outward from the inner face of the pivot"),
			must("angle", "between the foot's arm and the rod's arm, seen from the side", measure.Angle, protract,
				"1 deg").compared(),
		}},
		{"lever-knuckle", "where a hand lever presses or pulls", []DimSpec{
			long("reach", "pivot to the middle of what presses the piston or holds the cable"),
		}},
		{"lever-hinge", "where a perch has its lever", []DimSpec{
			long("bar", "middle of the bar to the middle of the pivot"),
			long("line", "middle of the pivot to the line in which the cable is pulled"),
		}},
		{"eye-to-eye", "how far apart a part holds two others", []DimSpec{
			long("length", "middle of the one eye or bore to the middle of the other"),
		}},
		{"rocker-arms", "the arms of a rocker", []DimSpec{
			long("frame-shock", "middle of the frame's eye to that of the shock"),
			long("frame-rod", "middle of the frame's eye to that of the rod"),
			long("shock-rod", "middle of the shock's eye to that of the rod"),
		}},
		{"riser-set", "how a riser sets a handlebar", []DimSpec{
			up("back", "middle of its bar clamp behind the middle of its bolt (minus: before)"),
		}},
		{"damper-stroke", "how far a steering damper goes", []DimSpec{
			long("length", "eye to the end of the body, pushed in"),
			long("stroke", "way from end to end"),
		}},
		{"brake-hold", "what of a brake a leg holds", []DimSpec{
			must("holds", "what is held on it", measure.Word, eye, seen).oneOf("caliper", "brake plate",
				"nothing").compared(),
		}},
		{"axle-lead", "how a leg carries the axle", []DimSpec{
			up("lead", "axle before the middle of the tube (minus: behind)"),
		}},
		{"guard-room", "the room for a tyre under a mudguard", []DimSpec{
			must("width", "inside width where the tyre runs", measure.Length, rule, "1 mm").compared(),
			must("radius", "axle to the inside of its top, bolted on", measure.Length, tape, "1 mm").compared(),
		}},
		{"spoke-flanges", "where a hub has its spokes", []DimSpec{
			long("left", "middle of the left row of holes to the middle between the bearings"),
			long("right", "middle of the right row of holes to the middle between the bearings"),
		}},
		{"adjuster", "how a chain adjuster sits in the arm", []DimSpec{
			long("width", "width in the arm"),
			long("length", "middle of the axle's bore to the end that bears on the arm"),
		}},
		{"slider", "what of a slider the chain runs over", []DimSpec{
			must("outline", "outline, by the number of the arm it is made for or as traced", measure.Word, eye,
				"laid on the old one").compared(),
			must("thickness", "thickness under the chain, new", measure.Length, vernier, tenth).compared(),
		}},
		{"pipe-shape", "how a rigid pipe is bent", []DimSpec{
			must("outline", "shape, by the number of the pipe or as traced", measure.Word, eye,
				"laid on the old one").compared(),
		}},
		{"tank-cap", "what closes the neck of a tank", []DimSpec{
			must("form", "what holds it", measure.Word, eye, seen).oneOf("bolted", "bayonet", "screwed").compared(),
			long("diameter", "what enters the neck, across"),
			must("vent", "whether it lets air in", measure.Word, eye, seen).oneOf("vented", "closed").compared(),
		}},
	}
}
