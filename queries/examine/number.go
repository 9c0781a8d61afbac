package examine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Number is one figure that a swap may change, worked out for each state of
// the machine. A figure that can't be worked out is absent, never zero; Measure
// then says what is missing.
type Number struct {
	About string `json:"about"` // the circuit, chain or wheel it belongs to
	Name  string `json:"name"`  // "hydraulic ratio"
	// AnswerID is what to ask why about; see SwapID.
	AnswerID string `json:"answer_id,omitempty"`
	Unit     string `json:"unit,omitempty"`
	// Stock is for the variant as built, Before and After for the machine
	// before and after the swap, Donor for the machine the new part is built
	// on.
	Stock   *float64        `json:"stock,omitempty"`
	Before  *float64        `json:"before,omitempty"`
	After   *float64        `json:"after,omitempty"`
	Donor   *float64        `json:"donor,omitempty"`
	DonorOn graph.VariantID `json:"donor_on,omitempty"`
	Change  string          `json:"change,omitempty"` // "+28.6 %"; empty when there is no before
	Words   string          `json:"words,omitempty"`  // what it means to a rider
	// Verdict is set when there is a limit to hold the number against: does
	// not fit when it is passed, unknown when it can't be told.
	Verdict graph.Verdict `json:"verdict,omitempty"`
	Safety  graph.Safety  `json:"safety,omitempty"`
	Formula string        `json:"formula"` // how it is worked out, in one line
	Source  string        `json:"source"`  // of the formula, and of any limit
	// Uses are the readings that After was worked out from, WasUses those of
	// Before.
	Uses    []mating.Use `json:"uses,omitempty"`
	WasUses []mating.Use `json:"was_uses,omitempty"`
	Measure []mating.Ask `json:"measure,omitempty"`
	Differ  []string     `json:"sources_differ,omitempty"` // dimensions on which sources disagree
}

// Concerns reports whether a place takes part in a number: it is the number's own, or
// the number was worked out from what sits there.
func (n Number) Concerns(id graph.PositionID) bool {
	return n.About == string(id) || slices.ContainsFunc(slices.Concat(n.Uses, n.WasUses),
		func(u mating.Use) bool { return u.Position == id }) ||
		slices.ContainsFunc(n.Measure, func(a mating.Ask) bool { return a.Position == id })
}

// gauge reads dimensions of one setup and notes what it used, what nobody gave
// and what sources disagree on.
type gauge struct {
	s      *machine.Setup
	uses   []mating.Use
	asks   []mating.Ask
	differ []string
}

// feature is the feature of a kind of what sits at a position. When the part
// has none, or nothing sits there, it asks for the dimension by name.
func (g *gauge) feature(id graph.PositionID, kind string) mating.Side {
	return g.s.KindAt(id, kind)
}

// value reads one dimension; without it, it is asked for.
func (g *gauge) value(side mating.Side, dim string) (measure.Value, bool) {
	v, ok := g.peek(side, dim)
	if !ok {
		g.ask(AskOf(side, dim))
	}
	return v, ok
}

// peek reads one dimension and does not ask for it when it is absent.
func (g *gauge) peek(side mating.Side, dim string) (measure.Value, bool) {
	spec := dimOf(side.Feature.Kind, dim)
	readings := side.Feature.Dims[dim]
	if len(readings) == 0 {
		return measure.Value{}, false
	}
	v, err := measure.Kept(readings[0].Text, spec.Type)
	if err != nil {
		return measure.Value{}, false
	}
	use := mating.Use{Position: side.Position, Part: side.Part, Feature: side.Feature.Name, Dim: dim, Reading: readings[0]}
	if !slices.Contains(g.uses, use) {
		g.uses = append(g.uses, use)
	}
	for _, other := range readings[1:] {
		if !evidence.Agree(spec, readings[0], other) {
			g.differ = append(g.differ, fmt.Sprintf("%s of %s %s: %s or %s", spec.Is, side.Position.Local(), side.Feature.Name,
				readings[0].Text, other.Text))
		}
	}
	return *v, true
}

// number is the nominal value of a dimension in the base unit of its type.
func (g *gauge) number(side mating.Side, dim string) (float64, bool) {
	v, ok := g.value(side, dim)
	return v.Quantity.Nominal, ok
}

func (g *gauge) word(side mating.Side, dim string) (string, bool) {
	v, ok := g.value(side, dim)
	return strings.ToLower(v.Text), ok
}

func (g *gauge) ask(a mating.Ask) {
	if !slices.Contains(g.asks, a) {
		g.asks = append(g.asks, a)
	}
}

func dimOf(kind, dim string) graph.DimSpec {
	k, _ := graph.FeatureKindNamed(kind)
	spec, _ := k.Dim(dim)
	return spec
}

// AskOf is the measurement of one dimension, as its feature kind describes it.
func AskOf(side mating.Side, dim string) mating.Ask {
	spec := dimOf(side.Feature.Kind, dim)
	a := mating.Ask{Position: side.Position, Part: side.Part, Feature: side.Feature.Name, Dim: dim, What: spec.Is,
		Where: side.Position.Local() + ", " + side.Feature.Name, Gauge: spec.Gauge, Accuracy: spec.Accuracy}
	if a.What == "" {
		a.What = dim
	}
	return a
}

// states holds one sort of inputs for each state of the machine.
type states[T any] struct {
	about                string
	safety               graph.Safety
	stock, before, after T
	donor                *T // nil when there is no donor
	donorOn              graph.VariantID
}

// formula is one number to work out from inputs of type T.
type formula[T any] struct {
	name, unit string
	decimals   int
	law        string // how it is worked out, in one line
	source     string
	work       func(T) (float64, error)
	gauge      func(T) *gauge
	// words, when there are any, says what the number means.
	words func(before, after T) string
	// judge, when there is one, holds the number against a limit.
	judge func(after T, value float64) (graph.Verdict, string)
	// needs are the dimensions it is worked out from, to ask for no others;
	// empty for all that the inputs ask for.
	needs []string
}

// number works a formula out for every state. It gives nothing when the swap
// does not change the number.
func (st states[T]) number(f formula[T]) []Number {
	n := Number{About: st.about, Name: f.name, Unit: f.unit, Formula: f.law, Source: f.source, DonorOn: st.donorOn}
	stock, _ := worked(f, st.stock)
	before, _ := worked(f, st.before)
	after, errAfter := worked(f, st.after)
	n.Stock, n.Before, n.After = f.rounded(stock), f.rounded(before), f.rounded(after)
	if st.donor != nil {
		donor, _ := worked(f, *st.donor)
		n.Donor = f.rounded(donor)
	}
	if n.Donor == nil {
		n.DonorOn = ""
	}
	same := n.Before != nil && n.After != nil && *n.Before == *n.After
	if same {
		return nil
	}
	n.Change = changeText(before, after)
	g := f.gauge(st.after)
	n.Uses, n.Differ = f.needed(g), g.differ
	if n.Before != nil {
		n.WasUses = f.needed(f.gauge(st.before))
	}
	if n.After == nil {
		if past := f.gauge(st.before).s; n.Before == nil && !slices.ContainsFunc(g.asks, func(a mating.Ask) bool {
			return !g.s.Seat(a.Position).IsSame(past.Seat(a.Position))
		}) {
			return nil // it was not known before, and for no new part's sake
		}
		n.Measure = lists.Kept(slices.Clone(g.asks),
			func(a mating.Ask) bool { return len(f.needs) == 0 || slices.Contains(f.needs, a.Dim) })
		n.Words = missingText(n.Measure, errAfter)
		if f.judge != nil && n.Before != nil { // a limit that was kept before can't be held against nothing
			n.Verdict, n.Safety = graph.Unknown, st.safety
		}
		return []Number{n}
	}
	if f.words != nil {
		n.Words = f.words(st.before, st.after)
	}
	if f.judge != nil {
		verdict, why := f.judge(st.after, *n.After)
		n.Verdict, n.Safety = verdict, st.safety
		n.Words = joinWords(n.Words, why)
	}
	return []Number{n}
}

// needed are the readings that the formula takes of those that were read.
func (f formula[T]) needed(g *gauge) []mating.Use {
	return lists.Kept(slices.Clone(g.uses),
		func(u mating.Use) bool { return len(f.needs) == 0 || slices.Contains(f.needs, u.Dim) })
}

func worked[T any](f formula[T], in T) (*float64, error) {
	v, err := f.work(in)
	if err != nil || math.IsNaN(v) {
		return nil, err
	}
	return &v, nil
}

// rounded is the number as it is printed.
func (f formula[T]) rounded(v *float64) *float64 {
	if v == nil {
		return nil
	}
	r := roundTo(*v, f.decimals)
	return &r
}

func changeText(before, after *float64) string {
	if before == nil || after == nil || *before == 0 || *before == *after {
		return ""
	}
	return fmt.Sprintf("%+.1f %%", (*after / *before - 1)*100)
}

// missingText says why a number is unknown.
func missingText(asks []mating.Ask, err error) string {
	if len(asks) > 0 {
		return "unknown: measure " + strings.Join(lists.Mapped(asks,
			func(a mating.Ask) string { return a.What + " of " + a.Where }), "; ")
	}
	if err != nil {
		return "unknown: " + err.Error()
	}
	return "unknown"
}

func joinWords(texts ...string) string {
	return strings.Join(lists.Kept(texts, func(t string) bool { return t != "" }), "; ")
}
