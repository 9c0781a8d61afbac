package mating

// Names of rules that others ask for.
const (
	BracketSideways = "bracket sideways" // how far a bracket carries a caliper towards or from the wheel
	SprocketLine    = "sprocket line"    // where a row of spacers has the sprocket stand
)

// OfBolts reports whether a check is of the bolts of a joint, and not of what they hold
// together.
func (c Check) OfBolts() bool {
	switch c.Rule {
	case "banjo bolt", "bolt class", "bolt in eye", "bolt reach", "bolt through", "bolts in holes", "thread engagement":
		return true
	}
	return false
}

// OfCaliper reports whether a check is of a caliper, on what carries it or over its disc.
func (c Check) OfCaliper() bool {
	switch c.Rule {
	case "caliper mount", "caliper height", "caliper over disc":
		return true
	}
	return false
}
