package donor

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// UnitsAnswer says which assemblies of a donor are best taken whole.
type UnitsAnswer struct {
	On   graph.VariantID `json:"on"`
	From graph.VariantID `json:"from"`
	// Units are sorted as compareUnits says: whole ends of the machine first, each sort
	// by what it costs to make it fit.
	Units []DonorUnit `json:"units"`
}

// DonorUnit is a group of assemblies that come over together.
type DonorUnit struct {
	Assemblies []string `json:"assemblies"` // as typed after --take
	// WholeEnd is true for a wheel with all that carries it and stops it, as one
	// wheels it away from a donor.
	WholeEnd bool `json:"whole_end,omitempty"`
	Parts    int  `json:"parts"` // places whose part changes
	// Outcome is that of a plan of its own, as in DonorAnswer, and Cost what that takes
	// besides; nil when there is none, or there was no time.
	Outcome  string     `json:"outcome,omitempty"`
	Cost     *DonorCost `json:"cost,omitempty"`
	Crossing int        `json:"crossing"` // connections between what comes and what stays
	// Mismatches are the crossing connections that come out worse than before,
	// the worst first.
	Mismatches []CutMismatch `json:"mismatches"`
	// Saved are how many connections would not mate if each of the places came
	// over by itself, and do mate when all come together: what is gained by taking
	// it whole.
	Saved int `json:"saved"`

	cost plan.Cost
}

// compareUnits puts first what answers "what should I take whole?".
//
// Whoever asks has a donor standing there and wants to know where to put the
// spanner. One thinks of ends: the fork with its yokes, wheel and brakes, the arm
// with its own. So those come first. Of the rest, a group with hardly a joint to
// what stays costs nothing to make fit, but nothing is gained by taking its parts
// together either; those that gain something come before them. Of one sort, what a
// plan makes fit comes before what none does, then what costs least to make fit,
// then fewest mismatches across the cut, of those of one number the one with fewest
// that no change puts right, then the one that saves most, then fewest parts to
// carry.
func compareUnits(x, y DonorUnit) int {
	return cmp.Or(cmp.Compare(lists.Order(!x.WholeEnd), lists.Order(!y.WholeEnd)),
		cmp.Compare(lists.Order(x.Saved == 0), lists.Order(y.Saved == 0)),
		cmp.Compare(lists.Order(x.Cost == nil), lists.Order(y.Cost == nil)), comparePlans(x.cost, y.cost, plan.PreferEffort),
		cmp.Compare(len(x.Mismatches), len(y.Mismatches)),
		cmp.Compare(x.hopeless(), y.hopeless()), cmp.Compare(y.Saved, x.Saved), cmp.Compare(x.Parts, y.Parts),
		slices.Compare(x.Assemblies, y.Assemblies))
}

// hopeless is how many mismatches no change puts right.
func (u DonorUnit) hopeless() int {
	return len(lists.Kept(slices.Clone(u.Mismatches), func(m CutMismatch) bool { return m.Verdict == graph.DoesNotFit }))
}

// CutMismatch is one connection across the cut that does not mate as it is.
type CutMismatch struct {
	What    string         `json:"what"`
	ID      string         `json:"id"`
	Verdict graph.Verdict  `json:"verdict"`
	Safety  []graph.Safety `json:"safety,omitempty"`
	Why     string         `json:"why"`
}

// cutter judges cuts between what comes from a donor and what stays. All places
// of an assembly go together, so a connection comes out the same for every cut
// that divides its own assemblies in the same way.
type cutter struct {
	p          *planner
	whole      *examine.Connections
	assemblies []string
	at         map[string][]graph.PositionID // places whose part would change
	demands    []*demand
	judged     map[cutKey]examine.Outcome
}

// UnitsTime is how long groups are planned when nobody says, all together.
const UnitsTime = 8 * time.Second

// UnitTime is how long one of the groups is planned at most, of so much for all: a
// question for that group alone needs no more to come as far.
func UnitTime(all time.Duration) time.Duration { return max(DonorTime, all/4) }

// mostUnits is how many units are listed.
const mostUnits = 12

// DonorUnits finds the groups of assemblies that are best taken whole: each wheel
// with what carries and stops it, and each assembly by itself, then grown by the
// neighbour that does away with most mismatches, as long as one does. Of the most
// promising it plans each, in the time of the question. With Take, only groups that
// hold what is named there are listed. at, unless nil, is told which group it comes
// to, from 0, and of how many. Errors are those of Donor.
func DonorUnits(ctx context.Context, r graph.Reader, q DonorQuestion, at func(i, of int)) (UnitsAnswer, error) {
	q = q.timed()
	c, err := newCutter(ctx, r, q)
	if err != nil {
		return UnitsAnswer{}, err
	}
	seeds, err := c.seeds(q.Take)
	if err != nil {
		return UnitsAnswer{}, err
	}
	a := UnitsAnswer{On: c.p.before.Variant.ID, From: c.p.donor.Variant.ID, Units: []DonorUnit{}}
	seen := map[string]bool{}
	for _, seed := range seeds {
		for _, unit := range c.grow(seed.assemblies) {
			if key := strings.Join(unit.Assemblies, " "); !seen[key] && unit.Parts > 0 {
				seen[key] = true
				unit.WholeEnd = seed.wholeEnd
				a.Units = append(a.Units, unit)
			}
		}
	}
	slices.SortStableFunc(a.Units, compareUnits)
	a.Units = a.Units[:min(len(a.Units), mostUnits)]
	if err := planUnits(ctx, r, q, a.Units, at); err != nil {
		return a, err
	}
	slices.SortStableFunc(a.Units, compareUnits)
	return a, nil
}

// planUnits plans each group by itself, all in the time of the question. Most groups take
// little of it, so that each may take three times its share of what is left.
func planUnits(ctx context.Context, r graph.Reader, q DonorQuestion, units []DonorUnit, at func(i, of int)) error {
	for i := range units {
		if at != nil {
			at(i, len(units))
		}
		one := q
		one.Take, one.Began = units[i].Assemblies, q.now()
		left := q.Time - one.Began.Sub(q.Began)
		share := left * 3 / time.Duration(len(units)-i+2)
		one.Time = max(shortestLook, min(share, UnitTime(q.Time)).Truncate(10*time.Millisecond))
		if err := units[i].plan(ctx, r, one); err != nil {
			return err
		}
	}
	return nil
}

// plan finds what it costs to make the group fit, counted as in an answer of its own.
func (u *DonorUnit) plan(ctx context.Context, r graph.Reader, q DonorQuestion) error {
	p, err := newPlanner(ctx, r, q)
	if err != nil {
		return err
	}
	defer p.ctx.release()
	result, err := solve(p)
	var tooWide *DonorError
	if errors.As(err, &tooWide) {
		u.Outcome = "no plan found"
		return nil
	}
	if err != nil {
		return err
	}
	made, err := plans(p, result.Plans[:min(1, len(result.Plans))])
	if err != nil {
		return err
	}
	u.Outcome = outcomeWords(p, result)
	if len(made) > 0 {
		u.cost, u.Cost = made[0].cost, &made[0].Cost
	}
	return nil
}

func newCutter(ctx context.Context, r graph.Reader, q DonorQuestion) (*cutter, error) {
	t, err := emptyTask(ctx, r, q)
	if err != nil {
		return nil, err
	}
	before, p := t.before, plannerOf(t, newDeadline(ctx, q))
	c := &cutter{p: p, at: map[string][]graph.PositionID{}, judged: map[cutKey]examine.Outcome{}}
	if c.whole, err = examine.WholeMachine(ctx, before); err != nil {
		return nil, err
	}
	p.around = c.whole
	positions, err := r.PositionsOf(ctx, before.Variant.Model)
	if err != nil {
		return nil, err
	}
	ids := lists.Mapped(positions, func(at graph.Position) graph.PositionID { return at.ID })
	if err := p.donor.Load(ctx, lists.Mapped(ids, p.onDonor)...); err != nil {
		return nil, err
	}
	c.sortOut(positions)
	c.gather()
	return c, nil
}

// sortOut finds which places of each assembly would change. An assembly that
// makes the machine that machine does not come over.
func (c *cutter) sortOut(positions []graph.Position) {
	fixed := map[string]bool{} // what makes the machine that machine
	for _, at := range positions {
		if !slices.Contains(at.On, c.p.before.Variant.ID) {
			continue
		}
		name := at.ID.Assembly().Local()
		mine, theirs := c.p.before.Seat(at.ID), c.p.donor.Seat(c.p.onDonor(at.ID))
		if !mine.Empty && swap.IsMachine(mine.Part) {
			fixed[name] = true
		}
		if !theirs.Empty && theirs.Part.ID != mine.Part.ID {
			c.at[name] = append(c.at[name], at.ID)
		}
	}
	for name := range fixed {
		delete(c.at, name)
	}
	c.assemblies = lists.KeysOf(c.at)
}

// gather makes demands of all that connects the machine, but for its paint, which
// keeps no part from mating.
func (c *cutter) gather() {
	for _, one := range c.whole.List(c.p.before, nil) {
		if one.What != examine.OfFinish {
			c.demands = append(c.demands, &demand{Connection: one, reads: one.Reads()})
		}
	}
}

// seed is a group to begin with.
type seed struct {
	assemblies []string
	wholeEnd   bool
}

// seeds are the groups to begin with: whole ends and each assembly, or the one
// group that is asked for.
func (c *cutter) seeds(take []string) ([]seed, error) {
	if len(take) == 0 {
		seeds := c.ends()
		for _, name := range c.assemblies {
			seeds = append(seeds, seed{assemblies: []string{name}})
		}
		return seeds, nil
	}
	var group []string
	for _, typed := range take {
		ids, _, err := c.p.placesNamed(typed)
		if err != nil {
			return nil, err
		}
		for _, id := range ids {
			group = append(group, id.Assembly().Local())
		}
	}
	return []seed{{assemblies: lists.Unique(group)}}, nil
}

// ends are the wheels with what carries and stops them: the assemblies joined to
// that of a wheel at places of a safety class, and those joined to these in turn.
func (c *cutter) ends() []seed {
	var ends []seed
	for _, name := range c.assemblies {
		if !slices.ContainsFunc(c.at[name], c.isWheel) {
			continue
		}
		group := []string{name}
		for _, through := range [][]graph.Safety{{graph.SafetyWheel, graph.SafetySteering, graph.SafetyBrake},
			{graph.SafetyWheel, graph.SafetySteering}} { // a brake leads to the bars, which stay
			var more []string
			for _, d := range c.demands {
				more = append(more, c.joinedBy(d, group, through)...)
			}
			group = lists.Unique(append(group, more...))
		}
		if len(group) > 1 {
			ends = append(ends, seed{group, true})
		}
	}
	return ends
}

func (c *cutter) isWheel(id graph.PositionID) bool {
	return strings.HasSuffix(string(c.p.before.Position(id).Kind), "wheel")
}

// joinedBy are the assemblies, of which some part would change, that a joint joins
// to a group at a place of one of some safety classes, all its places carrying or
// stopping a wheel.
func (c *cutter) joinedBy(d *demand, group []string, through []graph.Safety) []string {
	if d.What != examine.OfJoint {
		return nil
	}
	var names []string
	joined := false
	for _, id := range d.Places {
		at := c.p.before.Position(id)
		if machine.IsOrderedBySize(at.Kind) {
			continue
		}
		if at.Safety != graph.SafetyWheel && at.Safety != graph.SafetySteering && at.Safety != graph.SafetyBrake {
			return nil
		}
		name := id.Assembly().Local()
		joined = joined || slices.Contains(group, name) && slices.Contains(through, at.Safety)
		if len(c.at[name]) > 0 {
			names = append(names, name)
		}
	}
	if !joined {
		return nil
	}
	return names
}

// grow adds, as long as that leaves fewer mismatches, the assembly that leaves
// fewest. It gives every group on the way.
func (c *cutter) grow(group []string) []DonorUnit {
	unit := c.unit(group)
	units := []DonorUnit{unit}
	for len(unit.Mismatches) > 0 {
		best := unit
		for _, name := range c.assemblies {
			if slices.Contains(unit.Assemblies, name) {
				continue
			}
			next := c.unit(append(slices.Clone(unit.Assemblies), name))
			if len(next.Mismatches) < len(best.Mismatches) {
				best = next
			}
		}
		if len(best.Mismatches) == len(unit.Mismatches) {
			break
		}
		unit = best
		units = append(units, unit)
	}
	return units
}

// unit judges one cut.
func (c *cutter) unit(group []string) DonorUnit {
	u := DonorUnit{Assemblies: lists.Unique(slices.Clone(group)), Mismatches: []CutMismatch{}}
	for _, name := range u.Assemblies {
		u.Parts += len(c.at[name])
	}
	for _, d := range c.demands {
		coming := c.coming(d, u.Assemblies)
		if len(coming) == 0 || len(coming) == len(d.Places) || c.allIn(d, u.Assemblies) {
			continue
		}
		u.Crossing++
		o := c.outcome(d, coming)
		if isMismatch(o) {
			u.Mismatches = append(u.Mismatches, CutMismatch{What: o.What, ID: o.ID, Verdict: o.After, Safety: o.Safety,
				Why: o.Why})
		}
	}
	slices.SortStableFunc(u.Mismatches, func(a, b CutMismatch) int { return cmp.Compare(b.Verdict, a.Verdict) })
	u.Saved = c.saved(u.Assemblies)
	return u
}

// isMismatch reports whether a connection does not mate as it is, with hand
// tools and nothing to be got.
func isMismatch(o examine.Outcome) bool {
	return o.What != "" && o.IsWorse() && (o.After > graph.FitsWithChanges || examine.HasOrders(o.Checks) ||
		examine.EffortOf(o.Checks) > graph.EffortHandTools)
}

// saved is how many connections within the group mate when all of it comes, and
// would not if some one of its places came by itself.
func (c *cutter) saved(group []string) int {
	n := 0
	for _, d := range c.demands {
		coming := c.coming(d, group)
		if len(coming) < 2 || isMismatch(c.outcome(d, coming)) {
			continue
		}
		if slices.ContainsFunc(coming,
			func(id graph.PositionID) bool { return isMismatch(c.outcome(d, []graph.PositionID{id})) }) {
			n++
		}
	}
	return n
}

// coming are the places of a demand whose part comes over.
func (c *cutter) coming(d *demand, group []string) []graph.PositionID {
	return lists.Kept(slices.Clone(d.Places), func(id graph.PositionID) bool {
		name := id.Assembly().Local()
		return slices.Contains(group, name) && slices.Contains(c.at[name], id)
	})
}

// allIn reports whether a demand lies wholly within the group: then nothing is
// cut.
func (c *cutter) allIn(d *demand, group []string) bool {
	return !slices.ContainsFunc(d.Places,
		func(id graph.PositionID) bool { return !slices.Contains(group, id.Assembly().Local()) })
}

// cutKey is a demand with the parts that come over of its places.
type cutKey struct {
	demand examine.OutcomeID
	coming string
}

func (c *cutter) outcome(d *demand, coming []graph.PositionID) examine.Outcome {
	key := cutKey{demand: d.key()}
	for _, id := range coming {
		key.coming += "|" + string(id)
	}
	if o, ok := c.judged[key]; ok {
		return o
	}
	parts := map[graph.PositionID]graph.PartID{}
	for _, id := range coming {
		parts[id] = c.p.donor.Seat(c.p.onDonor(id)).Part.ID
	}
	o, _ := d.Judge(c.p.was, setupWith(c.p, c.p.before, parts))
	c.judged[key] = o
	return o
}
