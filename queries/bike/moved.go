package bike

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

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
		row := MovedRow{Position: p.ID, Name: p.Name, Safety: p.Safety, Where: movedText(moved), Note: moved.Note,
			Verdict: graph.Fits}
		row.Says = append(row.Says, carried(m, moved))
		height, err := height(ctx, m, moved)
		if err != nil {
			return nil, err
		}
		row.Says = append(row.Says, height...)
		for _, o := range outcomes {
			ends := o.What == examine.OfRun && (o.Run.From.Position == p.ID || o.Run.To.Position == p.ID)
			if ends {
				row.Says = append(row.Says, AgainstLine{What: "line " + o.Run.Line.Local(), Verdict: o.After, Why: o.Why})
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
	case moved.On == "" && swap.IsHeld(m.setup, moved.Position, m.joints):
		line.Verdict, line.Why = graph.Fits, "what carried it before is there"
	case moved.On == "":
		line.Verdict, line.Why = graph.DoesNotFit, "what carried it is not there: nothing holds it"
	case on.Empty:
		line.Verdict, line.Why = graph.DoesNotFit, "nothing is at "+moved.On.Local()+", which is said to carry it"
	default:
		line.Why = "nobody recorded how it is fixed to " + moved.On.Local() + ": see that it can't turn, chafe or drop"
	}
	return line
}

// height says whether a reservoir still stands above what it feeds: fluid must run
// down to the master cylinder. Source: geometry; that it must is common practice,
// no source.
func height(ctx context.Context, m *ownMachine, moved graph.Moved) ([]AgainstLine, error) {
	up, err := measure.ParseQuantity(cmp.Or(moved.Up, "0 mm"), measure.Length)
	kind := m.setup.Position(moved.Position).Kind
	if err != nil || kind != "reservoir" {
		return nil, nil
	}
	circuits, err := m.setup.Library().CircuitsTouching(ctx, m.setup.Variant.ID, []graph.PositionID{moved.Position})
	var lines []AgainstLine
	for _, c := range circuits {
		for _, fed := range c.Feeds {
			if fed != moved.Position {
				lines = append(lines, above(m, moved.Position, fed, up.Nominal))
			}
		}
	}
	return lines, err
}

// above compares the heights of two parts, the first moved up by some mm.
func above(m *ownMachine, id, fed graph.PositionID, up float64) AgainstLine {
	line := AgainstLine{What: "height over " + fed.Local(), Verdict: graph.Unknown}
	at, okAt := heightOf(m, id)
	level, okLevel := heightOf(m, fed)
	gap := at + up - level
	text := fmt.Sprintf("%g mm", math.Abs(math.Round(gap)))
	switch {
	case !okAt || !okLevel:
		line.Why = "nobody recorded how high both stand: measure from the lowest mark of the fluid to the inlet " +
			"it feeds; it must be above"
	case gap <= 0:
		line.Verdict, line.Why = graph.DoesNotFit, "it lies "+text+" below what it feeds: air gets in"
	default:
		line.Verdict, line.Why = graph.Fits, "it stands "+text+" above what it feeds"
	}
	return line
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

// movedText says where a part hangs now: "60 mm lower, on controls/handlebar".
func movedText(m graph.Moved) string {
	var words []string
	for _, way := range []struct{ text, more, less string }{{m.Up, "higher", "lower"}, {m.Forward, "forward", "back"},
		{m.Left, "to the left", "to the right"}} {
		switch less, isLess := strings.CutPrefix(way.text, "-"); {
		case way.text == "":
		case isLess:
			words = append(words, less+" "+way.less)
		default:
			words = append(words, strings.TrimPrefix(way.text, "+")+" "+way.more)
		}
	}
	switch {
	case m.Nothing:
		words = append(words, "carried by nothing")
	case m.On != "":
		words = append(words, "on "+m.On.Local())
	}
	return strings.Join(words, ", ")
}
