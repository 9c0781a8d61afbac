package bike

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// slot is a position that takes hardware.
type slot struct {
	position graph.Position
	part     graph.Part
	size     graph.Feature // its thread or ring; zero when it has none
	quantity int
	// asFound says for which found part it must have another thread than the
	// book's; part is then only what the book says.
	asFound string
}

// number is the part that belongs here, empty when a found part wants another
// one than the book's.
func (s slot) number() graph.PartID {
	if s.asFound != "" {
		return ""
	}
	return s.part.ID
}

// sizeOf is the feature that tells hardware apart: the thread of a bolt, the
// ring of a washer.
func sizeOf(p graph.Part) graph.Feature {
	for _, kind := range []string{"male-thread", "female-thread", "washer"} {
		if f, ok := machine.FeatureOfKind(p, kind); ok {
			return f
		}
	}
	return graph.Feature{}
}

// likeness is how a measured piece compares with hardware whose size is known.
type likeness struct {
	same bool
	// unread are dimensions that the piece was not measured for, looks what
	// differs in looks only.
	unread, looks []string
}

// cost prefers hardware that was measured in full and looks the same.
func (l likeness) cost() float64 { return 0.01*float64(len(l.unread)) + 0.1*float64(len(l.looks)) }

// compareHardware compares what was measured on a piece with a part's size.
// What nobody measured is left open: it is no difference.
func compareHardware(item graph.BagItem, kind graph.KindID, size graph.Feature) likeness {
	if item.Kind != kind {
		return likeness{}
	}
	l := likeness{same: true}
	spec, known := graph.FeatureKindNamed(size.Kind)
	if !known {
		return l // nothing to measure, as for a split pin
	}
	for _, name := range lists.KeysOf(size.Dims) {
		dim, ok := spec.Dim(name)
		if !ok || len(size.Dims[name]) == 0 || !tellsApart(name) {
			continue
		}
		text, measured := item.Dims[name]
		switch {
		case !measured && !dim.Looks:
			l.unread = append(l.unread, name)
		case !measured || alike(name, dim.Type, text, size.Dims[name][0].Text):
		case dim.Looks:
			l.looks = append(l.looks, name+" "+text+", not "+size.Dims[name][0].Text)
		default:
			return likeness{}
		}
	}
	return l
}

// tellsApart leaves out what is said of a fastener but not measured on it.
func tellsApart(dim string) bool {
	return !slices.Contains([]string{"torque", "grip", "hole", "depth", "material"}, dim)
}

// How far two measurements of hardware may be apart and still be one size, in
// mm. ISO 4759-1 allows the length of a bolt of product grade A up to 30 mm
// about half a millimetre (js15; from memory), and lengths come in steps of 2 mm
// and more; the other values are common practice, no source: wear and plating.
const (
	lengthWithin    = 0.6
	thicknessWithin = 0.2
	otherWithin     = 0.3
)

// alike compares two values of one dimension.
func alike(name string, want measure.Type, a, b string) bool {
	x, errX := measure.Parse(a, want)
	y, errY := measure.Parse(b, want)
	if errX != nil || errY != nil {
		return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
	}
	if want != measure.Length {
		return x.Equal(y)
	}
	within := otherWithin
	switch name {
	case "length":
		within = lengthWithin
	case "thickness":
		within = thicknessWithin
	}
	return math.Abs(x.Quantity.Nominal-y.Quantity.Nominal) <= within
}

// hardwareText names a piece by what was measured on it: "bolt M8x1.25 x 35 mm,
// hexagon flange, 10 mm across flats, class 10.9".
func hardwareText(item graph.BagItem) string {
	text := string(item.Kind)
	if thread := item.Dims["thread"]; thread != "" {
		text += " " + thread
	}
	if length := item.Dims["length"]; length != "" {
		text += " x " + length
	}
	for _, dim := range []struct{ name, before, after string }{{"inside", "", " inside"}, {"outside", "", " outside"},
		{"thickness", "", " thick"}, {"head", "", ""}, {"across-flats", "", " across flats"}, {"class", "class ", ""},
		{"finish", "", ""}} {
		if value := item.Dims[dim.name]; value != "" {
			text += ", " + dim.before + value + dim.after
		}
	}
	return text
}

// measuredFeature makes a feature of what was measured on a piece, to be judged
// like that of a part.
func measuredFeature(item graph.BagItem, name, kind string) graph.Feature {
	f := graph.Feature{Name: name, Kind: kind, Dims: map[string][]graph.Reading{}}
	for name, text := range item.Dims {
		f.Dims[name] = []graph.Reading{{Text: text, Cite: graph.Cite{Pos: item.Pos}}}
	}
	return f
}

// adapt changes the thread of one slot when the feature it goes into changed its
// own.
func (s *slot) adapt(found graph.PartID, now, was graph.Feature) {
	mine, before, after := s.size.Dims["thread"], was.Dims["thread"], now.Dims["thread"]
	if len(mine) == 0 || len(after) == 0 || alike("thread", measure.Thread, mine[0].Text, after[0].Text) {
		return
	}
	if len(before) > 0 && !alike("thread", measure.Thread, mine[0].Text, before[0].Text) {
		return // it did not go into this thread before either
	}
	size := graph.Feature{Name: s.size.Name, Kind: s.size.Kind, Dims: map[string][]graph.Reading{}}
	for name, readings := range s.size.Dims {
		size.Dims[name] = readings
	}
	size.Dims["thread"] = after
	s.asFound = fmt.Sprintf("%s for the %s of %s, as found; the book has %s", after[0].Text, now.Name, found, mine[0].Text)
	s.size = size
}
