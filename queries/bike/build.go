package bike

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/lists"
)

// BikeBuildAnswer is the order in which a machine goes together, and how far
// what is there reaches.
type BikeBuildAnswer struct {
	Bike     graph.BikeID    `json:"bike"`
	Variant  graph.VariantID `json:"variant"`
	Assembly string          `json:"assembly,omitempty"`
	// Stages are in the order of the work: places of one assembly that follow one
	// another.
	Stages []BuildStage `json:"stages"`
	// Assemblies are those with something left to fit, in the order in which they
	// are begun.
	Assemblies []BuildAssembly `json:"assemblies"`
	Left       int             `json:"left"`  // places left to fit
	Today      int             `json:"today"` // of those, how many can be fitted with what is there
	// Cycle are places that wait for one another in a circle, which no order
	// satisfies.
	Cycle    []graph.PositionID `json:"cycle,omitempty"`
	Cautions []queries.Caution  `json:"cautions,omitempty"`
}

// BuildStage is what is fitted in one go, of one assembly.
type BuildStage struct {
	Assembly graph.AssemblyID `json:"assembly"`
	Name     string           `json:"name"`
	Fit      []BuildPlace     `json:"fit"` // in order
}

// BuildPlace is one place to fit.
type BuildPlace struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"` // empty when no source says
	Quantity int              `json:"quantity"`
	Renew    bool             `json:"renew,omitempty"` // new every time
	From     []BoxUse         `json:"from,omitempty"`
	// State is "today", "waits", "to get", "check first", "not known" or "does not
	// fit": it can be fitted, it is there and something before it is not, it must be
	// found, it must be looked at or nobody can tell yet whether it goes there, nobody
	// says what belongs there, or it does not go with what is around it.
	State string `json:"state"`
	// Why is that of "does not fit" and of what nobody can tell yet, and why what is there
	// now comes off.
	Why    string             `json:"why,omitempty"`
	HeldUp []graph.PositionID `json:"held_up,omitempty"` // what it waits for that is not at hand, sorted
	// Bench is the place of what it goes into or onto before that is on the machine.
	Bench graph.PositionID `json:"bench,omitempty"`
	// MovesOver is what sits on the piece that comes off, and goes onto this one, sorted.
	MovesOver []graph.PositionID `json:"moves_over,omitempty"`
	// Takes is what goes on or in with it.
	Takes []string `json:"takes,omitempty"`
}

// The states of a BuildPlace besides those of a supply.
const (
	BuildToday  = "today"
	BuildWaits  = "waits"
	BuildRefuse = supplyRefuse
)

// BuildAssembly is how far an assembly can be built.
type BuildAssembly struct {
	Assembly graph.AssemblyID `json:"assembly"`
	Name     string           `json:"name"`
	Left     int              `json:"left"`
	Today    int              `json:"today"`
	// Blocks are the places of any assembly that hold up most of it, those that
	// hold up more first.
	Blocks []BuildBlock `json:"blocks,omitempty"`
}

// BuildBlock is one place that holds others up.
type BuildBlock struct {
	Position graph.PositionID `json:"position"`
	State    string           `json:"state"`
	HoldsUp  int              `json:"holds_up"` // places of the assembly, itself included
}

// SafetyOpen reports whether something with a safety class is still to be
// fitted and can't be today.
func (a BikeBuildAnswer) SafetyOpen() bool {
	return slices.ContainsFunc(a.Stages, func(s BuildStage) bool {
		return slices.ContainsFunc(s.Fit, func(p BuildPlace) bool { return p.Safety != "" && p.State != BuildToday })
	})
}

// BikeBuild tells in which order a machine goes together from what is there:
// what must be on before what, by the places' own order and by how the machine
// is joined together. A place can be fitted today when its part is at hand and
// nothing it waits for is missing. Errors are *NotFoundError with near names, or
// come from the reader.
func BikeBuild(ctx context.Context, r graph.Reader, q BikeWorkQuestion) (BikeBuildAnswer, error) {
	a := BikeBuildAnswer{Assembly: q.Assembly, Stages: []BuildStage{}, Assemblies: []BuildAssembly{}}
	w, scope, err := askedWork(ctx, r, q)
	if err != nil {
		return a, err
	}
	a.Bike, a.Variant = w.bike.ID, w.bike.Variant
	whole, err := assemble.Read(ctx, w.setup)
	if err != nil {
		return a, err
	}
	b := builder{work: w, wanted: map[graph.PositionID]int{}, states: map[graph.PositionID]BuildPlace{}}
	for i, one := range w.wants {
		b.wanted[one.position.ID] = i
		whole.Replaced = append(whole.Replaced, one.position.ID)
		b.states[one.position.ID] = b.place(i)
	}
	b.movesOver(whole)
	b.order = assemble.Together(whole.Case)
	b.held = b.order.HeldUp(func(id graph.PositionID) bool { return b.states[id].State == BuildToday })
	a.Cycle = b.order.Cycle
	if err := b.fill(ctx, &a, scope); err != nil {
		return a, err
	}
	var classes []graph.Safety
	for _, s := range a.Stages {
		classes = append(classes, lists.Mapped(s.Fit, func(p BuildPlace) graph.Safety { return p.Safety })...)
	}
	a.Cautions = queries.CautionsFor(classes...)
	return a, nil
}

// builder puts what a machine wants into the order of work.
type builder struct {
	*work
	wanted map[graph.PositionID]int
	states map[graph.PositionID]BuildPlace
	order  assemble.Arranged
	held   map[graph.PositionID][]graph.PositionID
}

// place is a want without what it waits for.
func (b *builder) place(want int) BuildPlace {
	one := b.wants[want]
	p := BuildPlace{Position: one.position.ID, Name: one.position.Name, Safety: one.position.Safety, Part: one.part,
		Quantity: one.quantity, Renew: one.position.Renew, From: b.gifts(want), State: supplyOf(b.work, want),
		Takes: lists.Mapped(one.position.Takes, takesText)}
	if p.State == supplyReady {
		p.State = BuildToday
	}
	against := b.allAgainst(want)
	gets, refused := b.closers(want)
	switch worst := settled(against); {
	case refused != "":
		p.Why = refused
	case worst == graph.DoesNotFit:
		p.Why = whyOf(against, worst) + "; it goes with " + strings.Join(lists.Mapped(gets, b.goesWith), ", ")
	case worst == graph.Unknown && p.State == supplyCheck:
		p.Why = whyOf(against, worst)
	}
	if off := b.offAt(one.position.ID); off != "" {
		p.Why = strings.TrimPrefix(p.Why+"; "+off, "; ")
	}
	return p
}

// movesOver notes of each wheel that takes the place of one which does not go what is in and on
// that, and is not wanted itself.
func (b *builder) movesOver(whole assemble.Machine) {
	for _, wheel := range whole.Wheels {
		place, wanted := b.states[wheel.Hub]
		if !wanted || b.offAt(wheel.Hub) == "" {
			continue
		}
		for _, id := range lists.KeysOf(wheel.On) {
			_, isWanted := b.wanted[id]
			if isNew := b.setup.Position(id).Renew; !isWanted && !isNew && whole.There[id] && !whole.Small[id] {
				place.MovesOver = append(place.MovesOver, id)
			}
		}
		b.states[wheel.Hub] = place
	}
}

// takesText names a consumable: "fork oil SAE 10W, 480 ml".
func takesText(c graph.Consumable) string {
	text := c.What
	if c.Grade != "" {
		text += " " + c.Grade
	}
	if len(c.Amount) > 0 {
		text += ", " + c.Amount[0].Text
	}
	return text
}

// fill writes the stages and assemblies of a scope into an answer.
func (b *builder) fill(ctx context.Context, a *BikeBuildAnswer, scope []graph.Position) error {
	inScope := map[graph.PositionID]bool{}
	for _, p := range scope {
		inScope[p.ID] = true
	}
	names := map[graph.AssemblyID]string{}
	assemblies, err := b.r.AssembliesOf(ctx, b.setup.Variant.Model)
	for _, one := range assemblies {
		names[one.ID] = one.Name
	}
	at := map[graph.AssemblyID]int{}
	for _, id := range b.order.Order {
		if !inScope[id] {
			continue
		}
		p := b.states[id]
		p.Bench = b.order.Bench[id]
		if held := b.held[id]; len(held) > 0 {
			p.HeldUp = lists.Kept(slices.Clone(held), func(by graph.PositionID) bool { return by != id })
			if p.State == BuildToday {
				p.State = BuildWaits
			}
		}
		of := id.Assembly()
		if n := len(a.Stages); n == 0 || a.Stages[n-1].Assembly != of {
			a.Stages = append(a.Stages, BuildStage{Assembly: of, Name: names[of]})
		}
		stage := &a.Stages[len(a.Stages)-1]
		stage.Fit = append(stage.Fit, p)
		if _, have := at[of]; !have {
			at[of] = len(a.Assemblies)
			a.Assemblies = append(a.Assemblies, BuildAssembly{Assembly: of, Name: names[of]})
		}
		line := &a.Assemblies[at[of]]
		line.Left++
		a.Left++
		if p.State == BuildToday {
			line.Today++
			a.Today++
		}
		line.block(b.held[id], b.states)
	}
	for i := range a.Assemblies {
		slices.SortStableFunc(a.Assemblies[i].Blocks, func(x, y BuildBlock) int { return y.HoldsUp - x.HoldsUp })
	}
	return err
}

// block counts what holds up one more place of the assembly.
func (l *BuildAssembly) block(by []graph.PositionID, states map[graph.PositionID]BuildPlace) {
	for _, id := range by {
		i := slices.IndexFunc(l.Blocks, func(b BuildBlock) bool { return b.Position == id })
		if i < 0 {
			i = len(l.Blocks)
			l.Blocks = append(l.Blocks, BuildBlock{Position: id, State: states[id].State})
		}
		l.Blocks[i].HoldsUp++
	}
}
