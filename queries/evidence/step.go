package evidence

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

// MergeSteps adds steps to a trail; a step that is there already only gets the
// sources it lacks.
func MergeSteps(trail []Step, more []Step) []Step {
	for _, step := range more {
		at := -1
		for i := range trail {
			if trail[i].Kind == step.Kind && trail[i].Text == step.Text {
				at = i
				break
			}
		}
		if at < 0 {
			step.Sources = append([]Source(nil), step.Sources...)
			trail = append(trail, step)
			continue
		}
		trail[at].Sources = MergeSources(trail[at].Sources, step.Sources)
	}
	return trail
}
