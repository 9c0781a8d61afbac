package bike

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// adapt gives hardware the thread that a found part asks for where the book's
// part had another: a foreign master cylinder may want another banjo bolt.
func (t *bagTable) adapt() {
	for _, j := range t.joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			found, ok := t.setup.FoundAt(ref.Position)
			if !ok || found.Part == "" {
				continue
			}
			now, _ := t.setup.Seat(ref.Position).Part.Feature(ref.Feature)
			was, _ := t.setup.BuiltAt(ref.Position).Part.Feature(ref.Feature)
			for i, s := range t.slots {
				if slices.Contains(j.Fasteners, s.position.ID) || j.A.Position == s.position.ID || j.B.Position == s.position.ID {
					t.slots[i].adapt(found.Part, now, was)
				}
			}
		}
	}
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
