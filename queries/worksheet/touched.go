package worksheet

import (
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// touched reads from the work and the answer what was touched.
func touched(b *builder, a swap.SwapAnswer, steps []donor.WorkStep) queries.Touched {
	t := queries.Touched{}
	see := func(id graph.PositionID) {
		if id == "" {
			return
		}
		p := b.after.Position(id)
		if p.Safety != graph.SafetyNone && !slices.Contains(t.Safety, p.Safety) {
			t.Safety = append(t.Safety, p.Safety)
		}
		for _, setup := range []*machine.Setup{b.before, b.after} {
			for _, f := range setup.Seat(id).Part.Features {
				t.Chain = t.Chain || slices.Contains([]string{"chain", "sprocket"}, f.Kind)
				t.Belt = t.Belt || slices.Contains([]string{"belt", "pulley"}, f.Kind)
				t.Beam = t.Beam || f.Kind == "beam"
			}
		}
	}
	for _, step := range steps {
		if step.Part != "" && step.Do != donor.DoMake { // what is made goes on a place that stays
			see(step.Position)
		}
		t.Fluid = t.Fluid || step.Do == donor.DoBleed
		t.Joints = true
	}
	for _, line := range a.Swaps {
		see(line.Position)
	}
	for _, c := range a.Cautions {
		if c.Safety != graph.SafetyNone && !slices.Contains(t.Safety, c.Safety) {
			t.Safety = append(t.Safety, c.Safety)
		}
	}
	for _, outcomes := range [][]examine.Outcome{a.Mates, a.WithChanges, a.DoesNotMate, a.Unknown} {
		for _, o := range outcomes {
			t.Lines = t.Lines || o.What == examine.OfRun
			t.Bars = t.Bars || o.What == examine.OfLock || o.What == examine.OfBarRoom
		}
	}
	return t
}
