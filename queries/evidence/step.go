package evidence

import "slices"

// StepKind says what sort of thing one step of a trail is.
type StepKind string

// The kinds of step.
const (
	StepFact         StepKind = "fact"         // a source lists it
	StepSupersession StepKind = "supersession" // one number took another's place
	StepKit          StepKind = "kit"          // a kit contains it
	StepFinding      StepKind = "finding"      // somebody found it out
	StepDimension    StepKind = "dimension"    // a measure that was used
	StepRule         StepKind = "rule"         // a rule of the trade that was applied
	StepComputed     StepKind = "computed"     // worked out from the steps before it
)

// Step is one step of the trail from what the sources say to an answer.
type Step struct {
	Kind StepKind `json:"kind"`
	Text string   `json:"text"`
	// Sources are the voices for the step in rank order; empty for a rule and
	// for what was computed.
	Sources []Source `json:"sources,omitempty"`
	// WrongIf is what would prove the step wrong.
	WrongIf string `json:"wrong_if,omitempty"`
}

// What would prove each kind of step wrong: the cheapest look or measurement
// that outranks a document.
const (
	WrongFact         = "the number read off an untouched machine of this variant is another one"
	wrongSupersession = "a later factory document states another direction, or the part offered up does not go on"
	WrongKit          = "a kit opened and counted holds something else"
	WrongFinding      = "the same part measured, or fitted and photographed again, shows otherwise"
)

// MergeSteps joins trails; a step that was there before only gets the sources it
// lacks. It takes time in proportion to the steps, however many there are.
func MergeSteps(trails ...[]Step) []Step {
	type key struct {
		kind StepKind
		text string
	}
	var merged []Step
	at, again := map[key]int{}, map[int]bool{}
	for _, step := range slices.Concat(trails...) {
		k := key{step.Kind, step.Text}
		i, had := at[k]
		if !had {
			at[k] = len(merged)
			step.Sources = slices.Clone(step.Sources)
			merged = append(merged, step)
			continue
		}
		merged[i].Sources = append(merged[i].Sources, step.Sources...)
		again[i] = true
	}
	for i := range again {
		merged[i].Sources = MergeSources(merged[i].Sources, nil)
	}
	return merged
}
