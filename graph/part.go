package graph

import (
	"slices"
	"sort"
	"strings"
)

// Brand is a maker of motorcycles or parts, with the way it writes numbers.
type Brand struct {
	ID BrandID
	// Form is how the brand writes its part numbers; the zero form means
	// numbers are taken as they stand, with no revision and no colour.
	Form NumberForm
	Said []Cite
}

// Kind is what a part is, and which features such a part must have.
type Kind struct {
	ID   KindID
	Name string // "brake caliper"
	Is   string // what it does and where it sits, in a phrase; may be empty
	// Safety is the class of the places such a part sits at, unless a place says
	// otherwise.
	Safety Safety
	// Road is what such a part does that a machine needs on the road, of RoadDuties,
	// sorted; a place may say otherwise.
	Road []string
	// Joins is true when such a part is made to go between two others that do not
	// meet each other: an adapter, a bracket, a sleeve, an extension. No part of
	// another kind is offered there, whatever its two sides measure.
	Joins    bool
	Features []KindFeature // sorted by name
	Said     []Cite
}

// KindFeature is a feature every part of a kind has. The dimensions it must
// have come from its FeatureKind.
type KindFeature struct {
	Name string // "port"
	Kind string // name of a FeatureKind: "port"
	May  bool   // true when a part of the kind may do without the feature
	// Direct is true when it meets its other side itself: nothing is made to go between
	// them, as between spokes and rim, a valve and its hole, a pad and its pin.
	Direct bool
	// Informs are the dimensions that decide elsewhere, but not for parts of
	// this kind; sorted by dimension.
	Informs []Informing
}

// Informing is a dimension that tells something and decides nothing.
type Informing struct {
	Dim string
	Why string // in words: "only tells how long the spigot is"
}

// Feature finds a feature of the kind by name.
func (k Kind) Feature(name string) (KindFeature, bool) {
	for _, f := range k.Features {
		if f.Name == name {
			return f, true
		}
	}
	return KindFeature{}, false
}

// WhyNot says why a dimension of a feature decides nothing about a part of the
// kind: what the kind says, else what the dimension itself says; empty when it
// decides. A feature that the kind does not name is taken as it stands.
func (k Kind) WhyNot(feature string, dim DimSpec) string {
	f, _ := k.Feature(feature)
	for _, i := range f.Informs {
		if i.Dim == dim.Name {
			return i.Why
		}
	}
	return dim.WhyNot()
}

// Part is one number of one brand.
type Part struct {
	ID       PartID
	Brand    BrandID
	Number   Number
	Kind     KindID
	Name     string
	Aliases  []Alias   // sorted by type, then text
	Features []Feature // sorted by name
	Contains []Content // what a kit contains, sorted by part; empty for others
	// Matched is true when the contents of a kit are made to each other; being
	// sold as a set alone does not mean that.
	Matched bool
	// Price is what it was offered for, as written ("35 EUR"); may be empty.
	Price []Reading
	// Gone is true when it is sold no more: there is only what somebody still has.
	Gone bool
	Note string
	Said []Cite
}

// AliasType says what sort of mark an alias is.
type AliasType string

// The types of alias.
const (
	AliasCasting  AliasType = "casting number"
	AliasSupplier AliasType = "supplier number"
	AliasSize     AliasType = "generic size"
	AliasOld      AliasType = "earlier spelling"
)

// AliasTypes are all types, in the order a person is offered them.
func AliasTypes() []AliasType {
	return []AliasType{AliasCasting, AliasSupplier, AliasSize, AliasOld}
}

// Alias is a mark on or for a part that is not its number. One alias may stand
// for several parts, and a part may have several.
type Alias struct {
	Type AliasType
	Text string
}

// Content is one line of a kit.
type Content struct {
	Part     PartID
	Quantity int // at least 1
}

// Feature is one mating feature of a part: what it is and what it measures.
type Feature struct {
	Name string
	Kind string // name of a FeatureKind
	// Dims are the readings by dimension name, each list sorted by source,
	// then place. A dimension that nobody gave is absent: never zero.
	Dims map[string][]Reading
}

// Needless reports whether a dimension that features of its kind must have says nothing of this one: how far one
// hole is apart from others.
func (f Feature) Needless(dim string) bool {
	count := f.Dims["count"]
	return f.Kind == "bolt-pattern" && dim == "spacing" && len(count) > 0 && strings.TrimSpace(count[0].Text) == "1"
}

// Feature finds a feature by name.
func (p Part) Feature(name string) (Feature, bool) {
	if i := FeatureNamed(p.Features, name); i >= 0 {
		return p.Features[i], true
	}
	return Feature{}, false
}

// fewFeatures is up to how many it is quicker to look at each name: most differ in length.
const fewFeatures = 16

// FeatureNamed is the index of the feature of a name among those of a part, which
// are sorted by name; -1 when there is none.
func FeatureNamed(features []Feature, name string) int {
	if len(features) <= fewFeatures {
		for i := range features {
			if features[i].Name == name {
				return i
			}
		}
		return -1
	}
	i := sort.Search(len(features), func(i int) bool { return features[i].Name >= name })
	if i < len(features) && features[i].Name == name {
		return i
	}
	return -1
}

// Keys are what the part is found by, as NumberKey makes them: its identity, its
// number, its core and its aliases, each once, in no order of meaning. Empty
// where none of them has a letter or digit.
func (p Part) Keys() []string {
	texts := []string{string(p.ID), p.Number.Text, p.Number.Core}
	for _, a := range p.Aliases {
		texts = append(texts, a.Text)
	}
	var keys []string
	for _, text := range texts {
		if key := NumberKey(text); key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// SameCore reports whether two parts are revisions or colours of one number; false for
// the zero Part.
func (p Part) SameCore(other Part) bool {
	return p.ID != "" && other.ID != "" && p.Brand == other.Brand && p.Number.CoreKey() == other.Number.CoreKey()
}

// IsKit reports whether the part contains other parts.
func (p Part) IsKit() bool { return len(p.Contains) > 0 }

// Holds is how many pieces of a part a kit contains; 0 when none.
func (p Part) Holds(part PartID) int {
	for _, c := range p.Contains {
		if c.Part == part {
			return c.Quantity
		}
	}
	return 0
}

// Pieces is how many pieces a kit contains in all; 0 for what is no kit.
func (p Part) Pieces() int {
	total := 0
	for _, c := range p.Contains {
		total += c.Quantity
	}
	return total
}

// NameWords are the words by which a part is found, each once or more.
func (p Part) NameWords() []string { return Words(p.Name + " " + string(p.Kind)) }
