package donor

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/examine"
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
	// Bench is the place of what it goes into or onto, or comes out of, while that is off the
	// machine and not replaced; empty for what is done on the machine.
	Bench graph.PositionID `json:"bench,omitempty"`
	// Joint is the one that is tightened; empty for every other step.
	Joint graph.JointID `json:"joint,omitempty"`
	// Effort is what a part is altered with, "lathe or weld"; empty for every other step.
	Effort string `json:"effort,omitempty"`
}

// What a step does, in the order of the work.
const (
	DoPart    = "disconnect" // the battery
	DoSupport = "support"
	DoMeasure = "measure" // before it is opened, to go back the same
	DoSlack   = "loosen"  // what is turned a little and stays in
	DoDrain   = "drain"
	DoOut     = "take out" // a bolt, screw, nut or washer
	DoOff     = "take off"
	DoFree    = "pull off"  // the end of a hose or cable that stays on the machine by its other end
	DoMake    = "get ready" // what is made or is to be got, before anything needs it
	DoAdapt   = "adapt"
	DoFit     = "fit"       // something else than was there
	DoBack    = "put back"  // what was there
	DoIn      = "put in"    // a bolt, screw, nut or washer
	DoHook    = "push on"   // the end of a hose or cable that stayed
	DoLeave   = "leave off" // such an end, where what goes on has nothing for it
	DoAlign   = "align"
	DoTight   = "tighten" // to the torque of the joint
	DoSecure  = "secure"  // what keeps a nut from turning, once that is tight
	DoFill    = "fill"    // once no joint of a hose is loose any more
	DoPump    = "pump"    // a fork leg that was filled
	DoBleed   = "bleed"
	DoCheck   = "check"   // how a line lies, once it is on
	DoJoin    = "connect" // the battery
)

// worker puts one plan in an order of work.
type worker struct {
	*planner
	after  *machine.Setup
	plan   *DonorPlan
	done   assemble.Arranged
	whole  assemble.Machine
	joints map[graph.JointID]graph.Joint
	bolts  map[graph.PositionID]bool
	made   map[graph.PositionID][]swap.Get // what is made or got for a place
	inside map[graph.PositionID][]swap.Get // what goes into a place once that is on: a sleeve into its bearing
	worn   map[graph.PositionID]bool       // pads that ran on a disc which is replaced
	plugs  []graph.PositionID              // what is taken out to drain engine or final drive box
	slack  []WorkStep                      // what has the wheel move so that its chain comes off the teeth
}

// work is the order of work of a plan, from how the machine is joined together;
// see assemble.Arrange. What is made or got is ready before the first part goes on, fluid
// is out before a hose comes off; what is tightened to a torque is so once all is on,
// and only then is fluid filled in. Positions that wait for one another in a circle, which no order
// satisfies, come back as cycle.
func work(p *planner, after *machine.Setup, d *DonorPlan) (steps []WorkStep, cycle []graph.PositionID, err error) {
	w := worker{planner: p, after: after, plan: d, made: map[graph.PositionID][]swap.Get{},
		inside: map[graph.PositionID][]swap.Get{}, worn: map[graph.PositionID]bool{}}
	c, err := w.readCase()
	if err != nil {
		return nil, nil, err
	}
	w.done = assemble.Arrange(c)
	if w.plugs = w.drainPlugs(); len(w.plugs) > 0 {
		c.Replaced = lists.Unique(append(c.Replaced, w.plugs...))
		w.done = assemble.Arrange(c)
	}
	w.done.Opened = lists.Kept(w.done.Opened, func(j assemble.Joint) bool { return j.ID != "" || j.Line != "" })
	w.slack = w.axleSteps()
	w.renew()
	w.openedTorques()
	for _, j := range w.done.Opened {
		if j.Fluid {
			d.apart = append(d.apart, j.Ends()...)
		}
	}
	circuits, err := w.openCircuits()
	if err != nil {
		return nil, nil, err
	}
	filled := lists.Kept(slices.Clone(circuits), w.isWetAfter)
	wet := w.newlyWet()
	last := w.lastOn()
	return slices.Concat(w.batterySteps(DoPart, "earth lead first"), w.supportSteps(), w.heightSteps(), w.slackSteps(),
		circuitSteps(DoDrain, circuits),
		w.sumpSteps(DoDrain), w.offSteps(), w.readySteps(), w.onSteps(last), w.banjoSteps(wet), w.alignSteps(),
		w.tightSteps(onMachine, last), w.secureSteps(), w.closeSteps(last), w.tightSteps(closing, last),
		w.filledSteps(DoFill, filled), w.sumpSteps(DoFill), w.wetSteps(DoFill, wet),
		w.filledSteps(DoBleed, filled), w.wetSteps(DoBleed, wet),
		w.checkSteps(), w.batterySteps(DoJoin, "earth lead last")), w.done.Cycle, nil
}

// batterySteps take the battery off the loom, and join it again, where something opens
// that carries current. Common practice, no source.
func (w *worker) batterySteps(do, how string) []WorkStep {
	isOff := slices.ContainsFunc(w.done.Order, func(id graph.PositionID) bool { return w.before.HasAt(id, "battery") })
	if !isOff && !slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool { return j.Electric }) {
		return nil
	}
	step := WorkStep{Do: do, Text: "battery, " + how}
	for _, p := range w.whole.Positions {
		if slices.Contains(w.before.FeatureKindsAt(p.ID), "battery") {
			step.Position = p.ID
		}
	}
	return []WorkStep{step}
}

// supportSteps hold the machine up before anything opens that carries it. Common
// practice, no source.
func (w *worker) supportSteps() []WorkStep {
	var steps []WorkStep
	for _, wheel := range w.done.Lifted {
		steps = append(steps, WorkStep{Do: DoSupport, Position: wheel.Hub, Text: w.before.Position(wheel.Hub).Name +
			": support the machine so that this wheel is off the ground and nothing can fall"})
	}
	for _, id := range w.done.Order {
		if !w.before.Seat(id).Empty && w.before.HasAt(id, "stand") {
			steps = append(steps, WorkStep{Do: DoSupport, Position: id, Text: w.before.Position(id).Name +
				": support the machine so that it stands upright without it"})
		}
	}
	return steps
}

// checkSteps are how lines lie once they are on.
func (w *worker) checkSteps() []WorkStep {
	var steps []WorkStep
	for _, m := range w.plan.Modify {
		if isOfRun(m) {
			steps = append(steps, WorkStep{Do: DoCheck, Text: m.At + ": " + m.Do})
		}
	}
	return steps
}

// isOfRun reports whether something is done to a line as it lies on the machine.
func isOfRun(m DonorModify) bool { return strings.HasPrefix(m.At, examine.OfRun+" ") }

// isWetAfter reports whether a circuit that comes open still carries fluid once the work is done.
func (w *worker) isWetAfter(c graph.Circuit) bool {
	return slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		touches := slices.ContainsFunc(j.Ends(), func(id graph.PositionID) bool { return slices.Contains(c.Places(), id) })
		if j.Line != "" { // only a run names it
			return touches && !w.after.Seat(j.Line).Empty
		}
		return j.Fluid && touches && assemble.JointOf(w.after, w.joints[j.ID]).Fluid
	})
}

// newlyWet are the joints that fluid passes through once the work is done, and did not before.
func (w *worker) newlyWet() []assemble.Joint {
	var wet []assemble.Joint
	for _, j := range w.done.Opened {
		if after := assemble.JointOf(w.after, w.joints[j.ID]); after.Fluid && !j.Fluid {
			wet = append(wet, after)
		}
	}
	return wet
}

// wetSteps fill and bleed what carries fluid for the first time.
func (w *worker) wetSteps(do string, wet []assemble.Joint) []WorkStep {
	names := lists.Unique(lists.Mapped(wet, func(j assemble.Joint) string { return j.A.Assembly().Local() }))
	return lists.Mapped(names, func(name string) WorkStep {
		return WorkStep{Do: do, Text: name + ": the fluid that its master and what it works allow, new"}
	})
}

// banjoSteps put in the bolts of hose ends that nobody lists on this machine, each with new
// washers, and have them renewed.
func (w *worker) banjoSteps(wet []assemble.Joint) []WorkStep {
	var steps []WorkStep
	for _, j := range wet {
		known := w.joints[j.ID]
		for _, ends := range [][2]graph.FeatureRef{{known.A, known.B}, {known.B, known.A}} {
			hose, port := ends[0], ends[1]
			if w.after.Side(hose).Feature.Kind != "banjo" || len(known.Fasteners) > 0 {
				continue
			}
			text := "banjo bolt"
			if thread := machine.BestText(w.after.Side(port).Feature, "thread"); thread != "" {
				text += " " + thread
			}
			w.plan.Swap.Renew = append(w.plan.Swap.Renew, swap.RenewRow{Position: hose.Position, Quantity: 1,
				Text: text + " for " + queries.LocalName(string(j.ID)), For: []graph.JointID{j.ID}})
			steps = append(steps, WorkStep{Do: DoIn, Position: hose.Position, Quantity: 1,
				Text: text + " with new sealing washers, into " + port.Position.Local()})
		}
	}
	return steps
}

// SwapWork is the work of a swap that nobody planned.
type SwapWork struct {
	After *machine.Setup // the machine as it will be, with what is to be got on it
	Made  []swap.Get     // what is made or got besides parts that take a place
	Steps []WorkStep     // in order
	Cycle []graph.PositionID
	Known map[graph.JointID]graph.Joint // all joints of the machine before
	apart []graph.PositionID            // ends of the joints it opens that fluid passes through
}

// OrderOfWork is the order of work of a swap that nobody planned, on the machine before it,
// with what the answer says to get on as well; nothing is done at the places without. What
// the work makes one renew is added to the answer. Positions that wait for one another in a
// circle come back as Cycle. Errors come from the reader.
func OrderOfWork(ctx context.Context, before *machine.Setup, a *swap.SwapAnswer,
	without ...graph.PositionID) (SwapWork, error) {
	s := SwapWork{Made: []swap.Get{}}
	changes := a.PartsOn()
	for _, g := range a.Get {
		if g.What != swap.GetPart || g.Position == "" {
			s.Made = append(s.Made, g)
		}
	}
	for _, line := range a.Swaps { // another part goes there where one is to be got
		if slices.Contains(without, line.Position) && changes[line.Position] == line.Now {
			delete(changes, line.Position)
		}
	}
	err := before.Load(ctx, lists.KeysOf(changes)...)
	if err != nil {
		return s, err
	}
	if s.After, err = before.With(ctx, changes); err != nil {
		return s, err
	}
	clock := newDeadline(ctx, DonorQuestion{Time: DonorTime})
	defer clock.release()
	p := &planner{task: &task{before: before}, memory: newMemory(before, nil), ctx: clock}
	d := DonorPlan{Swap: *a, Make: s.Made, Modify: altered(*a)}
	s.Steps, s.Cycle, err = work(p, s.After, &d)
	a.Renew, s.apart, s.Known = d.Swap.Renew, d.apart, d.known
	return s, err
}

// altered is what is done to the parts of a swap so that they mate, where nothing that is
// got or made closes that.
func altered(a swap.SwapAnswer) []DonorModify {
	var all []DonorModify
	for _, o := range a.WithChanges {
		if o.What != examine.OfJoint || !o.HasWork() || swap.IsClosed(a, o) {
			continue
		}
		for _, c := range o.Checks {
			for _, do := range c.Do {
				if c.Verdict == graph.FitsWithChanges {
					all = append(all, DonorModify{At: o.What + " " + queries.LocalName(o.ID), Do: do, Effort: c.Effort.String()})
				}
			}
		}
	}
	return all
}

// readCase reads how the whole machine is joined together, and what the plan
// replaces on it.
func (w *worker) readCase() (assemble.Case, error) {
	whole, err := assemble.Read(w.ctx, w.before)
	w.whole, w.joints, w.bolts = whole, whole.Known, whole.Bolts
	w.plan.known = whole.Known
	c := whole.Case
	c.Replaced = lists.Unique(slices.Concat(w.after.Changed(), w.padsOfNewDiscs(), w.linksOfNewChains()))
	for _, g := range w.plan.Make {
		if g.IsWork() {
			continue // it is done before anything goes on
		}
		if at := w.boreOf(g); at != "" {
			w.inside[at] = append(w.inside[at], g)
		} else if at := cmp.Or(g.Into(), w.betweenBearings(g), w.placeOf(g)); at != "" {
			w.made[at] = append(w.made[at], g)
		}
		if w.standsFor(g) {
			c.Replaced = lists.Unique(append(c.Replaced, w.placeOf(g)))
		}
	}
	return c, err
}

// linksOfNewChains are the places of the links that close chains which go on where none was:
// what closed the old one is gone with it.
func (w *worker) linksOfNewChains() []graph.PositionID {
	var links []graph.PositionID
	for _, p := range w.whole.Positions {
		for chain := range w.whole.Chains {
			isNew := w.isChanged(chain) && !w.whole.There[chain] && !w.after.Seat(chain).Empty
			if isNew && p.Kind == "chain-link" && p.Assembly == chain.Assembly() && !w.after.Seat(p.ID).Empty {
				w.whole.There[p.ID] = false
				links = append(links, p.ID)
			}
		}
	}
	return links
}

// padsOfNewDiscs are the pads that stay in calipers round a disc that is replaced: common
// practice, no source, pads that are worn in on another disc are renewed.
func (w *worker) padsOfNewDiscs() []graph.PositionID {
	for _, j := range w.whole.Joints {
		if j.Around == "" || !w.isChanged(j.Other(j.Around)) {
			continue
		}
		for _, k := range w.whole.Joints {
			if pads := k.Other(j.Around); slices.Contains(k.Ends(), j.Around) && w.whole.There[pads] && !w.isChanged(pads) &&
				slices.Contains(w.before.FeatureKindsAt(pads), "pad") {
				w.worn[pads] = true
			}
		}
	}
	return lists.KeysOf(w.worn)
}

// betweenBearings is the tube between two bearings that something made goes into or under;
// it must be in before the second bearing is.
func (w *worker) betweenBearings(g swap.Get) graph.PositionID {
	for _, j := range w.whole.Joints {
		if j.ID == "" && j.Holds && j.Inner != "" && slices.ContainsFunc(g.For, func(id string) bool {
			known, ok := w.joints[graph.JointID(id)]
			return ok && (known.A.Position == j.Inner || known.B.Position == j.Inner)
		}) {
			return j.Inner
		}
	}
	return ""
}

// boreOf is the bearing into which something goes that lies between it and its shaft: a sleeve
// is in before a seal or spacer covers the bearing.
func (w *worker) boreOf(g swap.Get) graph.PositionID {
	if w.standsFor(g) {
		return ""
	}
	for _, id := range g.For {
		known, ok := w.joints[graph.JointID(id)]
		if !ok {
			continue
		}
		for _, ends := range [][2]graph.FeatureRef{{known.A, known.B}, {known.B, known.A}} {
			if w.after.Side(ends[0]).Feature.Kind == "bearing" && w.after.Side(ends[1]).Feature.Kind == "shaft" {
				return ends[0].Position
			}
		}
	}
	return ""
}

// standsFor reports whether what is made goes in the place of what is there, as
// a spacer of another width does.
func (w *worker) standsFor(g swap.Get) bool {
	at := w.placeOf(g)
	if at == "" || g.What == swap.GetAdapter || g.What == swap.GetExtension {
		return false
	}
	return isOfKind(w.after, at, g.What)
}

// placeOf is where something made or got goes: its own place, but that of the fastener of
// its sort where it is one of a joint that it is for, as a banjo bolt for a hose is.
func (w *worker) placeOf(g swap.Get) graph.PositionID {
	if g.Position == "" || isOfKind(w.after, g.Position, g.What) {
		return g.Position
	}
	for _, id := range g.For {
		for _, bolt := range w.joints[graph.JointID(id)].Fasteners {
			if isOfKind(w.after, bolt, g.What) {
				return bolt
			}
		}
	}
	return g.Position
}

// isRenewed reports whether what goes on at a place must be new: what was there
// before, and what the donor has. Anything else is bought for the plan already.
func (w *worker) isRenewed(id graph.PositionID) bool {
	if w.isChanged(id) && !slices.ContainsFunc(w.plan.Take, func(part DonorPart) bool { return part.Position == id }) {
		return false
	}
	isListed := slices.ContainsFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool {
		return r.Position == id && r.Part != "" && r.Part == w.after.Seat(id).Part.ID && !r.Work
	})
	isRenewed := isListed || w.after.Position(id).Renew || w.worn[id]
	return isRenewed || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		// a bearing that is knocked out is not put back: common practice, no source
		isOut := j.Pressed && j.Other(j.Seat) == id && slices.Contains(w.after.FeatureKindsAt(id), "bearing")
		return isOut || slices.Contains(w.joints[j.ID].Renew, id)
	})
}

// renew adds what the work makes one renew besides what the swap does, and marks
// what is therefore not taken from the donor.
func (w *worker) renew() {
	w.linkOfChain()
	for _, id := range w.done.Order {
		seat := w.after.Seat(id)
		known := slices.ContainsFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool { return r.Position == id })
		ordered := slices.ContainsFunc(w.made[id], func(g swap.Get) bool { return g.Position == id && w.standsFor(g) })
		if seat.Empty || known || ordered || w.isForeign(id) || w.isIdle(id) || !w.isRenewed(id) {
			continue
		}
		row := swap.RenewRow{Position: id, Part: seat.Part.ID, Quantity: w.after.Quantity(id),
			Text: machine.NameOf(seat.Part), For: []graph.JointID{}}
		for _, j := range w.done.Opened {
			if j.ID != "" && (slices.Contains(j.Places(), id) || slices.Contains(w.joints[j.ID].Renew, id)) {
				row.For = append(row.For, j.ID)
			}
		}
		w.plan.Swap.Renew = append(w.plan.Swap.Renew, row)
		if machine.HasKind(seat.Part, "washer") {
			// what a rule asks for without a number
			w.plan.Swap.Renew = lists.Kept(w.plan.Swap.Renew, func(r swap.RenewRow) bool {
				return !r.IsWasher() || !slices.Contains(row.For, r.For[0])
			})
		}
	}
	for i, part := range w.plan.Take {
		w.plan.Take[i].Renew = w.isRenewed(part.Position)
	}
	slices.SortStableFunc(w.plan.Swap.Renew, func(a, b swap.RenewRow) int { return cmp.Compare(a.Position, b.Position) })
}

func (w *worker) isChanged(id graph.PositionID) bool { return slices.Contains(w.after.Changed(), id) }

// offSteps take everything off.
func (w *worker) offSteps() []WorkStep {
	var steps []WorkStep
	for _, id := range slices.Backward(w.done.Order) {
		if w.isDrained(id, w.plugs) {
			continue // it is out already
		}
		steps = append(steps, w.offStep(id)...)
	}
	return steps
}

// offStep takes one thing off, once it is freed from what stays.
func (w *worker) offStep(id graph.PositionID) []WorkStep {
	was := w.before.Seat(id)
	part := was.Part
	if !w.whole.There[id] {
		return nil
	}
	if was.Empty {
		part = was.Scrap // it is on the machine all the same
	}
	if part.ID == "" {
		return nil
	}
	do := DoOff
	if w.bolts[id] {
		do = DoOut
	}
	var steps []WorkStep
	free := w.lineSteps(DoFree, id)
	if w.whole.Chains[id] || slices.ContainsFunc(free, func(s WorkStep) bool { return w.whole.Chains[s.Position] }) ||
		w.before.Position(id).Kind == "chain-link" {
		steps, w.slack = append(steps, w.slack...), nil
	}
	steps = append(steps, free...)
	steps = append(steps, w.bendSteps(id)...)
	bench := w.done.Bench[id]
	if w.isDrained(id, w.plugs) {
		bench = "" // it is out before anything comes off
	}
	steps = append(steps, WorkStep{Do: do, Position: id, Part: part.ID, Text: part.Name,
		Quantity: w.pieces(w.before, id), MoveTo: w.done.MoveTo[id], With: w.done.With[id], Bench: bench})
	steps = append(steps, w.capSteps(id)...)
	if leg := w.legUnder(id, "fork-cap"); leg != "" {
		steps = append(steps, WorkStep{Do: DoDrain, Position: leg, Text: leg.Local() + ": fork oil"})
	}
	return steps
}

// pieces is how many pieces of a place come off or go on: of clips on the ends of several
// hoses those on the ends that come open.
func (w *worker) pieces(s *machine.Setup, id graph.PositionID) int {
	joints, open := 0, 0
	for _, j := range w.joints {
		if slices.Contains(j.Fasteners, id) {
			joints++
			open += lists.Order(w.isOpened(j.ID))
		}
	}
	if !w.whole.Clips[id] || open == 0 {
		return s.Quantity(id)
	}
	return open * PiecesEach(s.Quantity(id), joints)
}

// PiecesEach is how many of some clips each of some joints has, where they are shared out
// evenly; else all of them.
func PiecesEach(pieces, joints int) int {
	if joints < 2 || pieces%joints != 0 {
		return pieces
	}
	return pieces / joints
}

// lineSteps free a part from the hoses and cables that stay on the machine and that no
// bolt holds to it, or join it to them again. Common practice, no source.
func (w *worker) lineSteps(do string, id graph.PositionID) []WorkStep {
	var steps []WorkStep
	for _, j := range w.done.Opened {
		at := w.freedWith(j, id)
		line := j.Other(at)
		isLine := w.whole.Rods[line] || w.whole.Bends[line] && len(j.Fasteners) == 0
		if at == "" || j.Electric || !isLine || w.bolts[at] ||
			slices.Contains(w.done.Order, line) || slices.Contains(w.done.With[id], line) {
			continue
		}
		text := line.Local() + " and " + at.Local()
		switch {
		case w.whole.Chains[line] && do == DoFree:
			text += ": off the teeth, the wheel pushed forward"
		case w.whole.Chains[line]:
			text += ": onto the teeth"
		}
		step := WorkStep{Do: do, Position: line, Text: text}
		isSaid := func(s WorkStep) bool { return s.Do == step.Do && s.Position == line && s.Text == text }
		if slices.ContainsFunc(steps, isSaid) {
			continue
		}
		if why := w.nothingFor(w.refAt(j, at)); do == DoHook && why != "" {
			step.Do, step.Text = DoLeave, "its end for "+at.Local()+": "+why
		}
		steps = append(steps, step)
	}
	return steps
}

// nothingFor says why a line can't go back on what it was pulled off: nothing is there any
// more, or what goes on there is recorded without what the line was on. Else it is empty.
func (w *worker) nothingFor(ref graph.FeatureRef) string {
	was, now := w.before.Seat(ref.Position), w.after.Seat(ref.Position)
	_, had := was.Part.Feature(ref.Feature)
	_, has := now.Part.Feature(ref.Feature)
	switch {
	case now.Empty:
		return "nothing is there; close it, or take the line off too"
	case had && !has && len(now.Part.Features) > 0:
		return "no " + ref.Feature + " is recorded on " + string(now.Part.ID) + "; look at it, and don't run the engine or " +
			"ride with an end open"
	}
	return ""
}

// freedWith is the end of a joint from which a line is freed where something comes off: that
// itself, or what stays on it; of a chain what turns with the wheel that comes off. Empty
// where the joint is no matter of it.
func (w *worker) freedWith(j assemble.Joint, id graph.PositionID) graph.PositionID {
	for _, at := range j.Ends() {
		on := at
		for _, wheel := range w.whole.Wheels {
			if w.whole.Chains[j.Other(at)] && wheel.On[at] > 0 && slices.Contains(w.done.Order, wheel.Hub) {
				on = wheel.Hub
			}
			isOf := slices.ContainsFunc(wheel.Plates, func(id graph.PositionID) bool { return id.Assembly() == at.Assembly() })
			if isOf && w.done.OnPlates[at] && slices.Contains(w.done.Order, wheel.Hub) {
				on = wheel.Hub // it must be free before the wheel leaves with the plate
			}
		}
		if on == id || on == at && slices.Contains(w.done.With[id], at) {
			return at
		}
	}
	return ""
}

// legUnder is the fork leg that a part of one of some kinds goes into, where oil goes in
// anew; empty for any other.
func (w *worker) legUnder(id graph.PositionID, kinds ...graph.KindID) graph.PositionID {
	if !slices.Contains(kinds, w.after.Position(id).Kind) {
		return ""
	}
	for _, r := range w.plan.Swap.Renew {
		if r.Oil && slices.ContainsFunc(w.whole.Joints, func(j assemble.Joint) bool {
			return slices.Contains(j.Ends(), id) && j.Other(id) == r.Position
		}) {
			return r.Position
		}
	}
	return ""
}

// oilSteps fill a leg before its spring or cap goes in at a place, or once the leg is on
// itself where none of these does: the level is measured with the spring out.
func (w *worker) oilSteps(id graph.PositionID, isOn bool) []WorkStep {
	var steps []WorkStep
	for _, r := range w.plan.Swap.Renew {
		if !r.Oil {
			continue
		}
		shuts := slices.IndexFunc(w.done.Order, func(in graph.PositionID) bool {
			return w.legUnder(in, "fork-spring", "fork-cap") == r.Position
		})
		if !isOn && shuts >= 0 && w.done.Order[shuts] == id || isOn && shuts < 0 && id == r.Position {
			steps = append(steps, WorkStep{Do: DoFill, Position: r.Position, Text: r.Position.Local() + ": " + r.Text},
				WorkStep{Do: DoPump, Position: r.Position, Text: r.Position.Local() + ": slowly over its whole stroke until no " +
					"more air comes, left to stand, then the oil measured once more"})
		}
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
		steps = append(steps, WorkStep{Do: DoMake, Position: w.placeOf(g), Part: g.Part, Text: g.Text, Quantity: g.Quantity})
	}
	for _, m := range w.plan.Modify {
		do := strings.Join(lists.Kept(strings.Split(m.Do, "; "), func(do string) bool { return !isSaidByPart(do) }), "; ")
		if !isOfRun(m) && do != "" {
			steps = append(steps, WorkStep{Do: DoAdapt, Text: m.At + ": " + do, Effort: m.Effort})
		}
	}
	return steps
}

// isSaidByPart reports whether work is no more than what a part or an order says that goes on: as
// many bolts as there are holes, a bracket drawn to the disc.
func isSaidByPart(do string) bool {
	return strings.HasPrefix(do, "fit ") && strings.Contains(do, " bolts instead of ") ||
		strings.HasPrefix(do, "let the bracket ")
}

// onSteps put everything on but what goes on last. What is made or got for a place goes on
// as soon as the place or what moves over to it does; for a place that stays on, before the
// first that is joined to it. What is bolted together on the bench is tightened there.
func (w *worker) onSteps(last map[graph.PositionID]bool) []WorkStep {
	var steps []WorkStep
	said := map[graph.PositionID]bool{}
	made := func(id graph.PositionID) {
		if !said[id] {
			said[id] = true
			steps = append(steps, w.madeSteps(id)...)
		}
	}
	for _, id := range w.done.Order {
		if last[id] {
			continue
		}
		if w.whole.Chains[id] && len(w.slack) > 0 { // none came off, for which the wheel would have been moved
			steps, w.slack = append(steps, w.slack...), nil
		}
		if to, moves := w.done.MoveTo[id]; moves {
			made(to)
		}
		made(id)
		for _, stays := range w.staysBeside(id) {
			made(stays)
		}
		for _, rides := range w.done.With[id] {
			steps = append(steps, w.insideSteps(rides)...)
		}
		if slices.ContainsFunc(w.done.Lifted, func(wheel assemble.Wheel) bool { return wheel.Hub == id }) {
			steps = append(steps, w.tightSteps(onWheel(id), last)...)
		}
		steps = append(steps, w.oilSteps(id, false)...)
		steps = append(steps, w.onStep(id)...)
		steps = append(steps, w.insideSteps(id)...)
		steps = append(steps, w.lineSteps(DoHook, id)...)
		steps = append(steps, w.oilSteps(id, true)...)
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
	isMade := func(g swap.Get) bool { return w.placeOf(g) == id && w.standsFor(g) }
	if now.Empty || w.isIdle(id) || slices.ContainsFunc(w.plan.Make, isMade) {
		return nil
	}
	if w.isForeign(id) {
		at := slices.IndexFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool { return r.Link && r.Position == id })
		return []WorkStep{{Do: DoFit, Position: id, Text: w.plan.Swap.Renew[at].Text, Quantity: 1, New: true}}
	}
	do := DoBack
	switch {
	case w.bolts[id]:
		do = DoIn
	case w.isChanged(id) || w.isRenewed(id):
		do = DoFit
	}
	step := WorkStep{Do: do, Position: id, Part: now.Part.ID, Text: now.Part.Name, Quantity: w.pieces(w.after, id),
		MoveTo: w.done.MoveTo[id], With: w.done.With[id], Bench: w.done.Bench[id]}
	for _, part := range slices.Concat(w.plan.Take, w.plan.Get) {
		if part.Position == id {
			step.Quantity = max(step.Quantity, part.Quantity)
		}
	}
	step.New = w.isRenewed(id)
	return append([]WorkStep{step}, w.openEnds(id)...)
}

// openEnds are the ends of a line that is on again which nothing is there for any more.
func (w *worker) openEnds(id graph.PositionID) []WorkStep {
	var steps []WorkStep
	for _, j := range w.done.Opened {
		other := j.Other(id)
		if w.whole.Lines[id] && slices.Contains(j.Ends(), id) && w.isChanged(other) && w.after.Seat(other).Empty {
			steps = append(steps, WorkStep{Do: DoLeave, Position: id, Text: "its end for " + other.Local() +
				": nothing is there; close it, or take the line off too"})
		}
	}
	return steps
}

// isIdle reports whether a bolt, a gasket or a clip has nothing to hold or to seal any more: of
// each joint that it is for, something is taken off for good.
func (w *worker) isIdle(id graph.PositionID) bool {
	if on, owned := w.whole.Owners[id]; owned && w.isChanged(on) && w.after.Seat(on).Empty {
		return true
	}
	isFor := false
	for i := range w.whole.Joints {
		j := &w.whole.Joints[i]
		if !slices.Contains(j.Fasteners, id) && !slices.Contains(j.Between, id) {
			continue
		}
		if isFor = true; !w.isGone(*j) {
			return false
		}
	}
	return isFor
}

// isGone reports whether an end of a joint is taken off for good.
func (w *worker) isGone(j assemble.Joint) bool {
	return slices.ContainsFunc(j.Ends(), func(end graph.PositionID) bool {
		return w.after.Seat(end).Empty && w.isChanged(end)
	})
}

// madeSteps fit what is made or got for a place: a bracket goes between the place
// and what carries it, with the bolts through it after it, an adapter into the part before
// that is on the machine.
func (w *worker) madeSteps(id graph.PositionID) []WorkStep {
	made := slices.Clone(w.made[id])
	slices.SortStableFunc(made, func(a, b swap.Get) int {
		return cmp.Compare(lists.Order(a.Into() != ""), lists.Order(b.Into() != ""))
	})
	return w.fitSteps(id, made)
}

// insideSteps put in what goes into a place that is on.
func (w *worker) insideSteps(id graph.PositionID) []WorkStep { return w.fitSteps(id, w.inside[id]) }

// fitSteps fit what is made or got for a place.
func (w *worker) fitSteps(id graph.PositionID, gets []swap.Get) []WorkStep {
	return lists.Mapped(gets, func(g swap.Get) WorkStep {
		return WorkStep{Do: DoFit, Position: cmp.Or(w.placeOf(g), id), Part: g.Part, Text: g.Text, Quantity: g.Quantity}
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

// runsOut reports what is in no circuit and runs out of what is opened: coolant where a hose of
// it comes off, engine oil behind a cover with a gasket, or where plug or filter come out.
// Common practice, no source.
func (w *worker) runsOut() (coolant, oil bool) {
	for _, j := range w.done.Opened {
		for _, id := range j.Ends() {
			p, other := w.before.Position(id), w.before.Position(j.Other(id))
			isCover := strings.HasSuffix(string(p.Kind), "-cover") && other.Kind == "engine" && len(j.Between) > 0
			coolant = coolant || p.UsesUp("coolant")
			oil = oil || isCover || p.UsesUp("engine oil") && slices.Contains(w.done.Order, id)
		}
	}
	return coolant || w.comesOff("thermostat", "thermo-switch", "radiator"), oil
}

// comesOff reports whether a place for one of the kinds of part is emptied.
func (w *worker) comesOff(kinds ...graph.KindID) bool {
	return slices.ContainsFunc(w.done.Order, func(id graph.PositionID) bool {
		return slices.Contains(kinds, w.before.Position(id).Kind)
	})
}

// drainPlugs are the plugs of what is drained: of the engine, and of a final drive box. Each has
// oil of its own.
func (w *worker) drainPlugs() []graph.PositionID {
	_, oil := w.runsOut()
	box := w.boxRunsOut()
	var plugs []graph.PositionID
	for _, p := range w.whole.Positions {
		isOut := oil && !w.isOfBox(p.ID) || box && w.isOfBox(p.ID)
		isPlug := p.Kind == "drain-plug" && !strings.Contains(p.ID.Assembly().Local(), "cooling")
		if isPlug && isOut && !w.before.Seat(p.ID).Empty {
			plugs = append(plugs, p.ID)
		}
	}
	return plugs
}

// isOfBox reports whether a plug is screwed into a final drive box.
func (w *worker) isOfBox(plug graph.PositionID) bool {
	return slices.ContainsFunc(w.whole.Joints, func(j assemble.Joint) bool {
		return slices.Contains(j.Ends(), plug) && w.before.Position(j.Other(plug)).Kind == "final-drive"
	})
}

// boxRunsOut reports whether the oil of a final drive box runs out: it comes off, or its plug does.
func (w *worker) boxRunsOut() bool {
	return w.comesOff("final-drive") || slices.ContainsFunc(w.done.Order, func(id graph.PositionID) bool {
		return w.before.Position(id).Kind == "drain-plug" && w.isOfBox(id)
	})
}

// sumpSteps drain, or fill again, what is in no circuit and runs out of what is opened. Fuel
// comes first off and last on. Common practice, no source.
func (w *worker) sumpSteps(do string) []WorkStep {
	coolant, oil := w.runsOut()
	var steps []WorkStep
	say := func(runsOut bool, drain, fill string) {
		if !runsOut {
			return
		}
		text := drain
		if do == DoFill {
			text = fill
		}
		steps = append(steps, WorkStep{Do: do, Text: text})
	}
	drain := "fuel: tap shut, what runs out into a can, no flame or spark near"
	if w.isTankOpened() {
		drain = "fuel: the tank emptied into a can before anything of it is opened, no flame or spark near"
	}
	say(w.fuelRuns(), drain, "fuel, tap on: not a drop to be seen after ten minutes, before the engine is started")
	say(coolant, "coolant, with the engine cold, into a tray",
		"coolant, slowly at the highest point; level again when it has run warm and is cold")
	engine, box := w.plugsOf(false), w.plugsOf(true)
	if oil && len(engine) == 0 {
		say(oil, "engine oil, or lean the machine until none runs out",
			"engine oil to its level, the drain plug in with a new washer")
	} else {
		say(oil, "engine oil, into a tray, by its plug", "engine oil, new, to its level")
	}
	steps = append(steps, w.plugSteps(do, engine)...)
	say(w.boxRunsOut(), "final drive oil, into a tray, by the plug of the box",
		"final drive oil, new, of the sort and to the level that the maker's manual names")
	return append(steps, w.plugSteps(do, box)...)
}

// plugsOf are the plugs that are out, of a final drive box or of the engine.
func (w *worker) plugsOf(box bool) []graph.PositionID {
	return lists.Kept(slices.Clone(w.plugs), func(id graph.PositionID) bool { return w.isOfBox(id) == box })
}

// plugSteps take plugs out, with their washers, where something is drained.
func (w *worker) plugSteps(do string, plugs []graph.PositionID) []WorkStep {
	var steps []WorkStep
	for _, id := range slices.Backward(w.done.Order) {
		if do == DoDrain && w.isDrained(id, plugs) {
			steps = append(steps, w.offStep(id)...)
		}
	}
	return steps
}

// fuelRuns reports whether fuel runs out of what comes off or comes open.
func (w *worker) fuelRuns() bool {
	return w.comesOff("fuel-tank", "fuel-tap", "carburettors") || w.isTankOpened() || slices.ContainsFunc(w.done.Opened,
		func(j assemble.Joint) bool {
			return !j.Electric && slices.ContainsFunc(j.Ends(), func(id graph.PositionID) bool {
				return w.whole.Bends[id] && w.before.SafetyAt(id) == graph.SafetyFuel
			})
		})
}

// isTankOpened reports whether a tank is changed, or comes open: its tap or pump leaves it, or one of
// the bolts of these does.
func (w *worker) isTankOpened() bool {
	isTank := func(id graph.PositionID) bool { return w.before.Position(id).Kind == "fuel-tank" }
	return slices.ContainsFunc(w.after.Changed(), isTank) || slices.ContainsFunc(w.done.Opened,
		func(j assemble.Joint) bool {
			return slices.ContainsFunc(j.Ends(), func(id graph.PositionID) bool {
				kind := w.before.Position(id).Kind
				return (kind == "fuel-tap" || kind == "fuel-pump") && isTank(j.Other(id))
			})
		})
}

// isDrained reports whether something comes out to drain what plugs are in: one of them, or its washer.
func (w *worker) isDrained(id graph.PositionID, plugs []graph.PositionID) bool {
	return slices.Contains(plugs, id) || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		isPlug := slices.ContainsFunc(j.Ends(), func(end graph.PositionID) bool { return slices.Contains(plugs, end) })
		return isPlug && slices.Contains(slices.Concat(j.Fasteners, j.Between), id)
	})
}

// filledSteps fill or bleed circuits; of one that has nothing at a place of it any more they say
// that it must be whole again first.
func (w *worker) filledSteps(do string, circuits []graph.Circuit) []WorkStep {
	steps := circuitSteps(do, circuits)
	for i, c := range circuits {
		for _, id := range c.Places() {
			if w.isChanged(id) && w.after.Seat(id).Empty {
				steps[i].Text += ", once it is whole again: nothing is at " + id.Local() + " any more"
			}
		}
	}
	return steps
}

func circuitSteps(do string, circuits []graph.Circuit) []WorkStep {
	return lists.Mapped(circuits, func(c graph.Circuit) WorkStep {
		return WorkStep{Do: do, Text: queries.LocalName(string(c.ID)) + ": " + c.Carries}
	})
}

// alignSteps are what has to be set once it is all on.
func (w *worker) alignSteps() []WorkStep {
	var found []string
	for _, row := range w.whole.Rows {
		if slices.Contains(row.Row, w.whole.Root) && w.isStemOpen(row.Within) &&
			w.before.Position(row.Within).Safety == graph.SafetySteering {
			found = append(found, "steering head: play set at its ring nut, turning freely from lock to lock, before the stem "+
				"is bolted down and the upper yoke is clamped")
		}
	}
	found = append(found, w.heightAgain()...)
	found = append(found, w.freePlay()...)
	say := map[string]string{"chain": "chain: tension, and the two sprockets in line",
		"belt": "belt: tension by the maker's gauge, and the two pulleys in line", "beam": "headlamp: aim"}
	for _, j := range w.done.Opened {
		for _, ref := range []graph.FeatureRef{w.joints[j.ID].A, w.joints[j.ID].B} {
			found = append(found, say[w.after.Side(ref).Feature.Kind])
		}
		if j.Shaft != "" && w.before.Position(j.Shaft).Safety == graph.SafetyWheel {
			is := ": what turns on it moves freely, without side play, before it is tightened"
			if w.isAxleOfWheel(j.Shaft) {
				is = ": wheel in line, turning freely, before it is tightened"
			}
			found = append(found, w.before.Position(j.Shaft).Name+is)
		}
	}
	return lists.Mapped(lists.Kept(lists.Unique(found), func(s string) bool { return s != "" }), func(s string) WorkStep {
		return WorkStep{Do: DoAlign, Text: s}
	})
}

func (w *worker) isAxleOfWheel(id graph.PositionID) bool {
	return slices.ContainsFunc(w.whole.Wheels, func(wheel assemble.Wheel) bool { return slices.Contains(wheel.Axles, id) })
}

// openedTorques adds to the torques of the swap those of joints that come apart on
// the way, in the order of both.
func (w *worker) openedTorques() {
	var opened []graph.Joint
	for _, j := range w.done.Opened {
		if known := w.joints[j.ID]; len(known.Fasteners)+len(known.Torque) > 0 {
			opened = append(opened, known)
		}
	}
	known := lists.Mapped(lists.KeysOf(w.joints), func(id graph.JointID) graph.Joint { return w.joints[id] })
	have := w.plan.Swap.Torques
	w.plan.Swap.Torques = append(have, swap.TorquesOpened(w.was, w.after, opened, known, have)...)
	w.plan.Swap.Torques = lists.Mapped(w.plan.Swap.Torques, func(r swap.TorqueRow) swap.TorqueRow {
		return r.OnceMade(w.plan.Make)
	})
	slices.SortStableFunc(w.plan.Swap.Torques, func(a, b swap.TorqueRow) int { return cmp.Compare(a.Joint, b.Joint) })
}

// inTurn are the joints that were opened in the order in which they are tightened. Common
// practice, no source: what was put together on the bench first; then what is nearest the
// frame; of an axle what it screws into, with the bolt that pinches it there, before what
// only pinches it, and then the calipers; a bolt in its own thread after what it clamps;
// hoses after what they go to; between equals in the order of fitting.
func (w *worker) inTurn() []assemble.Joint {
	keys := map[graph.JointID][]int{}
	for _, j := range w.done.Opened {
		a, b := w.done.Depth[j.A], w.done.Depth[j.B]
		key := []int{1, 0, max(a, b), min(a, b), 0, 0}
		for _, wheel := range w.whole.Wheels {
			isOn := func(id graph.PositionID) bool { return wheel.Hub == id || wheel.On[id] > 0 }
			if isOn(j.A) && isOn(j.B) && slices.Contains(w.done.Order, wheel.Hub) {
				key[0] = 0
			}
			isAround := func(id graph.PositionID) bool { return slices.Contains(wheel.Around, id) }
			for _, axle := range wheel.Axles {
				if slices.ContainsFunc(j.Ends(), isAround) {
					key[2], key[3], key[4] = w.done.Depth[axle], w.done.Depth[axle], 4
				}
				if slices.Contains(j.Ends(), axle) {
					isPinched := j.Nut == "" && w.before.Side(w.refAt(j, axle)).Feature.Kind != "male-thread"
					key[2], key[3], key[4] = w.done.Depth[axle], w.done.Depth[axle], 2*lists.Order(isPinched)
				}
			}
		}
		if j.Fluid || assemble.JointOf(w.after, w.joints[j.ID]).Fluid {
			key[1] = 1
		}
		if cap := w.screwed(j); cap != "" && w.after.Position(cap).Kind == "fork-cap" {
			leg := j.Other(cap) // once the lower yoke holds the leg, and before the upper one clamps it
			key[2], key[3], key[4] = w.done.Depth[leg], w.done.Depth[leg]-1, 1
		}
		if slices.ContainsFunc(j.Fasteners, func(id graph.PositionID) bool { return len(w.whole.Turns[id]) > 0 }) {
			key[1] = 1 // while chain, wheel and brake hold it
		}
		for _, id := range append(j.Ends(), j.Fasteners...) {
			key[5] = max(key[5], slices.Index(w.done.Order, id))
		}
		keys[j.ID] = key
	}
	for _, clamps := range w.done.Opened {
		for _, j := range w.done.Opened {
			if slices.ContainsFunc(clamps.Ends(), func(id graph.PositionID) bool { return slices.Contains(j.Fasteners, id) }) {
				keys[clamps.ID] = slices.Clone(keys[j.ID])
				keys[clamps.ID][4]++
			}
		}
	}
	turn := slices.Clone(w.done.Opened)
	slices.SortStableFunc(turn, func(a, b assemble.Joint) int { return slices.Compare(keys[a.ID], keys[b.ID]) })
	return turn
}

// refAt is the feature by which a place takes part in a joint.
func (w *worker) refAt(j assemble.Joint, id graph.PositionID) graph.FeatureRef {
	known := w.joints[j.ID]
	if known.A.Position == id {
		return known.A
	}
	return known.B
}

// screwed is the end of a joint that screws into the other and is no bolt: a cap, an axle;
// empty where neither does.
func (w *worker) screwed(j assemble.Joint) graph.PositionID {
	known := w.joints[j.ID]
	kind := func(ref graph.FeatureRef) string { return w.after.Side(ref).Feature.Kind }
	for _, ends := range [][2]graph.FeatureRef{{known.A, known.B}, {known.B, known.A}} {
		if id := ends[0].Position; kind(ends[0]) == "male-thread" && kind(ends[1]) == "female-thread" &&
			!w.bolts[id] && !w.bolts[ends[1].Position] {
			return id
		}
	}
	return ""
}

// when is when a joint is tightened: with what is put together on the bench before the wheel
// of that name goes in, once all is on the machine, or with what goes on last.
type when string

const (
	onMachine when = ""
	closing   when = "closing"
)

func onWheel(hub graph.PositionID) when { return when(hub) }

// whenTight is when a joint is tightened.
func (w *worker) whenTight(j assemble.Joint, last map[graph.PositionID]bool) when {
	if slices.ContainsFunc(append(j.Ends(), j.Fasteners...), func(id graph.PositionID) bool { return last[id] }) {
		return closing
	}
	for _, wheel := range w.done.Lifted {
		isOn := func(id graph.PositionID) bool { return wheel.Hub == id || wheel.On[id] > 0 }
		if isOn(j.A) && isOn(j.B) && slices.Contains(w.done.Order, wheel.Hub) {
			return onWheel(wheel.Hub)
		}
	}
	return onMachine
}

// lastOn are covers, and what waits for them, over bolts and nuts that are tightened: they go
// on once those are. Common practice, no source.
func (w *worker) lastOn() map[graph.PositionID]bool {
	last := map[graph.PositionID]bool{}
	for _, j := range w.whole.Joints {
		isTight := slices.ContainsFunc(w.done.Opened, func(k assemble.Joint) bool {
			return slices.Contains(w.joints[k.ID].Fasteners, j.Inner) || k.Nut == j.Inner && j.Inner != ""
		})
		cover := string(w.after.Position(j.A).Kind)
		isCover := j.ID == "" && j.Inner == j.B && strings.HasSuffix(cover, "-cover")
		if isCover && isTight && slices.Contains(w.done.Order, j.Inner) {
			last[j.A] = true
		}
	}
	for _, j := range w.done.Opened { // with its gasket
		for _, id := range j.Between {
			last[id] = last[id] || last[j.A] || last[j.B]
		}
	}
	for _, id := range w.done.Order {
		if slices.ContainsFunc(w.done.Waits[id], func(on graph.PositionID) bool { return last[on] }) {
			last[id] = true
		}
	}
	return last
}

// closeSteps put on what goes on last.
func (w *worker) closeSteps(last map[graph.PositionID]bool) []WorkStep {
	var steps []WorkStep
	for _, id := range w.done.Order {
		if last[id] {
			steps = append(steps, w.onStep(id)...)
			steps = append(steps, w.lineSteps(DoHook, id)...)
		}
	}
	return steps
}

// tightSteps are the torques, joint by joint; where nobody gives one, or the one
// given was for another part, they say where to look.
func (w *worker) tightSteps(turn when, last map[graph.PositionID]bool) []WorkStep {
	rows := lists.ByKey(w.plan.Swap.Torques, func(r swap.TorqueRow) graph.JointID { return r.Joint })
	var steps []WorkStep
	for _, j := range w.inTurn() {
		row, judged := rows[j.ID]
		bolts := w.joints[j.ID].Fasteners // and not the pins that go in anew
		isWet := assemble.JointOf(w.after, w.joints[j.ID]).Fluid && !j.Fluid
		isTurned := judged || len(bolts) > 0 || j.Nut != "" || isWet || w.screwed(j) != ""
		if !isTurned || w.isGone(j) || w.whenTight(j, last) != turn {
			continue
		}
		step := WorkStep{Do: DoTight, Joint: j.ID, Position: j.A, Text: queries.LocalName(string(j.ID)) + ": "}
		if len(bolts) > 0 {
			step.Position = bolts[0]
		} else if j.Nut != "" {
			step.Position = j.Nut
		}
		if id := w.screwed(j); id != "" {
			step.Position = id // and not the bolt that pinches it
		}
		switch {
		case row.Torque != "":
			step.Text += row.Torque
		case row.See != "":
			step.Text += row.See
		default:
			step.Text += "see the maker's manual"
		}
		steps = append(steps, w.eachSide(j, step)...)
	}
	return steps
}

// eachSide is the tightening of a joint, once for each side of what stands between its two
// ends: first that to the end nearer to the frame, which carries it.
func (w *worker) eachSide(j assemble.Joint, step WorkStep) []WorkStep {
	between := ""
	for _, g := range w.plan.Make {
		isBetween := g.What == swap.GetAdapter || g.What == swap.GetBracket
		if isBetween && slices.Contains(g.For, string(j.ID)) {
			between = g.What
		}
	}
	if between == "" {
		return []WorkStep{step}
	}
	on, carried := j.A, j.B
	if a, b := w.done.Depth[on], w.done.Depth[carried]; b > 0 && (a == 0 || b < a) {
		on, carried = carried, on
	}
	name := queries.LocalName(string(j.ID))
	see := strings.TrimPrefix(step.Text, name+": ")
	first, second := step, step
	first.Text = name + ", the " + between + " to " + on.Local() + ": " + see
	second.Text = name + ", " + carried.Local() + " to the " + between + ": " + see
	return []WorkStep{first, second}
}

// What is loosened, measured, set and secured around what comes off and goes on is common
// practice, no source, from here to the end.

// slackSteps loosen cables at their adjusters.
func (w *worker) slackSteps() []WorkStep {
	var steps []WorkStep
	for _, p := range w.whole.Positions {
		if isSetCable(p.Kind) && w.isTouched(p.ID) && !w.before.Seat(p.ID).Empty {
			steps = append(steps, WorkStep{Do: DoSlack, Position: p.ID, Text: p.ID.Local() +
				": its adjusters screwed in, so that it has slack and its ends come out"})
		}
	}
	return steps
}

// isTouched reports whether something comes off, or a joint of it comes apart.
func (w *worker) isTouched(id graph.PositionID) bool {
	return slices.Contains(w.done.Order, id) || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		return slices.Contains(j.Ends(), id)
	})
}

// axleSteps loosen the axle of each wheel that stays in while its chain comes off the teeth. Its
// joint is among those opened from then on.
func (w *worker) axleSteps() []WorkStep {
	var steps []WorkStep
	for _, wheel := range w.whole.Wheels {
		if slices.Contains(w.done.Order, wheel.Hub) || !w.isChainMoved(wheel) {
			continue
		}
		for _, j := range w.whole.Joints {
			axle := slices.ContainsFunc(wheel.Axles, func(id graph.PositionID) bool { return slices.Contains(j.Ends(), id) })
			if j.ID == "" || !axle || j.Nut == "" && len(j.Fasteners) == 0 || w.isOpened(j.ID) {
				continue
			}
			w.done.Opened = append(w.done.Opened, j)
			step := WorkStep{Do: DoSlack, Position: j.Nut, Text: "so far that the wheel moves in its chain adjusters, and " +
				"these slackened: it stays in"}
			if j.Nut == "" {
				step.Position = j.Fasteners[0]
			}
			steps = append(steps, step)
		}
	}
	return steps
}

func (w *worker) isOpened(id graph.JointID) bool {
	return slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool { return j.ID == id })
}

// isChainMoved reports whether the chain that drives a wheel comes off a sprocket.
func (w *worker) isChainMoved(wheel assemble.Wheel) bool {
	for _, j := range w.whole.Joints {
		for _, chain := range j.Ends() {
			on := j.Other(chain)
			if w.whole.Chains[chain] && (on == wheel.Hub || wheel.On[on] > 0) && w.isTouched(chain) {
				return true
			}
		}
	}
	return false
}

// linkOfChain has the link that closes a new chain be told once: by its number where the
// machine's own is of the chain's make, else in words, and not with that number too.
func (w *worker) linkOfChain() {
	rows := w.plan.Swap.Renew[:0:0]
	for _, row := range w.plan.Swap.Renew {
		for _, id := range w.done.Order {
			isLink := row.Link && w.after.Position(id).Kind == "chain-link" && id.Assembly() == row.Position.Assembly()
			if !isLink || w.after.Seat(id).Empty {
				continue
			}
			if w.after.Seat(id).Part.Brand == w.after.Seat(row.Position).Part.Brand {
				row.Text = ""
				break
			}
			row.Position = id
		}
		if !row.Link || row.Text != "" {
			rows = append(rows, row)
		}
	}
	w.plan.Swap.Renew = rows
}

// isForeign reports whether the machine's own link at a place is not of the make of the chain
// that goes on.
func (w *worker) isForeign(id graph.PositionID) bool {
	return slices.ContainsFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool { return r.Link && r.Position == id }) &&
		w.after.Position(id).Kind == "chain-link" && !w.isChanged(id)
}

// legsInYokes are the fork legs whose hold in a yoke comes apart, sorted.
func (w *worker) legsInYokes() []graph.PositionID {
	var legs []graph.PositionID
	for _, j := range w.done.Opened {
		for _, id := range j.Ends() {
			isYoke := strings.HasPrefix(string(w.before.Position(j.Other(id)).Kind), "yoke")
			if w.before.Position(id).Kind == "fork-leg" && isYoke && !w.before.Seat(id).Empty {
				legs = append(legs, id)
			}
		}
	}
	return lists.Unique(legs)
}

// heightSteps measure how high each leg sits before its yokes let go of it.
func (w *worker) heightSteps() []WorkStep {
	return lists.Mapped(w.legsInYokes(), func(id graph.PositionID) WorkStep {
		return WorkStep{Do: DoMeasure, Position: id, Text: id.Local() +
			": how far its tube stands over the upper yoke; write it down"}
	})
}

// heightAgain says that the legs go back as high as they sat.
func (w *worker) heightAgain() []string {
	if len(w.legsInYokes()) == 0 {
		return nil
	}
	return []string{"fork legs: both as far over the upper yoke as measured, unless the new parts ask for another " +
		"height, before they are clamped"}
}

// isStemOpen reports whether a steering stem comes out, or what holds its bearings in play
// is opened at its top.
func (w *worker) isStemOpen(stem graph.PositionID) bool {
	return slices.Contains(w.done.Order, stem) || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		return slices.Contains(j.Ends(), stem) && w.before.Position(j.Other(stem)).Kind == "yoke-upper"
	})
}

// freePlay is what is set at each cable that was touched, or that came off with what it is on.
func (w *worker) freePlay() []string {
	say := map[graph.KindID]string{
		"clutch-cable":   "clutch cable: free play at the lever, by the maker's manual",
		"throttle-cable": "throttle cables: free play at the twist grip, by the maker's manual; it shuts by itself",
		"choke-cable":    "choke cable: free play, so that it shuts fully",
		"brake-cable":    "brake cable: free play, and the wheel turns freely with the brake off",
		"brake-rod":      "brake rod: free play at the pedal, and the wheel turns freely with the brake off",
	}
	var found []string
	for _, p := range w.whole.Positions {
		rides := slices.ContainsFunc(lists.KeysOf(w.done.With), func(id graph.PositionID) bool {
			return slices.Contains(w.done.With[id], p.ID)
		})
		if say[p.Kind] != "" && (rides || w.isTouched(p.ID)) && !w.after.Seat(p.ID).Empty {
			found = append(found, say[p.Kind])
		}
	}
	return lists.Unique(found)
}

// bendSteps bend back the tab of a washer before what it secures is turned.
func (w *worker) bendSteps(id graph.PositionID) []WorkStep {
	var steps []WorkStep
	for _, j := range w.done.Opened {
		fasteners := w.joints[j.ID].Fasteners
		for _, tab := range fasteners {
			isFirst := slices.Contains(fasteners, id) && id != tab && w.whole.Known[j.ID].ID != ""
			if isFirst && isTab(w.before.Position(tab).Kind) && slices.Contains(w.done.Order, tab) {
				steps = append(steps, WorkStep{Do: DoSlack, Position: tab, Text: "bend its tab back off " + id.Local()})
			}
		}
	}
	return steps
}

// capSteps loosen the cap of a fork leg once the bolts that clamp it in the upper yoke are
// out, while the lower yoke still holds the leg.
func (w *worker) capSteps(bolt graph.PositionID) []WorkStep {
	for _, j := range w.done.Opened {
		if !slices.Contains(w.joints[j.ID].Fasteners, bolt) {
			continue
		}
		for _, leg := range j.Ends() {
			isClamp := w.before.Position(leg).Kind == "fork-leg" && w.before.Position(j.Other(leg)).Kind == "yoke-upper"
			for _, id := range w.done.Order {
				if isClamp && w.before.Position(id).Kind == "fork-cap" && w.legUnder(id, "fork-cap") == leg {
					return []WorkStep{{Do: DoSlack, Position: id, Text: "a turn only, while the lower yoke holds the leg"}}
				}
			}
		}
	}
	return nil
}

// secureSteps keep from turning what was tightened.
func (w *worker) secureSteps() []WorkStep {
	var steps []WorkStep
	for _, id := range w.done.Order {
		if isTab(w.after.Position(id).Kind) && !w.after.Seat(id).Empty {
			steps = append(steps, WorkStep{Do: DoSecure, Position: id, Text: "bend its tab up against a flat of the nut"})
		}
	}
	return steps
}

// isSetCable reports whether a cable works something by how much slack it has.
func isSetCable(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"clutch-cable", "throttle-cable", "choke-cable", "brake-cable"}, kind)
}

func isTab(kind graph.KindID) bool { return kind == "tab-washer" }
