package figure

import (
	"context"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// Figures are what can be drawn of a change, each list sorted by identity.
type Figures struct {
	Panels []Panel
	Lines  []Line
	Rows   []Row
	Points []Point // what holds changed parts, point by point; in the order of the joints
}

// IsEmpty reports whether there is nothing to draw.
func (f Figures) IsEmpty() bool { return len(f.Panels)+len(f.Lines)+len(f.Rows) == 0 }

// Panel is the mounting points of a changed part over those of what it meets, and of
// the part that it replaces over the same.
type Panel struct {
	At, On   graph.PositionID // the changed part, and what it meets
	Was, Now graph.PartID
	Carrier  graph.PartID
	New      mating.Overlay // of the new part over its carrier
	Old      mating.Overlay // of the old part over the same; empty when it is not known
	HasOld   bool
}

// Line is a hose, cable or lead against its path.
type Line struct {
	Run      graph.RunID
	At       graph.PositionID
	Was, Now mating.RunLengths
	HasWas   bool
	WasPart  graph.PartID
	NowPart  graph.PartID
}

// Row is what stands along an axle or pivot, before and after.
type Row struct {
	Stack          graph.StackID
	Was, Now       []mating.RowWidth
	WasGap, NowGap float64
	HasWas         bool
	// Then is the row with all on that there is to get or make; empty where that is no
	// other.
	Then    []mating.RowWidth
	ThenGap float64
}

// ForSwap are the figures of a swap on one machine, as it was asked. Errors are those
// of swap.Swap, or come from the reader.
func ForSwap(ctx context.Context, r graph.Reader, q swap.SwapQuestion, a swap.SwapAnswer) (Figures, error) {
	on := q.On
	if a.Bike == "" {
		on = string(a.On)
	}
	before, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: on}, a.Scheme)
	if err != nil {
		return Figures{}, err
	}
	changes := map[graph.PositionID]graph.PartID{}
	for _, line := range a.Swaps {
		changes[line.Position] = line.Now
	}
	after, err := before.With(ctx, changes)
	if err != nil {
		return Figures{}, err
	}
	stood := examine.From(before)
	f, err := between(ctx, stood, after)
	if err != nil || len(f.Rows) == 0 {
		return f, err
	}
	return f, thenRows(ctx, stood, changes, a.Get, f.Rows)
}

// thenRows fills in the rows with all on that there is to get or make.
func thenRows(ctx context.Context, stood *examine.Before, changes map[graph.PositionID]graph.PartID, gets []swap.Get,
	rows []Row) error {
	got := maps.Clone(changes)
	made := map[graph.PositionID]float64{}
	for _, g := range gets {
		if g.What == swap.GetPart && g.Position != "" {
			got[g.Position] = g.Part
		}
		if width, ok := g.RowWidth(); ok {
			made[g.Position] = width
		}
	}
	then, err := stood.Setup().With(ctx, got)
	if err != nil {
		return err
	}
	x, err := examine.NewExaminer(ctx, stood, then)
	if err != nil {
		return err
	}
	for i, row := range rows {
		_, in, ok := x.StackCases(row.Stack)
		if !ok {
			continue
		}
		widths, gap, ok := mating.WidthsOf(in)
		if !ok {
			continue
		}
		for j, w := range widths {
			if width, ok := made[w.Position]; ok {
				widths[j].Width, widths[j].Part = width, ""
			}
		}
		if gap != row.NowGap || !slices.Equal(widths, row.Now) {
			rows[i].Then, rows[i].ThenGap = widths, gap
		}
	}
	return nil
}

// between are the figures of a machine before and after changes.
func between(ctx context.Context, stood *examine.Before, after *machine.Setup) (Figures, error) {
	x, err := examine.NewExaminer(ctx, stood, after)
	if err != nil {
		return Figures{}, err
	}
	var f Figures
	for _, o := range x.Outcomes() {
		switch o.What {
		case examine.OfJoint:
			if p, ok := panelOf(x, o); ok {
				f.Panels = append(f.Panels, p)
			}
			points, err := pointsOf(ctx, x, o)
			if err != nil {
				return Figures{}, err
			}
			f.Points = append(f.Points, points...)
		case examine.OfRun:
			if l, ok := lineOf(x, o); ok {
				f.Lines = append(f.Lines, l)
			}
		case examine.OfStack:
			if row, ok := rowOf(x, o); ok {
				f.Rows = append(f.Rows, row)
			}
		}
	}
	return f, nil
}

func panelOf(x *examine.Examiner, o examine.Outcome) (Panel, bool) {
	a, b := o.Joint.A, o.Joint.B
	if x.After.KindOf(a) != "points" || x.After.KindOf(b) != "points" {
		return Panel{}, false
	}
	if !isChanged(o, a.Position) {
		a, b = b, a
	}
	over, ok := mating.OverlayOf(x.After.Side(a), x.After.Side(b))
	if !ok {
		return Panel{}, false
	}
	p := Panel{At: a.Position, On: b.Position, Was: x.Before.Seat(a.Position).Part.ID,
		Now:     x.After.Seat(a.Position).Part.ID,
		Carrier: x.After.Seat(b.Position).Part.ID, New: over}
	p.Old, p.HasOld = mating.OverlayOf(x.Before.Side(a), x.After.Side(b))
	return p, true
}

func isChanged(o examine.Outcome, at graph.PositionID) bool {
	return slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == at && e.Changed })
}

func lineOf(x *examine.Examiner, o examine.Outcome) (Line, bool) {
	now, ok := mating.LengthsOf(x.RunCase(o.Run))
	if !ok {
		return Line{}, false
	}
	l := Line{Run: o.Run.ID, At: o.Run.Line, Now: now, WasPart: x.Before.Seat(o.Run.Line).Part.ID,
		NowPart: x.After.Seat(o.Run.Line).Part.ID}
	l.Was, l.HasWas = mating.LengthsOf(x.RunCaseBefore(o.Run))
	return l, true
}

func rowOf(x *examine.Examiner, o examine.Outcome) (Row, bool) {
	row := Row{Stack: graph.StackID(o.ID)}
	was, now, ok := x.StackCases(row.Stack)
	if !ok {
		return Row{}, false
	}
	if row.Now, row.NowGap, ok = mating.WidthsOf(now); !ok {
		return Row{}, false
	}
	row.Was, row.WasGap, row.HasWas = mating.WidthsOf(was)
	return row, true
}
