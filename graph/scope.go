package graph

import (
	"slices"

	"matewell/graph/measure"
)

// Scope says on which variants of a model something holds. Every empty field
// means "all".
type Scope struct {
	Years   measure.Years
	Markets []string // sorted
	Marks   []string // sorted
	Frames  measure.Frames
}

// IsZero reports whether the scope holds everywhere.
func (s Scope) IsZero() bool {
	return s.Years.IsZero() && len(s.Markets) == 0 && len(s.Marks) == 0 && s.Frames.IsZero()
}

// Covers reports whether the scope holds for the whole variant: every field
// that is stated matches, and the variant's frame numbers lie wholly inside
// those of the scope. A variant whose frame numbers are not known is not
// covered by a scope that states some.
func (s Scope) Covers(v Variant) bool {
	return s.matches(v) && s.Frames.Covers(v.Frames)
}

// Touches reports whether the scope may hold for a part of the variant only:
// every other field matches, and the frame numbers overlap but do not lie
// inside, or those of the variant are not known. A scope that covers the
// variant does not touch it.
func (s Scope) Touches(v Variant) bool {
	return s.matches(v) && !s.Frames.Covers(v.Frames) && s.Frames.Overlaps(v.Frames)
}

// MayHold reports whether the scope covers or touches the variant.
func (s Scope) MayHold(v Variant) bool { return s.Covers(v) || s.Touches(v) }

// matches compares everything but frame numbers.
func (s Scope) matches(v Variant) bool {
	return s.Years.Has(v.Year) &&
		(len(s.Markets) == 0 || slices.Contains(s.Markets, v.Market)) &&
		(len(s.Marks) == 0 || slices.Contains(s.Marks, v.Mark))
}
