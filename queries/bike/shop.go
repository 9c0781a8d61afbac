package bike

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/lists"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// BikeShopAnswer is one list of what to get for a machine.
type BikeShopAnswer struct {
	Bike     graph.BikeID    `json:"bike"`
	Variant  graph.VariantID `json:"variant"`
	Assembly string          `json:"assembly,omitempty"`
	// Colours is the colour scheme in which painted parts are got.
	Colours Scheme `json:"colours"`
	shop.List
	// NotListed are places that lack something and of which no source says what
	// belongs there: it can't be put on a list. By safety class, then position.
	NotListed []NotListed `json:"not_listed"`
	// OnIt are parts found on the machine that do not go there, whatever is bought.
	OnIt []shop.Refused `json:"on_it,omitempty"`
	// Look are pieces on the machine that are renewed only if a look shows that they must.
	Look []LookFirst `json:"look_first,omitempty"`
	// Ready is whether the whole machine may be ridden with all of the list on it;
	// NotReady is what stands against it.
	Ready    bool              `json:"ready_to_ride"`
	NotReady []swap.Hindrance  `json:"not_ready,omitempty"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// NotListed is a place that lacks something nobody can name.
type NotListed struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Quantity int              `json:"quantity"` // pieces, at least 1
}

// SafetyOpen reports whether something that safety hangs on was left out, can't be
// listed, or stands against riding with all of it on.
func (a BikeShopAnswer) SafetyOpen() bool {
	return a.List.SafetyOpen() || !a.Ready ||
		slices.ContainsFunc(a.NotListed, func(n NotListed) bool { return n.Safety != graph.SafetyNone })
}

// BikeShop lists what to get for a machine: what is missing, planned or scrap and
// lies in no box, what goes on new every time where joints are opened, what is made
// for what is planned, and what the work uses up. What a rule or somebody's word
// says will not go is left out and said. Errors are *NotFoundError with near names,
// or come from the reader.
func BikeShop(ctx context.Context, r graph.Reader, q BikeWorkQuestion) (BikeShopAnswer, error) {
	a := BikeShopAnswer{Assembly: q.Assembly}
	w, scope, err := askedWork(ctx, r, q)
	if err != nil {
		return a, err
	}
	a.Bike, a.Variant, a.Colours = w.bike.ID, w.bike.Variant, w.colours(scope)
	b := buyFor(w, scope)
	if a.List, err = b.list(ctx); err != nil {
		return a, err
	}
	a.NotListed, a.OnIt = b.notListed(), b.stays
	if err := b.readiness(ctx, &a); err != nil {
		return a, err
	}
	a.Cautions = queries.CautionsFor(b.classes...)
	return a, nil
}

// readiness notes whether the whole machine may be ridden with all of the list on it, and
// what within the scope is to be looked at first.
func (b *buying) readiness(ctx context.Context, a *BikeShopAnswer) error {
	if b.closing != nil {
		_, a.NotReady = b.closing.WithAll()
	}
	standing, err := b.standing(ctx)
	if err != nil {
		return err
	}
	doubtful := b.doubtful()
	a.NotReady = uniqueHindrances(slices.Concat(a.NotReady, standing, doubts(doubtful), b.notProved(),
		b.notHad(a.NotListed), swap.NotToBeHad(b.setup, a.List)))
	a.Ready = len(a.NotReady) == 0
	for _, row := range doubtful {
		b.classes = append(b.classes, row.Safety)
	}
	a.Look, err = b.withJobs(ctx, lists.Kept(doubtful,
		func(row LookFirst) bool { return inPositions(b.scope, row.Position) }))
	return err
}

// notListed are the wants that nobody can name, and notes their classes.
func (b *buying) notListed() []NotListed {
	rows := []NotListed{}
	for _, one := range b.wants {
		if p := one.position; one.part == "" && inPositions(b.scope, p.ID) {
			rows = append(rows, NotListed{Position: p.ID, Name: p.Name, Safety: p.Safety, Quantity: max(1, one.quantity)})
			b.classes = append(b.classes, p.Safety)
		}
	}
	slices.SortStableFunc(rows, func(x, y NotListed) int { return byClass(x.Safety, y.Safety, x.Position, y.Position) })
	return rows
}

// buying gathers what one list is made from.
type buying struct {
	*work
	scope    []graph.Position
	holding  map[graph.PositionID]int // how many places a place holds up
	question shop.Question
	classes  []graph.Safety // of all that is on the list or left out
	opened   []graph.PositionID
	renewing []RenewLine
	renew    map[graph.PositionID]bool // places whose part the renewals count already
	stays    []shop.Refused            // what was found on the machine and does not go there
}

// buyFor begins the list of what to get for some of a machine. What lies in its boxes and
// goes to no place of its own serves for what is dragged in.
func buyFor(w *work, scope []graph.Position) *buying {
	off := lists.Kept(slices.Clone(w.off), func(r shop.Refused) bool { return inPositions(scope, r.At[0]) })
	return &buying{work: w, scope: scope, stays: off, question: shop.Question{On: w.setup.Variant, Frame: w.bike.Frame,
		WhyNot: swap.WhyNotOn(w.stood), Given: map[graph.PartID]int{},
		Stock: map[graph.PartID]int{}, Boxes: w.free()}}
}

// list gathers what is needed, and makes the list.
func (b *buying) list(ctx context.Context) (shop.List, error) {
	steps := []func(context.Context) error{b.readHolding, b.readRenewals, b.made, b.wanted, b.renewed, b.sealed,
		b.leaveOut, b.usedUp}
	for _, step := range steps {
		if err := step(ctx); err != nil {
			return shop.List{}, err
		}
	}
	return shop.Make(ctx, b.setup.Library().Reader(), b.question)
}

// readHolding counts what each wanted place holds up.
func (b *buying) readHolding(ctx context.Context) error {
	whole, err := assemble.Read(ctx, b.setup)
	if err != nil {
		return err
	}
	whole.Replaced = lists.Mapped(b.wants, func(w want) graph.PositionID { return w.position.ID })
	order := assemble.Together(whole.Case)
	short := map[graph.PositionID]bool{}
	for i, one := range b.wants {
		short[one.position.ID] = supplyOf(b.work, i) != supplyReady
	}
	b.holding = map[graph.PositionID]int{}
	for id, by := range order.HeldUp(func(id graph.PositionID) bool { return !short[id] }) {
		for _, before := range by {
			if before != id {
				b.holding[before]++
			}
		}
	}
	return nil
}

// wanted adds what is short of what is wanted, and what must be got with what the
// boxes give. What does not go is left out.
func (b *buying) wanted(context.Context) error {
	for i, one := range b.wants {
		if !inPositions(b.scope, one.position.ID) || one.part == "" {
			continue
		}
		p := one.position
		row := b.row(i)
		b.classes, b.opened = append(b.classes, p.Safety), append(b.opened, p.ID)
		if why := b.refusal(one, row); why != "" {
			b.question.Refused = append(b.question.Refused, shop.Refused{Part: one.part, At: []graph.PositionID{p.ID},
				Safety: p.Safety, Why: why})
			continue
		}
		need := shop.Need{Part: one.part, Quantity: row.Short, At: []graph.PositionID{p.ID}, Safety: p.Safety,
			HoldsUp: b.holding[p.ID], Why: map[string]string{StateMissing: shop.WhyMissing, StatePlanned: shop.WhyPlanned,
				StateScrap: shop.WhyScrap, StateOff: shop.WhyNotGoing}[row.State]}
		for _, against := range row.Against {
			if against.Verdict == graph.Unknown {
				need.Remark = "first settle: " + against.Why
				break
			}
		}
		for _, o := range row.Offered {
			need.Remark = strings.TrimPrefix(need.Remark+"; "+o.Text(), "; ")
		}
		if row.Short > 0 && !b.renew[p.ID] {
			b.question.Needs = append(b.question.Needs, need)
		}
		for _, use := range row.FromBox {
			b.question.Given[use.Part] += use.Quantity
			for _, c := range use.Beside {
				b.question.Given[c.Part] += c.Quantity
			}
			for _, with := range use.With {
				need.Part, need.Quantity, need.Why = with.Part, with.Quantity*use.Quantity, "goes with "+string(use.Part)
				need.Companion = true
				b.question.Needs = append(b.question.Needs, need)
			}
		}
	}
	return nil
}

// refusal says why what is wanted must not be ordered; empty when nothing is
// against it.
func (b *buying) refusal(one want, row MissingRow) string {
	if row.Refused != "" {
		return row.Refused
	}
	for _, f := range b.setup.Library().FindingsOf(one.part) {
		if f.Position == one.position.ID && f.Withdrawn == "" && f.Verdict == graph.DoesNotFit &&
			(len(f.On) == 0 || slices.Contains(f.On, b.setup.Variant.ID)) {
			return "somebody found that it does not fit (" + string(f.ID) + ")"
		}
	}
	return ""
}

// readRenewals works out what goes on new where the work opens joints.
func (b *buying) readRenewals(ctx context.Context) error {
	var err error
	b.renewing, err = b.renewals(ctx, b.scope)
	b.renew = map[graph.PositionID]bool{}
	for _, line := range b.renewing {
		for _, id := range line.opened {
			b.renew[id] = true
		}
	}
	return err
}

// renewed adds what goes on new where the work opens joints.
func (b *buying) renewed(context.Context) error {
	for _, line := range b.renewing {
		if line.Open == 0 {
			continue
		}
		holds := 0
		for _, id := range line.opened {
			holds = max(holds, b.holding[id])
		}
		b.classes, b.opened = append(b.classes, line.Safety), append(b.opened, line.opened...)
		b.question.Needs = append(b.question.Needs, shop.Need{Part: line.Part, Quantity: line.Open, At: line.opened,
			Why: shop.WhyRenew, Safety: line.Safety, HoldsUp: holds})
	}
	return nil
}

// sealed adds what the jobs renew in pieces on the machine that leak; what goes on new at a
// place of its own anyway serves.
func (b *buying) sealed(ctx context.Context) error {
	leaking := map[graph.PositionID]bool{}
	for _, row := range b.doubtful() {
		noted, _ := b.bike.At(row.Position)
		if noted.Condition == graph.Leaking && inPositions(b.scope, row.Position) {
			leaking[row.Position] = true
		}
	}
	if len(leaking) == 0 {
		return nil
	}
	jobs, err := b.r.Jobs(ctx)
	for _, j := range graph.JobsAt(jobs, b.positions) {
		at := lists.Kept(slices.Clone(j.Places), func(id graph.PositionID) bool { return leaking[id] })
		if len(at) == 0 {
			continue
		}
		b.opened = append(b.opened, at...)
		class := b.setup.SafetyAt(at[0])
		b.classes = append(b.classes, class)
		holds, err := b.kitsOf(ctx, j, shop.Need{At: at, Why: shop.WhyLeaks, Safety: class})
		if err != nil {
			return err
		}
		for _, p := range j.Parts {
			if n := p.Quantity - holds[p.Part]; p.Part != "" && p.Renew && p.Scope.Covers(b.setup.Variant) && n > 0 {
				b.question.Needs = append(b.question.Needs, shop.Need{Part: p.Part, Quantity: n, At: at, Why: shop.WhyLeaks,
					Safety: class, Companion: true})
			}
		}
		for id, n := range holds { // what the job leaves of it serves elsewhere
			b.question.Stock[id] += n
		}
	}
	return err
}

// kitsOf adds the kits that a job names for the machine, as needed as given, and counts
// what they hold.
func (b *buying) kitsOf(ctx context.Context, j graph.Job, need shop.Need) (map[graph.PartID]int, error) {
	holds := map[graph.PartID]int{}
	for _, k := range j.Kits {
		if k.Part == "" || !k.Scope.Covers(b.setup.Variant) {
			continue
		}
		if err := b.setup.Library().ReadParts(ctx, []graph.PartID{k.Part}); err != nil {
			return nil, err
		}
		need.Part, need.Quantity = k.Part, k.Quantity
		b.question.Needs = append(b.question.Needs, need)
		for _, c := range b.setup.Library().Part(k.Part).Contains {
			holds[c.Part] += c.Quantity * k.Quantity
		}
	}
	return holds, nil
}

// leaveOut takes off the list, whatever it is wanted for, each part at a place where it
// will not go.
func (b *buying) leaveOut(context.Context) error {
	refused := func(part graph.PartID, at graph.PositionID) bool {
		return slices.ContainsFunc(b.question.Refused, func(r shop.Refused) bool {
			return r.Part == part && slices.Contains(r.At, at)
		})
	}
	var left []shop.Need
	for _, n := range b.question.Needs {
		goes := lists.Kept(slices.Clone(n.At), func(id graph.PositionID) bool { return !refused(n.Part, id) })
		for _, id := range n.At {
			if refused(n.Part, id) {
				n.Quantity -= b.needed(b.setup.Position(id), n.Part)
			}
		}
		if len(goes) == len(n.At) || len(goes) > 0 && n.Quantity > 0 {
			n.At = goes
			left = append(left, n)
		}
	}
	b.question.Needs = left
	return nil
}

// made adds what is got, made or ordered by its sizes so that what was found and what is
// planned goes on, and notes what of the former can't.
func (b *buying) made(ctx context.Context) error {
	if err := b.close(ctx); err != nil || b.closing == nil {
		return err
	}
	here := func(at []graph.PositionID) bool {
		return len(at) == 0 || slices.ContainsFunc(at, func(id graph.PositionID) bool { return inPositions(b.scope, id) })
	}
	for _, f := range b.bike.Found {
		off, wrong := b.staysWrong(f)
		if !wrong || !inPositions(b.scope, f.Position) {
			continue
		}
		if built := b.builtPart(f.Position); built != "" { // else it would be off already
			off.Why += "; " + string(built) + ", the book's, is not bought for it, since what is planned beside it is not " +
				"for that"
		}
		b.stays = append(b.stays, off)
	}
	// what would close the gaps of what does not go is not got
	without := lists.Mapped(b.stays, func(r shop.Refused) graph.PositionID { return r.At[0] })
	for i, one := range b.wants {
		if _, refused := b.closers(i); refused != "" {
			without = append(without, one.position.ID)
		}
	}
	needs, made := b.closing.Closing(without...)
	for _, row := range b.closing.Renew {
		if row.Link {
			made = append(made, swap.LinkMade(row))
		}
	}
	b.question.Made = lists.Kept(made, func(m shop.Made) bool { return here(m.At) })
	for _, n := range needs {
		isWanted := slices.ContainsFunc(b.wants, func(w want) bool { return slices.Contains(n.At, w.position.ID) })
		isRenewed := slices.ContainsFunc(b.renewing, func(l RenewLine) bool {
			return l.Part == n.Part && slices.ContainsFunc(n.At, func(id graph.PositionID) bool {
				return slices.Contains(l.opened, id)
			})
		})
		if !isWanted && !isRenewed && here(n.At) {
			b.question.Needs = append(b.question.Needs, n)
			b.classes = append(b.classes, n.Safety)
		}
	}
	return nil
}

// usedUp adds what the opened places take, what fills the opened circuits, and what the
// jobs that are done there use up.
func (b *buying) usedUp(ctx context.Context) error {
	b.opened = lists.Unique(append(b.opened, b.legsOpened()...))
	return b.question.UsesUp(ctx, b.setup, b.opened, b.apart(), func(id graph.PositionID) int {
		return b.needed(b.setup.Position(id), b.builtPart(id))
	})
}

// apart are the ends of the joints at which something goes on new: a circuit that runs
// through both is opened.
func (b *buying) apart() []graph.PositionID {
	var ends []graph.PositionID
	for _, j := range b.joints {
		if slices.ContainsFunc(j.Renew, func(id graph.PositionID) bool { return slices.Contains(b.opened, id) }) {
			ends = append(ends, j.A.Position, j.B.Position)
		}
	}
	return lists.Unique(ends)
}

// legsOpened are the fork legs in which something is renewed: their oil goes in anew.
func (b *buying) legsOpened() []graph.PositionID {
	legs := lists.Kept(slices.Clone(b.positions), func(p graph.Position) bool { return p.Kind == "fork-leg" })
	var opened []graph.PositionID
	for _, id := range b.opened {
		if leg := swap.LegOpened(b.setup.Position(id), legs); leg != "" {
			opened = append(opened, leg)
		}
	}
	return opened
}

// notHad says what stands against riding of what is on no list: what no source names, and
// with one assembly asked about, what the others want.
func (b *buying) notHad(rows []NotListed) []swap.Hindrance {
	var all []swap.Hindrance
	for _, row := range rows {
		if row.Safety != graph.SafetyNone {
			all = append(all, swap.NothingAt(row.Position))
		}
	}
	for _, r := range b.question.Refused {
		if r.Safety != graph.SafetyNone {
			all = append(all, swap.Judged(graph.DoesNotFit, string(r.Part)+" for "+placesText(r.At), r.Why))
		}
	}
	elsewhere := 0
	for i, one := range b.wants {
		if one.position.Safety != graph.SafetyNone && !inPositions(b.scope, one.position.ID) &&
			supplyOf(b.work, i) != supplyReady {
			elsewhere++
		}
	}
	if elsewhere > 0 {
		all = append(all, swap.Judged(graph.Unknown, fmt.Sprintf("%d places of other assemblies", elsewhere),
			"something is wanted there, and is not on this list"))
	}
	return all
}

// uniqueHindrances says each once.
func uniqueHindrances(all []swap.Hindrance) []swap.Hindrance {
	var kept []swap.Hindrance
	for _, h := range all {
		if !slices.Contains(kept, h) {
			kept = append(kept, h)
		}
	}
	return kept
}
