package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// layerKinds are the features that a bolt passes where the joint is held by it.
var layerKinds = []string{"bolt-pattern", "caliper-mount", "eye", "clevis"}

// boltCases are a bolt with its thread and all that it passes, as the joints tell
// that it holds: one case where one bolt passes them all, one for each joint where
// each has bolts of its own under one position, as both ends of a torque rod have.
// False for a joint of anything else, or of a bolt that holds none.
func boltCases(x *Examiner, s *machine.Setup, j graph.Joint) ([]mating.BoltCase, bool) {
	bolt, into, ok := threadsOf(x, j)
	if !ok {
		return nil, false
	}
	var cases []mating.BoltCase
	for _, group := range byBolt(x, bolt.Position, heldBy(x, bolt.Position, into.Position)) {
		in := boltCaseOn(x, s, j, group.holders, group.of)
		// What is clamped was measured at the thread, whatever bolt was in it.
		if s != x.Built && len(x.Built.Absent(into.Position)) == 0 {
			built := boltCaseOn(x, x.Built, j, group.holders, group.of)
			in.Built = &built
		}
		if len(in.Through) > 0 {
			cases = append(cases, in)
		}
	}
	return cases, len(cases) > 0
}

// bolted are joints that one bolt passes, with how many such groups share the bolts
// and washers of their positions.
type bolted struct {
	holders []graph.Joint
	of      int
}

// byBolt parts the joints that the bolts of a position hold by the bolt that passes
// them: there are as many bolts as all the joints have holes together only where none
// passes two of them.
func byBolt(x *Examiner, bolt graph.PositionID, holders []graph.Joint) []bolted {
	wanted := 0
	for _, h := range holders {
		wanted += boltsIn(x, h, bolt)
	}
	if len(holders) < 2 || wanted > x.Built.Quantity(bolt) {
		return []bolted{{holders, 1}}
	}
	return lists.Mapped(holders, func(h graph.Joint) bolted { return bolted{[]graph.Joint{h}, len(holders)} })
}

// boltsIn is how many bolts of a position a joint takes by itself: one through an eye
// or a fork, one for each hole of a pattern, else all there are.
func boltsIn(x *Examiner, h graph.Joint, bolt graph.PositionID) int {
	for _, ref := range []graph.FeatureRef{h.A, h.B} {
		if kind := kindAsBuilt(x, ref); kind == "eye" || kind == "clevis" {
			return 1
		}
	}
	if n := min(x.Built.HolesAt(h.A), x.Built.HolesAt(h.B)); n > 0 {
		return n
	}
	return x.Built.Quantity(bolt)
}

// boltChecks judges a bolt with all that it passes, of several alike by the one that
// comes out worst. One whose two sides are joined by something between them goes into
// that instead, and is ordered with it.
func boltChecks(x *Examiner, s *machine.Setup, j graph.Joint, cases []mating.BoltCase) []mating.Check {
	bolt, into, _ := threadsOf(x, j)
	for _, holder := range heldBy(x, bolt.Position, into.Position) {
		if part, ok := s.Between(holder.ID); ok && isPatterned(part) || !ok && takesBracket(x, s, holder) {
			return mating.BoltsOfBetween(cases[0])
		}
	}
	for i := range cases {
		cases[i].Brief = x.isBrief(s)
	}
	checks := mating.JudgeBolt(cases[0])
	for _, in := range cases[1:] {
		checks = worstOfEach(checks, mating.JudgeBolt(in))
	}
	return checks
}

// worstOfEach are the checks of two judgements of one sort, of each rule the worse
// with the readings that both used.
func worstOfEach(checks, more []mating.Check) []mating.Check {
	for _, c := range more {
		at := slices.IndexFunc(checks, func(have mating.Check) bool { return have.Rule == c.Rule })
		if at < 0 {
			checks = append(checks, c)
			continue
		}
		better, worse := checks[at], c
		if c.Verdict <= checks[at].Verdict {
			better, worse = c, checks[at]
		}
		worse.Uses = slices.Clone(worse.Uses)
		for _, u := range better.Uses {
			if !slices.ContainsFunc(worse.Uses, func(v mating.Use) bool { return withoutReading(v) == withoutReading(u) }) {
				worse.Uses = append(worse.Uses, u)
			}
		}
		checks[at] = worse
	}
	return checks
}

// takesBracket reports whether the two sides of a joint can only be joined by what
// has both their hole patterns.
func takesBracket(x *Examiner, s *machine.Setup, j graph.Joint) bool {
	if !isCarried(s.KindOf(j.A)) || !isCarried(s.KindOf(j.B)) {
		return false
	}
	for _, c := range mating.Judge(mating.Meeting{A: s.Side(j.A), B: s.Side(j.B), Brief: true}) {
		if slices.ContainsFunc(c.Orders, func(o mating.Order) bool { return o.Between }) {
			return true
		}
	}
	return false
}

// isPatterned reports whether a part is bolted by a pattern of holes.
func isPatterned(part graph.Part) bool {
	return slices.ContainsFunc(part.Features, func(f graph.Feature) bool { return isCarried(f.Kind) })
}

// threadsOf are the two threads of a joint, by what they are as built.
func threadsOf(x *Examiner, j graph.Joint) (bolt, into graph.FeatureRef, ok bool) {
	return endsOf(&j, func(own, other graph.FeatureRef) bool {
		return kindAsBuilt(x, own) == "male-thread" && kindAsBuilt(x, other) == "female-thread" &&
			(x.After.KindOf(own) == "male-thread" || x.After.Seat(own.Position).Empty)
	})
}

// heldBy are the joints that name a place among their bolts. A stud is not among
// them: how deep it goes into its hole does not hang on what its nut holds.
func heldBy(x *Examiner, bolt, into graph.PositionID) []graph.Joint {
	var held []graph.Joint
	for j := range x.jointsHeldBy(bolt) {
		hasNut := slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool {
			return id != into && machine.HasKind(x.Built.Seat(id).Part, "female-thread")
		})
		if slices.Contains(j.Fasteners, into) || !hasNut {
			held = append(held, *j)
		}
	}
	return held
}

// passedIn are the sides of a joint that a bolt passes on its way into another
// place: both when that is a nut, else the one that has no thread for it.
func passedIn(x *Examiner, j graph.Joint, into graph.PositionID) []graph.FeatureRef {
	return lists.Kept([]graph.FeatureRef{j.A, j.B}, func(ref graph.FeatureRef) bool {
		return ref.Position != into && slices.Contains(layerKinds, kindAsBuilt(x, ref))
	})
}

// boltCaseOn is one bolt with what it passes; its position holds the bolts of as many
// groups of joints as of says, and shares its washers among them.
func boltCaseOn(x *Examiner, s *machine.Setup, j graph.Joint, holders []graph.Joint, of int) mating.BoltCase {
	bolt, into, _ := threadsOf(x, j)
	in := mating.BoltCase{Joint: j.ID, Bolt: s.Side(bolt), Into: s.Side(into), New: newSide(x, j), AsBuilt: s == x.Built,
		Safety: FirstSafety(x.SafetyOf(x.Ends(j.A, j.B)))}
	_, root := studOf(x, s, bolt)
	if root != (graph.FeatureRef{}) && root != into {
		in.Root = s.Side(root)
	}
	_, washers := s.FastenersOf(j)
	for _, holder := range holders {
		passed := lists.Kept(passedIn(x, holder, into.Position),
			func(ref graph.FeatureRef) bool { return in.Root.IsZero() || ref.Position != root.Position })
		in.Uncut = append(in.Uncut, uncut(x, passed...)...)
		in.Through = append(in.Through, layers(x, s, holder, passed)...)
	}
	if len(in.Through) == 0 {
		return in
	}
	for _, w := range washers[:(len(washers)+of-1)/of] {
		in.Through = append(in.Through, mating.Layer{Side: w, Beyond: true})
	}
	return in
}

// studOf are the nut on one end of a stud and the hole in which its other end sits, where
// joints say both of one thread; zero of any other.
func studOf(x *Examiner, s *machine.Setup, stud graph.FeatureRef) (nut, root graph.FeatureRef) {
	var nuts, roots []graph.FeatureRef
	for j := range x.JointsAt(stud.Position) {
		at, into, ok := threadsOf(x, *j)
		switch {
		case !ok || at != stud:
		case s.Seat(into.Position).Position.Kind.Ends("nut"):
			nuts = append(nuts, into)
		default:
			roots = append(roots, into)
		}
	}
	if len(nuts) != 1 || len(roots) != 1 {
		return graph.FeatureRef{}, graph.FeatureRef{}
	}
	return nuts[0], roots[0]
}

// layers are what a bolt passes in one joint: the cheeks of a clevis on either
// side of an eye, and what lies under each part.
func layers(x *Examiner, s *machine.Setup, j graph.Joint, passed []graph.FeatureRef) []mating.Layer {
	var all []mating.Layer
	for _, ref := range passed {
		layer := mating.Layer{Side: s.Side(ref)}
		if s.Seat(ref.Position).Empty {
			layer = mating.Layer{}
		}
		all = append(all, layer)
		packed := mating.Layer{}
		if plate, ok := s.PackedAt(ref.Position); ok && isCarried(kindAsBuilt(x, ref)) {
			packed.Side = plate
		}
		all = append(all, packed)
		if kindAsBuilt(x, ref) == "clevis" {
			all = append(all, layer)
		}
	}
	return all
}

// isCarried reports whether a part can lie on packing by a kind of feature.
func isCarried(kind string) bool { return kind == "bolt-pattern" || kind == "caliper-mount" }

// uncut are those of the places that carry a brake, the steering or a wheel.
func uncut(x *Examiner, refs ...graph.FeatureRef) []graph.PositionID {
	var ids []graph.PositionID
	for _, ref := range refs {
		switch x.After.Seat(ref.Position).Position.Safety {
		case graph.SafetyBrake, graph.SafetySteering, graph.SafetyWheel:
			ids = append(ids, ref.Position)
		}
	}
	return ids
}

// overSpigot is the side of a joint that goes over the other's spigot: a disc or a
// sprocket on what carries it.
func overSpigot(x *Examiner, s *machine.Setup, j graph.Joint) graph.PositionID {
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		part := s.Seat(ref.Position).Part
		if s.KindOf(ref) == "bolt-pattern" && (machine.HasKind(part, "disc-rim") || machine.HasKind(part, "sprocket")) {
			return ref.Position
		}
	}
	return ""
}

// addBolts judges the bolts of the joints again whose parts changed: each passes
// what is new.
func addBolts(c *Connections, s *machine.Setup, from []graph.PositionID) {
	x := examiner(c, From(s.AsBuilt()), s)
	for _, j := range slices.Clone(c.Joints) {
		if !slices.Contains(from, j.A.Position) && !slices.Contains(from, j.B.Position) {
			continue
		}
		for _, bolt := range j.Fasteners {
			for k := range c.JointsAt(bolt) {
				at, into, ok := threadsOf(x, *k)
				if ok && at.Position == bolt && len(heldBy(x, bolt, into.Position)) > 0 && !isToJudge(c, *k) {
					c.Joints = append(c.Joints, *k)
				}
			}
		}
	}
	slices.SortFunc(c.Joints, func(a, b graph.Joint) int { return compareText(a.ID, b.ID) })
}

func isToJudge(c *Connections, j graph.Joint) bool {
	return slices.ContainsFunc(c.Joints, func(k graph.Joint) bool { return k.ID == j.ID })
}
