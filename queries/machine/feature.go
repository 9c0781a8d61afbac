package machine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// passing are kinds of features that only pass what they meet, and hold nothing.
var passing = []string{"disc-rim", "caliper-slot", "tyre-room", "swing", "swing-room", "steering-stop", "signal-in",
	"signal-out", "rod-room", "friction", "beam", "drum"}

// OnlyPasses reports whether a feature of a kind only passes what it meets, and holds
// nothing.
func OnlyPasses(kind string) bool { return slices.Contains(passing, kind) }

// LineKinds are the kinds of feature that make a part a line: what runs from one
// place to another and has a length.
func LineKinds() []string { return []string{"hose", "cable", "lead"} }

// IsLine reports whether a part is a hose, cable or lead.
func IsLine(p graph.Part) bool {
	return slices.ContainsFunc(LineKinds(), func(kind string) bool { return HasKind(p, kind) })
}

// WetKinds are the kinds of feature that fluid goes through.
func WetKinds() []string { return []string{"port", "banjo", "screwed-end"} }

// LengthIn is a length of a feature as best known, in mm; false when nobody gave it or
// it can't be read.
func LengthIn(f graph.Feature, dim string) (float64, bool) {
	v, err := measure.Kept(BestText(f, dim), measure.Length)
	return v.Quantity.Nominal, err == nil
}

// HasKind reports whether a part has a feature of a kind.
func HasKind(p graph.Part, kind string) bool { return ofKind(p.Features, kind) >= 0 }

// ofKind is the index of the first feature of a kind; -1 when there is none. It is
// asked so often that the features are not copied.
func ofKind(features []graph.Feature, kind string) int {
	for i := range features {
		if features[i].Kind == kind {
			return i
		}
	}
	return -1
}

// FeatureOfKind is the first feature of a kind, by name.
func FeatureOfKind(p graph.Part, kind string) (graph.Feature, bool) {
	at := ofKind(p.Features, kind)
	if at < 0 {
		return graph.Feature{}, false
	}
	return p.Features[at], true
}

func numberOf(f graph.Feature, dim string, t measure.Type) (float64, bool) {
	q, err := measure.ParseQuantity(BestText(f, dim), t)
	return q.Nominal, err == nil
}

// LegFormOf is which way up a fork leg is built: where the seal runs on a thinner tube than the
// yokes hold, it is upside-down. Without both sizes its name says so, else it is empty: nobody
// recorded it. Common practice, no source.
func LegFormOf(leg graph.Part) graph.LegForm {
	slides, _ := leg.Feature("stanchion")
	held, _ := leg.Feature("tube-lower")
	thin, known := numberOf(slides, "diameter", measure.Length)
	wide, both := numberOf(held, "diameter", measure.Length)
	switch {
	case known && both && thin < wide-1:
		return graph.UpsideDown
	case known && both:
		return graph.Conventional
	case strings.Contains(leg.Name, string(graph.UpsideDown)):
		return graph.UpsideDown
	}
	return ""
}

// Painted is the finish of a part that belongs to a colour scheme.
func Painted(p graph.Part) (graph.Feature, bool) {
	f, ok := FeatureOfKind(p, "finish")
	return f, ok && len(f.Dims["scheme"]) > 0
}

// BestText is the best reading of a dimension as written; empty when nobody
// gave it.
func BestText(f graph.Feature, dim string) string {
	if readings := f.Dims[dim]; len(readings) > 0 {
		return readings[0].Text
	}
	return ""
}

// NameOf is "Tarnholt 207.4418b, caliper, left"; the number alone for a part without a
// name.
func NameOf(p graph.Part) string {
	if p.Name == "" {
		return string(p.ID)
	}
	return string(p.ID) + ", " + p.Name
}

// IsHardware reports whether a kind of part is loose hardware, which only holds
// other parts together: the sorts that fasteners.csv holds.
func IsHardware(kind graph.KindID) bool {
	return kind != "" && IsOrderedBySize(kind) ||
		slices.Contains([]graph.KindID{"seal-washer", "banjo-bolt", "collar"}, kind)
}

// IsOrderedBySize reports whether a kind of part is hardware of which there are
// hundreds, got by its sizes and not looked for among all numbers; what has no kind
// counts as such.
func IsOrderedBySize(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"", "bolt", "nut", "washer", "stud", "clip", "circlip", "split-pin", "insert"},
		kind)
}

// RunsRound reports whether a kind of feature is what runs from the output shaft to the
// rear wheel: a chain over sprockets, or a toothed belt over pulleys.
func RunsRound(kind string) bool { return kind == "chain" || kind == "belt" }
