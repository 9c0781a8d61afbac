package evidence

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// Overlaid adds the measurements of findings that stand to copies of the
// features.
func Overlaid(p graph.Part, kind graph.Kind, findings []graph.Finding) []graph.Feature {
	features := make([]graph.Feature, len(p.Features))
	for i, f := range p.Features {
		features[i] = graph.Feature{Name: f.Name, Kind: f.Kind, Dims: map[string][]graph.Reading{}}
		for name, readings := range f.Dims {
			features[i].Dims[name] = slices.Clone(readings)
		}
	}
	for _, f := range findings {
		if f.Part != p.ID || f.Withdrawn != "" {
			continue
		}
		for _, m := range f.Measured {
			at := slices.IndexFunc(features, func(have graph.Feature) bool { return have.Name == m.Feature })
			if at < 0 {
				at = len(features)
				features = append(features, graph.Feature{Name: m.Feature, Kind: KindOfFeature(kind, m.Feature),
					Dims: map[string][]graph.Reading{}})
			}
			features[at].Dims[m.Dim] = append(features[at].Dims[m.Dim], graph.Reading{Text: m.Text, Method: m.With,
				Cite: graph.Cite{Source: graph.SourceID(f.ID), Pos: f.Pos}})
		}
	}
	slices.SortFunc(features, func(a, b graph.Feature) int { return cmp.Compare(a.Name, b.Name) })
	return features
}

// KindOfFeature is the kind of the feature that a kind of part has by a name; empty for
// none.
func KindOfFeature(kind graph.Kind, name string) string {
	for _, f := range kind.Features {
		if f.Name == name {
			return f.Kind
		}
	}
	return ""
}

// ValueGroup is the readings that say the same.
type ValueGroup struct {
	Readings []graph.Reading
	Voices   []Source
}

// FirstHand are the independent voices that measured, or that state what the maker
// drew.
func (g ValueGroup) FirstHand() []Source {
	return independent(lists.Kept(slices.Clone(g.Voices), func(s Source) bool { return s.Rank >= RankFactory }))
}

// MoreToOutvote is how many more people must measure what the group says until it
// outvotes another: its first-hand voices, two of them measured, are then more than
// twice the other's. 0 when it does already.
func (g ValueGroup) MoreToOutvote(other ValueGroup) int {
	want := 2*len(other.FirstHand()) + 1
	return max(0, want-len(g.FirstHand()), 2-len(independent(measuredOf(g.Voices))))
}

// Outvotes reports whether people who measured, each by themselves, stand so many
// against so few that the few have misread.
func (g ValueGroup) Outvotes(other ValueGroup) bool { return g.MoreToOutvote(other) == 0 }

// Agree reports whether two readings of one dimension don't contradict each
// other: equal values; or numbers whose limits overlap once the accuracy of the
// gauge is allowed for, when at least one of them was read off a gauge or gives
// limits.
func Agree(dim graph.DimSpec, a, b graph.Reading) bool {
	if a.Text == b.Text {
		return true
	}
	x, errX := measure.Kept(a.Text, dim.Type)
	y, errY := measure.Kept(b.Text, dim.Type)
	if errX != nil || errY != nil {
		return strings.EqualFold(strings.TrimSpace(a.Text), strings.TrimSpace(b.Text))
	}
	if x.Equal(*y) {
		return true
	}
	if !dim.Type.Measured() && dim.Type != measure.Ratio {
		return false
	}
	give := 0.0
	if a.Method != "" || b.Method != "" {
		give = accuracyOf(dim, max(x.Quantity.Nominal, y.Quantity.Nominal))
	}
	give += 1e-9 // 84 + 0.1 is not quite 84.1 in binary
	return x.Quantity.Low <= y.Quantity.High+give && y.Quantity.Low <= x.Quantity.High+give
}

// FirstText is the best of ranked readings as written; empty when nobody gave one.
func FirstText(readings []graph.Reading) string {
	if len(readings) == 0 {
		return ""
	}
	return readings[0].Text
}

// SameReading reports whether two parts measure the same: equal values, or, when
// one was read off a gauge, values that the gauge can't tell apart. Limits on a
// drawing that merely overlap are not the same. Values in two units are the same
// when each may have been rounded to the other: 0.126 in and 3.2 mm.
func SameReading(dim graph.DimSpec, a, b graph.Reading) bool {
	if a.Text == b.Text {
		return true
	}
	if a.Method != "" || b.Method != "" {
		return Agree(dim, a, b)
	}
	x, errX := measure.Kept(a.Text, dim.Type)
	y, errY := measure.Kept(b.Text, dim.Type)
	if errX != nil || errY != nil {
		return strings.EqualFold(a.Text, b.Text)
	}
	p, q := x.Quantity, y.Quantity
	if p.Type.Measured() && p.Unit != q.Unit && p.Low == p.High && q.Low == q.High {
		rounded := measure.HalfStep(a.Text, dim.Type) + measure.HalfStep(b.Text, dim.Type)
		return x.Equal(*y) || math.Abs(p.Nominal-q.Nominal) <= rounded
	}
	return x.Equal(*y)
}

// accuracyOf is what the usual gauge can't tell apart, in the base unit of the
// dimension; 0 when it is read by eye or off a book.
func accuracyOf(dim graph.DimSpec, value float64) float64 {
	if percent, ok := strings.CutSuffix(dim.Accuracy, " %"); ok {
		if q, err := measure.ParseQuantity(percent, measure.Ratio); err == nil {
			return value * q.Nominal / 100
		}
		return 0
	}
	q, err := measure.ParseQuantity(dim.Accuracy, dim.Type)
	if err != nil {
		return 0
	}
	return q.Nominal
}
