package graph

import "matewell/graph/measure"

// steeringKinds are what turns with the bars, what stops it, and what a part is
// by its place: its hand, its cylinder, how the machine stands.
func steeringKinds() []FeatureKind {
	return []FeatureKind{
		{"steering-stop", "the faces that end the lock: a lug of the lower yoke, or of the frame", []DimSpec{
			must("radius", "steering axis to the middle of the face", measure.Length, rule, halfMM),
			must("height", "middle of the face above the seat of the lower bearing", measure.Length, rule, halfMM).signed(),
			must("angle", "middle line to the face, seen from above", measure.Angle, protract, halfDeg),
		}},
		{"swing", "the point of a turning part that comes closest to tank, cowl or radiator", []DimSpec{
			must("radius", "steering axis to the point", measure.Length, tape, fiveMM),
			must("angle", "middle line to the point, bars straight, seen from above", measure.Angle, protract, halfDeg),
			must("height", "above the middle of the steering head", measure.Length, tape, fiveMM).signed(),
		}},
		{"swing-room", "what a turning part could strike", []DimSpec{
			must("radius", "steering axis to its nearest point", measure.Length, tape, fiveMM),
			must("angle", "middle line to the side of it, seen from above", measure.Angle, protract, halfDeg),
			must("bottom", "its lower end above the middle of the steering head", measure.Length, tape, fiveMM).signed(),
			must("top", "its upper end above the middle of the steering head", measure.Length, tape, fiveMM).signed(),
		}},
		{"hand", "which place a part is made for", []DimSpec{
			must("hand", "side it is made for", measure.Word, eye, seen).oneOf("left", "right", "front", "rear", "either"),
			may("cylinder", "cylinder it is made for, counted as the machine's own book counts", measure.Count, eye, counted),
		}},
		{"stand", "a side or centre stand", []DimSpec{
			must("form", "side or centre", measure.Word, eye, seen).oneOf("side", "centre"),
			must("length", "pivot to the ground under the foot", measure.Length, tape, "1 mm"),
			may("spread", "leg from the upright, machine upright, outward positive", measure.Angle, protract, "1 deg").signed(),
		}},
		{"stand-pivot", "where a stand is hinged, machine upright on its wheels", []DimSpec{
			must("height", "pivot above the ground", measure.Length, tape, "1 mm"),
			may("side", "pivot from the middle of the machine", measure.Length, tape, "1 mm"),
		}},
	}
}
