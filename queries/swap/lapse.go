package swap

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
)

// lapsing is what somebody's word on a part comes to on the machine after the
// change. Somebody found it with the machine's own parts around it: what must be
// changed with it may be changed already, and what it did not agree with may be
// gone.
func lapsing(x *judging, row fits.FitsRow) fits.FitsRow {
	switch {
	case row.Verdict == graph.FitsWithChanges:
		row.Changes = lists.Kept(slices.Clone(row.Changes), func(c evidence.Change) bool { return !isOn(x, c.Part) })
		if len(row.Changes) == 0 {
			row.Verdict = graph.Fits
			row.Why += "; what it asks for is changed with it"
		}
	case row.Verdict == graph.DoesNotFit && row.Via == evidence.ViaFinding:
		if gone := goneFrom(x, row); len(gone) > 0 {
			row.Verdict = graph.Fits
			row.Why = fmt.Sprintf("lapses: it was found against what was built at %s, which is another now (it said: %s)",
				strings.Join(lists.Mapped(gone, graph.PositionID.Local), ", "), row.Why)
		}
	}
	return row
}

// isOn reports whether a part is put on somewhere by the change.
func isOn(x *judging, part graph.PartID) bool {
	return part != "" && slices.ContainsFunc(x.After.Changed(),
		func(id graph.PositionID) bool { return x.After.Seat(id).Part.ID == part })
}

// goneFrom are the places that a finding speaks of, when what it was found against is
// there no longer: those that meet the features which were measured for it. None when
// one of them is as built, or when nothing was measured, since then it speaks of
// the place as a whole.
func goneFrom(x *judging, row fits.FitsRow) []graph.PositionID {
	var features []string
	for _, f := range x.After.Library().FindingsOf(row.Part) {
		if f.Position != row.Position || f.Verdict != row.Verdict || f.Withdrawn != "" {
			continue
		}
		if len(f.Measured) == 0 {
			return nil
		}
		features = append(features, lists.Mapped(f.Measured, func(m graph.Measured) string { return m.Feature })...)
	}
	places := x.Met(row.Position, features)
	if slices.ContainsFunc(places, x.isAsBuilt) {
		return nil
	}
	return places
}
