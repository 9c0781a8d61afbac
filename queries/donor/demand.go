package donor

import (
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
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
	may   func(o examine.Outcome) []graph.PositionID
	judge func(x *examine.Examiner) []examine.Outcome
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
	around, err := examine.ConnectionsAt(p.ctx, p.shape, at)
	if err != nil {
		return err
	}
	around.Circuits = slices.DeleteFunc(around.Circuits, func(c graph.Circuit) bool { return queries.LocalName(string(c.ID)) == examine.NewCircuit })
	p.addNewCircuit(around, at)
	p.around, p.demands = around, nil
	if err := p.weighPlaces(); err != nil {
		return err
	}
	x := p.examiner(p.shape)
	for _, j := range around.Joints {
		p.demands = append(p.demands, p.jointDemand(x, j))
	}
	for _, run := range around.Runs {
		if !x.IsChainRun(run) {
			p.demands = append(p.demands, p.runDemand(run))
		}
	}
	for _, st := range around.Stacks {
		p.demands = append(p.demands, p.stackDemand(x, st))
	}
	p.discDemands(x)
	for _, c := range around.Circuits {
		p.demands = append(p.demands, p.circuitDemand(c))
	}
	p.chainDemands(x)
	p.pairDemands(at)
	p.finishDemand()
	return nil
}

func (p *planner) examiner(after *machine.Setup) *examine.Examiner {
	return &examine.Examiner{Built: p.before.AsBuilt(), Before: p.before, After: after, Connections: p.around, Past: p.past}
}

// AddNewCircuit joins those parts that work by a fluid and may sit where no
// circuit is: one of its members may have none, as long as it stays.
func (p *planner) addNewCircuit(around *examine.Connections, at []graph.PositionID) {
	fluid := p.shape
	for _, id := range at {
		for _, o := range p.slots[p.slotAt[id]].options {
			if part := p.before.Library().Part(o.part); !o.other && machine.HasKind(part, "fluid") && !machine.HasKind(fluid.Seat(id).Part, "fluid") {
				fluid = p.setupWith(fluid, map[graph.PositionID]graph.PartID{id: o.part})
			}
		}
	}
	around.AddNewCircuit(fluid, at)
}

func (p *planner) jointDemand(x *examine.Examiner, j graph.Joint) *demand {
	places := slices.Concat([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners)
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if disc, ok := x.DiscOf(x.After, ref.Position); ok && (x.After.KindOf(j.A) == "caliper-mount" || x.After.KindOf(j.B) == "caliper-mount") {
			places = append(places, disc.Position)
		}
	}
	places = lists.Unique(places)
	reads := map[graph.PositionID][]string{}
	if len(places) == len(j.Fasteners)+2 { // no disc is looked for
		reads[j.A.Position], reads[j.B.Position] = []string{j.A.Feature}, []string{j.B.Feature}
	}
	return &demand{what: examine.OfJoint, id: string(j.ID), places: places, reads: reads,
		judge: func(x *examine.Examiner) []examine.Outcome { return []examine.Outcome{x.Joint(j)} },
		may: func(o examine.Outcome) []graph.PositionID {
			if swap.BlamesBolts(o.Checks) { // then neither washers nor what is bolted together help
				return lists.Kept(slices.Clone(j.Fasteners), func(id graph.PositionID) bool { return machine.HasKind(p.shape.Seat(id).Part, "male-thread") })
			}
			return lists.Kept(slices.Clone(places), func(id graph.PositionID) bool { return !slices.Contains(j.Fasteners, id) })
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
	return &demand{what: examine.OfRun, id: string(run.ID), places: lists.Unique(places), reads: reads,
		judge: func(x *examine.Examiner) []examine.Outcome { return []examine.Outcome{x.Run(run)} },
		may:   func(examine.Outcome) []graph.PositionID { return []graph.PositionID{run.Line} }}
}

// A row is put right at its spacers.
func (p *planner) stackDemand(x *examine.Examiner, st graph.Stack) *demand {
	shaft := x.ShaftThrough(x.After, st)
	places := []graph.PositionID{shaft.Position}
	reads := map[graph.PositionID][]string{shaft.Position: {shaft.Feature.Name}}
	var spacers []graph.PositionID
	for _, ref := range append([]graph.FeatureRef{st.Within}, st.Row...) {
		reads[ref.Position] = append(reads[ref.Position], ref.Feature)
		places = append(places, ref.Position)
		if examine.IsSpacer(x.After.Seat(ref.Position)) {
			spacers = append(spacers, ref.Position)
		}
	}
	places = lists.Kept(lists.Unique(places), func(id graph.PositionID) bool { return id != "" })
	return &demand{what: examine.OfStack, id: string(st.ID), places: places, reads: reads,
		judge: func(x *examine.Examiner) []examine.Outcome { return []examine.Outcome{x.Stack(st)} },
		may:   func(examine.Outcome) []graph.PositionID { return spacers }}
}

// Where a disc runs is put right at the disc.
func (p *planner) discDemands(x *examine.Examiner) {
	for _, d := range x.Discs {
		reads := map[graph.PositionID][]string{}
		for _, ref := range slices.Concat(d.Meets(), []graph.FeatureRef{d.Stack.Within}, d.Stack.Row) {
			reads[ref.Position] = append(reads[ref.Position], ref.Feature)
		}
		p.demands = append(p.demands, &demand{what: examine.OfDisc, id: string(d.Disc.Position), places: d.Places(), reads: reads,
			judge: func(x *examine.Examiner) []examine.Outcome { return []examine.Outcome{x.DiscLine(d)} },
			may:   func(examine.Outcome) []graph.PositionID { return []graph.PositionID{d.Disc.Position} }})
	}
}

func (p *planner) circuitDemand(c graph.Circuit) *demand {
	members := lists.Unique(slices.Clone(c.Members))
	reads := map[graph.PositionID][]string{}
	for _, id := range members {
		reads[id] = []string{"fluid"}
	}
	return &demand{what: examine.OfCircuit, id: string(c.ID), places: members, reads: reads,
		judge: func(x *examine.Examiner) []examine.Outcome { return x.Circuit(c) },
		may:   func(examine.Outcome) []graph.PositionID { return members }}
}

func (p *planner) chainDemands(x *examine.Examiner) {
	for _, d := range x.Drives(x.After) {
		places := lists.Kept(lists.Unique(d.Positions()), func(id graph.PositionID) bool { return id != "" })
		p.demands = append(p.demands, &demand{what: examine.OfChain, id: string(d.Chain.Position), places: places,
			judge: func(x *examine.Examiner) []examine.Outcome {
				return lists.Kept(x.Chains(), func(o examine.Outcome) bool { return o.ID == string(d.Chain.Position) })
			},
			may: func(examine.Outcome) []graph.PositionID {
				return append([]graph.PositionID{d.Chain.Position}, lists.Mapped(d.Sprockets, func(r graph.FeatureRef) graph.PositionID { return r.Position })...)
			}})
	}
}

// pairDemands judge left against right wherever one of the two may change.
func (p *planner) pairDemands(at []graph.PositionID) {
	done := map[graph.PositionID]bool{}
	for _, id := range at {
		twin := machine.TwinOf(id)
		if twin == "" || done[twin] || p.shape.Seat(twin).Empty {
			continue
		}
		done[id] = true
		a, b := min(id, twin), max(id, twin)
		p.demands = append(p.demands, &demand{what: examine.OfPair, id: string(a), places: []graph.PositionID{a, b},
			judge: func(x *examine.Examiner) []examine.Outcome { return x.Pair(a, b) },
			may:   func(examine.Outcome) []graph.PositionID { return []graph.PositionID{a, b} }})
	}
}

func (p *planner) finishDemand() {
	places := lists.Unique(slices.Clone(p.around.Painted))
	if len(places) == 0 {
		return
	}
	p.demands = append(p.demands, &demand{what: examine.OfFinish, id: string(p.before.Variant.Model) + ":finish", places: places,
		judge: func(x *examine.Examiner) []examine.Outcome { return x.Finish() },
		may:   func(examine.Outcome) []graph.PositionID { return nil }})
}
