package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Meetings is what parts meet at the positions of a comparison: the joints
// there and the parts on their other sides, with their readings in rank order.
type Meetings struct {
	Built     machine.BuiltAs
	Joints    []graph.Joint
	Parts     map[graph.PartID]graph.Part // ranked
	Positions map[graph.PositionID]graph.Position
}

// JointsAt are the joints that the position has on the variant: one of its
// features meets another there, or its part holds the joint.
func (ms Meetings) JointsAt(position graph.PositionID, variant graph.VariantID) []graph.Joint {
	return lists.Kept(ms.Joints, func(j graph.Joint) bool {
		here := j.A.Position == position || j.B.Position == position || slices.Contains(j.Fasteners, position)
		return here && slices.Contains(j.On, variant)
	})
}

// Meeting puts a part in the place of whatever sits at a position, and leaves
// everything else as built.
func (ms Meetings) Meeting(j graph.Joint, position graph.PositionID, variant graph.VariantID, part graph.Part) mating.Meeting {
	side := func(ref graph.FeatureRef) mating.Side {
		if ref.Position == position {
			return matingSide(position, part, ref.Feature)
		}
		return matingSide(ref.Position, ms.Parts[ms.Built.PartAt(ref.Position, variant)], ref.Feature)
	}
	m := mating.Meeting{Joint: j.ID, A: side(j.A), B: side(j.B), Allow: j.Allow, New: position,
		Safety: ms.Positions[position].Safety}
	for _, at := range j.Fasteners {
		fastener := ms.Parts[ms.Built.PartAt(at, variant)]
		if at == position {
			fastener = part
		}
		ms.addFastener(&m, at, fastener)
	}
	return m
}

func (ms Meetings) addFastener(m *mating.Meeting, at graph.PositionID, part graph.Part) {
	for _, f := range part.Features {
		switch f.Kind {
		case "male-thread":
			m.Bolts = append(m.Bolts, matingSide(at, part, f.Name))
		case "washer":
			for range max(1, ms.Positions[at].Quantity) {
				m.Washers = append(m.Washers, matingSide(at, part, f.Name))
			}
		}
	}
}

func matingSide(position graph.PositionID, part graph.Part, feature string) mating.Side {
	f, ok := part.Feature(feature)
	if !ok {
		f = graph.Feature{Name: feature}
	}
	return mating.Side{Position: position, Part: part.ID, Feature: f}
}

// Neighbours are the positions on the other sides of joints, and those of their
// fasteners.
func Neighbours(joints []graph.Joint) []graph.PositionID {
	var at []graph.PositionID
	for _, j := range joints {
		at = append(at, j.A.Position, j.B.Position)
		at = append(at, j.Fasteners...)
	}
	return lists.Unique(at)
}
