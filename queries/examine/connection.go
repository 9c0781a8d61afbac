package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Connection is one thing that connects places of a machine and is judged as a
// whole: a joint, a run, a row, a disc in its caliper, a circuit, a chain, a left
// and a right, the paint of a group of panels.
type Connection struct {
	What string // OfJoint, OfRun ...
	ID   string
	// Places decide it, sorted: with other parts elsewhere it comes out the same.
	Places []graph.PositionID
	// Unplanned is true for one that a plan tells and does not reckon with: too
	// many parts would have to be tried together.
	Unplanned bool

	around *Connections
	// touched is true for one that is only judged when one of its places changed.
	touched bool
	reads   func() map[graph.PositionID][]string
	remedy  func(o Outcome) []graph.PositionID
	judge   judges
}

func judgesJoint(j graph.Joint) judges {
	return func(x *Examiner) (Outcome, bool) {
		if isLeftOut(x.After, j) || isVoid(x.After, j) {
			return Outcome{}, false
		}
		return joint(x, j), true
	}
}

func judgesStack(st graph.Stack) judges {
	return func(x *Examiner) (Outcome, bool) { return stack(x, st), true }
}

func judgesDisc(d discLine) judges {
	return func(x *Examiner) (Outcome, bool) {
		if x.After.IsLeftOut(d.disc.Position) || x.After.IsLeftOut(d.caliper.Position) {
			return Outcome{}, false // what they were joined to tells whether they are missed
		}
		return discRun(x, d), true
	}
}

// Judge judges the connection on a machine after a change against the machine
// before; false when there is nothing to judge. What sits at its places must be
// loaded.
func (c Connection) Judge(before *Before, after *machine.Setup) (Outcome, bool) {
	return c.judge(examiner(c.around, before, after))
}

// Reads names the features that are looked at, by place, by their name or their
// kind, or one dimension of a kind as "bearing.width"; a place that is not in it
// has all of them looked at.
func (c Connection) Reads() map[graph.PositionID][]string {
	if c.reads == nil {
		return nil
	}
	return c.reads()
}

// Remedies are those of its places at which another part could put it right after
// an outcome, or after any for the zero one.
func (c Connection) Remedies(o Outcome) []graph.PositionID { return c.remedy(o) }

func jointConnection(x *Examiner, j graph.Joint) Connection {
	places := slices.Concat([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners)
	if x.After.KindOf(j.A) == "caliper-mount" || x.After.KindOf(j.B) == "caliper-mount" {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			if disc, ok := discOf(x.Connections, x.After, ref.Position); ok {
				places = append(places, disc.Position)
			}
		}
	}
	isDisc, passed := len(lists.Unique(slices.Clone(places))) != len(j.Fasteners)+2, passed(x, j)
	for _, washer := range x.After.SealingOf(j) {
		places = append(places, washer.Position)
	}
	if tube := airTube(x, x.After, j); !tube.IsZero() {
		places = append(places, tube.Position)
	}
	for _, ref := range passed {
		places = append(places, ref.Position)
	}
	places = lists.Unique(places)
	reads := func() map[graph.PositionID][]string {
		if isDisc { // one is looked for
			return nil
		}
		return featuresBy(append([]graph.FeatureRef{j.A, j.B}, passed...))
	}
	s := x.After
	return Connection{What: OfJoint, ID: string(j.ID), Places: places, reads: reads, around: x.Connections,
		judge: judgesJoint(j),
		remedy: func(o Outcome) []graph.PositionID {
			if bolts := boltsOf(x, s, j); BlamesBolts(o.Checks) && len(bolts) > 0 {
				return bolts // neither washers nor what is bolted together help
			}
			return lists.Kept(slices.Clone(places), func(id graph.PositionID) bool { return !slices.Contains(j.Fasteners, id) })
		}}
}

// boltsOf are the places of the bolts of a joint: of those that hold it, else of
// the one whose thread it is.
func boltsOf(x *Examiner, s *machine.Setup, j graph.Joint) []graph.PositionID {
	return lists.Kept(append(slices.Clone(j.Fasteners), j.A.Position, j.B.Position), func(id graph.PositionID) bool {
		isEnd := id == j.A.Position && s.KindOf(j.A) == "male-thread" || id == j.B.Position && s.KindOf(j.B) == "male-thread"
		return isEnd || slices.Contains(j.Fasteners, id) && machine.HasKind(s.Seat(id).Part, "male-thread")
	})
}

// passed is what the bolt of a joint passes.
func passed(x *Examiner, j graph.Joint) []graph.FeatureRef {
	bolt, into, ok := threadsOf(x, j)
	if !ok {
		return nil
	}
	var refs []graph.FeatureRef
	for _, holder := range heldBy(x, bolt.Position, into.Position) {
		refs = append(refs, passedIn(x, holder, into.Position)...)
	}
	return refs
}

// BlamesBolts reports whether only the bolts of a joint are at fault.
func BlamesBolts(checks []mating.Check) bool {
	found := false
	for _, c := range checks {
		if c.Verdict == graph.Fits {
			continue
		}
		if !c.OfBolts() {
			return false
		}
		found = true
	}
	return found
}

// A run is put right at its line.
func runConnection(x *Examiner, run graph.Run) Connection {
	refs := slices.Concat(run.MovedBy, run.LengthenedBy)
	places := []graph.PositionID{run.Line}
	for _, ref := range refs {
		places = append(places, ref.Position)
	}
	risers := x.risersOf(run)
	places = append(places, risers...)
	reads := func() map[graph.PositionID][]string {
		by := featuresBy(refs)
		for _, id := range risers {
			by[id] = append(by[id], "fork-length", "riser-set")
		}
		delete(by, run.Line)
		return by
	}
	return Connection{What: OfRun, ID: string(run.ID), Places: lists.Unique(places), reads: reads, around: x.Connections,
		judge:  func(x *Examiner) (Outcome, bool) { return runOutcome(x, run), !x.After.IsLeftOut(run.Line) },
		remedy: only(run.Line)}
}

// A row is put right at its spacers, and at what only one of machine and donor has.
func stackConnection(x *Examiner, st graph.Stack) Connection {
	shaft := shaftThrough(x, x.After, st)
	places := []graph.PositionID{shaft.Position}
	refs := append([]graph.FeatureRef{{Position: shaft.Position, Feature: shaft.Feature.Name}, st.Within}, st.Row...)
	var spacers []graph.PositionID
	for _, ref := range refs[1:] {
		places = append(places, ref.Position)
		if IsSpacer(x.After.Seat(ref.Position)) || x.After.Brings(ref.Position) || x.After.MayGo(ref.Position) {
			spacers = append(spacers, ref.Position)
		}
	}
	return Connection{What: OfStack, ID: string(st.ID), Places: named(places), around: x.Connections,
		reads:  func() map[graph.PositionID][]string { return featuresBy(refs) },
		judge:  judgesStack(st),
		remedy: only(spacers...)}
}

// Where a disc runs is put right at the disc.
func discConnection(x *Examiner, d discLine) Connection {
	reads := func() map[graph.PositionID][]string {
		by := featuresBy(slices.Concat(d.meets(), []graph.FeatureRef{d.stack.Within}, d.stack.Row))
		if d.known {
			by[d.caliper.Position] = append(by[d.caliper.Position], "pistons")
		}
		return by
	}
	return Connection{What: OfDisc, ID: string(d.disc.Position), Places: d.places(), reads: reads, around: x.Connections,
		touched: true,
		judge:   judgesDisc(d),
		remedy:  only(d.disc.Position)}
}

func circuitConnection(x *Examiner, c graph.Circuit) Connection {
	members := lists.Unique(slices.Clone(c.Members))
	reads := func() map[graph.PositionID][]string {
		by := map[graph.PositionID][]string{}
		for _, id := range members {
			by[id] = []string{"fluid"}
		}
		return by
	}
	return Connection{What: OfCircuit, ID: string(c.ID), Places: members, reads: reads, around: x.Connections,
		judge:  func(x *Examiner) (Outcome, bool) { return circuit(x, c), true },
		remedy: only(members...)}
}

// A chain is put right at itself or at its sprockets. What it runs on is found
// again on the machine that is judged.
func chainConnection(x *Examiner, d drive) Connection {
	remedies := []graph.PositionID{d.chain.Position}
	for _, ref := range d.sprockets {
		remedies = append(remedies, ref.Position)
	}
	return Connection{What: OfChain, ID: string(d.chain.Position), Places: named(d.positions()), around: x.Connections,
		touched: true,
		judge: func(x *Examiner) (Outcome, bool) {
			for _, now := range drives(x, x.After) {
				if now.chain.Position == d.chain.Position && (x.whole || slices.ContainsFunc(now.positions(), x.isChanged)) {
					return chain(x, now), true
				}
			}
			return Outcome{}, false
		},
		remedy: only(remedies...)}
}

// pairConnections are the left and the right of everything that may change on one
// side at least.
func pairConnections(x *Examiner, at []graph.PositionID) []Connection {
	done := map[graph.PositionID]bool{}
	var all []Connection
	for _, id := range at {
		twin := machine.OtherSide(id)
		if twin == "" || done[twin] || x.After.Seat(twin).Empty || !mayPair(x, id, twin) {
			continue
		}
		done[id] = true
		a, b := min(id, twin), max(id, twin)
		all = append(all, Connection{What: OfPair, ID: string(a), Places: []graph.PositionID{a, b}, around: x.Connections,
			reads: func() map[graph.PositionID][]string {
				return map[graph.PositionID][]string{a: mating.PairKinds(), b: mating.PairKinds()}
			},
			judge:  func(x *Examiner) (Outcome, bool) { return pair(x, a, b) },
			remedy: only(a, b)})
	}
	return all
}

func finishConnection(x *Examiner) Connection {
	return Connection{What: OfFinish, ID: string(x.After.Variant.Model) + ":finish",
		Places: lists.Unique(slices.Clone(x.painted)),
		around: x.Connections, judge: func(x *Examiner) (Outcome, bool) { return finish(x) }, remedy: only()}
}

// featuresBy are features by the place they are at.
func featuresBy(refs []graph.FeatureRef) map[graph.PositionID][]string {
	by := map[graph.PositionID][]string{}
	for _, ref := range refs {
		by[ref.Position] = append(by[ref.Position], ref.Feature)
	}
	return by
}

// named are positions that have a name, each once, sorted.
func named(ids []graph.PositionID) []graph.PositionID {
	return lists.Kept(lists.Unique(ids), func(id graph.PositionID) bool { return id != "" })
}

// only are remedies that are the same whatever is wrong.
func only(at ...graph.PositionID) func(Outcome) []graph.PositionID {
	return func(Outcome) []graph.PositionID { return at }
}
