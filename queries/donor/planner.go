package donor

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
	"matewell/queries/plan"
)

// planner looks for the plan of one task. It grows: slots and what connects them
// are added as far as a mismatch reaches. What it has worked out already is in its
// memory; the task it leaves as it is.
type planner struct {
	*task
	*memory
	ctx *deadline // of all that looks for a plan

	around      *examine.Connections
	slots       []*donorSlot
	slotAt      map[graph.PositionID]int
	demands     []*demand
	gathered    []*demand                      // all of what connects the slots, when it was last read
	meets       map[graph.PositionID][]*demand // what meets each place, of those that were gathered
	problem     plan.Problem
	known       *known
	rival       *known                    // a known plan that the search counts more of; nil for none
	dear        *known                    // the cheapest of what was found that goes over the budget; nil for none
	told        *plan.Cost                // what q.Better was last told
	bottom      plan.Cost                 // what no plan costs less than, as last worked out
	bound       *plan.Cost                // of a plan that is known; nil before there is one
	late        bool                      // the time was over before a plan was proved smallest
	unproved    bool                      // something else keeps it from being proved
	overcounted bool                      // a plan leaves less unknown than the search counted: its cost is no bound
	refusals    map[examine.OutcomeID]int // how many of them, by demand
	fault       error                     // of the reader, met while judging
	sure        *plan.Cost                // what no plan costs less than, proved before any way was refused; nil for none
	refused     map[refusal]bool          // ways that a whole machine refused; with any, no plan is proved smallest
	notes       []string                  // those of the task, and what there was no time for

	stuck   []*demand                  // of a rough plan: what stood in the way of one when last looked at
	first   *planner                   // the one that looked for a rough plan; nil before
	rough   bool                       // it looks for a rough plan
	whole   map[examine.OutcomeID]bool // of a rough plan: demands of which every combination is tried
	plain   bool                       // save nothing: judge all there is, for a test to compare with
	guessed planSize                   // the last that was guessed at
	within  *planSize                  // while a plan of that size is guessed at
	floors  floors                     // when last enumerated, of all slots there were
	ways    plan.Cost                  // what the demands enumerated so far cost at least, however they hold
	looks   int                        // how often the clock might have been asked
	most    int                        // how many combinations may still be judged; 0 is any number
	key     []byte                     // room to write a key in
	room    []byte                     // room to write another
}

// memory is what was worked out or read already. None of it hangs on what the
// planner takes or leaves, so that it holds for the whole search.
type memory struct {
	was        *examine.Before // the machine before, with what was judged of it
	stood      *examine.Before // the same for the engine that plans are put to, apart from the search
	lent       *examine.Before // the donor, for that engine; nil without one
	judged     map[string]judgement
	allMade    map[string][]examine.Outcome // a whole machine with all of a plan made; see onceMade
	onceOn     map[string]graph.Verdict     // on what is made, once it is on; by machine and way
	anything   *trial                       // of a combination that holds for nothing
	trials     map[trialsKey]map[string]*trial
	settled    map[settledKey]*trial // see settledTrial
	weighed    map[string]bool       // whether a part earns nothing at its place; see weighedOn
	seats      map[seatKey]*machine.Seat
	signs      map[signKey]int // what parts measure where a demand looks, as a number
	texts      map[string]int
	joined     map[string][]graph.Part   // what stands between two sides
	companions map[seatKey]bool          // see cameWith
	needed     map[graph.PositionID]bool // whether it can't be ridden with a place of it empty

	adapters map[string][]graph.PartID
	featured map[string][]graph.KindID                            // kinds of part by the kinds of their features
	byKind   map[graph.KindID][]graph.PartID                      // parts of the kinds that were asked for
	meant    map[graph.KindID]map[graph.PartID][]graph.PositionID // where parts of the kinds are listed
	anywhere map[graph.KindID]bool
	words    map[seatKey]word
	models   []graph.ModelID // of the whole graph, once they were needed
	currency string          // of the first price met: sums are in it
}

func newMemory(before, donor *machine.Setup) *memory {
	m := &memory{was: examine.From(before), stood: examine.From(before), judged: map[string]judgement{},
		onceOn:   map[string]graph.Verdict{},
		allMade:  map[string][]examine.Outcome{},
		anything: &trial{ways: []donorWay{{}}, complete: true}, trials: map[trialsKey]map[string]*trial{},
		settled: map[settledKey]*trial{}, weighed: map[string]bool{},
		seats: map[seatKey]*machine.Seat{}, signs: map[signKey]int{}, texts: map[string]int{},
		joined: map[string][]graph.Part{}, needed: map[graph.PositionID]bool{}, companions: map[seatKey]bool{},
		adapters: map[string][]graph.PartID{}, featured: map[string][]graph.KindID{},
		byKind: map[graph.KindID][]graph.PartID{},
		meant:  map[graph.KindID]map[graph.PartID][]graph.PositionID{}, anywhere: map[graph.KindID]bool{},
		words: map[seatKey]word{}}
	if donor != nil {
		m.lent = examine.From(donor)
	}
	return m
}

// shared is the memory of another planner on the same machine: all of it but what was
// tried by slots.
func (m *memory) shared() *memory {
	other := *m
	other.trials = map[trialsKey]map[string]*trial{}
	return &other
}

// newPlanner reads a question; from then on the time to look runs. Its deadline
// must be released.
func newPlanner(ctx context.Context, r graph.Reader, q DonorQuestion) (*planner, error) {
	d := newDeadline(ctx, q.timed())
	t, err := newTask(ctx, r, q)
	if err != nil {
		d.release()
		return nil, err
	}
	d.keepBack()
	return plannerOf(t, d), nil
}

// other is a planner of another question about the same machines, which shares what
// was judged. Its deadline must be released.
func (p *planner) other(q DonorQuestion) (*planner, error) {
	d := newDeadline(p.asked, q)
	t, err := p.task.asking(q)
	if err != nil {
		d.release()
		return nil, err
	}
	d.keepBack()
	return plannerWith(t, p.memory.shared(), d), nil
}

// plannerOf is a planner that has not looked yet.
func plannerOf(t *task, d *deadline) *planner {
	m := newMemory(t.before, t.donor)
	m.currency = t.paidIn
	return plannerWith(t, m, d)
}

func plannerWith(t *task, m *memory, d *deadline) *planner {
	return &planner{task: t, memory: m, ctx: d, refused: map[refusal]bool{}, refusals: map[examine.OutcomeID]int{},
		notes:  slices.Clone(t.notes),
		slotAt: map[graph.PositionID]int{}}
}

// builtAt is what sits at a place, or what was built there when nothing does.
func (p *planner) builtAt(at graph.PositionID) graph.PartID {
	return cmp.Or(p.empty[at], p.before.Seat(at).Part.ID)
}

func (p *planner) named(id graph.PartID) string { return machine.NameOf(p.before.Library().Part(id)) }
