package evidence

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// Ranked gives the part with what findings measured on it laid over, and every
// list of readings in rank order: readings that agree stand together, the value
// with the best voices first. Rules take the first reading and look whether
// another one would change their verdict; one that was measured otherwise on
// the very part is marked, and changes nothing. A measured feature that the part does
// not list yet gets its kind from the kind of part.
func (e *Evidence) Ranked(p graph.Part, kind graph.Kind, findings []graph.Finding, v *graph.Variant) graph.Part {
	p.Features = Overlaid(p, kind, findings)
	for i, f := range p.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		dims := make(map[string][]graph.Reading, len(f.Dims))
		for name, readings := range f.Dims {
			dim, _ := spec.Dim(name)
			dims[name] = e.RankReadings(dim, readings, v)
		}
		p.Features[i].Dims = dims
	}
	return p
}

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

func (e *Evidence) RankReadings(dim graph.DimSpec, readings []graph.Reading, v *graph.Variant) []graph.Reading {
	if len(readings) == 1 { // nothing stands against it
		alone := readings[0]
		alone.Outranked = false
		return []graph.Reading{alone}
	}
	var ordered []graph.Reading
	groups := e.ValueGroups(dim, readings, v)
	for _, g := range groups {
		outranked := Together(groups[0].Voices) == RankMeasured && Together(g.Voices) < RankMeasured
		for _, r := range g.Readings {
			r.Outranked = outranked
			ordered = append(ordered, r)
		}
	}
	return ordered
}

// ValueGroups joins readings that agree, the group with the best voices first;
// between equals the newest word, then the order of their text.
func (e *Evidence) ValueGroups(dim graph.DimSpec, readings []graph.Reading, v *graph.Variant) []ValueGroup {
	best := slices.Clone(readings)
	slices.SortStableFunc(best, func(a, b graph.Reading) int {
		return cmp.Or(CompareSources(e.ReadingVoice(a, v), e.ReadingVoice(b, v)), cmp.Compare(a.Text, b.Text))
	})
	var groups []ValueGroup
	for _, reading := range best {
		at := slices.IndexFunc(groups, func(g ValueGroup) bool { return Agree(dim, g.Readings[0], reading) })
		if at < 0 {
			at = len(groups)
			groups = append(groups, ValueGroup{})
		}
		groups[at].Readings = append(groups[at].Readings, reading)
		groups[at].Voices = append(groups[at].Voices, e.ReadingVoice(reading, v))
	}
	slices.SortStableFunc(groups, func(a, b ValueGroup) int {
		return cmp.Compare(Together(b.Voices), Together(a.Voices))
	})
	return groups
}

// ReadingVoice ranks one reading. A finding's measured dimension is a
// measurement whatever the finding's verdict rests on, as long as it is first
// hand.
func (e *Evidence) ReadingVoice(reading graph.Reading, v *graph.Variant) Source {
	voice := e.voice(reading.Cite, v)
	if f, ok := e.Findings[graph.FindingID(reading.Source)]; ok && f.Origin == "" && voice.Rank != RankSeller {
		voice.Rank = RankMeasured
	}
	voice.Says = reading.Text
	return voice
}

// Agree reports whether two readings of one dimension don't contradict each
// other: equal values; or numbers whose limits overlap once the accuracy of the
// gauge is allowed for, when at least one of them was read off a gauge or gives
// limits.
func Agree(dim graph.DimSpec, a, b graph.Reading) bool {
	x, errX := measure.Parse(a.Text, dim.Type)
	y, errY := measure.Parse(b.Text, dim.Type)
	if errX != nil || errY != nil {
		return strings.EqualFold(strings.TrimSpace(a.Text), strings.TrimSpace(b.Text))
	}
	if x.Equal(y) {
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

// SameReading reports whether two parts measure the same: equal values, or, when
// one was read off a gauge, values that the gauge can't tell apart. Limits on a
// drawing that merely overlap are not the same.
func SameReading(dim graph.DimSpec, a, b graph.Reading) bool {
	if a.Method != "" || b.Method != "" {
		return Agree(dim, a, b)
	}
	x, errX := measure.Parse(a.Text, dim.Type)
	y, errY := measure.Parse(b.Text, dim.Type)
	if errX != nil || errY != nil {
		return strings.EqualFold(a.Text, b.Text)
	}
	return x.Equal(y)
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
