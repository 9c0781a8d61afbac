package part

import (
	"maps"
	"slices"

	"matewell/graph"
)

// withMeasured are parts with what people measured on them, before what lists say:
// a feature that no list describes is one that the kind of part has.
func withMeasured(parts []graph.Part, findings []graph.Finding, kinds []graph.Kind) []graph.Part {
	measured := map[graph.PartID][]graph.Measured{}
	for _, f := range findings {
		if f.Withdrawn == "" {
			measured[f.Part] = append(measured[f.Part], f.Measured...)
		}
	}
	if len(measured) == 0 {
		return parts
	}
	parts = slices.Clone(parts)
	for i := range parts {
		own := measured[parts[i].ID]
		if len(own) == 0 {
			continue
		}
		var kind graph.Kind
		if at := slices.IndexFunc(kinds, func(k graph.Kind) bool { return k.ID == parts[i].Kind }); at >= 0 {
			kind = kinds[at]
		}
		parts[i].Features = slices.Clone(parts[i].Features)
		for _, m := range own {
			addMeasured(&parts[i], kind, m)
		}
	}
	return parts
}

func addMeasured(p *graph.Part, kind graph.Kind, m graph.Measured) {
	at := graph.FeatureNamed(p.Features, m.Feature)
	if at < 0 {
		f, known := kind.Feature(m.Feature)
		if !known {
			return
		}
		at = len(p.Features)
		p.Features = append(p.Features, graph.Feature{Name: f.Name, Kind: f.Kind})
	}
	dims := maps.Clone(p.Features[at].Dims)
	if dims == nil {
		dims = map[string][]graph.Reading{}
	}
	dims[m.Dim] = append([]graph.Reading{{Text: m.Text, Method: m.With}}, dims[m.Dim]...)
	p.Features[at].Dims = dims
}
