package fits

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// settle names, for each contradicted row, the one measurement or look that
// would settle it: a dimension that a contradicting finding measured; else a
// dimension of a joint at that position on which the readings of the part
// disagree, or which nobody gave; else the first that the joint needs.
func (g *Ground) settle(ctx context.Context, rows []FitsRow) error {
	var at []graph.PositionID
	var ids []graph.PartID
	for _, row := range rows {
		if len(row.ContradictedBy) > 0 {
			at, ids = append(at, row.Position), append(ids, row.Part)
		}
	}
	if len(at) == 0 {
		return nil
	}
	joints, err := g.r.JointsAt(ctx, lists.Unique(at)...)
	if err != nil {
		return err
	}
	read, err := g.r.Parts(ctx, lists.Unique(ids)...)
	if err != nil {
		return err
	}
	parts := lists.ByKey(read, func(p graph.Part) graph.PartID { return p.ID })
	for i := range rows {
		if len(rows[i].ContradictedBy) > 0 {
			part := parts[rows[i].Part]
			part.Features = evidence.Overlaid(part, graph.Kind{}, g.Findings)
			rows[i].Settle = g.settleRow(rows[i], part, joints)
		}
	}
	return nil
}

func (g *Ground) settleRow(row FitsRow, part graph.Part, joints []graph.Joint) string {
	for _, against := range row.ContradictedBy {
		if against.Via == evidence.ViaListed && row.Via == evidence.ViaListed {
			return fmt.Sprintf("read the number on the part at %s of an untouched machine", row.Position.Local())
		}
		f := g.Evidence.Findings[graph.FindingID(against.Source.ID)]
		if len(f.Measured) > 0 {
			return evidence.MeasureText(part, f.Measured[0].Feature, f.Measured[0].Dim)
		}
	}
	if feature, dim, ok := openDimension(part, jointFeatures(row.Position, joints)); ok {
		return evidence.MeasureText(part, feature, dim)
	}
	return fmt.Sprintf("offer %s up at %s and photograph it", row.Part, row.Position.Local())
}

// jointFeatures are the names of the features at the position that meet
// something, sorted.
func jointFeatures(at graph.PositionID, joints []graph.Joint) []string {
	var names []string
	for _, j := range joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if ref.Position == at {
				names = append(names, ref.Feature)
			}
		}
	}
	return lists.Unique(names)
}

// openDimension picks the dimension that is most worth measuring: one with
// readings that disagree, else a needed one without a reading, else the first
// needed one.
func openDimension(part graph.Part, features []string) (feature, dim string, ok bool) {
	best := 0
	for _, name := range features {
		f, _ := part.Feature(name)
		kind, _ := graph.FeatureKindNamed(f.Kind)
		for _, spec := range kind.Dims {
			readings := f.Dims[spec.Name]
			worth := 0
			switch {
			case slices.ContainsFunc(readings, func(r graph.Reading) bool { return !evidence.Agree(spec, readings[0], r) }):
				worth = 4
			case spec.Must && len(readings) == 0:
				worth = 3
			case spec.Must && spec.Type.Measured():
				worth = 2
			case spec.Must:
				worth = 1 // a word that anybody can see
			}
			if worth > best {
				best, feature, dim, ok = worth, name, spec.Name, true
			}
		}
	}
	return feature, dim, ok
}
