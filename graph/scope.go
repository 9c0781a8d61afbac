package graph

import "matewell/graph/measure"

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
