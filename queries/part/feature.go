package part

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// featureCard lists the dimensions in the order a person would measure them,
// then those that the kind of feature does not know, by name.
func (b *Cards) featureCard(p graph.Part, f graph.Feature) FeatureCard {
	spec, _ := graph.FeatureKindNamed(f.Kind)
	card := FeatureCard{Name: f.Name, Kind: f.Kind, Is: spec.Is}
	names := lists.Mapped(spec.Dims, func(d graph.DimSpec) string { return d.Name })
	for _, name := range lists.KeysOf(f.Dims) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if readings := f.Dims[name]; len(readings) > 0 {
			dim, _ := spec.Dim(name)
			dim.Name = name
			card.Dims = append(card.Dims, b.dimCard(p, f, dim, readings))
		}
	}
	return card
}

func (b *Cards) dimCard(p graph.Part, f graph.Feature, dim graph.DimSpec, readings []graph.Reading) DimCard {
	card := DimCard{Name: dim.Name, Is: dim.Is, Value: readings[0].Text}
	for _, r := range readings {
		card.Readings = append(card.Readings, b.readingLine(r))
		card.Conflict = card.Conflict || !evidence.Agree(dim, readings[0], r)
	}
	if card.Conflict {
		card.Settle = evidence.MeasureText(p, f.Name, dim.Name)
	}
	return card
}

// notRecorded lists the features and dimensions that joints of such a part
// need, and that nobody gave.
func notRecorded(p graph.Part, kind graph.Kind) []string {
	var missing []string
	for _, f := range p.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		for _, dim := range spec.Dims {
			if dim.Must && len(f.Dims[dim.Name]) == 0 {
				missing = append(missing, askText(f.Name, dim))
			}
		}
	}
	for _, kf := range kind.Features {
		if _, has := p.Feature(kf.Name); has || kf.May {
			continue
		}
		spec, _ := graph.FeatureKindNamed(kf.Kind)
		for _, dim := range spec.Dims {
			if dim.Must {
				missing = append(missing, askText(kf.Name, dim))
			}
		}
	}
	return missing
}

func askText(feature string, dim graph.DimSpec) string {
	return fmt.Sprintf("%s of %s (%s): %s", dim.Name, feature, dim.Is, evidence.GaugeText(dim))
}
