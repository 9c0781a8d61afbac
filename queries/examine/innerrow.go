package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// hubRow is the inside of one hub: its two bearings in their seats, and the tube
// between them. It is found over the joints of seats and axle on the machine as
// built.
type hubRow struct {
	hub         graph.PositionID
	left, right graph.FeatureRef // the bearings
	seatLeft    graph.FeatureRef
	seatRight   graph.FeatureRef
	tube        graph.PositionID
	row         graph.FeatureRef // what the hub is said to add to its row; zero when nobody said
}

// innerRowAspects are what bearings and tube make inside each hub.
func innerRowAspects(x *Examiner) []aspect {
	var all []aspect
	for _, h := range hubRows(x) {
		all = append(all, aspect{what: OfInnerRow, id: string(h.hub), remedies: []graph.PositionID{h.tube},
			meets: []featureAt{{at: h.hub, kind: "hub-row"}, {at: h.hub, kind: "bearing-seat"}, {at: h.hub, kind: "row-width"},
				{at: h.left.Position, kind: "bearing"}, {at: h.right.Position, kind: "bearing"}, {at: h.tube, kind: "row-width"}},
			checks: func(x *Examiner, s *machine.Setup) []mating.Check { return mating.JudgeInnerRow(innerRowCase(x, s, h)) }})
	}
	return all
}

func innerRowCase(x *Examiner, s *machine.Setup, h hubRow) mating.InnerRowCase {
	in := mating.InnerRowCase{Hub: s.KindAt(h.hub, "hub-row"), Left: s.Side(h.left), Right: s.Side(h.right),
		SeatLeft:  s.Side(h.seatLeft),
		SeatRight: s.Side(h.seatRight), Tube: s.KindAt(h.tube, "row-width"),
		Spacers: spacersBeside(x, s, h.hub), Safety: safetyAt(x, h.hub, h.left.Position)}
	if h.row.Position != "" {
		in.Row = s.Side(h.row)
	}
	return in
}

// hubRows finds the hubs of which everything is known, by their places.
func hubRows(x *Examiner) []hubRow {
	hubs := map[graph.PositionID]*hubRow{}
	for _, ends := range joined(x, "bearing", "bearing-seat") {
		ring, seat := ends[0], ends[1]
		if !hasAt(x, seat.Position, "hub-row") {
			continue
		}
		h := hubs[seat.Position]
		if h == nil {
			h = &hubRow{hub: seat.Position, row: rowOf(x, seat.Position), tube: tubeIn(x, seat.Position)}
			hubs[seat.Position] = h
		}
		if isRight(x, ring, seat) {
			h.right, h.seatRight = ring, seat
		} else {
			h.left, h.seatLeft = ring, seat
		}
	}
	var found []hubRow
	for _, h := range hubs {
		if h.left.Position != "" && h.right.Position != "" && h.tube != "" {
			found = append(found, *h)
		}
	}
	slices.SortFunc(found, func(a, b hubRow) int { return compareText(a.hub, b.hub) })
	return found
}

// isRight reports whether a bearing is the right one of a hub: by the side of its
// place, else by the name of its seat.
func isRight(x *Examiner, ring, seat graph.FeatureRef) bool {
	if side := x.After.Seat(ring.Position).Position.Side; side == "left" || side == "right" {
		return side == "right"
	}
	return strings.Contains(seat.Feature+" "+ring.Position.Local(), "right")
}

// rowOf is what a hub is said to add to the row it sits in.
func rowOf(x *Examiner, hub graph.PositionID) graph.FeatureRef {
	st, member := stackOf(x, hub)
	if member == 0 {
		return graph.FeatureRef{}
	}
	return st.Row[member-1]
}

// tubeIn is the tube between the bearings of a hub: what has a width, runs on the
// axle of one of them, and is in no row of its own. What is called a spacer is it
// only where nothing else can be: a row that was not read may hold it.
func tubeIn(x *Examiner, hub graph.PositionID) graph.PositionID {
	var spacer graph.PositionID
	for _, axle := range axlesOf(x, hub) {
		for j := range x.JointsAt(axle) {
			_, tube, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
				return own.Position == axle && kindAsBuilt(x, own) == "shaft" && hasAt(x, other.Position, "row-width") &&
					!hasAt(x, other.Position, "gap") && rowOf(x, other.Position).Position == "" &&
					other.Position.Assembly() == hub.Assembly()
			})
			switch {
			case !ok || tube.Position == hub:
			case !IsSpacer(x.Built.Seat(tube.Position)):
				return tube.Position
			case spacer == "":
				spacer = tube.Position
			}
		}
	}
	return spacer
}

// axlesOf are the places of the shafts that run through the bearings of a hub.
func axlesOf(x *Examiner, hub graph.PositionID) []graph.PositionID {
	var axles []graph.PositionID
	for _, ends := range joined(x, "bearing", "bearing-seat") {
		ring := ends[0]
		if ends[1].Position != hub {
			continue
		}
		for k := range x.JointsAt(ring.Position) {
			if _, shaft, ok := endsOf(k, func(own, other graph.FeatureRef) bool {
				return own.Position == ring.Position && kindAsBuilt(x, other) == "shaft"
			}); ok {
				axles = append(axles, shaft.Position)
			}
		}
	}
	return named(axles)
}
