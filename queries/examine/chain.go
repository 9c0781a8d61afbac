package examine

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// drive is a chain or belt and what it runs on, found over the joints: the sprockets
// that it meets, and the faces that those mount on.
type drive struct {
	chain     graph.FeatureRef
	sprockets []graph.FeatureRef // front first
	planes    []graph.FeatureRef // in the order of the sprockets; zero when not known
	mounts    []graph.FeatureRef // what the sprockets mount by, in their order; zero when not known
	adjusters *graph.Run         // the run whose line is the chain: how far apart the axles may be
}

// chain judges a chain over both of its sprockets.
func chain(x *Examiner, d drive) Outcome {
	o := Outcome{What: OfChain, ID: string(d.chain.Position),
		Ends: x.Ends(append([]graph.FeatureRef{d.chain}, append(d.sprockets, d.planes...)...)...)}
	was, is := x.checks(OfChain+o.ID, func(s *machine.Setup) []mating.Check { return chainChecks(x, s, d) })
	return x.Judged(o, was, is)
}

func (d drive) positions() []graph.PositionID {
	all := []graph.PositionID{d.chain.Position}
	for _, ref := range append(slices.Clone(d.sprockets), d.planes...) {
		all = append(all, ref.Position)
	}
	return all
}

// drives finds the chains, once for each state of the machine. The front sprocket
// is the one with a front position or mounted on what has the primary gearing;
// failing both, the one with fewer teeth.
func drives(x *Examiner, s *machine.Setup) []drive {
	found, known := x.driven[s]
	if !known {
		found = findDrives(x, s)
		if x.driven == nil {
			x.driven = map[*machine.Setup][]drive{}
		}
		x.driven[s] = found
	}
	return found
}

func findDrives(x *Examiner, s *machine.Setup) []drive {
	byChain := map[graph.FeatureRef]*drive{}
	for _, i := range lists.Unique(append(x.withKind(s, "chain"), x.withKind(s, "belt")...)) {
		j, built := &x.Known[i], builtKindsAt(x, i)
		for side, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if !machine.RunsRound(built[side]) && !machine.RunsRound(kindOn(x, s, i, side)) {
				continue
			}
			if built[1-side] == "joining-link" || kindOn(x, s, i, 1-side) == "joining-link" {
				continue // closes the chain, and it runs over none
			}
			d := byChain[ends[0]]
			if d == nil {
				d = &drive{chain: ends[0]}
				byChain[ends[0]] = d
			}
			d.sprockets = append(d.sprockets, ends[1])
		}
	}
	var found []drive
	for _, chain := range sortedRefs(byChain) {
		d := byChain[chain]
		if len(d.sprockets) != 2 {
			continue
		}
		if isFront(x, s, d.sprockets[1], d.sprockets[0]) {
			slices.Reverse(d.sprockets)
		}
		for _, sprocket := range d.sprockets {
			plane, mount := planeOf(x, s, sprocket.Position)
			d.planes, d.mounts = append(d.planes, plane), append(d.mounts, mount)
		}
		for i, run := range x.reaches {
			if run.Line == chain.Position {
				d.adjusters = &x.reaches[i]
			}
		}
		found = append(found, *d)
	}
	return found
}

func sortedRefs(m map[graph.FeatureRef]*drive) []graph.FeatureRef {
	refs := make([]graph.FeatureRef, 0, len(m))
	for ref := range m {
		refs = append(refs, ref)
	}
	slices.SortFunc(refs, func(a, b graph.FeatureRef) int {
		if a.Position != b.Position {
			return compareText(a.Position, b.Position)
		}
		return compareText(a.Feature, b.Feature)
	})
	return refs
}

// isFront tells the front sprocket from the rear one.
func isFront(x *Examiner, s *machine.Setup, a, b graph.FeatureRef) bool {
	seatA, seatB := s.Seat(a.Position).Position, s.Seat(b.Position).Position
	switch {
	case seatA.Side == "front" || seatB.Side == "rear":
		return true
	case seatB.Side == "front" || seatA.Side == "rear":
		return false
	}
	teethA, okA := s.Number(a, "teeth", measure.Count)
	teethB, okB := s.Number(b, "teeth", measure.Count)
	return okA && okB && teethA < teethB
}

// planeOf is the face that a sprocket mounts on, and what it mounts by.
func planeOf(x *Examiner, s *machine.Setup, sprocket graph.PositionID) (plane, mount graph.FeatureRef) {
	for j := range x.JointsAt(sprocket) {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position != sprocket {
				continue
			}
			if f, ok := machine.FeatureOfKind(s.Seat(ends[1].Position).Part, "sprocket-plane"); ok {
				return graph.FeatureRef{Position: ends[1].Position, Feature: f.Name}, ends[0]
			}
		}
	}
	return graph.FeatureRef{}, graph.FeatureRef{}
}

func chainChecks(x *Examiner, s *machine.Setup, d drive) []mating.Check {
	if absent := s.Absent(d.chain.Position, d.sprockets[0].Position, d.sprockets[1].Position); len(absent) > 0 {
		return absent
	}
	in := mating.ChainCase{Chain: s.Side(d.chain), Front: s.Side(d.sprockets[0]), Rear: s.Side(d.sprockets[1])}
	if d.planes[0].Position != "" && d.planes[1].Position != "" {
		in.FrontPlane, in.RearPlane = s.Side(d.planes[0]), s.Side(d.planes[1])
		in.FrontMount, in.RearMount = s.Side(d.mounts[0]), s.Side(d.mounts[1])
		in.FrontPacked, in.RearPacked = thickUnder(x, s, d.sprockets[0].Position), thickUnder(x, s, d.sprockets[1].Position)
	} else {
		in.NoLine = true
	}
	if d.adjusters != nil {
		for _, need := range d.adjusters.Needs {
			in.Centre = append(in.Centre, rankedReadings(x, need.Length, measure.Length)...)
		}
	}
	if in.Chain.Feature.Kind == "belt" {
		return mating.JudgeBelt(in)
	}
	return mating.JudgeChain(in)
}

// isDriven reports whether a chain or belt runs over a part.
func isDriven(part graph.Part) bool {
	return machine.HasKind(part, "sprocket") || machine.HasKind(part, "pulley")
}

// isDrive reports whether a chain or belt lies at a place.
func isDrive(x *Examiner, id graph.PositionID) bool {
	return hasAt(x, id, "chain") || hasAt(x, id, "belt")
}

// isReach reports whether the line of a run is a chain, a belt or a rod: what it then
// needs is how far apart its ends may be, and not a length of path.
func isReach(x *Examiner, run graph.Run) bool {
	return isDrive(x, run.Line) || hasAt(x, run.Line, "link-rod")
}

func compareText[T ~string](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
