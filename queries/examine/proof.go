package examine

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// prover tells whether a check that looked at a dimension really compares it: with
// another value in its place, some rule must come to another verdict. One that
// reads a depth and says "fits" whatever the depth is has judged nothing.
type prover struct {
	x    *Examiner
	list map[string]Connection // what is not found without going through all there is, by sort and identity
	done map[proofOf]bool
}

// judges judges one connection after a change.
type judges func(*Examiner) (Outcome, bool)

// proofOf is one dimension in one outcome.
type proofOf struct {
	outcome, feature, dim string
	at                    graph.PositionID
	aspect                int
}

func newProver(x *Examiner) *prover { return &prover{x: x, done: map[proofOf]bool{}} }

// judgesOf is what an outcome was judged by; nil for one that is said of a part or
// stands on nothing that other sizes would change. What Connections.List makes of
// facts one by one is found without making that list.
func (p *prover) judgesOf(o Outcome) judges {
	switch o.What {
	case OfJoint:
		if i := slices.IndexFunc(p.x.Joints, func(j graph.Joint) bool { return string(j.ID) == o.ID }); i >= 0 {
			return judgesJoint(p.x.Joints[i])
		}
		return nil
	case OfStack:
		if i := slices.IndexFunc(p.x.stacks, func(st graph.Stack) bool { return string(st.ID) == o.ID }); i >= 0 {
			return judgesStack(p.x.stacks[i])
		}
		return nil
	case OfDisc:
		for _, d := range slices.Backward(p.x.discs) {
			if string(d.disc.Position) == o.ID {
				return judgesDisc(d)
			}
		}
		return nil
	}
	if p.list == nil {
		p.list = map[string]Connection{}
		for _, c := range p.x.List(p.x.After, p.x.touched()) {
			p.list[c.What+" "+c.ID] = c
		}
	}
	return p.list[o.What+" "+o.ID].judge
}

// compares reports for every aspect in which a new value differs from the old one
// (size, pitch, hand) whether an outcome hangs on it. An outcome that is no fit is
// taken at its word.
func (p *prover) compares(o Outcome, at graph.PositionID, feature string, spec graph.DimSpec,
	aspects [][]string) []bool {
	return lists.Mapped(numbered(aspects), func(i int) bool {
		if o.After > graph.FitsWithChanges {
			return true
		}
		key := proofOf{outcome: o.What + " " + o.ID, at: at, feature: feature, dim: spec.Name, aspect: i}
		if proven, ok := p.done[key]; ok {
			return proven
		}
		proven := p.proves(o, spot{at, feature, spec}, aspects[i])
		p.done[key] = proven
		return proven
	})
}

// spot is a dimension of what sits at a place.
type spot struct {
	at      graph.PositionID
	feature string
	spec    graph.DimSpec
}

// as is the same spot with a value to try there.
func (s spot) as(text string) trial { return trial{s, text} }

type trial struct {
	spot
	text string
}

// proves reports whether an outcome hangs on a dimension: by itself, else where
// something else that the outcome looked at is a little nearer to its limit, as the
// metal of a thread decides once there is less of it.
func (p *prover) proves(o Outcome, s spot, texts []string) bool {
	c := p.judgesOf(o)
	if c == nil {
		return false
	}
	if isTaken(o, s) {
		return true
	}
	was := verdicts(o.Checks)
	if slices.ContainsFunc(texts, func(text string) bool { return !slices.Equal(p.with(c, s.as(text)), was) }) {
		return true
	}
	if s.spec.Type == measure.Thread { // what sees the size of a thread would see that of its bolt
		return false
	}
	for _, strain := range p.strains(o, s) {
		strained := p.with(c, strain)
		if slices.ContainsFunc(texts, func(text string) bool {
			return !slices.Equal(p.with(c, strain, s.as(text)), strained)
		}) {
			return true
		}
	}
	return false
}

// moves reports whether one rule of an outcome comes to something else with another value
// of a dimension, by itself or where something else that the outcome looked at is another.
func (p *prover) moves(o Outcome, rule string, s spot, texts []string) bool {
	c := p.judgesOf(o)
	if c == nil {
		return false
	}
	of := func(all []ruled) []ruled {
		return lists.Kept(slices.Clone(all), func(r ruled) bool { return r.rule == rule })
	}
	was := of(verdicts(o.Checks))
	if slices.ContainsFunc(texts, func(text string) bool { return !slices.Equal(of(p.with(c, s.as(text))), was) }) {
		return true
	}
	return slices.ContainsFunc(p.strains(o, s), func(strain trial) bool {
		strained := of(p.with(c, strain))
		return slices.ContainsFunc(texts, func(text string) bool {
			return !slices.Equal(of(p.with(c, strain, s.as(text))), strained)
		})
	})
}

// isTaken reports whether an outcome took a dimension although it decides nothing as
// things are: what it asks for is made to it, or another one decides first.
func isTaken(o Outcome, s spot) bool {
	return slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
		return c.Taken && slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
			return u.Position == s.at && u.Feature == s.feature && u.Dim == s.spec.Name
		})
	})
}

// strains are other values of what an outcome looked at besides a dimension: far off
// for a word and for what else is measured at the same feature, a little for a size,
// which must show by itself. The factors are ours: they choose what is tried, and no
// verdict hangs on one.
func (p *prover) strains(o Outcome, s spot) []trial {
	little, far := []float64{0.98, 1.02}, []float64{0.3, 0.7, 0.999, 1.001, 1.5, 3}
	var all []trial
	for _, c := range o.Checks {
		for _, u := range c.Uses {
			f, _ := p.x.After.Seat(u.Position).Part.Feature(u.Feature)
			spec := dimOf(f.Kind, u.Dim)
			v, err := measure.Parse(u.Reading.Text, spec.Type)
			other := spot{u.Position, u.Feature, spec}
			isSame := u.Position == s.at && u.Feature == s.feature && u.Dim == s.spec.Name
			if err != nil || !spec.Type.Measured() || isSame || slices.ContainsFunc(all, func(t trial) bool {
				return t.at == other.at && t.feature == other.feature && t.spec.Name == other.spec.Name
			}) {
				continue
			}
			factors := little
			if !s.spec.Type.Measured() || u.Position == s.at && u.Feature == s.feature {
				factors = far
			}
			for _, factor := range factors {
				all = append(all, other.as(measure.Format(v.Quantity.Nominal*factor, spec.Type)))
			}
		}
	}
	return all
}

func numbered(aspects [][]string) []int {
	all := make([]int, len(aspects))
	for i := range all {
		all[i] = i
	}
	return all
}

// with is what an outcome comes to with other values; nil when there is nothing left
// to judge.
func (p *prover) with(judge judges, values ...trial) []ruled {
	changes := make(map[graph.PositionID]*machine.Seat, len(values))
	for _, v := range values {
		seat, ok := changes[v.at]
		if !ok {
			own := p.x.After.Seat(v.at)
			seat = &own
			changes[v.at] = seat
		}
		seat.Part = machine.With(seat.Part, v.feature, v.spec.Name, v.text)
	}
	before := &Before{setup: p.x.Before, checks: p.x.past}
	x := examiner(p.x.Connections, before, p.x.After.WithOther(changes))
	x.checksOnly = true
	got, _ := judge(x)
	return verdicts(got.Checks)
}

// ruled is one rule with what it came to.
type ruled struct {
	rule    string
	verdict graph.Verdict
	asks    string // what is to be done and made, where that makes it fit
}

// verdicts are what each rule came to, without its words: those repeat a value that
// nothing was held against. A size that goes into what is made was used.
func verdicts(checks []mating.Check) []ruled {
	return lists.Mapped(checks, func(c mating.Check) ruled {
		r := ruled{rule: c.Rule, verdict: c.Verdict}
		if c.Verdict == graph.FitsWithChanges {
			r.asks = fmt.Sprint(c.Do, lists.Mapped(c.Orders, func(o mating.Order) string { return fmt.Sprint(o.Text, o.Spec) }))
		}
		return r
	})
}
