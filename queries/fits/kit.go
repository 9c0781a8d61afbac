package fits

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
)

func contentLink(kit graph.Part, content graph.Content) evidence.Link {
	return evidence.Link{Kind: evidence.StepKit, Text: fmt.Sprintf("kit %s holds %d x %s", kit.ID, content.Quantity,
		content.Part),
		WrongIf: evidence.WrongKit, Cites: kit.Said}
}

// restOf is everything in the kit besides the part, as changes.
func restOf(kit graph.Part, part graph.PartID) []evidence.Change {
	var changes []evidence.Change
	for _, c := range kit.Contains {
		if c.Part != part {
			changes = append(changes, evidence.Change{Do: fmt.Sprintf("fit with it: %d x %s", c.Quantity, c.Part),
				Effort: graph.EffortHandTools, Part: c.Part})
		}
	}
	return changes
}

// saysOnlyKit reports whether a row about a kit rests on nothing but what it
// holds.
func saysOnlyKit(row FitsRow, kit graph.Part) bool {
	more := slices.ContainsFunc(row.Steps,
		func(s evidence.Step) bool { return s.Kind != evidence.StepKit && s.Kind != evidence.StepFact })
	return row.Via == evidence.ViaKit && row.Verdict == graph.Fits && kit.IsKit() && len(row.ContradictedBy) == 0 && !more
}

// covered reports whether some of the rows together hold for every variant of
// the row.
func covered(row FitsRow, rows []FitsRow, some []int) bool {
	return !slices.ContainsFunc(row.Coverage.On, func(v graph.VariantID) bool {
		return !slices.ContainsFunc(some, func(i int) bool { return slices.Contains(rows[i].Coverage.On, v) })
	})
}

// heldIn is the place of a part among what a kit holds, -1 when it is not there.
func heldIn(kit graph.Part, part graph.PartID) int {
	return slices.IndexFunc(kit.Contains, func(c graph.Content) bool { return c.Part == part })
}

// isNamed reports whether a job for a machine lays a part out, as a kit or as one of
// its inner parts.
func isNamed(jobs []graph.Job, v graph.Variant, part graph.PartID) bool {
	return slices.ContainsFunc(jobs, func(j graph.Job) bool {
		if !slices.ContainsFunc(j.Places, func(id graph.PositionID) bool { return id.Model() == v.Model }) {
			return false
		}
		names := func(p graph.JobPart) bool { return p.Part == part && p.Scope.Covers(v) }
		return slices.ContainsFunc(j.Kits, names) || slices.ContainsFunc(j.Parts, names)
	})
}
