package examine

import (
	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// chainPathAspects are where each chain runs, and how far out on its sprockets, against
// the machine as built.
func chainPathAspects(x *Examiner) []aspect {
	var all []aspect
	for _, d := range drives(x, x.After) {
		front, rear, plane := d.sprockets[0], d.sprockets[1], d.planes[0]
		meets := []featureAt{{at: front.Position, kind: kindAsBuilt(x, front), dims: []string{"line", "teeth"}},
			{at: rear.Position, kind: kindAsBuilt(x, rear), dims: []string{"teeth"}}}
		if plane.Position != "" {
			meets = append(meets, featureAt{at: plane.Position, kind: "sprocket-plane"})
		}
		var tyre graph.PositionID
		if l := x.landmarks; l != nil && len(x.After.Absent(l.Tyre["rear"])) == 0 {
			tyre = l.Tyre["rear"]
		}
		if tyre != "" {
			meets = append(meets, featureAt{at: tyre, kind: "tyre"})
		}
		read := func(x *Examiner, s *machine.Setup) mating.ChainPathCase {
			in := mating.ChainPathCase{Front: s.Side(front), Rear: s.Side(rear), Safety: graph.SafetyDrive,
				Packed: thickUnder(x, s, front.Position)}
			if plane.Position != "" {
				in.Plane = s.Side(plane)
			}
			if tyre != "" {
				in.Tyre = s.KindAt(tyre, "tyre")
			}
			return in
		}
		all = append(all, aspect{what: OfChainPath, id: string(d.chain.Position), meets: meets,
			remedies: []graph.PositionID{front.Position, rear.Position},
			checks: func(x *Examiner, s *machine.Setup) []mating.Check {
				in, built := read(x, s), read(x, x.Built)
				in.Built = &built
				return mating.JudgeChainPath(in)
			}})
	}
	return all
}
