package conflicts

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// dimensions finds readings of one dimension of a part that contradict one
// another, those of findings among them.
func (c *contradicting) dimensions(context.Context) error {
	for _, id := range c.parts {
		part, ok := c.library.Ranked(id, nil)
		if !ok {
			continue
		}
		for _, f := range part.Features {
			kind, _ := graph.FeatureKindNamed(f.Kind)
			for _, name := range lists.KeysOf(f.Dims) {
				spec, _ := kind.Dim(name)
				groups := c.library.Evidence().ValueGroups(spec, f.Dims[name], nil)
				if len(groups) < 2 {
					continue
				}
				at := c.placesOf(id)
				row := ConflictRow{Sort: ConflictDimension, About: fmt.Sprintf("%s of %s of %s", name, f.Name, id), Part: id,
					At:     at,
					Safety: c.safetyAt(at), Settle: evidence.MeasureText(part, f.Name, name),
					settle: settling{part: id, at: at, measured: true}}
				row.Sides, row.Open = c.voicesOf(groups)
				c.rows = append(c.rows, row)
			}
		}
	}
	return nil
}

// supersessions finds edges between two parts that state different directions
// for machines that both cover, and edges that lead both ways.
func (c *contradicting) supersessions(ctx context.Context) error {
	edges, err := c.r().SupersessionsOf(ctx, c.parts...)
	if err != nil {
		return err
	}
	var cites []graph.Cite
	for _, e := range edges {
		cites = append(cites, e.Said...)
	}
	if err := c.library.Evidence().Load(ctx, c.r(), cites); err != nil {
		return err
	}
	for i, a := range edges {
		for _, b := range edges[i+1:] {
			if a.Old == b.Old && a.New == b.New && scopesMeet(a.Scope, b.Scope) {
				c.direction(a, b, a.New, a.Old, a.NewOnOld, b.NewOnOld)
				c.direction(a, b, a.Old, a.New, a.OldOnNew, b.OldOnNew)
			}
			if a.Old == b.New && a.New == b.Old && scopesMeet(a.Scope, b.Scope) {
				c.bothWays(a, b)
			}
		}
	}
	return nil
}

func (c *contradicting) direction(a, b graph.Supersession, part, on graph.PartID, x, y graph.Usable) {
	if x == graph.NotStated || y == graph.NotStated || x == y {
		return
	}
	c.dispute(a, b, fmt.Sprintf("%s in the place of %s", part, on), x.String(), y.String(), part, on)
}

func (c *contradicting) bothWays(a, b graph.Supersession) {
	c.dispute(a, b, fmt.Sprintf("which of %s and %s is the newer", a.Old, a.New),
		fmt.Sprintf("%s took the place of %s", a.New, a.Old), fmt.Sprintf("%s took the place of %s", b.New, b.Old), a.New,
		a.Old)
}

func (c *contradicting) dispute(a, b graph.Supersession, about, saysA, saysB string, part, on graph.PartID) {
	at := lists.Unique(append(c.placesOf(part), c.placesOf(on)...))
	row := ConflictRow{Sort: ConflictSupersession, About: about, Part: part, At: at, Safety: c.safetyAt(at),
		Settle: fmt.Sprintf("offer %s up where %s sits, or look for a later bulletin", part, on),
		settle: settling{part: part, at: at}}
	for _, s := range []struct {
		says string
		said []graph.Cite
	}{{saysA, a.Said}, {saysB, b.Said}} {
		voices := c.library.Evidence().Voices(s.said, nil)
		row.Sides = append(row.Sides, ConflictVoices{Says: s.says, Rank: evidence.Together(voices),
			Sources: evidence.Distinct(voices)})
	}
	row.Open = row.Sides[0].Rank == row.Sides[1].Rank
	if row.Sides[1].Rank > row.Sides[0].Rank {
		slices.Reverse(row.Sides)
	}
	c.rows = append(c.rows, row)
}

// scopesMeet reports whether some machine may be in both scopes.
func scopesMeet(a, b graph.Scope) bool {
	shared := func(x, y []string) bool {
		return len(x) == 0 || len(y) == 0 || slices.ContainsFunc(x, func(s string) bool { return slices.Contains(y, s) })
	}
	years := a.Years.IsZero() || b.Years.IsZero() || a.Years.Overlaps(b.Years)
	frames := a.Frames.IsZero() || b.Frames.IsZero() || a.Frames.Overlaps(b.Frames)
	return years && frames && shared(a.Markets, b.Markets) && shared(a.Marks, b.Marks)
}

// torqueSpec is what torques of joints are read as.
func torqueSpec() graph.DimSpec { return graph.DimSpec{Name: "torque", Type: measure.Torque} }
