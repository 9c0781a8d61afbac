package evidence

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
)

// Unlike says how far a part is from another in what is measured of either: nothing for
// two that measure the same, and for each dimension the fraction by which the smaller
// value is below the greater. What no number tells, or nobody measured of one of them,
// counts as a whole.
func Unlike(a, b graph.Part) float64 {
	sum := 0.0
	for _, f := range a.Features {
		other, _ := b.Feature(f.Name)
		sum += unlikeFeatures(f, other)
	}
	for _, f := range b.Features {
		if _, ok := a.Feature(f.Name); !ok {
			sum += unlikeFeatures(f, graph.Feature{})
		}
	}
	return sum
}

func unlikeFeatures(f, other graph.Feature) float64 {
	spec, ok := graph.FeatureKindNamed(f.Kind)
	if !ok {
		return 0
	}
	sum := 0.0
	for _, dim := range spec.Dims {
		x, y := f.Dims[dim.Name], other.Dims[dim.Name]
		switch {
		case len(x) == 0 && len(y) == 0:
		case len(x) == 0 || len(y) == 0:
			sum++
		case !SameReading(dim, x[0], y[0]):
			sum += unlikeReadings(dim, x[0], y[0])
		}
	}
	return sum
}

func unlikeReadings(dim graph.DimSpec, a, b graph.Reading) float64 {
	x, errX := measure.Parse(a.Text, dim.Type)
	y, errY := measure.Parse(b.Text, dim.Type)
	p, q := x.Quantity.Nominal, y.Quantity.Nominal
	greater := math.Max(math.Abs(p), math.Abs(q))
	if errX != nil || errY != nil || greater == 0 {
		return 1
	}
	return math.Min(1, math.Abs(p-q)/greater)
}
