package shop

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Fluids are what fills the circuits that hold fluid, of the machine of a setup.
// The grade is what every part of the circuit that says so allows.
func Fluids(s *machine.Setup, circuits []graph.Circuit) []Consumed {
	var all []Consumed
	for _, c := range circuits {
		if c.Carries == "current" || c.Carries == "fuel" {
			continue
		}
		one := Consumed{What: c.Carries, Grade: gradeOf(s, c), At: slices.Clone(c.Feeds)}
		one.Amount, one.Unknown = amountOf(c.Fill, 1)
		all = append(all, one)
	}
	return all
}

// gradeOf is what all members of a circuit allow that say what they allow.
func gradeOf(s *machine.Setup, c graph.Circuit) string {
	var common []string
	said := false
	for _, id := range c.Members {
		f, ok := machine.FeatureOfKind(s.Seat(id).Part, "fluid")
		allows := strings.FieldsFunc(machine.BestText(f, "allows"), func(r rune) bool { return r == ',' || r == ';' })
		allows = lists.Mapped(allows, strings.TrimSpace)
		switch {
		case !ok || len(allows) == 0:
		case !said:
			common, said = allows, true
		default:
			common = lists.Kept(common, func(word string) bool { return slices.Contains(allows, word) })
		}
	}
	switch {
	case !said:
		return "which one nobody recorded"
	case len(common) == 0:
		return "none that all its parts allow: settle that first"
	}
	return strings.Join(common, " or ")
}
