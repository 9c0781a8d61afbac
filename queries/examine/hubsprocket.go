package examine

import (
	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// hubSprocketAspects is the line of each chain whose rear sprocket is bolted
// straight to a hub that sits in a row.
func hubSprocketAspects(x *Examiner) []aspect {
	var all []aspect
	for _, d := range drives(x, x.After) {
		if d.planes[0].Position == "" || d.planes[1].Position != "" {
			continue
		}
		front, rear := d.sprockets[0], d.sprockets[1]
		_, mount, ok := x.meets(rear.Position, func(own, other graph.FeatureRef) bool {
			return kindAsBuilt(x, own) == "bolt-pattern" &&
				rowOf(x, other.Position).Position != ""
		})
		if !ok {
			continue
		}
		st, member := stackOf(x, mount.Position)
		meets := []featureAt{{at: front.Position, kind: kindAsBuilt(x, front)},
			{at: rear.Position, kind: kindAsBuilt(x, rear)}, {at: mount.Position, kind: "bolt-pattern"},
			{at: d.planes[0].Position, kind: "sprocket-plane"}, {at: st.Within.Position, kind: "gap"}}
		for _, ref := range st.Row {
			meets = append(meets, featureAt{at: ref.Position, kind: "row-width"})
		}
		all = append(all, aspect{what: OfChainLine, id: string(d.chain.Position), meets: meets,
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				plane, _ := s.Number(d.planes[0], "plane", measure.Length)
				return mating.JudgeHubSprocket(mating.HubSprocketCase{Under: under(x, s, rear.Position),
					Stack: stackCase(x, s, st), Member: memberOn(s, st, member), Left: plane > 0,
					Mount: s.Side(mount), Hub: hubEnds(s, mount.Position), Rear: s.Side(rear),
					Front: s.Side(front), Plane: s.Side(d.planes[0]),
					Safety: graph.SafetyDrive})
			}})
	}
	return all
}

// stackOf is the row that a place sits in, and its number there, counted from 1.
func stackOf(x *Examiner, id graph.PositionID) (graph.Stack, int) {
	for _, rows := range [][]graph.Stack{x.stacks, x.rows} {
		for r := range rows {
			for i, ref := range rows[r].Row {
				if ref.Position == id {
					return rows[r], i + 1
				}
			}
		}
	}
	return graph.Stack{}, 0
}
