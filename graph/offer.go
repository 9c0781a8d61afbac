package graph

import (
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// Offer is something that can be had: a part, a box, a complete front end. It is
// had whole or not at all.
type Offer struct {
	Name  string // as the plan calls it; no two have the same
	Title string // in the seller's words; may be empty
	// Price is for all of it. The zero Money is a gift.
	Price measure.Money
	// Unpriced is true where nobody named a price; Price is zero then.
	Unpriced bool
	// Postage is paid once for a parcel, whatever lies in it. The zero Money is
	// none: it is fetched, or sent free.
	Postage measure.Money
	// Parcel names what it is sent in. Offers with the same one come together and
	// pay the dearest postage of theirs once; empty is a parcel of its own.
	Parcel    string
	Condition Condition
	// Variant is the machine it comes off, whose places Holds and Without name;
	// empty when only Parts says what it is.
	Variant VariantID
	// Holds are places and assemblies of the variant, by local name: what that was
	// built with there is in the offer. Without are those that are missing.
	Holds, Without []string
	// Parts are further parts, named by their numbers.
	Parts []OfferedPart
	Pos   diag.Pos
}

// OfferedPart is some number of one part in an offer.
type OfferedPart struct {
	Part      PartID
	Quantity  int // 1 or more
	Condition Condition
	Note      string
	Pos       diag.Pos
}

// Condition is in what state an offered thing is, as far as one can tell before
// it is bought.
type Condition string

// The conditions. The empty Condition counts as ConditionUsed.
const (
	ConditionNew     Condition = "new"
	ConditionUsed    Condition = "used"
	ConditionInspect Condition = "to inspect" // nobody who knows has looked at it
)

// Asked is what is asked for all of it, in words: "35 EUR", "unknown".
func (o Offer) Asked() string {
	if o.Unpriced {
		return PriceUnknown
	}
	return o.Price.String()
}

// PriceUnknown is written where nobody named a price.
const PriceUnknown = "unknown"
