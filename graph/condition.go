package graph

// Soundness says whether one particular part may be used for what it was made
// for.
type Soundness int

// How sound a part is, best first.
const (
	// Sound is a part of which nothing bad is known.
	Sound Soundness = iota
	// Doubtful is one to be looked at, measured or put right before it is used.
	Doubtful
	// Scrap is one that must not be used.
	Scrap
)

// String is "sound", "doubtful" or "scrap".
func (s Soundness) String() string { return [...]string{"sound", "doubtful", "scrap"}[s] }

// PartState is a word for the state of one particular part.
type PartState struct {
	Word string
	Is   Soundness
	Then string // what to do about it; empty for a sound one
}

// Conditions are the words for the state of a part, sound ones first. What is
// scrap and what may be put right is common practice, no source.
func Conditions() []PartState {
	return []PartState{
		{"new", Sound, ""},
		{"good", Sound, ""},
		{"used", Sound, ""},
		{"rebuilt", Sound, ""},
		{"worn", Doubtful, "measure it against its limit"},
		{"corroded", Doubtful, "clean it and see how deep it goes"},
		{"scored", Doubtful, "measure how deep"},
		{Leaking, Doubtful, "find where and renew what seals"},
		{"seized", Doubtful, "free it, then see what it did"},
		{"rough", Doubtful, "turn it by hand; a bearing that is rough is renewed"},
		{doubtful, Doubtful, "look at it closely before it is used"},
		{"hardened", Doubtful, "bend it: rubber that cracks is renewed"},
		{"cracked", Scrap, "not to be used or welded"},
		{"bent", Scrap, "not to be used or bent back"},
		{"broken", Scrap, "not to be used"},
		{"stripped", Scrap, "not to be used until its thread is renewed"},
		{"torn", Scrap, "not to be used"},
		{"perished", Scrap, "not to be used"},
		{"frayed", Scrap, "not to be used"},
		{"burnt", Scrap, "not to be used"},
		{"scrap", Scrap, "not to be used"},
	}
}

// ConditionNamed finds a condition by its word; false for a word that is none.
func ConditionNamed(word string) (PartState, bool) {
	for _, c := range Conditions() {
		if c.Word == word {
			return c, true
		}
	}
	return PartState{}, false
}

// Leaking is the condition of a part that fluid or oil comes out of.
const Leaking = "leaking"

// doubtful is the condition of a part that somebody mistrusts, and of one that needs work.
const doubtful = "doubtful"

// WearLimit says of a dimension of a sort of feature by which other one of the
// same feature it is worn out.
type WearLimit struct {
	Kind string // of feature
	Dim  string // what wears
	By   string // the dimension that holds the limit
	Most bool   // the limit is the most it may be, not the least
	Past string // what a part beyond the limit is: "worn out"
}

// WearLimits are the dimensions that wear towards a limit, by the kind of
// feature, then the dimension. The program knows no limit of its own: each is the
// maker's, on the part or in the manual, or for a tyre that of the rules of the road,
// and stands in the data with its source.
func WearLimits() []WearLimit {
	return []WearLimit{
		{Kind: "chain", Dim: "span", By: "most-span", Most: true, Past: "drawn out"},
		{Kind: "disc-rim", Dim: "runout", By: "most-runout", Most: true, Past: "out of true"},
		{Kind: "disc-rim", Dim: "thickness", By: "minimum", Past: "worn out"},
		{Kind: "drum", Dim: "diameter", By: "most", Most: true, Past: "worn out"},
		{Kind: "friction-plate", Dim: "thickness", By: "minimum", Past: "worn out"},
		{Kind: "pad", Dim: "lining", By: "minimum", Past: "worn out"},
		{Kind: "rim", Dim: "hop", By: "most-hop", Most: true, Past: "out of true"},
		{Kind: "rim", Dim: "sway", By: "most-sway", Most: true, Past: "out of true"},
		{Kind: "shaft", Dim: "runout", By: "most-runout", Most: true, Past: "bent"},
		{Kind: "shoes", Dim: "lining", By: "minimum", Past: "worn out"},
		{Kind: "spring", Dim: "length", By: "minimum", Past: "sagged"},
		{Kind: "steel-plate", Dim: "warp", By: "most-warp", Most: true, Past: "out of flat"},
		{Kind: "tyre", Dim: "tread", By: "least-tread", Past: "worn out"},
	}
}
