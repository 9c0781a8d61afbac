package job

import (
	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Beside is what was noted on a machine of one's own of a place that the job has open, or
// that meets it or shares its circuit: a worn or broken part, one that hangs elsewhere.
type Beside struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Says     []string         `json:"says"`
	// Stop is true for what must not be ridden with: it is scrap, or it hangs where nobody
	// built it.
	Stop bool `json:"stop,omitempty"`
}

// addBeside tells what was noted around the job; nothing where the machine is nobody's.
func (c *carder) addBeside(card *JobCard) error {
	bike := c.setup.Bike
	if bike == nil {
		return nil
	}
	around, err := c.around(placeIDs(card.Places))
	if err != nil {
		return err
	}
	if err := c.setup.Load(c.ctx, around...); err != nil {
		return err
	}
	for _, id := range around {
		p := c.setup.Position(id)
		one := Beside{Position: id, Name: p.Name, Safety: p.Safety, Part: c.setup.Seat(id).Part.ID}
		c.noted(&one)
		if len(one.Says) > 0 {
			card.Beside = append(card.Beside, one)
		}
	}
	return nil
}

// around are the places of a job, what is joined to them, and what shares a circuit with
// them; sorted.
func (c *carder) around(places []graph.PositionID) ([]graph.PositionID, error) {
	library := c.setup.Library()
	joints, err := library.JointsTouching(c.ctx, c.setup.Variant.ID, places)
	if err != nil {
		return nil, err
	}
	circuits, err := library.CircuitsTouching(c.ctx, c.setup.Variant.ID, places)
	all := append([]graph.PositionID{}, places...)
	for _, j := range joints {
		all = append(all, j.Places()...)
	}
	for _, circuit := range circuits {
		all = append(all, circuit.Places()...)
	}
	return lists.Unique(all), err
}

// noted fills in what was noted of a place itself.
func (c *carder) noted(one *Beside) {
	bike, seat := c.setup.Bike, c.setup.Seat(one.Position)
	var words []string
	fitted, found := bike.At(one.Position)
	if found && seat.State != (machine.State{}) && seat.State.Is != graph.Sound {
		words, one.Stop = append(words, seat.State.Why), seat.State.Is == graph.Scrap
		if seat.Scrap.ID != "" {
			one.Part = seat.Scrap.ID
		}
		if fitted.Note != "" {
			words = append(words, fitted.Note)
		}
	}
	for _, moved := range bike.Moved {
		if moved.Position == one.Position {
			where := moved.Where()
			if moved.Note != "" {
				where += " (" + moved.Note + ")"
			}
			words, one.Stop = append(words, "hangs elsewhere than as built: "+where), true
		}
	}
	if planned, is := bike.PlannedAt(one.Position); is && planned.Part != "" && len(words) > 0 {
		words = append(words, "planned instead: "+string(planned.Part))
	}
	one.Says = words
}
