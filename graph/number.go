package graph

// Number is a part number taken apart. Revision and Colour are empty when the
// number has none.
type Number struct {
	Text     string // canonical spelling, as the brand writes it
	Core     string // what makes it this part
	Revision string
	Colour   string
}

// NumberForm is how a brand writes its numbers, as masks in which 9 stands for
// a digit, A for a letter, and anything else for itself: core "999.9999",
// revision "a" is written with the letter mask "A".
type NumberForm struct {
	Core     string
	Revision string
	Colour   string
}
