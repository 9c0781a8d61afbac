package donor

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// WorkStep is one step of the work.
type WorkStep struct {
	Do       string           `json:"do"` // one of the Do constants
	Position graph.PositionID `json:"position,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Text     string           `json:"text,omitempty"`
	Quantity int              `json:"quantity,omitempty"` // how many of the part; 0 when there is no part
	// MoveTo is the place whose old part it comes out of, and whose new part it
	// goes into; empty for what sits on the machine itself.
	MoveTo graph.PositionID `json:"move_to,omitempty"`
	// New is true for what must be new every time, though it is the same part.
	New bool `json:"new,omitempty"`
	// With are places whose parts stay on it while it is off.
	With []graph.PositionID `json:"with,omitempty"`
	// Joint is the one that is tightened; empty for every other step.
	Joint graph.JointID `json:"joint,omitempty"`
}

// What a step does, in the order of the work.
const (
	DoDrain = "drain"
	DoOut   = "take out" // a bolt, screw, nut or washer
	DoOff   = "take off"
	DoMake  = "get ready" // what is made or is to be got, before anything needs it
	DoAdapt = "adapt"
	DoFit   = "fit"      // something else than was there
	DoBack  = "put back" // what was there
	DoIn    = "put in"   // a bolt, screw, nut or washer
	DoAlign = "align"
	DoTight = "tighten" // to the torque of the joint
	DoFill  = "fill"    // once no joint of a hose is loose any more
	DoBleed = "bleed"
)

// worker puts one plan in an order of work.
type worker struct {
	*planner
	after  *machine.Setup
	plan   *DonorPlan
	done   assemble.Arranged
	joints map[graph.JointID]graph.Joint
	bolts  map[graph.PositionID]bool
	made   map[graph.PositionID][]swap.Get // what is made or got for a place
}

// work is the order of work of a plan, from how the machine is joined together;
// see assemble.Arrange. What is made or got is ready before the first part goes on, fluid
// is out before a hose comes off; what is tightened to a torque is so once all is on,
// and only then is fluid filled in. Positions that wait for one another in a circle, which no order
// satisfies, come back as cycle.
func work(p *planner, after *machine.Setup, d *DonorPlan) (steps []WorkStep, cycle []graph.PositionID, err error) {
	w := worker{planner: p, after: after, plan: d, made: map[graph.PositionID][]swap.Get{}}
	c, err := w.readCase()
	if err != nil {
		return nil, nil, err
	}
	w.done = assemble.Arrange(c)
	w.done.Opened = lists.Kept(w.done.Opened, func(j assemble.Joint) bool { return j.ID != "" })
	w.renew()
	w.openedTorques()
	circuits, err := w.openCircuits()
	if err != nil {
		return nil, nil, err
	}
	steps = append(steps, circuitSteps(DoDrain, circuits)...)
	steps = append(steps, w.offSteps()...)
	steps = append(steps, w.readySteps()...)
	steps = append(steps, w.onSteps()...)
	steps = append(steps, w.alignSteps()...)
	steps = append(steps, w.tightSteps()...)
	steps = append(steps, circuitSteps(DoFill, circuits)...)
	return append(steps, circuitSteps(DoBleed, circuits)...), w.done.Cycle, nil
}

// OrderOfWork is the order of work of a swap that nobody planned: before and after
// are the machine as it is and as it will be, made what is made or got for it
// besides. What the work makes one renew is added to the answer. Positions that wait
// for one another in a circle come back as cycle. Errors come from the reader.
func OrderOfWork(ctx context.Context, before, after *machine.Setup, a *swap.SwapAnswer,
	made []swap.Get) (steps []WorkStep, cycle []graph.PositionID, err error) {
	clock := newDeadline(ctx, DonorQuestion{Time: DonorTime})
	defer clock.release()
	p := &planner{task: &task{before: before}, memory: newMemory(before), ctx: clock}
	d := DonorPlan{Swap: *a, Make: made}
	steps, cycle, err = work(p, after, &d)
	a.Renew = d.Swap.Renew
	return steps, cycle, err
}

// readCase reads how the whole machine is joined together, and what the plan
// replaces on it.
func (w *worker) readCase() (assemble.Case, error) {
	whole, err := assemble.Read(w.ctx, w.before)
	w.joints, w.bolts = whole.Known, whole.Bolts
	c := whole.Case
	c.Replaced = w.after.Changed()
	for _, g := range w.plan.Make {
		if g.IsWork() {
			continue // it is done before anything goes on
		}
		if at := cmp.Or(g.Into(), g.Position); at != "" {
			w.made[at] = append(w.made[at], g)
		}
		if w.standsFor(g) {
			c.Replaced = lists.Unique(append(c.Replaced, g.Position))
		}
	}
	return c, err
}

// standsFor reports whether what is made goes in the place of what is there, as
// a spacer of another width does.
func (w *worker) standsFor(g swap.Get) bool {
	if g.Position == "" || g.What == swap.GetAdapter || g.What == swap.GetExtension {
		return false
	}
	return isOfKind(w.after, g.Position, g.What)
}

// isRenewed reports whether what goes on at a place must be new: what was there
// before, and what the donor has. Anything else is bought for the plan already.
func (w *worker) isRenewed(id graph.PositionID) bool {
	if w.isChanged(id) && !slices.ContainsFunc(w.plan.Take, func(part DonorPart) bool { return part.Position == id }) {
		return false
	}
	return w.after.Position(id).Renew || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		return slices.Contains(w.joints[j.ID].Renew, id)
	})
}

// renew adds what the work makes one renew besides what the swap does, and marks
// what is therefore not taken from the donor.
func (w *worker) renew() {
	for _, id := range w.done.Order {
		seat := w.after.Seat(id)
		known := slices.ContainsFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool { return r.Position == id })
		ordered := slices.ContainsFunc(w.made[id], func(g swap.Get) bool { return g.Position == id && w.standsFor(g) })
		if seat.Empty || known || ordered || !w.isRenewed(id) {
			continue
		}
		row := swap.RenewRow{Position: id, Part: seat.Part.ID, Quantity: w.after.Quantity(id),
			Text: machine.NameOf(seat.Part), For: []graph.JointID{}}
		for _, j := range w.done.Opened {
			if slices.Contains(j.Places(), id) || slices.Contains(w.joints[j.ID].Renew, id) {
				row.For = append(row.For, j.ID)
			}
		}
		w.plan.Swap.Renew = append(w.plan.Swap.Renew, row)
		if machine.HasKind(seat.Part, "washer") {
			// what a rule asks for without a number
			w.plan.Swap.Renew = lists.Kept(w.plan.Swap.Renew, func(r swap.RenewRow) bool {
				return r.Position != "" || !slices.Contains(row.For, r.For[0]) || !strings.Contains(r.Text, "washer")
			})
		}
	}
	for i, part := range w.plan.Take {
		w.plan.Take[i].Renew = w.isRenewed(part.Position)
	}
	slices.SortStableFunc(w.plan.Swap.Renew, func(a, b swap.RenewRow) int { return cmp.Compare(a.Position, b.Position) })
}

func (w *worker) isChanged(id graph.PositionID) bool { return slices.Contains(w.after.Changed(), id) }

func (w *worker) offSteps() []WorkStep {
	var steps []WorkStep
	for _, id := range slices.Backward(w.done.Order) {
		was := w.before.Seat(id)
		if was.Empty {
			continue
		}
		do := DoOff
		if w.bolts[id] {
			do = DoOut
		}
		steps = append(steps, WorkStep{Do: do, Position: id, Part: was.Part.ID, Text: was.Part.Name,
			Quantity: w.before.Quantity(id), MoveTo: w.done.MoveTo[id], With: w.done.With[id]})
	}
	return steps
}

// readySteps are what is made, got or adapted before anything goes on.
func (w *worker) readySteps() []WorkStep {
	var steps []WorkStep
	for _, g := range w.plan.Make {
		if g.IsWork() {
			steps = append(steps, WorkStep{Do: DoAdapt, Position: g.Position, Text: g.Text})
			continue
		}
		steps = append(steps, WorkStep{Do: DoMake, Position: g.Position, Part: g.Part, Text: g.Text, Quantity: g.Quantity})
	}
	for _, m := range w.plan.Modify {
		steps = append(steps, WorkStep{Do: DoAdapt, Text: m.At + ": " + m.Do})
	}
	return steps
}

// onSteps put everything on. What is made or got for a place goes on as soon as
// the place or what moves over to it does; for a place that stays on, before the
// first that is joined to it.
func (w *worker) onSteps() []WorkStep {
	var steps []WorkStep
	said := map[graph.PositionID]bool{}
	made := func(id graph.PositionID) {
		if !said[id] {
			said[id] = true
			steps = append(steps, w.madeSteps(id)...)
		}
	}
	for _, id := range w.done.Order {
		if to, moves := w.done.MoveTo[id]; moves {
			made(to)
		}
		made(id)
		for _, stays := range w.staysBeside(id) {
			made(stays)
		}
		steps = append(steps, w.onStep(id)...)
	}
	for _, id := range lists.KeysOf(w.made) {
		made(id)
	}
	return steps
}

// staysBeside are the places that stay on and are joined to one that goes on, by a
// joint that is opened.
func (w *worker) staysBeside(id graph.PositionID) []graph.PositionID {
	var beside []graph.PositionID
	for _, j := range w.done.Opened {
		if ends := j.Ends(); slices.Contains(ends, id) {
			beside = append(beside, ends...)
		}
	}
	return lists.Kept(lists.Unique(beside), func(other graph.PositionID) bool {
		return !slices.Contains(w.done.Order,
			other)
	})
}

// onStep fits what belongs at a place, unless that is made.
func (w *worker) onStep(id graph.PositionID) []WorkStep {
	now := w.after.Seat(id)
	isMade := func(g swap.Get) bool { return g.Position == id && w.standsFor(g) }
	if now.Empty || slices.ContainsFunc(w.plan.Make, isMade) {
		return nil
	}
	do := DoBack
	switch {
	case w.bolts[id]:
		do = DoIn
	case w.isChanged(id):
		do = DoFit
	}
	step := WorkStep{Do: do, Position: id, Part: now.Part.ID, Text: now.Part.Name, Quantity: w.after.Quantity(id),
		MoveTo: w.done.MoveTo[id], With: w.done.With[id]}
	for _, part := range slices.Concat(w.plan.Take, w.plan.Get) {
		if part.Position == id {
			step.Quantity = max(step.Quantity, part.Quantity)
		}
	}
	step.New = w.isRenewed(id)
	return []WorkStep{step}
}

// madeSteps fit what is made or got for a place: a bracket goes between the place
// and what carries it, an adapter into the part before that is on the machine.
func (w *worker) madeSteps(id graph.PositionID) []WorkStep {
	return lists.Mapped(w.made[id], func(g swap.Get) WorkStep {
		return WorkStep{Do: DoFit, Position: cmp.Or(g.Position, id), Part: g.Part, Text: g.Text, Quantity: g.Quantity}
	})
}

// openCircuits are the fluids that a joint which comes apart would let out.
func (w *worker) openCircuits() ([]graph.Circuit, error) {
	var wet []graph.PositionID
	for _, j := range w.done.Opened {
		if j.Fluid {
			wet = append(wet, j.Ends()...)
		}
	}
	if len(wet) == 0 {
		return nil, nil
	}
	circuits, err := w.before.Library().CircuitsTouching(w.ctx, w.before.Variant.ID, lists.Unique(wet))
	return lists.Kept(circuits, func(c graph.Circuit) bool { return c.Carries != "current" }), err
}

func circuitSteps(do string, circuits []graph.Circuit) []WorkStep {
	return lists.Mapped(circuits, func(c graph.Circuit) WorkStep {
		return WorkStep{Do: do, Text: queries.LocalName(string(c.ID)) + ": " + c.Carries}
	})
}

// alignSteps are what has to be set once it is all on.
func (w *worker) alignSteps() []WorkStep {
	say := map[string]string{"chain": "chain: tension, and the two sprockets in line", "beam": "headlamp: aim"}
	var found []string
	for _, j := range w.done.Opened {
		for _, ref := range []graph.FeatureRef{w.joints[j.ID].A, w.joints[j.ID].B} {
			found = append(found, say[w.after.KindOf(ref)])
		}
		if j.Shaft != "" && w.before.Position(j.Shaft).Safety == graph.SafetyWheel {
			found = append(found, w.before.Position(j.Shaft).Name+": wheel in line, turning freely, before it is tightened")
		}
	}
	return lists.Mapped(lists.Kept(lists.Unique(found), func(s string) bool { return s != "" }), func(s string) WorkStep {
		return WorkStep{Do: DoAlign, Text: s}
	})
}

// openedTorques adds to the torques of the swap those of joints that come apart on
// the way, in the order of both.
func (w *worker) openedTorques() {
	rows := lists.ByKey(w.plan.Swap.Torques, func(r swap.TorqueRow) graph.JointID { return r.Joint })
	var opened []graph.Joint
	for _, j := range w.done.Opened {
		if _, judged := rows[j.ID]; !judged && len(j.Fasteners) > 0 {
			opened = append(opened, w.joints[j.ID])
		}
	}
	known := lists.Mapped(lists.KeysOf(w.joints), func(id graph.JointID) graph.Joint { return w.joints[id] })
	w.plan.Swap.Torques = append(w.plan.Swap.Torques, swap.TorquesOpened(w.was, w.after, opened, known)...)
	w.plan.Swap.Torques = lists.Mapped(w.plan.Swap.Torques, func(r swap.TorqueRow) swap.TorqueRow {
		return r.OnceMade(w.plan.Make)
	})
	slices.SortStableFunc(w.plan.Swap.Torques, func(a, b swap.TorqueRow) int { return cmp.Compare(a.Joint, b.Joint) })
}

// tightSteps are the torques, joint by joint; where nobody gives one, or the one
// given was for another part, they say where to look.
func (w *worker) tightSteps() []WorkStep {
	rows := lists.ByKey(w.plan.Swap.Torques, func(r swap.TorqueRow) graph.JointID { return r.Joint })
	var steps []WorkStep
	for _, j := range w.done.Opened {
		row, judged := rows[j.ID]
		if !judged && len(j.Fasteners) == 0 && j.Nut == "" {
			continue
		}
		step := WorkStep{Do: DoTight, Joint: j.ID, Position: j.A, Text: queries.LocalName(string(j.ID)) + ": "}
		if len(j.Fasteners) > 0 {
			step.Position = j.Fasteners[0]
		} else if j.Nut != "" {
			step.Position = j.Nut
		}
		switch {
		case row.Torque != "":
			step.Text += row.Torque
		case row.See != "":
			step.Text += row.See
		default:
			step.Text += "see the maker's manual"
		}
		steps = append(steps, step)
	}
	return steps
}
