package queries

import (
	"slices"

	"matewell/graph"
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
func CautionsFor(classes ...graph.Safety) []Caution {
	var cautions []Caution
	for _, class := range graph.SafetyClasses() {
		if slices.Contains(classes, class) {
			cautions = append(cautions, Caution{Safety: class, Text: cautionText(class)})
		}
	}
	if len(cautions) == 0 {
		return nil
	}
	return append(cautions,
		Caution{Text: "The maker's manual for the machine, and for the part that carries the thread or the fluid, overrides this answer."},
		Caution{Text: "Whether the change is allowed on the road, and who must approve it, is decided by local rules."})
}

func cautionText(class graph.Safety) string {
	switch class {
	case graph.SafetyBrake:
		return "Brakes: a second person who knows the work checks it, and the brake is proved at walking pace, before anyone rides."
	case graph.SafetySteering:
		return "Steering: a second person who knows the work checks it from lock to lock, fork extended and compressed, before anyone rides."
	case graph.SafetyWheel:
		return "Wheels: a second person who knows the work checks axle, spacers and free running before anyone rides."
	case graph.SafetyDrive:
		return "Drive: a second person who knows the work checks the chain line and its fastenings before anyone rides."
	case graph.SafetyThrottle:
		return "Throttle: a second person who knows the work checks that it snaps shut by itself at every bar position before anyone rides."
	}
	return ""
}
