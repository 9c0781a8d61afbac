package mating

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// PairCase is what sits left against what sits right.
type PairCase struct {
	// Left and Right are the features of the two parts; those of one kind are
	// compared, by their name where a part has several.
	Left, Right []Side
	// WasLeft and WasRight are the same of the machine as built. A dimension in
	// which those differ is left out: a fork with its damping in one leg and
	// its spring in the other is meant to.
	WasLeft, WasRight []Side
	Safety            graph.Safety
}

// pairDim is a dimension in which left and right must be alike.
type pairDim struct {
	kind, dim string
	within    float64      // in the unit of its type; 0 for words and counts
	must      bool         // unknown when it is missing on both sides too
	of        graph.KindID // of part that it is asked of; empty for all
}

// asks reports whether a feature of a part is one that left and right must share.
func (d pairDim) asks(s Side) bool {
	return d.kind == s.Feature.Kind && (d.of == "" || d.of == s.PartKind)
}

// pairDims lists what left and right must share. The rates of springs are good
// to 3 percent each as makers grade them; all other limits are what the gauge
// reads twice. Common practice, no source.
func pairDims() []pairDim {
	return []pairDim{
		{kind: "spring", dim: "rate", must: true},
		{kind: "spring", dim: "length", within: 2, must: true}, {kind: "spring", dim: "outside", within: 0.5},
		{kind: "damping", dim: "spring", must: true}, {kind: "damping", dim: "valving", must: true},
		{kind: "fork-length", dim: "length", within: 1, must: true}, {kind: "fork-length", dim: "travel", within: 2},
		{kind: "axle-lead", dim: "lead", within: 1}, // the axle stands askew in legs that carry it unlike
		{kind: "tube", dim: "diameter", within: 0.05, must: true},
		{kind: "disc-rim", dim: "diameter", within: 1, must: true},
		{kind: "disc-rim", dim: "thickness", within: 0.3, must: true}, {kind: "disc-rim", dim: "offset", within: 0.3},
		{kind: "oil-fill", dim: "level", within: 2, must: true}, {kind: "oil-fill", dim: "grade", must: true},
		{kind: "pistons", dim: "sizes", must: true}, {kind: "pistons", dim: "layout", must: true},
		// an axle that is drawn further on one side stands askew
		{kind: "adjuster", dim: "length", within: 1}, {kind: "male-thread", dim: "length", within: 1, of: "chain-adjuster"},
		{kind: "eye", dim: "bore", within: 0.2, must: true}, {kind: "eye", dim: "width", within: 0.3, must: true},
	}
}

// rateMatch is how far the rates of two springs may differ, as a fraction.
const rateMatch = 0.03

// JudgePair judges, in one check "left and right", whether what sits left and
// right is alike in all that pulls or leans to one side when it is not: springs
// and shocks by length and rate, legs, tubes, discs, pistons, and the oil in the
// legs by level and kind. A feature of which only one side has one is a no.
// Nothing to compare gives no check. Source of the limits: common practice.
func JudgePair(in PairCase) []Check {
	return judge(false, func(b *bench) {
		var c *check
		for _, left := range in.Left {
			right, ok := counterpart(in.Right, left)
			for _, d := range pairDims() {
				if !d.asks(left) || in.meant(d, left) {
					continue
				}
				if c == nil {
					c = b.check("left and right")
				}
				if !ok {
					c.no("%s has a %s, the other side has none", label(left), left.Feature.Kind)
					break
				}
				d.judge(c, Meeting{A: left, B: right})
			}
		}
		for _, right := range in.Right {
			asked := slices.ContainsFunc(pairDims(), func(d pairDim) bool { return d.asks(right) })
			if _, ok := counterpart(in.Left, right); !ok && asked {
				if c == nil {
					c = b.check("left and right")
				}
				c.no("%s has a %s, the other side has none", label(right), right.Feature.Kind)
			}
		}
	})
}

// counterpart is the feature of the other side that one is compared with.
func counterpart(others []Side, s Side) (Side, bool) {
	i := slices.IndexFunc(others, func(o Side) bool {
		return o.Feature.Kind == s.Feature.Kind && o.Feature.Name == s.Feature.Name
	})
	if i < 0 {
		i = slices.IndexFunc(others, func(o Side) bool { return o.Feature.Kind == s.Feature.Kind })
	}
	if i < 0 {
		return Side{}, false
	}
	return others[i], true
}

// meant reports whether the machine was built unlike in a dimension.
func (in PairCase) meant(d pairDim, s Side) bool {
	left, okLeft := counterpart(in.WasLeft, s)
	right, okRight := counterpart(in.WasRight, s)
	if !okLeft || !okRight {
		return false
	}
	checks := judge(false, func(b *bench) { d.judge(b.check("left and right"), Meeting{A: left, B: right}) })
	return Worst(checks) == graph.DoesNotFit
}

func (d pairDim) judge(c *check, m Meeting) {
	if !d.must && !either(m, d.dim) {
		return
	}
	kind, _ := graph.FeatureKindNamed(d.kind)
	spec, _ := kind.Dim(d.dim)
	a, okA := c.read(m.A, d.dim, spec.Type)
	b, okB := c.read(m.B, d.dim, spec.Type)
	if !okA || !okB {
		return
	}
	if d.alike(spec.Type, a, b) {
		if a.String() != b.String() {
			c.fits("%s %s and %s: alike as far as it can be read", spec.Is, a, b)
			return
		}
		c.fits("%s %s on both sides", spec.Is, a)
		return
	}
	if c.Had == "" {
		c.sizes(a.String(), b.String(), "")
	}
	c.no("%s %s against %s: unlike sides pull or lean", spec.Is, a, b)
}

func (d pairDim) alike(t measure.Type, a, b measure.Value) bool {
	if !t.Measured() {
		return a.Equal(b)
	}
	within := d.within
	if t == measure.Stiffness {
		within = rateMatch * max(a.Quantity.Nominal, b.Quantity.Nominal)
	}
	diff := spanOf(a.Quantity).minus(spanOf(b.Quantity))
	return diff.against(-within, within) != below && diff.against(-within, within) != above
}

// PairKinds names the kinds of feature that JudgePair compares, sorted.
func PairKinds() []string {
	var kinds []string
	for _, d := range pairDims() {
		if !slices.Contains(kinds, d.kind) {
			kinds = append(kinds, d.kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}
