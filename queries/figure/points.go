package figure

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Point is one point at which a changed part is held, and what holds it there.
type Point struct {
	At    graph.PositionID // the changed part
	On    graph.PositionID // what carries it
	Point string           // its name; that of the carrier's where the part has none there
	Has   string           // hole and insert of the part; empty where it has none there
	Meets string           // hole and insert opposite; empty for nothing
	Off   string           // how it misses what it meets; empty where it does not
	Takes []Piece          // in the order of their places
}

// Piece is a bolt, grommet, collar or clip.
type Piece struct {
	Position graph.PositionID
	Part     graph.Part // none when nobody says what belongs there
	Quantity int        // of all points that take it together
}

// pointsOf are the points of a changed part in one joint: those of a panel one by one,
// and a pattern of holes as one where more than bolts belong to it.
func pointsOf(ctx context.Context, x *examine.Examiner, o examine.Outcome) ([]Point, error) {
	a, b := o.Joint.A, o.Joint.B
	if !isChanged(o, a.Position) {
		a, b = b, a
	}
	kind := x.After.KindOf(a)
	if !isChanged(o, a.Position) || kind != x.After.KindOf(b) || kind != "points" && kind != "bolt-pattern" {
		return nil, nil
	}
	loose, err := loosePieces(ctx, x.After, a.Position, o.Joint.Fasteners)
	if err != nil {
		return nil, err
	}
	bolts := lists.Mapped(o.Joint.Fasteners, func(id graph.PositionID) Piece { return pieceAt(x.After, id) })
	if kind == "bolt-pattern" {
		if len(loose) == 0 {
			return nil, nil
		}
		return []Point{{At: a.Position, On: b.Position, Point: a.Feature, Has: "holes", Meets: "holes",
			Takes: append(bolts, loose...)}}, nil
	}
	over, ok := mating.OverlayOf(x.After.Side(a), x.After.Side(b))
	if !ok {
		return nil, nil
	}
	points := pointsOver(over, append(bolts, loose...))
	for i := range points {
		points[i].At, points[i].On = a.Position, b.Position
	}
	return points, nil
}

// pointsOver are the points of a part over those of its carrier, then those of the
// carrier that nothing is over.
func pointsOver(o mating.Overlay, pieces []Piece) []Point {
	var all []Point
	met := map[int]bool{}
	for i, a := range o.A {
		p := Point{Point: a.Place, Has: holeOf(a), Off: o.Off[i]}
		ends := []measure.Point{a}
		if j := o.Of[i]; j >= 0 {
			met[j] = true
			p.Meets, ends = holeOf(o.B[j]), append(ends, o.B[j])
		}
		p.Takes = taken(pieces, ends)
		all = append(all, p)
	}
	for j, b := range o.B {
		if !met[j] {
			all = append(all, Point{Point: b.Place, Meets: holeOf(b), Takes: taken(pieces, []measure.Point{b})})
		}
	}
	return all
}

func holeOf(p measure.Point) string { return strings.TrimSpace(p.Hole.String() + " " + p.Insert) }

// taken are the pieces that belong to a point: a bolt where one of its ends has the
// thread, anything else where one has an insert of its sort.
func taken(pieces []Piece, ends []measure.Point) []Piece {
	return lists.Kept(slices.Clone(pieces), func(p Piece) bool {
		return slices.ContainsFunc(ends, func(end measure.Point) bool {
			if f, ok := machine.FeatureOfKind(p.Part, "male-thread"); ok {
				thread, err := measure.Parse(machine.BestText(f, "thread"), measure.Thread)
				return err == nil && end.Hole.Type == measure.Thread && thread.Thread == end.Hole.Thread
			}
			return end.Insert != "" && strings.EqualFold(end.Insert, string(p.Part.Kind))
		})
	})
}

// loosePieces are the grommets, collars and clips whose places are named after that of
// a part: those of "side-panel-left" are "side-panel-grommet-left". Where a part has
// no side, its bolts in the joint may have one.
func loosePieces(ctx context.Context, s *machine.Setup, at graph.PositionID,
	bolts []graph.PositionID) ([]Piece, error) {
	all, err := s.Library().Reader().PositionsIn(ctx, at.Assembly())
	if err != nil {
		return nil, err
	}
	side := sideEnd(at)
	own := strings.TrimSuffix(string(at), side)
	if side == "" && len(bolts) > 0 {
		side = sideEnd(bolts[0])
	}
	all = lists.Kept(all, func(p graph.Position) bool {
		return slices.Contains([]graph.KindID{"grommet", "collar", "clip"}, p.Kind) &&
			slices.Contains(p.On, s.Variant.ID) && strings.HasPrefix(string(p.ID), own+"-") &&
			strings.HasSuffix(string(p.ID), side)
	})
	ids := lists.Mapped(all, func(p graph.Position) graph.PositionID { return p.ID })
	if err := s.Load(ctx, ids...); err != nil {
		return nil, err
	}
	return lists.Mapped(ids, func(id graph.PositionID) Piece { return pieceAt(s, id) }), nil
}

// sideEnd is the side at the end of a place's name: "-left"; empty for none.
func sideEnd(id graph.PositionID) string {
	for _, end := range []string{"-left", "-right"} {
		if strings.HasSuffix(string(id), end) {
			return end
		}
	}
	return ""
}

func pieceAt(s *machine.Setup, id graph.PositionID) Piece {
	seat := s.Seat(id)
	p := Piece{Position: id, Part: seat.Part, Quantity: s.Quantity(id)}
	if p.Part.Kind == "" {
		p.Part.Kind = seat.Position.Kind
	}
	return p
}
