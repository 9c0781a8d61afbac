package mating

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// Excused reports whether a check was at least as bad before, by the same rule and by
// value. What was unknown before excuses nothing: nobody can say how bad it was.
func Excused(c Check, was []Check) bool {
	return c.Verdict == graph.Fits || slices.ContainsFunc(was, func(w Check) bool {
		return w.Rule == c.Rule && w.Verdict != graph.Unknown && w.Verdict >= c.Verdict && w.Effort >= c.Effort &&
			isAsFarApart(w, c)
	})
}

// isAsFarApart reports whether a gap was at least as large before as it is after, or
// is the very same, of whatever sort it is.
func isAsFarApart(before, after Check) bool {
	if before.Gap == after.Gap {
		return before.Gap != "" || isByTheSame(before, after)
	}
	b, errB := measure.ParseQuantity(before.Gap, measure.Length)
	a, errA := measure.ParseQuantity(after.Gap, measure.Length)
	return errA == nil && errB == nil && b.Nominal >= a.Nominal
}

// isByTheSame reports whether two checks of one rule met, wanted and read the same values.
func isByTheSame(before, after Check) bool {
	return before.Had == after.Had && before.Wanted == after.Wanted &&
		slices.EqualFunc(before.Uses, after.Uses, func(b, a Use) bool {
			return b.Position == a.Position && b.Dim == a.Dim && b.Reading.Text == a.Reading.Text
		})
}
