package examine

import (
	"context"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Before is a machine before a change, with what was judged of it already: each
// connection is judged once for all changes that are held against it.
type Before struct {
	setup   *machine.Setup
	checks  map[string][]mating.Check
	figures map[graph.CircuitID][]Number // of circuits as they stood
	// contents are what sits at places, as Decides names it.
	contents map[graph.PositionID]string
	// around is what connects the places that were altered last, and aroundOf names these and
	// the sorts of what was put there: another part of the same sort meets the same.
	around   *Connections
	aroundOf string
}

// From is a machine to hold changes against.
func From(s *machine.Setup) *Before {
	return &Before{setup: s, checks: map[string][]mating.Check{}, figures: map[graph.CircuitID][]Number{},
		contents: map[graph.PositionID]string{}}
}

// connections are those around all that a setup of the machine changes, with its partners,
// and with or without what safety classes hang on.
func (b *Before) connections(ctx context.Context, after *machine.Setup, classed bool) (*Connections, error) {
	if err := loadFound(ctx, after); err != nil {
		return nil, err
	}
	at := withPartners(after, after.Changed())
	if !after.SharesWith(b.setup) {
		return connectionsAt(ctx, after, at, classed)
	}
	var of strings.Builder
	of.WriteString(strconv.FormatBool(classed))
	for _, id := range at {
		of.WriteString("\n" + string(id) + " " + after.SortsAt(id))
	}
	key := of.String()
	if key == b.aroundOf {
		return b.around, nil
	}
	c, err := connectionsAt(ctx, after, at, classed)
	if err == nil {
		b.around, b.aroundOf = c, key
	}
	return c, err
}

// Setup is the machine as it stood.
func (b *Before) Setup() *machine.Setup { return b.setup }
