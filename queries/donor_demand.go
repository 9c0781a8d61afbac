package queries

import (
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// demand is a connection that must hold: a joint, a run, a stack, a circuit, a
// chain, a pair, the finish of a group of panels.
type demand struct {
	what, id string
	// places decide it.
	places []graph.PositionID
	// reads names the features that are looked at, by place; a place that is
	// not in it has all of them looked at.
	reads map[graph.PositionID][]string
	// may are those of its places at which another part could put it right.
	may   func(o Outcome) []graph.PositionID
	judge func(x *examiner) []Outcome
	slots []int // the slots among its places
	tried map[string]*trial
	// options and ways are the combinations that hold, and how.
	options [][]int
	ways    []donorWay
	// holdsAnyway is true when every combination holds and costs nothing.
	holdsAnyway bool
	lot         *lot // of one that only counts what is taken out of boxes
}

// gather reads what connects the slots that may take another part, and makes
// the demands of it. What was judged before stays.
func (p *planner) gather() error {
	var at []graph.PositionID
	for _, s := range p.slots {
		if s.grown && len(s.options) > 1 || s.fixed {
			at = append(at, s.at)
		}
	}
	around, err := connectionsAt(p.ctx, p.shape, at)
	if err != nil {
		return err
	}
	around.circuits = slices.DeleteFunc(around.circuits, func(c graph.Circuit) bool { return localName(string(c.ID)) == newCircuit })
	p.addNewCircuit(around, at)
	p.around, p.demands = around, nil
	x := p.examiner(p.shape)
	for _, j := range around.joints {
		p.demands = append(p.demands, p.jointDemand(x, j))
	}
	for _, run := range around.runs {
		if !x.isChainRun(run) {
			p.demands = append(p.demands, p.runDemand(run))
		}
	}
	for _, st := range around.stacks {
		p.demands = append(p.demands, p.stackDemand(x, st))
	}
	p.discDemands(x)
	for _, c := range around.circuits {
		p.demands = append(p.demands, p.circuitDemand(c))
	}
	p.chainDemands(x)
	p.pairDemands(at)
	p.finishDemand()
	return nil
}

func (p *planner) examiner(after *Setup) *examiner {
	return &examiner{built: p.before.AsBuilt(), before: p.before, after: after, connections: p.around, past: p.past}
}

// addNewCircuit joins those parts that work by a fluid and may sit where no
// circuit is: one of its members may have none, as long as it stays.
func (p *planner) addNewCircuit(around *connections, at []graph.PositionID) {
	fluid := p.shape
	for _, id := range at {
		for _, o := range p.slots[p.slotAt[id]].options {
			if part := p.before.Library().part(o.part); !o.other && hasKind(part, "fluid") && !hasKind(fluid.Seat(id).Part, "fluid") {
				fluid = p.setupWith(fluid, map[graph.PositionID]graph.PartID{id: o.part})
			}
		}
	}
	around.addNewCircuit(fluid, at)
}

func (p *planner) jointDemand(x *examiner, j graph.Joint) *demand {
	places := slices.Concat([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners)
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := x.discOf(x.after, ref.Position); ok && (x.after.kindOf(j.A) == "caliper-mount" || x.after.kindOf(j.B) == "caliper-mount") {
			places = append(places, disc.Position)
		}
	}
	places = unique(places)
	reads := map[graph.PositionID][]string{}
	if len(places) == len(j.Fasteners)+2 { // no disc is looked for
		reads[j.A.Position], reads[j.B.Position] = []string{j.A.Feature}, []string{j.B.Feature}
	}
	return &demand{what: OfJoint, id: string(j.ID), places: places, reads: reads,
		judge: func(x *examiner) []Outcome { return []Outcome{x.joint(j)} },
		may: func(o Outcome) []graph.PositionID {
			if blamesBolts(o.Checks) { // then neither washers nor what is bolted together help
				return kept(slices.Clone(j.Fasteners), func(id graph.PositionID) bool { return hasKind(p.shape.Seat(id).Part, "male-thread") })
			}
			return kept(slices.Clone(places), func(id graph.PositionID) bool { return !slices.Contains(j.Fasteners, id) })
		}}
}

// A run is put right at its line.
func (p *planner) runDemand(run graph.Run) *demand {
	places := []graph.PositionID{run.Line}
	reads := map[graph.PositionID][]string{}
	for _, ref := range slices.Concat(run.MovedBy, run.LengthenedBy) {
		places = append(places, ref.Position)
		reads[ref.Position] = append(reads[ref.Position], ref.Feature)
	}
	delete(reads, run.Line)
	return &demand{what: OfRun, id: string(run.ID), places: unique(places), reads: reads,
		judge: func(x *examiner) []Outcome { return []Outcome{x.run(run)} },
		may:   func(Outcome) []graph.PositionID { return []graph.PositionID{run.Line} }}
}

// A row is put right at its spacers.
func (p *planner) stackDemand(x *examiner, st graph.Stack) *demand {
	shaft := x.shaftThrough(x.after, st)
	places := []graph.PositionID{shaft.Position}
	reads := map[graph.PositionID][]string{shaft.Position: {shaft.Feature.Name}}
	var spacers []graph.PositionID
	for _, ref := range append([]graph.FeatureRef{st.Within}, st.Row...) {
		reads[ref.Position] = append(reads[ref.Position], ref.Feature)
		places = append(places, ref.Position)
		if isSpacer(x.after.Seat(ref.Position)) {
			spacers = append(spacers, ref.Position)
		}
	}
	places = kept(unique(places), func(id graph.PositionID) bool { return id != "" })
	return &demand{what: OfStack, id: string(st.ID), places: places, reads: reads,
		judge: func(x *examiner) []Outcome { return []Outcome{x.stack(st)} },
		may:   func(Outcome) []graph.PositionID { return spacers }}
}

// Where a disc runs is put right at the disc.
func (p *planner) discDemands(x *examiner) {
	for _, d := range x.discs {
		reads := map[graph.PositionID][]string{}
		for _, ref := range slices.Concat(d.meets(), []graph.FeatureRef{d.stack.Within}, d.stack.Row) {
			reads[ref.Position] = append(reads[ref.Position], ref.Feature)
		}
		p.demands = append(p.demands, &demand{what: OfDisc, id: string(d.disc.Position), places: d.places(), reads: reads,
			judge: func(x *examiner) []Outcome { return []Outcome{x.discLine(d)} },
			may:   func(Outcome) []graph.PositionID { return []graph.PositionID{d.disc.Position} }})
	}
}

func (p *planner) circuitDemand(c graph.Circuit) *demand {
	members := unique(slices.Clone(c.Members))
	reads := map[graph.PositionID][]string{}
	for _, id := range members {
		reads[id] = []string{"fluid"}
	}
	return &demand{what: OfCircuit, id: string(c.ID), places: members, reads: reads,
		judge: func(x *examiner) []Outcome { return x.circuit(c) },
		may:   func(Outcome) []graph.PositionID { return members }}
}

func (p *planner) chainDemands(x *examiner) {
	for _, d := range x.drives(x.after) {
		places := kept(unique(d.positions()), func(id graph.PositionID) bool { return id != "" })
		p.demands = append(p.demands, &demand{what: OfChain, id: string(d.chain.Position), places: places,
			judge: func(x *examiner) []Outcome {
				return kept(x.chains(), func(o Outcome) bool { return o.ID == string(d.chain.Position) })
			},
			may: func(Outcome) []graph.PositionID {
				return append([]graph.PositionID{d.chain.Position}, mapped(d.sprockets, func(r graph.FeatureRef) graph.PositionID { return r.Position })...)
			}})
	}
}

// pairDemands judge left against right wherever one of the two may change.
func (p *planner) pairDemands(at []graph.PositionID) {
	done := map[graph.PositionID]bool{}
	for _, id := range at {
		twin := twinOf(id)
		if twin == "" || done[twin] || p.shape.Seat(twin).Empty {
			continue
		}
		done[id] = true
		a, b := min(id, twin), max(id, twin)
		p.demands = append(p.demands, &demand{what: OfPair, id: string(a), places: []graph.PositionID{a, b},
			judge: func(x *examiner) []Outcome { return x.pair(a, b) },
			may:   func(Outcome) []graph.PositionID { return []graph.PositionID{a, b} }})
	}
}

// pair judges one left against its right.
func (x *examiner) pair(a, b graph.PositionID) []Outcome {
	if x.after.Seat(a).Empty || x.after.Seat(b).Empty || !x.sharesPairDims(a, b) {
		return nil
	}
	o := Outcome{What: OfPair, ID: string(a), Ends: x.ends(graph.FeatureRef{Position: a}, graph.FeatureRef{Position: b})}
	was := x.was(OfPair+o.ID, func() []mating.Check { return x.before.pairChecks(a, b) })
	return []Outcome{x.judged(o, was, x.after.pairChecks(a, b))}
}

func (p *planner) finishDemand() {
	places := unique(slices.Clone(p.around.painted))
	if len(places) == 0 {
		return
	}
	p.demands = append(p.demands, &demand{what: OfFinish, id: string(p.before.Variant.Model) + ":finish", places: places,
		judge: func(x *examiner) []Outcome { return x.finish() },
		may:   func(Outcome) []graph.PositionID { return nil }})
}
