package conflicts

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/lists"
)

// joints finds torques of one joint that contradict one another.
func (c *contradicting) joints(ctx context.Context) error {
	joints, err := c.r().JointsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	for _, j := range joints {
		if len(j.Torque) < 2 {
			continue
		}
		at := append([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners...)
		row := ConflictRow{Sort: ConflictTorque, About: "torque of " + string(j.ID),
			Settle: fmt.Sprintf("read the maker's manual for %s: a torque is looked up, not measured", j.Model),
			settle: settling{look: "a look into the manual"}}
		if err := c.readings(ctx, row, torqueSpec(), j.Torque, at, j.On); err != nil {
			return err
		}
	}
	return nil
}

// runs finds lengths for one run that contradict one another.
func (c *contradicting) runs(ctx context.Context) error {
	runs, err := c.r().RunsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	length := graph.DimSpec{Name: "length", Type: measure.Length, Accuracy: "5 mm"} // a path is taken with a tape
	for _, run := range runs {
		at := []graph.PositionID{run.Line}
		tape := settling{look: "a tape along the path, nothing comes off"}
		for _, need := range run.Needs {
			row := ConflictRow{Sort: ConflictRun, About: fmt.Sprintf("length that %s needs, lock %s, fork %s", run.ID, need.Lock,
				need.Fork),
				Settle: fmt.Sprintf("lay a tape along the path of %s, lock %s, fork %s", run.Line.Local(), need.Lock, need.Fork),
				settle: tape}
			if err := c.readings(ctx, row, length, need.Length, at, run.On); err != nil {
				return err
			}
		}
		row := ConflictRow{Sort: ConflictRun, About: "free inner length that " + string(run.ID) + " needs",
			Settle: "measure the free inner length of " + run.Line.Local() + " with a tape", settle: tape}
		if err := c.readings(ctx, row, length, run.Inner, at, run.On); err != nil {
			return err
		}
	}
	return nil
}

// readings adds the row when readings of something at some places contradict
// one another and it is asked about.
func (c *contradicting) readings(ctx context.Context, row ConflictRow, spec graph.DimSpec, readings []graph.Reading,
	at []graph.PositionID, on []graph.VariantID) error {
	if len(readings) < 2 || !slices.ContainsFunc(at, func(id graph.PositionID) bool { return c.wants(id, on) }) ||
		!c.sitsAt(at) {
		return nil
	}
	if err := c.library.Evidence().Load(ctx, c.r(), lists.Mapped(readings,
		func(r graph.Reading) graph.Cite { return r.Cite })); err != nil {
		return err
	}
	groups := c.library.Evidence().ValueGroups(spec, readings, nil)
	if len(groups) < 2 {
		return nil
	}
	row.At = lists.Unique(slices.Clone(at))
	row.Safety = c.safetyAt(row.At)
	row.Sides, row.Open = c.voicesOf(groups)
	for _, cover := range queries.CoveragesOf(on, c.siblings) {
		row.Covers = joinText(row.Covers, string(cover.Model)+" "+cover.String())
	}
	c.rows = append(c.rows, row)
	return nil
}

// sitsAt reports whether the part asked about is listed or was tried at one of
// the places; true when no part is asked about.
func (c *contradicting) sitsAt(at []graph.PositionID) bool {
	return c.part == "" || slices.ContainsFunc(c.placesOf(c.part),
		func(id graph.PositionID) bool { return slices.Contains(at, id) })
}

func joinText(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}
