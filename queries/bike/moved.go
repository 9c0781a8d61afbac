package bike

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// MovedRow is one part that hangs elsewhere than as built.
type MovedRow struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Where    string           `json:"where"` // where it hangs now, in words
	Note     string           `json:"note,omitempty"`
	// Verdict is the worst of Says: that something carries it, that it stands above
	// what it feeds, that its lines are neither taut nor too long.
	Verdict graph.Verdict `json:"verdict"`
	Says    []AgainstLine `json:"says"`
}

// movedRows judges what hangs elsewhere than as built.
func movedRows(ctx context.Context, m *ownMachine, outcomes []examine.Outcome) ([]MovedRow, error) {
	rows := []MovedRow{}
	for _, moved := range m.bike.Moved {
		p := m.setup.Position(moved.Position)
		row := MovedRow{Position: p.ID, Name: p.Name, Safety: p.Safety, Where: moved.Where(), Note: moved.Note,
			Verdict: graph.Fits}
		row.Says = append(row.Says, carried(m, moved))
		height, err := height(ctx, m, moved, outcomes)
		if err != nil {
			return nil, err
		}
		row.Says = append(row.Says, height...)
		for _, o := range outcomes {
			if o.What == examine.OfRun && slices.Contains(o.Run.Places(), p.ID) {
				row.Says = append(row.Says, AgainstLine{What: "line " + o.Run.Line.Local(), Verdict: o.After, Why: o.Why,
					Safety: examine.FirstSafety(o.Safety)})
			}
		}
		for _, line := range row.Says {
			row.Verdict = row.Verdict.Worst(line.Verdict)
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// carried says whether something carries a moved part.
func carried(m *ownMachine, moved graph.Moved) AgainstLine {
	line := AgainstLine{What: "support", Verdict: graph.Unknown}
	switch on := m.setup.Seat(moved.On); {
	case moved.Nothing:
		line.Verdict, line.Why = graph.DoesNotFit, "nothing carries it: it hangs on its lines"
	case moved.On == "" && isClamped(m, moved.Position):
		line.Verdict, line.Why = graph.Fits, "what it was clamped to before is there"
	case moved.On == "" && swap.IsHeld(m.setup, moved.Position, m.joints):
		line.Why = "what it was bolted to is there, but nobody recorded what holds it away from there: say it with on:, " +
			"and see that it can't turn, chafe or drop"
	case moved.On == "" && !swap.IsHeld(m.setup.AsBuilt(), moved.Position, m.joints):
		line.Why = "nobody recorded what carries it, as built or now: say it with on:, and see that it can't turn, chafe " +
			"or drop"
	case moved.On == "":
		line.Verdict, line.Why = graph.DoesNotFit, "what carried it is not there: nothing holds it"
	case on.Empty:
		line.Verdict, line.Why = graph.DoesNotFit, "nothing is at "+moved.On.Local()+", which is said to carry it"
	default:
		line.Why = "nobody recorded how it is fixed to " + moved.On.Local() + ": see that it can't turn, chafe or drop"
	}
	return line
}

// isClamped reports whether what carries a part has it in a clamp, in which it can be
// moved along and turned; what is bolted on sits in one place.
func isClamped(m *ownMachine, id graph.PositionID) bool {
	return slices.ContainsFunc(m.joints, func(j graph.Joint) bool {
		clamp := m.setup.KindOf(j.A) == "clamp" || m.setup.KindOf(j.B) == "clamp"
		return clamp && swap.IsHeld(m.setup, id, []graph.Joint{j})
	})
}

// height says whether a reservoir still stands above what it feeds: fluid must run
// down to the master cylinder. Source: geometry; that it must is common practice,
// no source.
func height(ctx context.Context, m *ownMachine, moved graph.Moved, outcomes []examine.Outcome) ([]AgainstLine, error) {
	if m.setup.Position(moved.Position).Kind != "reservoir" {
		return nil, nil
	}
	circuits, err := m.setup.Library().CircuitsTouching(ctx, m.setup.Variant.ID, []graph.PositionID{moved.Position})
	var lines []AgainstLine
	for _, c := range circuits {
		for _, fed := range c.Feeds {
			if fed != moved.Position {
				lines = append(lines, above(m, moved, fed, pathLength(outcomes, moved.Position)))
			}
		}
	}
	return lines, err
}

// pathLength is how long the longest line from a place is along its path, in mm, as the
// machine was built; zero when nobody measured it.
func pathLength(outcomes []examine.Outcome, from graph.PositionID) (longest float64) {
	for _, o := range outcomes {
		if o.What != examine.OfRun || o.Run.From.Position != from && o.Run.To.Position != from {
			continue
		}
		for _, need := range o.Run.Needs {
			for _, r := range need.Length {
				if v, err := measure.Parse(r.Text, measure.Length); err == nil {
					longest = max(longest, v.Quantity.High)
				}
			}
		}
	}
	return longest
}

// above judges how high a moved reservoir stands over what it feeds: as measured now;
// else by where both stood as built; else by how far it was moved, since it stood above
// by no more than the path between the two is long.
func above(m *ownMachine, moved graph.Moved, fed graph.PositionID, path float64) AgainstLine {
	line := AgainstLine{What: "height over " + fed.Local(), Verdict: graph.Unknown}
	up := inMM(cmp.Or(moved.Up, "0 mm"))
	at, okAt := heightOf(m, moved.Position)
	level, okLevel := heightOf(m, fed)
	switch {
	case moved.Above != "":
		return stands(line, inMM(moved.Above))
	case okAt && okLevel:
		return stands(line, at+up-level)
	case up < 0 && path > 0 && -up >= path:
		line.Verdict, line.Why = graph.DoesNotFit, fmt.Sprintf("it lies below what it feeds: it was lowered by %g mm, and "+
			"the path down from where it was is %g mm: air gets in", -up, path)
	case up >= 0 && moved.Up != "":
		line.Verdict, line.Why = graph.Fits, "it stands no lower than as built, above what it feeds"
	default:
		line.Why = "nobody recorded how high both stand: measure from the lowest mark of the fluid to the inlet " +
			"it feeds and write it as above: 40 mm; it must be above"
	}
	return line
}

// stands judges a reservoir by how far it stands above what it feeds, in mm.
func stands(line AgainstLine, gap float64) AgainstLine {
	text := fmt.Sprintf("%g mm", math.Abs(math.Round(gap)))
	if gap <= 0 {
		line.Verdict, line.Why = graph.DoesNotFit, "it lies "+text+" below what it feeds: air gets in"
		return line
	}
	line.Verdict, line.Why = graph.Fits, "it stands "+text+" above what it feeds"
	return line
}

// inMM is a length as the data has it, checked when it was loaded.
func inMM(text string) float64 {
	q, _ := measure.ParseQuantity(text, measure.Length)
	return q.Nominal
}

// heightOf is the height that a part puts the end of a line at, by the part as
// built; false where nobody recorded it.
func heightOf(m *ownMachine, id graph.PositionID) (float64, bool) {
	f, ok := machine.FeatureOfKind(m.setup.Seat(id).Part, "place")
	if !ok {
		return 0, false
	}
	q, err := measure.ParseQuantity(machine.BestText(f, "z"), measure.Length)
	return q.Nominal, err == nil
}

// movedPlaces are the positions of moved parts, sorted.
func movedPlaces(m *ownMachine) []graph.PositionID {
	return lists.Unique(lists.Mapped(slices.Clone(m.bike.Moved),
		func(m graph.Moved) graph.PositionID { return m.Position }))
}
