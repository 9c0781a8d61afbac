package swap

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/assemble"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
)

// lapsing is what somebody's word on a part comes to on the machine after the
// change. Somebody found it with the machine's own parts around it: what must be
// changed with it may be changed already, and what it did not agree with may be
// gone.
func lapsing(ctx context.Context, x *judging, row fits.FitsRow) (fits.FitsRow, error) {
	switch {
	case row.Verdict == graph.FitsWithChanges:
		row.Changes = lists.Kept(slices.Clone(row.Changes), func(c evidence.Change) bool { return !isOn(x, c.Part) })
		if len(row.Changes) == 0 {
			row.Verdict = graph.Fits
			row.Why += "; what it asks for is changed with it"
		}
	case row.Verdict == graph.DoesNotFit && row.Via == evidence.ViaFinding:
		gone, err := goneFrom(ctx, x, row)
		if err != nil {
			return row, err
		}
		if len(gone) > 0 {
			row.Verdict = graph.Fits
			row.Why = fmt.Sprintf("lapses: it was found against what was built at %s, which is another now (it said: %s)",
				strings.Join(lists.Mapped(gone, graph.PositionID.Local), ", "), row.Why)
		}
	}
	return row, nil
}

// isOn reports whether a part is put on somewhere by the change.
func isOn(x *judging, part graph.PartID) bool {
	return part != "" && slices.ContainsFunc(x.After.Changed(),
		func(id graph.PositionID) bool { return x.After.Seat(id).Part.ID == part })
}

// goneFrom are the places that a finding speaks of, when what it was found against is
// there no longer: those that meet the features which were measured for it. None when
// one of them is as built. Where nothing was measured it speaks of the place as a whole: then it is
// gone once what the part is bolted to came over with it, joined as on the machine they are from.
func goneFrom(ctx context.Context, x *judging, row fits.FitsRow) ([]graph.PositionID, error) {
	var features []string
	for _, f := range x.After.Library().FindingsOf(row.Part) {
		if f.Position != row.Position || f.Verdict != row.Verdict || f.Withdrawn != "" {
			continue
		}
		if len(f.Measured) == 0 {
			return boltedTo(ctx, x, row.Position)
		}
		features = append(features, lists.Mapped(f.Measured, func(m graph.Measured) string { return m.Feature })...)
	}
	places := x.Met(row.Position, features)
	if slices.ContainsFunc(places, x.isAsBuilt) {
		return nil, nil
	}
	return places, nil
}

// boltedTo are the places to which something is bolted, where all of them came over with it as they are
// joined on another machine; none otherwise. A line that is bolted to it carries nothing.
func boltedTo(ctx context.Context, x *judging, id graph.PositionID) ([]graph.PositionID, error) {
	elsewhere, err := x.joinedElsewhere(ctx, endsOf)
	if err != nil {
		return nil, err
	}
	var places []graph.PositionID
	for _, j := range x.Joints {
		one := assemble.JointOf(x.After, j)
		if !slices.Contains(one.Ends(), id) || !one.Holds || one.Fluid || one.Electric || len(one.Fasteners) == 0 {
			continue
		}
		if _, inside := elsewhere[j.ID]; !inside {
			return nil, nil
		}
		places = append(places, one.Other(id))
	}
	return lists.Unique(places), nil
}
