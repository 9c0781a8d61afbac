package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Caution is a warning that ends an answer which touches a safety class.
type Caution struct {
	Safety graph.Safety `json:"safety,omitempty"` // empty for what holds for every class
	Text   string       `json:"text"`
}

// CautionsFor gives the warnings for the safety classes touched, one for each
// class in the order of graph.SafetyClasses, then what holds for all of them.
// Without a class other than none there is no warning.
//
// They say who must check and what overrides the answer, and name no limit:
// limits belong to the maker's manual. Common practice, no source.
func CautionsFor(classes ...graph.Safety) []Caution { return closed(classCautions(classes)) }

// CautionsAbout does so where parts with features of these kinds are changed as
// well; see lampCautions.
func CautionsAbout(featureKinds []string, classes ...graph.Safety) []Caution {
	return closed(append(classCautions(classes), lampCautions(featureKinds)...))
}

func classCautions(classes []graph.Safety) []Caution {
	var cautions []Caution
	for _, class := range graph.SafetyClasses() {
		if slices.Contains(classes, class) {
			cautions = append(cautions, Caution{Safety: class, Text: cautionText(class)})
		}
	}
	return cautions
}

// closed adds what holds for all warnings, when there is one.
func closed(cautions []Caution) []Caution {
	if len(cautions) == 0 {
		return nil
	}
	return append(cautions,
		Caution{Text: "The maker's manual for the machine, and for the part that carries the thread or the fluid, " +
			"overrides this answer."},
		Caution{Text: "Whether the change is allowed on the road, and who must approve it, is decided by local rules."})
}

// What local rules have to say about lamps. Which lamp may be used where is not
// in the facts, so the words name what to look for and no verdict. Common
// practice, no source.
const (
	beamCaution = "Headlamp: which one may be used on the road (the side its dipped beam kicks up to, its approval " +
		"mark) is decided by local rules; " +
		"its aim is set afresh before anyone rides in the dark."
	lampCaution = "Lamps: which lamp and which bulb may be used on the road, and the approval mark they must carry, is " +
		"decided by local rules."
)

// lampCautions gives the warning for what is among the sorts of feature of the
// parts touched: a dipped beam, else what holds a bulb or the bulb itself.
func lampCautions(featureKinds []string) []Caution {
	switch {
	case slices.Contains(featureKinds, "beam"):
		return []Caution{{Text: beamCaution}}
	case slices.Contains(featureKinds, "lamp-holder"), slices.Contains(featureKinds, "lamp-cap"):
		return []Caution{{Text: lampCaution}}
	}
	return nil
}

// FeatureKindsOf are the sorts of feature of a part: those it is described
// with, and those that every part of its kind has.
func FeatureKindsOf(part graph.Part, kind graph.Kind) []string {
	all := lists.Mapped(part.Features, func(f graph.Feature) string { return f.Kind })
	for _, f := range kind.Features {
		if !f.May {
			all = append(all, f.Kind)
		}
	}
	return all
}

func cautionText(class graph.Safety) string {
	switch class {
	case graph.SafetyBrake:
		return "Brakes: a second person who knows the work checks it, and the brake is proved at walking pace, before " +
			"anyone rides."
	case graph.SafetySteering:
		return "Steering: a second person who knows the work checks it from lock to lock, fork extended and compressed, " +
			"before anyone rides."
	case graph.SafetyWheel:
		return "Wheels: a second person who knows the work checks axle, spacers and free running before anyone rides."
	case graph.SafetyDrive:
		return "Drive: a second person who knows the work checks the chain line and its fastenings, that no oil leaks, and " +
			"that clutch and gears obey, before anyone rides."
	case graph.SafetyThrottle:
		return "Throttle: a second person who knows the work checks that it snaps shut by itself at every bar position " +
			"before anyone rides."
	case graph.SafetyFuel:
		return "Fuel: a second person who knows the work looks for leaks, tap open and tank full, before the engine is " +
			"started; no flame, no spark, " +
			"and no line near the exhaust."
	case graph.SafetyWiring:
		return "Wiring: a second person who knows the work checks fuses, earths and where leads lie, away from heat and " +
			"moving parts, before the battery is joined."
	case graph.SafetyLights:
		return "Lamps and horn: a second person sees and hears each of them work before anyone rides; without them " +
			"the machine is not fit for the road."
	case graph.SafetyFooting:
		return "Rests, stands and seat: a second person who knows the work checks that each bears a rider's weight, and " +
			"that stands swing up and stay up, before anyone rides."
	}
	return ""
}
