package graph

import "matewell/graph/diag"

// Method is how the finder knows.
type Method string

// The methods, best first.
const (
	MethodMeasured Method = "measured"
	MethodPhoto    Method = "fitted and photographed"
	MethodFitted   Method = "fitted"
	MethodRead     Method = "read"
	MethodHeard    Method = "heard"
)

// Methods are all methods, best first.
func Methods() []Method {
	return []Method{MethodMeasured, MethodPhoto, MethodFitted, MethodRead, MethodHeard}
}

// Finding is someone's claim that a part fits, or not, at a position.
type Finding struct {
	ID       FindingID
	Part     PartID
	Position PositionID  // may be empty when only dimensions were measured
	On       []VariantID // sorted
	Bike     BikeID      // the machine it was tried on, when it was one's own
	Verdict  Verdict
	Changes  []Change
	Measured []Measured
	Method   Method
	Date     string
	By       string
	Origin   string // where it was taken from; empty when it is first hand
	Photos   []string
	Note     string
	// Withdrawn is the reason it was taken back; empty while it stands.
	Withdrawn   string
	WithdrawnOn string
	Source      SourceID // the source it came by; its own when it is first hand
	Pos         diag.Pos
}

// Change is something that had to be done to make a part fit.
type Change struct {
	Do     string // "shim the caliper 2 mm outward"
	Effort Effort
	Part   PartID // a part that was needed for it; may be empty
}

// Measured is a dimension somebody measured on the very part.
type Measured struct {
	Feature string
	Dim     string
	Text    string // as written
	With    string // the gauge
}
