// Package gaps says what can't be judged yet on a machine, or of a change to it,
// and which measurements would settle it, the most useful first. It judges
// nothing itself: packages examine and swap do. The door is Gaps.
package gaps

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// Question asks what can't be judged yet.
type Question struct {
	On     string // one variant, or a user's own bike; see queries.MachineQuestion
	Market string
	Frame  string
	// Swaps are parts that are meant to go on; Take are positions or assemblies
	// taken over whole from the machine From. Without either the machine is
	// judged as it stands.
	Swaps []swap.Replacement
	Take  []string
	From  string
	// Assembly limits the answer to what concerns one; empty is all.
	Assembly string
	// Usual gives the joints that such a machine usually has and that nobody wrote of this
	// one, by its places and joints; nil asks for none.
	Usual func([]graph.Position, []graph.Joint) []graph.Joint
}

// Answer is what can't be judged, and what would settle it. Lists are in a
// stable order.
type Answer struct {
	On    graph.VariantID `json:"on"`
	Bike  graph.BikeID    `json:"bike,omitempty"`
	Swaps []swap.SwapLine `json:"swaps,omitempty"`
	// Judged counts what was judged, Open what of it is unknown.
	Judged int `json:"judged"`
	Open   int `json:"open"`
	// Fails is what does not fit: as the machine stands, or with the swaps on.
	Fails []examine.Outcome `json:"fails"`
	// Gaps are the measurements that would settle something: safety first, then
	// how many answers hang on each, then how easy it is to get at.
	Gaps []Gap `json:"gaps"`
	// Rest is unknown too, and no measurement that is known of would settle it.
	Rest []examine.Outcome `json:"rest"`
	// Unwritten are joints that such a machine usually has and that nobody wrote of this
	// one: what they would judge is judged by nobody.
	Unwritten []Unwritten       `json:"unwritten,omitempty"`
	Cautions  []queries.Caution `json:"cautions,omitempty"`
}

// SafetyOpen reports whether something safety-relevant is unknown or does not
// fit.
func (a Answer) SafetyOpen() bool {
	risky := func(o examine.Outcome) bool { return len(o.Safety) > 0 }
	return slices.ContainsFunc(a.Gaps, func(g Gap) bool { return g.Safety != graph.SafetyNone }) ||
		slices.ContainsFunc(a.Fails, risky) || slices.ContainsFunc(a.Rest, risky)
}

// Unwritten is a joint that nobody wrote, by the name it usually has.
type Unwritten struct {
	Joint graph.JointID `json:"joint"`
	A     examine.End   `json:"a"`
	B     examine.End   `json:"b"`
}

// PartNumber is what a gap asks for at a place where nobody says what sits.
const PartNumber = "number"

// Gap is one measurement, or one number to read, and what hangs on it.
type Gap struct {
	mating.Ask
	Name   string       `json:"name"` // of the place
	Safety graph.Safety `json:"safety,omitempty"`
	// Words are those that the dimension takes, where it takes only some; empty for
	// one that is measured.
	Words []string `json:"words,omitempty"`
	// Settles are the outcomes that wait for it: "joint hose-on-caliper".
	Settles []string `json:"settles"`
	// Off is how many parts must come off before one can get at it.
	Off int `json:"off"`
	// New is true for the very part that is meant to go on: whoever offers it
	// can be asked.
	New bool `json:"new,omitempty"`
}

// Gaps answers what can't be judged yet. Errors are *queries.NotFoundError or
// *queries.AmbiguousError, say what of the swaps can't be understood, or come from the reader.
func Gaps(ctx context.Context, r graph.Reader, q Question) (Answer, error) {
	s, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, "")
	if err != nil {
		return Answer{}, err
	}
	a := Answer{On: s.Variant.ID, Fails: []examine.Outcome{}, Gaps: []Gap{}, Rest: []examine.Outcome{}}
	if s.Bike != nil {
		a.Bike = s.Bike.ID
	}
	after, outcomes, err := a.judge(ctx, s, q)
	if err != nil {
		return a, err
	}
	if outcomes, err = concerning(ctx, r, s, q.Assembly, outcomes); err != nil {
		return a, err
	}
	positions, err := r.PositionsOf(ctx, s.Variant.Model)
	if err != nil {
		return a, err
	}
	c := collector{after: after, above: above(positions)}
	for _, o := range outcomes {
		c.add(&a, o)
	}
	a.Gaps = c.ranked()
	a.Unwritten, err = unwritten(ctx, r, s, q, positions)
	return a, err
}

// unwritten are the usual joints that nobody wrote of the machine, where it is asked about as
// it stands.
func unwritten(ctx context.Context, r graph.Reader, s *machine.Setup, q Question,
	positions []graph.Position) ([]Unwritten, error) {
	if q.Usual == nil || len(q.Swaps)+len(q.Take) > 0 {
		return nil, nil
	}
	joints, err := r.JointsOf(ctx, s.Variant.Model)
	here := lists.Kept(positions, func(p graph.Position) bool { return slices.Contains(p.On, s.Variant.ID) })
	end := func(ref graph.FeatureRef) examine.End {
		return examine.End{Position: ref.Position, Name: s.Position(ref.Position).Name, Feature: ref.Feature}
	}
	var all []Unwritten
	for _, j := range q.Usual(here, joints) {
		in := func(id graph.PositionID) bool { return id.Assembly().Local() == q.Assembly }
		if q.Assembly == "" || in(j.A.Position) || in(j.B.Position) {
			all = append(all, Unwritten{j.ID, end(j.A), end(j.B)})
		}
	}
	return all, err
}

// judge gives the machine that is asked about, and all that was judged on it.
func (a *Answer) judge(ctx context.Context, s *machine.Setup, q Question) (*machine.Setup, []examine.Outcome, error) {
	changes, err := changesOf(ctx, s, q)
	if err != nil {
		return nil, nil, err
	}
	if len(changes) == 0 {
		outcomes, err := examine.ExamineAll(ctx, s)
		return s, outcomes, err
	}
	after, err := s.With(ctx, changes)
	if err != nil {
		return nil, nil, err
	}
	j, err := swap.Judge(ctx, examine.From(s), after, swap.Asked{Unnamed: true})
	a.Swaps, a.Cautions = j.Answer.Swaps, j.Answer.Cautions
	return after, j.Outcomes, err
}

// changesOf are the parts that are meant to go on, by position.
func changesOf(ctx context.Context, s *machine.Setup, q Question) (map[graph.PositionID]graph.PartID, error) {
	changes := map[graph.PositionID]graph.PartID{}
	if len(q.Swaps) > 0 {
		var err error
		if changes, _, err = swap.ReadSwaps(ctx, s, q.Swaps); err != nil {
			return nil, err
		}
	}
	if len(q.Take) == 0 {
		return changes, nil
	}
	donor, err := machine.NewSetup(ctx, s.Library().Reader(), queries.MachineQuestion{On: q.From}, "")
	if err != nil {
		return nil, err
	}
	places, err := placesTaken(ctx, s, q.Take)
	if err != nil {
		return nil, err
	}
	there := lists.Mapped(places, func(id graph.PositionID) graph.PositionID {
		return id.On(donor.Variant.Model)
	})
	if err := donor.Load(ctx, there...); err != nil {
		return nil, err
	}
	for i, id := range places {
		if seat := donor.Seat(there[i]); !seat.Empty {
			changes[id] = seat.Part.ID
		}
	}
	if len(changes) == 0 {
		return nil, &queries.NotFoundError{What: "part", Asked: strings.Join(q.Take, ", "),
			Where: "on " + string(donor.Variant.ID)}
	}
	return changes, nil
}

// placesTaken are the positions that the words name: positions, or all of an
// assembly.
func placesTaken(ctx context.Context, s *machine.Setup, words []string) ([]graph.PositionID, error) {
	var places []graph.PositionID
	r := s.Library().Reader()
	for _, word := range words {
		assembly, err := queries.AssemblyFor(ctx, r, s.Variant.Model, word)
		if err == nil {
			all, err := r.PositionsIn(ctx, assembly.ID)
			if err != nil {
				return nil, err
			}
			for _, p := range all {
				if slices.Contains(p.On, s.Variant.ID) {
					places = append(places, p.ID)
				}
			}
			continue
		}
		if missing := (*queries.NotFoundError)(nil); !errors.As(err, &missing) {
			return nil, err
		}
		p, err := queries.PositionFor(ctx, r, s.Variant.Model, word)
		if err != nil {
			return nil, err
		}
		places = append(places, p.ID)
	}
	return lists.Unique(places), nil
}

// concerning are the outcomes that speak of a place of the assembly.
func concerning(ctx context.Context, r graph.Reader, s *machine.Setup, assembly string,
	all []examine.Outcome) ([]examine.Outcome, error) {
	if assembly == "" {
		return all, nil
	}
	a, err := queries.AssemblyFor(ctx, r, s.Variant.Model, assembly)
	return lists.Kept(all, func(o examine.Outcome) bool {
		return slices.ContainsFunc(o.Places(), func(id graph.PositionID) bool { return id.Assembly() == a.ID })
	}), err
}

// above says of each position which ones sit on it: those that are fitted after
// it, at any remove.
func above(positions []graph.Position) func(graph.PositionID) int {
	next := map[graph.PositionID][]graph.PositionID{}
	for _, p := range positions {
		for _, before := range p.After {
			next[before] = append(next[before], p.ID)
		}
	}
	return func(id graph.PositionID) int {
		seen := map[graph.PositionID]bool{id: true}
		for queue := []graph.PositionID{id}; len(queue) > 0; queue = queue[1:] {
			for _, p := range next[queue[0]] {
				if !seen[p] {
					seen[p] = true
					queue = append(queue, p)
				}
			}
		}
		return len(seen) - 1
	}
}

// collector gathers what would settle outcomes.
type collector struct {
	after *machine.Setup
	above func(graph.PositionID) int
	gaps  []Gap
	at    map[mating.Ask]int
}

// add sorts an outcome into the answer, and notes what it waits for.
func (c *collector) add(a *Answer, o examine.Outcome) {
	a.Judged++
	switch o.After {
	case graph.DoesNotFit:
		a.Fails = append(a.Fails, o)
	case graph.Unknown:
		a.Open++
	default:
		return
	}
	asked := false
	for _, check := range o.Checks {
		for _, ask := range check.Measure {
			c.ask(ask, o)
			asked = true
		}
		if check.Empty != "" {
			if ask, known := c.numberAt(check.Empty); known {
				c.ask(ask, o)
				asked = true
			}
		}
	}
	if !asked && o.After == graph.Unknown {
		a.Rest = append(a.Rest, o)
	}
}

// numberAt asks what sits at a place. A place that is known to be empty asks for
// nothing.
func (c *collector) numberAt(id graph.PositionID) (mating.Ask, bool) {
	seat := c.after.Seat(id)
	if seat.Position.ID == "" || seat.Missing {
		return mating.Ask{}, false
	}
	return mating.Ask{Position: id, Dim: PartNumber, What: "number on the part that sits there", Where: id.Local(),
		Gauge: graph.ByEye, Accuracy: "marking"}, true
}

func (c *collector) ask(ask mating.Ask, o examine.Outcome) {
	if c.at == nil {
		c.at = map[mating.Ask]int{}
	}
	i, known := c.at[ask]
	if !known {
		i = len(c.gaps)
		c.at[ask] = i
		seat := c.after.Seat(ask.Position)
		c.gaps = append(c.gaps, Gap{Ask: ask, Name: seat.Position.Name, New: seat.Changed, Words: c.wordsOf(ask)})
		if !seat.Changed && ask.Dim != PartNumber {
			c.gaps[i].Off = c.above(ask.Position)
		}
	}
	g := &c.gaps[i]
	g.Settles = lists.Unique(append(g.Settles, o.What+" "+queries.LocalName(o.ID)))
	if class := examine.FirstSafety(o.Safety); g.Safety == graph.SafetyNone {
		g.Safety = class
	}
}

// wordsOf are the words that what is asked for takes.
func (c *collector) wordsOf(ask mating.Ask) []string {
	side := c.after.Side(graph.FeatureRef{Position: ask.Position, Feature: ask.Feature})
	kind, _ := graph.FeatureKindNamed(side.Feature.Kind)
	if spec, known := kind.Dim(ask.Dim); known && spec.Type == measure.YesNo {
		return []string{"yes", "no"}
	} else if known {
		return spec.Words
	}
	return nil
}

// ranked are the gaps, the most useful first.
func (c *collector) ranked() []Gap {
	slices.SortStableFunc(c.gaps, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(lists.Order(a.Safety == graph.SafetyNone), lists.Order(b.Safety == graph.SafetyNone)),
			cmp.Compare(len(b.Settles), len(a.Settles)), cmp.Compare(a.effort(), b.effort()), cmp.Compare(a.Off, b.Off),
			cmp.Compare(a.Position, b.Position), cmp.Compare(a.Feature, b.Feature), cmp.Compare(a.Dim, b.Dim))
	})
	if c.gaps == nil {
		return []Gap{}
	}
	return c.gaps
}

// effort is how much it takes to measure: 0 by eye, 1 with a rule, tape or
// caliper, 2 with a gauge that not every shed has.
func (g Gap) effort() int {
	switch {
	case g.Gauge == graph.ByEye:
		return 0
	case slices.Contains([]string{"vernier caliper", "steel rule", "steel tape", "straight edge and rule"}, g.Gauge):
		return 1
	}
	return 2
}

// Easy reports whether whoever has the part in the hand can measure it without a
// gauge of the trade or the machine beside it: by eye, with a rule, a tape or a
// caliper.
func (g Gap) Easy() bool { return g.effort() < 2 && g.Gauge != "straight edge and rule" }
