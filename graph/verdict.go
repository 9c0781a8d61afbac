package graph

import (
	"fmt"
	"slices"
	"strings"
)

// Verdict says whether things mate. The zero value is no verdict at all, so
// that a forgotten one is noticed and never read as "fits".
type Verdict int

// The verdicts, best first: of several, the worst one wins.
const (
	NoVerdict Verdict = iota // not judged; never printed as an answer
	Fits
	FitsWithChanges
	Unknown
	DoesNotFit
)

// verdictWords are the words a person types and reads, best first.
var verdictWords = [...]string{"", "fits", "fits with changes", "unknown", "does not fit"}

// String is the verdict in words, empty for NoVerdict.
func (v Verdict) String() string {
	if v < 0 || int(v) >= len(verdictWords) {
		return fmt.Sprintf("Verdict(%d)", int(v))
	}
	return verdictWords[v]
}

// MarshalText writes the verdict in words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads the words that String prints.
func (v *Verdict) UnmarshalText(text []byte) error {
	parsed, err := ParseVerdict(string(text))
	*v = parsed
	return err
}

// ParseVerdict reads a verdict in words. The error lists the words.
func ParseVerdict(s string) (Verdict, error) {
	for i, word := range verdictWords {
		if i > 0 && s == word {
			return Verdict(i), nil
		}
	}
	return NoVerdict, fmt.Errorf("verdict %q is none of: fits, fits with changes, unknown, does not fit", s)
}

// VerdictWords are the words of the verdicts, best first.
func VerdictWords() []string { return slices.Clone(verdictWords[Fits:]) }

// Worst is the worse of two verdicts.
func (v Verdict) Worst(other Verdict) Verdict { return max(v, other) }

// Effort is how hard a change is to make.
type Effort int

// The effort classes.
const (
	EffortNone       Effort = iota // nothing to do
	EffortHandTools                // hand tools
	EffortDrillShim                // drill or shim
	EffortLatheWeld                // lathe or weld
	EffortStructural               // structural work on a frame, fork or wheel
)

var effortWords = [...]string{"none", "hand tools", "drill or shim", "lathe or weld", "structural"}

// String is the class in words.
func (e Effort) String() string {
	if e < 0 || int(e) >= len(effortWords) {
		return fmt.Sprintf("Effort(%d)", int(e))
	}
	return effortWords[e]
}

// EffortWords are the words of the classes, least first.
func EffortWords() []string { return slices.Clone(effortWords[:]) }

// ParseEffort reads a class in words. The error lists the words.
func ParseEffort(s string) (Effort, error) {
	for i, word := range effortWords {
		if s == word {
			return Effort(i), nil
		}
	}
	return EffortNone, fmt.Errorf("effort %q is none of: %s", s, strings.Join(effortWords[:], ", "))
}

// Safety is the safety class of a position; the empty class is none.
type Safety string

// The safety classes.
const (
	SafetyNone     Safety = ""
	SafetyBrake    Safety = "brake"
	SafetySteering Safety = "steering"
	SafetyWheel    Safety = "wheel"
	SafetyDrive    Safety = "drive"
	SafetyThrottle Safety = "throttle"
	SafetyFuel     Safety = "fuel"   // what leaks may burn
	SafetyWiring   Safety = "wiring" // what shorts may burn, or stops the engine on the road
	SafetyLights   Safety = "lights" // lamps and horn: without them not fit for the road
	// SafetyFooting is of what rider or machine stand, sit or hold on by: what gives way
	// there throws the rider.
	SafetyFooting Safety = "footing"
)

// Place is where a class stands in SafetyClasses, from 0; none comes last.
func (s Safety) Place() int {
	if at := slices.Index(SafetyClasses(), s); at >= 0 {
		return at
	}
	return len(SafetyClasses())
}

// SafetyClasses are the classes other than none, in the order printed.
func SafetyClasses() []Safety {
	return []Safety{SafetyBrake, SafetySteering, SafetyWheel, SafetyDrive, SafetyThrottle, SafetyFuel, SafetyWiring,
		SafetyLights, SafetyFooting}
}
