package conflicts

import (
	"context"
	"errors"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// contradicting gathers contradictions, as far as they are asked about.
type contradicting struct {
	q         ConflictsQuestion
	library   *machine.Library
	machines  *queries.Machines         // nil for all
	part      graph.PartID              // empty for all
	places    map[graph.PositionID]bool // nil for all
	models    []graph.ModelID
	positions map[graph.PositionID]graph.Position // of the models
	listed    map[graph.PartID][]graph.Fitment    // of the parts that are asked about
	parts     []graph.PartID                      // those asked about, sorted
	siblings  []graph.VariantID                   // all variants of the models
	rows      []ConflictRow
}

func newContradicting(ctx context.Context, r graph.Reader, q ConflictsQuestion) (*contradicting, error) {
	c := &contradicting{q: q, library: machine.NewLibrary(r), positions: map[graph.PositionID]graph.Position{},
		listed: map[graph.PartID][]graph.Fitment{}}
	for _, step := range []func(context.Context) error{c.readMachines, c.readPlaces, c.readAsked} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *contradicting) r() graph.Reader { return c.library.Reader() }

func (c *contradicting) readMachines(ctx context.Context) error {
	if c.q.On != "" {
		m, err := queries.MachinesFor(ctx, c.r(), queries.MachineQuestion{On: c.q.On, Market: c.q.Market, Frame: c.q.Frame})
		if err != nil {
			return err
		}
		c.machines, c.models = &m, []graph.ModelID{m.Model}
	} else {
		models, err := c.r().Models(ctx)
		if err != nil {
			return err
		}
		c.models = lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	}
	var err error
	c.siblings, err = c.r().VariantIDs(ctx, c.models...)
	return err
}

// readPlaces reads the positions of the models, and which of them are asked
// about.
func (c *contradicting) readPlaces(ctx context.Context) error {
	all, err := c.r().PositionsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	for _, p := range all {
		c.positions[p.ID] = p
	}
	if c.q.Position == "" {
		return nil
	}
	c.places = map[graph.PositionID]bool{}
	var fault error
	for _, model := range c.models {
		p, err := queries.PositionFor(ctx, c.r(), model, c.q.Position)
		var missing *queries.NotFoundError
		switch {
		case err == nil:
			c.places[p.ID] = true
		case !errors.As(err, &missing):
			return err
		case fault == nil || len(missing.Near) > 0:
			fault = err
		}
	}
	if len(c.places) == 0 {
		return fault
	}
	return nil
}

// readAsked reads which parts are asked about, and where they are listed.
func (c *contradicting) readAsked(ctx context.Context) error {
	if c.q.Part != "" {
		id, err := queries.PartFor(ctx, c.r(), c.q.Part)
		if err != nil {
			return err
		}
		c.part, c.parts = id, []graph.PartID{id}
	} else {
		var err error
		if c.parts, err = c.r().PartIDs(ctx); err != nil {
			return err
		}
	}
	fitments, err := c.r().FitmentsOf(ctx, c.parts...)
	if err != nil {
		return err
	}
	for _, f := range fitments {
		c.listed[f.Part] = append(c.listed[f.Part], f)
	}
	if err := c.library.ReadParts(ctx, c.parts); err != nil {
		return err
	}
	if c.machines != nil || c.places != nil {
		c.parts = lists.Kept(c.parts, func(id graph.PartID) bool { return len(c.placesOf(id)) > 0 })
	}
	return nil
}

// wants reports whether a place on some variants is asked about.
func (c *contradicting) wants(at graph.PositionID, on []graph.VariantID) bool {
	if c.places != nil && !c.places[at] {
		return false
	}
	return c.machines == nil || slices.ContainsFunc(on, c.machines.Has)
}

// placesOf are the places asked about where a part is listed or was tried,
// sorted.
func (c *contradicting) placesOf(id graph.PartID) []graph.PositionID {
	var at []graph.PositionID
	for _, f := range c.listed[id] {
		if c.wants(f.Position, f.On) {
			at = append(at, f.Position)
		}
	}
	for _, f := range c.library.FindingsOf(id) {
		if f.Position != "" && f.Withdrawn == "" && c.wants(f.Position, f.On) {
			at = append(at, f.Position)
		}
	}
	return lists.Unique(at)
}

// safetyAt are the safety classes of places, in the order printed.
func (c *contradicting) safetyAt(at []graph.PositionID) []graph.Safety {
	return lists.Kept(graph.SafetyClasses(), func(s graph.Safety) bool {
		return slices.ContainsFunc(at, func(id graph.PositionID) bool { return c.positions[id].Safety == s })
	})
}

// voicesOf are the sides of readings that contradict one another, the best
// first; open is true when the best does not outrank the next. A side that only
// repeats, wrongly, what the best one says first hand decides nothing.
func (c *contradicting) voicesOf(groups []evidence.ValueGroup) (sides []ConflictVoices, open bool) {
	for _, g := range groups {
		says := lists.Unique(lists.Mapped(g.Readings, func(r graph.Reading) string { return r.Text }))
		sides = append(sides, ConflictVoices{Says: strings.Join(says, ", "), Rank: evidence.Together(g.Voices),
			Sources: evidence.Distinct(g.Voices)})
	}
	open = sides[0].Rank == sides[1].Rank && !onlyRepeats(groups[1].Voices, groups[0].Voices)
	return sides, open
}

func onlyRepeats(voices, first []evidence.Source) bool {
	return !slices.ContainsFunc(voices, func(v evidence.Source) bool {
		return v.ReprintOf == "" || !slices.ContainsFunc(first, func(f evidence.Source) bool { return f.Origin == v.Origin })
	})
}
