package graph

import "strings"

// Identities are plain text that a person can type. They are distinct types so
// that a part number can't be handed over where a position is wanted.
type (
	// BrandID is the brand as printed, such as "Tarnholt".
	BrandID string
	// PartID is brand, one space, canonical number: "Tarnholt 207.4418b/kr".
	PartID string
	// KindID names a kind of part: "caliper".
	KindID string
	// ModelID is a model as sold: "skerry-620".
	ModelID string
	// VariantID is model/year/market, with /mark behind it where a model year
	// holds several: "skerry-620/2003/eu/late".
	VariantID string
	// AssemblyID is model:assembly: "skerry-620:front-brake".
	AssemblyID string
	// PositionID is model:assembly/position:
	// "skerry-620:front-brake/caliper-left".
	PositionID string
	// JointID, RunID, CircuitID and StackID are model:name, unique among
	// their own sort.
	JointID   string
	RunID     string
	CircuitID string
	StackID   string
	// FitmentID and SupersessionID are made by the loader from the row's own
	// content, so that the same row gives the same identity in every run.
	FitmentID      string
	SupersessionID string
	// SourceID names a source: "parts-list-2003".
	SourceID string
	// FindingID names a finding; unique over all people's findings.
	FindingID string
	// BikeID names a user's own machine.
	BikeID string
	// JobID names the rebuilding of an assembly: "front-calipers".
	JobID string
)

// Ends reports whether a kind is what a word says, whatever sort of it: "nut", "axle-nut".
func (k KindID) Ends(word string) bool {
	return string(k) == word || strings.HasSuffix(string(k), "-"+word)
}

// Model is the part of the identity before the colon; empty when there is none.
func (p PositionID) Model() ModelID {
	model, _, ok := strings.Cut(string(p), ":")
	if !ok {
		return ""
	}
	return ModelID(model)
}

// On is the position that goes by the same name on a model, whether or not that has it.
func (p PositionID) On(model ModelID) PositionID { return PositionID(string(model) + ":" + p.Local()) }

// Local is the identity without its model: "front-brake/caliper-left".
func (p PositionID) Local() string {
	_, local, ok := strings.Cut(string(p), ":")
	if !ok {
		return string(p)
	}
	return local
}

// Assembly is the assembly the position belongs to: everything before the
// first slash.
func (p PositionID) Assembly() AssemblyID {
	assembly, _, _ := strings.Cut(string(p), "/")
	return AssemblyID(assembly)
}

// Local is the identity without its model: "front-brake".
func (a AssemblyID) Local() string {
	_, local, ok := strings.Cut(string(a), ":")
	if !ok {
		return string(a)
	}
	return local
}

// Model is the model of the variant: everything before the first slash.
func (v VariantID) Model() ModelID {
	model, _, _ := strings.Cut(string(v), "/")
	return ModelID(model)
}

// Brand is the part's brand: everything before the first space.
func (p PartID) Brand() BrandID {
	brand, _, _ := strings.Cut(string(p), " ")
	return BrandID(brand)
}

// Number is the part's number without its brand.
func (p PartID) Number() string {
	_, number, _ := strings.Cut(string(p), " ")
	return number
}

// FeatureRef points at one feature of whatever part sits at a position:
// "front-brake/caliper-left.port".
type FeatureRef struct {
	Position PositionID
	Feature  string
}

// String is the reference as printed: the position without its model, a dot,
// the feature.
func (f FeatureRef) String() string { return f.Position.Local() + "." + f.Feature }
