package bike

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// BikeWorkQuestion asks about the work on a user's machine: what it lacks, in which
// order it goes together, what to get.
type BikeWorkQuestion struct {
	Name     string
	Assembly string // empty for the whole machine
	// Offers are what can be had; those that hold what is short are named.
	Offers []graph.Offer
}

// askedWork works out what the whole machine wants, since it shares the boxes also
// when only one assembly is asked about: a part can't be promised twice. The scope is
// the positions that were asked about. Errors are *NotFoundError with near names, or
// come from the reader.
func askedWork(ctx context.Context, r graph.Reader, q BikeWorkQuestion) (*work, []graph.Position, error) {
	m, err := readOwnMachine(ctx, r, q.Name)
	if err != nil {
		return nil, nil, err
	}
	scope, err := m.inAssembly(ctx, q.Assembly)
	if err != nil {
		return nil, nil, err
	}
	w, err := m.work(ctx)
	if err != nil {
		return nil, nil, err
	}
	w.offers, err = readOffers(ctx, m, q.Offers)
	return w, scope, err
}

// work is what a machine wants, and what the boxes give to it.
type work struct {
	*ownMachine
	wants      []want             // sorted by position
	within     []graph.PositionID // not wanted, since a spoked wheel has it in another form
	lines      []stockLine
	given      []given
	beside     map[pairing][]BoxPart // by want and line: what the boxes hold of what goes with it
	fromBags   []bagGift
	offers     []offering
	successors successors
	listed     map[graph.PartID][]graph.Fitment // of everything in the boxes
	tried      map[tryOf][]AgainstLine          // what stands against a part at a place, once it was judged there
	apart      map[tryOf][]graph.Joint          // the joints of it that do not mate
	between    map[tryOf]joining                // what must be got with a part and goes between it and another
	// stood is the machine with the book's part wherever nothing is and nothing else is
	// planned: what is tried is held against it.
	stood *examine.Before
	// closing is what the found and planned parts imply together, with what closes the
	// gaps; nil before close, or when all is as built.
	closing *swap.SwapAnswer
	closed  bool // close was called
}

// tryOf is a part at a place.
type tryOf struct {
	at   graph.PositionID
	part graph.PartID
}

// joining are parts that go between the two sides of joints.
type joining map[graph.JointID]graph.Part

func (w *work) readListings(ctx context.Context) error {
	w.listed = map[graph.PartID][]graph.Fitment{}
	ids := lists.Unique(lists.Mapped(w.lines, func(l stockLine) graph.PartID { return l.Part }))
	if len(ids) == 0 {
		return nil
	}
	fitments, err := w.r.FitmentsOf(ctx, ids...)
	for _, f := range fitments {
		w.listed[f.Part] = append(w.listed[f.Part], f)
	}
	return err
}

// tryOn judges what goes to every place that wants something, all of it together and
// with what is really on the machine: what the boxes give, else the part that is
// wanted. What stands in for a wanted number and does not go there, or of which nobody
// can tell, goes back into its box, and the boxes are shared out again.
func (w *work) tryOn(ctx context.Context) error {
	w.stood, w.tried = examine.From(asInBook(w)), map[tryOf][]AgainstLine{}
	w.apart, w.between = map[tryOf][]graph.Joint{}, map[tryOf]joining{}
	refused := map[tryOf]bool{}
	for {
		if err := w.tryAll(ctx); err != nil {
			return err
		}
		more := false
		for _, g := range w.given {
			try := tryOf{w.wants[g.want].position.ID, w.lines[g.line].Part}
			if try.part == w.wants[g.want].part || counts(w.tried[try]) {
				continue
			}
			more = true
			joined, err := w.join(ctx, g, try)
			if err != nil {
				return err
			}
			refused[try] = !joined
		}
		if !more {
			w.takeBeside()
			return nil
		}
		if err := w.shareOut(ctx, refused); err != nil {
			return err
		}
	}
}

// takeBeside takes what must be changed with a stand-in out of the boxes, as far as it lies
// there, and nothing else wants it.
func (w *work) takeBeside() {
	w.beside = map[pairing][]BoxPart{}
	for _, g := range w.given {
		s, _ := w.successors.supply(w.lines[g.line].Part, w.wants[g.want].part)
		for _, with := range s.with {
			short := with.Quantity * g.quantity
			for i := range w.lines {
				line := &w.lines[i]
				free := min(short, line.Quantity-line.taken)
				if line.Part != with.Part || free <= 0 || !line.IsProved() {
					continue
				}
				line.taken += free
				short -= free
				at := pairing{g.want, g.line}
				w.beside[at] = append(w.beside[at], BoxPart{Box: line.Box, Part: line.Part, Quantity: free})
			}
		}
	}
}

// join puts what must be got with a stand-in between it and what it does not mate with,
// where that joins the two, so that it is judged once more; false where nothing is left to try.
func (w *work) join(ctx context.Context, g given, try tryOf) (bool, error) {
	if _, done := w.between[try]; done {
		return false, nil
	}
	w.between[try] = joining{}
	supply, _ := w.successors.supply(try.part, w.wants[g.want].part)
	with := lists.Mapped(supply.with, func(c evidence.ContentLine) graph.PartID { return c.Part })
	if err := w.setup.Library().ReadParts(ctx, with); err != nil {
		return false, err
	}
	after, err := w.stood.Setup().With(ctx, map[graph.PositionID]graph.PartID{try.at: try.part})
	if err != nil {
		return false, err
	}
	for _, j := range w.apart[try] {
		for _, id := range with {
			part, known := w.setup.Library().Ranked(id, &w.setup.Variant)
			if known && examine.Joins(part, after.Side(j.A), after.Side(j.B)) {
				w.between[try][j.ID] = part
				delete(w.tried, try)
			}
		}
	}
	return len(w.between[try]) > 0, nil
}

// shareOut gives the pieces in boxes and bags to the wants, but for what was refused.
func (w *work) shareOut(ctx context.Context, refused map[tryOf]bool) error {
	for i := range w.lines {
		w.lines[i].taken = 0
	}
	w.given = share(w.wants, w.lines, func(x want, line stockLine) (supply, bool) {
		// what goes on new every time is bought, whatever lies about
		if x.part == "" || x.position.Renew || refused[tryOf{x.position.ID, line.Part}] {
			return supply{}, false
		}
		return w.successors.supply(line.Part, x.part)
	})
	for _, g := range w.given {
		w.lines[g.line].taken += g.quantity
	}
	w.fromBags = nil
	return shareBags(ctx, w)
}

// tryAll judges what may go to each place and was not judged there yet: one part a
// place together, then what else may go there, each for itself.
func (w *work) tryAll(ctx context.Context) error {
	first := map[graph.PositionID]graph.PartID{}
	var rest []tryOf
	isNew := false
	for i, one := range w.wants {
		for _, part := range w.mayGo(i) {
			if !w.setup.Library().Has(part) {
				continue
			}
			try := tryOf{one.position.ID, part}
			_, done := w.tried[try]
			if _, has := first[try.at]; !has {
				first[try.at] = part
				isNew = isNew || !done
			} else if !done {
				rest = append(rest, try)
			}
		}
	}
	if !isNew && len(rest) == 0 {
		return nil
	}
	after, err := w.stood.Setup().With(ctx, first)
	if err != nil {
		return err
	}
	between := joining{}
	for _, at := range lists.KeysOf(first) {
		maps.Copy(between, w.between[tryOf{at, first[at]}])
	}
	after = after.WithBetween(between)
	if isNew {
		if err := w.judge(ctx, after, lists.KeysOf(first)); err != nil {
			return err
		}
	}
	for _, try := range rest {
		other, err := after.With(ctx, map[graph.PositionID]graph.PartID{try.at: try.part})
		if err != nil {
			return err
		}
		if err := w.judge(ctx, other, []graph.PositionID{try.at}); err != nil {
			return err
		}
	}
	return nil
}

// judge notes what stands against what a machine has at some places.
func (w *work) judge(ctx context.Context, after *machine.Setup, at []graph.PositionID) error {
	j, err := swap.Judge(ctx, w.stood, after, swap.Asked{Bare: true})
	if err != nil {
		return err
	}
	against := againstEach(j, after)
	for _, id := range at {
		try := tryOf{id, after.Seat(id).Part.ID}
		w.tried[try], w.apart[try] = against[id], nil
		for _, o := range j.Outcomes {
			if o.What == examine.OfJoint && o.After == graph.DoesNotFit && o.SpeaksOf(id) {
				w.apart[try] = append(w.apart[try], o.Joint)
			}
		}
	}
	return nil
}

// goes are the parts that go to a place: what the boxes give, then what is wanted where
// that is short.
func (w *work) goes(want int) []graph.PartID {
	var parts []graph.PartID
	one := w.wants[want]
	short := one.quantity
	for _, g := range w.given {
		if g.want == want {
			parts = append(parts, w.lines[g.line].Part)
			short -= g.quantity
		}
	}
	if short > 0 && one.part != "" {
		parts = append(parts, one.part)
	}
	return lists.Unique(parts)
}

// mayGo are those, and what is offered where they are short.
func (w *work) mayGo(want int) []graph.PartID {
	parts := w.goes(want)
	for _, o := range w.offersFor(w.wants[want]) {
		if !slices.Contains(parts, o.part.Part) {
			parts = append(parts, o.part.Part)
		}
	}
	return parts
}

// close works out what closes the gaps of the machine as it will stand: with what was
// found, what is planned, and the book's part wherever else nothing is.
func (w *work) close(ctx context.Context) error {
	if w.closed {
		return nil
	}
	w.closed = true
	seats, planned := map[graph.PositionID]*machine.Seat{}, map[graph.PositionID]graph.PartID{}
	for _, f := range w.bike.Found {
		stood := w.stood.Setup()
		if seat := stood.Seat(f.Position); !isBuilt(stood, f.Position) && w.setup.Library().Has(seat.Part.ID) {
			seat.Changed = true
			seats[f.Position] = &seat
		}
	}
	for _, one := range w.wants {
		id := one.position.ID
		if part, is := w.planned(id); is && part != "" && w.setup.Library().Has(part) {
			planned[id] = part
			delete(seats, id)
		}
	}
	if len(seats)+len(planned) == 0 {
		return nil
	}
	after, err := w.stood.Setup().WithOther(seats).With(ctx, planned)
	if err != nil {
		return err
	}
	answer, err := swap.SwapTo(ctx, w.built, after)
	w.closing = &answer
	return err
}

// standing is what stands against riding although nothing is short any more: what hangs
// elsewhere than as built, and what was measured on the very piece, each where something
// of a safety class is not a plain fit.
func (w *work) standing(ctx context.Context) ([]swap.Hindrance, error) {
	places := movedPlaces(w.ownMachine)
	var measured []graph.PositionID
	for _, f := range w.bike.Found {
		if len(f.Measured) > 0 {
			measured = append(measured, f.Position)
		}
	}
	seats := w.staying(append(places, measured...))
	if len(seats) == 0 {
		return nil, nil
	}
	own := *w.ownMachine
	own.setup = w.stood.Setup().WithOther(seats)
	j, err := swap.Judge(ctx, w.built, own.setup, swap.Asked{Bare: true})
	if err != nil {
		return nil, err
	}
	rows, err := movedRows(ctx, &own, j.Outcomes)
	if err != nil {
		return nil, err
	}
	var all []swap.Hindrance
	add := func(lines []AgainstLine, class graph.Safety) {
		for _, h := range hindrances(lines, class) {
			if !slices.Contains(all, h) {
				all = append(all, h)
			}
		}
	}
	for _, row := range rows {
		add(row.Says, row.Safety)
	}
	each := againstEach(j, own.setup)
	for _, id := range measured {
		add(each[id], w.setup.SafetyAt(id))
	}
	return all, nil
}

// staying are the seats of those places whose piece stays on, each as if it were put there.
func (w *work) staying(places []graph.PositionID) map[graph.PositionID]*machine.Seat {
	seats := map[graph.PositionID]*machine.Seat{}
	for _, id := range places {
		seat := w.stood.Setup().Seat(id)
		isWanted := slices.ContainsFunc(w.wants, func(one want) bool { return one.position.ID == id })
		if !isWanted && !seat.Empty && w.setup.Library().Has(seat.Part.ID) {
			seat.Changed = true
			seats[id] = &seat
		}
	}
	return seats
}

// hindrances are those lines about a place of a class that are no plain fit: what is
// unknown of the machine as built too says nothing against it.
func hindrances(lines []AgainstLine, class graph.Safety) []swap.Hindrance {
	var all []swap.Hindrance
	for _, line := range lines {
		classed := class != graph.SafetyNone || line.Safety != graph.SafetyNone
		if asBefore := line.asBuilt && line.Verdict == graph.Unknown; isAgainst(line.Verdict) && classed && !asBefore {
			all = append(all, swap.Judged(line.Verdict, line.What, line.Why))
		}
	}
	return all
}

// anyRefused reports whether something that is planned does not go to its place as it is.
func (w *work) anyRefused() bool {
	for i := range w.wants {
		if w.isPlanned(i) && settled(w.allAgainst(i)) == graph.DoesNotFit {
			return true
		}
	}
	return false
}

// anyOther reports whether something was found that is not as the book has it.
func (w *work) anyOther() bool {
	return slices.ContainsFunc(w.bike.Found, func(f graph.Fitted) bool {
		return !isBuilt(w.stood.Setup(), f.Position)
	})
}

// staysWrong is what was found at a place and does not go there, whatever is got; false where it
// goes, or something else is planned there.
func (w *work) staysWrong(f graph.Fitted) (shop.Refused, bool) {
	if _, planned := w.planned(f.Position); w.closing == nil || planned || isBuilt(w.stood.Setup(), f.Position) {
		return shop.Refused{}, false
	}
	_, why := swap.Closers(*w.closing, f.Position)
	return shop.Refused{Part: f.Part, Name: w.nameOf(f.Part), At: []graph.PositionID{f.Position},
		Safety: w.setup.SafetyAt(f.Position), Why: why}, why != ""
}

// worstOff is what was found and goes with nothing, and of which the book's part is to be got
// instead: the one against which most stands; nil where there is none. What is planned beside
// something was chosen for that, so that the book's is not got for it unasked.
func (w *work) worstOff(ctx context.Context) (*shop.Refused, error) {
	var worst *shop.Refused
	most := 0
	for _, f := range w.bike.Found {
		off, wrong := w.staysWrong(f)
		if !wrong || w.builtPart(f.Position) == "" {
			continue
		}
		isPlanned, err := w.isPlannedFor(ctx, f.Position)
		if err != nil {
			return nil, err
		}
		if n := swap.AgainstAt(*w.closing, f.Position); !isPlanned && (worst == nil || n > most) {
			worst, most = &off, n
		}
	}
	return worst, nil
}

// isPlannedFor reports whether something that is planned meets what was found at a place, or
// stands in a row with it: it was chosen for that part, so that the book's is not bought unasked.
func (w *work) isPlannedFor(ctx context.Context, at graph.PositionID) (bool, error) {
	joints, err := w.setup.Library().JointsTouching(ctx, w.setup.Variant.ID, []graph.PositionID{at})
	if err != nil {
		return false, err
	}
	stacks, err := w.setup.Library().StacksTouching(ctx, w.setup.Variant.ID, []graph.PositionID{at})
	var beside []graph.PositionID
	for _, j := range joints {
		if ends := []graph.PositionID{j.A.Position, j.B.Position}; slices.Contains(ends, at) {
			beside = append(append(beside, ends...), j.Fasteners...)
		}
	}
	for _, stack := range stacks {
		row := lists.Mapped(stack.Row, func(ref graph.FeatureRef) graph.PositionID { return ref.Position })
		if slices.Contains(row, at) {
			beside = append(beside, row...)
		}
	}
	return slices.ContainsFunc(beside, func(id graph.PositionID) bool {
		_, planned := w.planned(id)
		return planned && id != at
	}), err
}

// closers are what must be on before what goes to a place mates there, and why it
// can't go there where nothing helps.
func (w *work) closers(i int) (gets []swap.Get, refused string) {
	against := w.allAgainst(i)
	if settled(against) != graph.DoesNotFit {
		return nil, ""
	}
	if w.closing == nil || !w.isPlanned(i) {
		return nil, whyOf(against, graph.DoesNotFit)
	}
	gets, refused = swap.Closers(*w.closing, w.wants[i].position.ID)
	if len(gets) == 0 && refused == "" {
		refused = whyOf(against, graph.DoesNotFit)
	}
	return gets, refused
}

// isPlanned reports whether what is wanted is not what was there, but what is planned.
func (w *work) isPlanned(i int) bool {
	planned, ok := w.planned(w.wants[i].position.ID)
	return ok && planned == w.wants[i].part && planned != ""
}

// goesWith names what has something go to its place, and where that lies in a box.
func (w *work) goesWith(g swap.Get) string {
	text := g.Text
	if g.Part != "" && !strings.HasPrefix(text, string(g.Part)) {
		text = string(g.Part) + " " + text
	}
	there := lists.Kept(w.free(), func(b machine.InBox) bool { return b.Part == g.Part && b.IsProved() })
	in := lists.Unique(lists.Mapped(there, func(b machine.InBox) string { return b.Box }))
	if len(in) > 0 && g.Part != "" {
		text += ", in " + strings.Join(in, ", ")
	}
	return text
}

// free is what lies in the boxes and nothing takes that belongs to a place of its own.
func (w *work) free() []machine.InBox {
	return lists.Mapped(lists.Kept(slices.Clone(w.lines), func(l stockLine) bool { return l.taken < l.Quantity }),
		func(l stockLine) machine.InBox {
			l.InBox.Quantity -= l.taken
			return l.InBox
		})
}

// against is what stands against a part at the place of a want. Of a part that nobody
// described and no source lists there, nothing was judged.
func (w *work) against(want int, part graph.PartID) []AgainstLine {
	at := w.wants[want].position.ID
	lines, judged := w.tried[tryOf{at, part}]
	if !judged && part != "" && part != w.builtPart(at) {
		return []AgainstLine{undescribed(at, part)}
	}
	if part == w.wants[want].part {
		return lines
	}
	// what has to be done where one number stands in for another is said with the box
	return lists.Kept(slices.Clone(lines), func(l AgainstLine) bool {
		return l.Verdict != graph.FitsWithChanges || !l.said
	})
}

// allAgainst is what stands against all that goes to the place of a want, each line once.
func (w *work) allAgainst(want int) []AgainstLine {
	var lines []AgainstLine
	for _, part := range w.goes(want) {
		for _, line := range w.against(want, part) {
			if !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// row is one want with all that is known of it.
func (w *work) row(i int) MissingRow {
	one := w.wants[i]
	p := one.position
	row := MissingRow{Position: p.ID, Name: p.Name, Safety: p.Safety, State: StateMissing, Part: one.part,
		PartName: w.nameOf(one.part), Quantity: one.quantity, Short: one.quantity, Source: w.setup.BuiltAt(p.ID).Source}
	if w.isPlanned(i) {
		row.State, row.Source = StatePlanned, evidence.Source{}
		row.Listed = w.builtPart(p.ID)
	}
	if one.part == "" {
		row.State = StateNotKnown
	}
	if off := w.offAt(p.ID); off != "" && row.State == StateMissing {
		row.State, row.Off = StateOff, off
	}
	if one.scrap != "" && row.State == StateMissing {
		row.State, row.Scrap = StateScrap, one.scrap
	}
	row.FromBox = w.gifts(i)
	for _, use := range row.FromBox {
		row.Short -= use.Quantity
	}
	if row.Short > 0 {
		row.CheckFirst = w.near(one)
		row.Offered = w.offered(i)
	}
	row.Against = w.allAgainst(i)
	gets, refused := w.closers(i)
	row.Goes, row.Refused = lists.Mapped(gets, w.goesWith), refused
	for _, later := range w.positions {
		if slices.Contains(later.After, p.ID) {
			row.HoldsUp = append(row.HoldsUp, later.ID)
		}
	}
	return row
}

// gifts are what boxes and bags give to a want.
func (w *work) gifts(want int) []BoxUse {
	var uses []BoxUse
	for _, g := range w.given {
		if g.want != want {
			continue
		}
		line := w.lines[g.line]
		s, _ := w.successors.supply(line.Part, w.wants[want].part)
		uses = append(uses, BoxUse{Box: line.Box, Part: line.Part, Quantity: g.quantity, Sure: line.Item.Sure,
			State: line.State.Why,
			How:   s.how, Kit: line.Kit, Changes: s.extra, With: s.with, Beside: w.beside[pairing{want, g.line}],
			Note: line.Item.Note})
	}
	return append(uses, bagUses(w, want)...)
}

// isAgainst reports whether a verdict is not a plain fit.
func isAgainst(v graph.Verdict) bool { return v != graph.Fits && v != graph.NoVerdict }

// lineOf is an outcome as it stands against the places of a machine.
func lineOf(o examine.Outcome, on *machine.Setup) AgainstLine {
	line := AgainstLine{What: o.What + " " + queries.LocalName(o.ID), Verdict: o.After, Why: o.Why,
		Safety: examine.FirstSafety(o.Safety), asBuilt: true, work: o.HasWork(),
		said: o.What == examine.OfWord}
	for _, id := range o.Places() {
		line.asBuilt = line.asBuilt && isBuilt(on, id)
	}
	return line
}

// numberLine is a number as it stands against the places of a machine.
func numberLine(n examine.Number, on *machine.Setup) AgainstLine {
	return AgainstLine{What: n.Name + " of " + queries.LocalName(n.About), Verdict: n.Verdict, Why: n.Words,
		Safety: n.Safety, asBuilt: !slices.ContainsFunc(n.Uses, func(u mating.Use) bool { return !isBuilt(on, u.Position) })}
}

// asInBook is a machine with the book's part wherever nothing is and nothing else is
// planned.
func asInBook(w *work) *machine.Setup {
	places := slices.Clone(w.within)
	for _, one := range w.wants {
		if _, planned := w.planned(one.position.ID); !planned {
			places = append(places, one.position.ID)
		}
	}
	seats := map[graph.PositionID]machine.Seat{}
	for _, id := range places {
		if built := w.setup.BuiltAt(id); w.setup.Seat(id).Empty && !built.Empty {
			seats[id] = built
		}
	}
	return w.setup.WithSeats(seats)
}

// isBuilt reports whether nothing but the part that the book has sits at a place.
func isBuilt(on *machine.Setup, id graph.PositionID) bool {
	seat := on.Seat(id)
	return seat.Empty || seat.Part.ID == on.BuiltAt(id).Part.ID
}

// counts reports whether a part goes to its place by what stands against it: nothing
// there does not fit, and nothing is unknown where not all is as the book has it.
func counts(against []AgainstLine) bool { return settled(against) <= graph.FitsWithChanges }

// settled is the worst of what stands against a part, what is unknown of the machine
// as built too left out: that says nothing against putting it together again.
func settled(against []AgainstLine) graph.Verdict {
	worst := graph.Fits
	for _, line := range against {
		if line.Verdict != graph.Unknown || !line.asBuilt {
			worst = worst.Worst(line.Verdict)
		}
	}
	return worst
}

// whyOf is the reason of the first line with a verdict that is not of the machine as
// built alone; of the first with that verdict where there is none.
func whyOf(against []AgainstLine, v graph.Verdict) string {
	why := ""
	for _, line := range against {
		switch {
		case line.Verdict == v && !line.asBuilt:
			return line.Why
		case line.Verdict == v && why == "":
			why = line.Why
		}
	}
	return why
}

// undescribed says of a part that nobody described that nothing about it was judged.
func undescribed(at graph.PositionID, part graph.PartID) AgainstLine {
	return AgainstLine{What: "place " + at.Local(), Verdict: graph.Unknown,
		Why: "nobody described " + string(part) + ": nothing about it was judged"}
}

// againstEach is all of a judgement that is not a plain fit, by the changed places
// that take part in it. What none of them is known to take part in stands against
// all of them: nothing that was judged is lost.
func againstEach(j swap.Judgement, after *machine.Setup) map[graph.PositionID][]AgainstLine {
	each, changed := map[graph.PositionID][]AgainstLine{}, after.Changed()
	add := func(line AgainstLine, concerns func(graph.PositionID) bool) {
		at := lists.Kept(slices.Clone(changed), concerns)
		if len(at) == 0 {
			at = changed
		}
		for _, id := range at {
			each[id] = append(each[id], line)
		}
	}
	for _, o := range j.Outcomes {
		if isAgainst(o.After) {
			add(lineOf(o, after), o.Concerns)
		}
	}
	for _, n := range j.Answer.Numbers {
		if isAgainst(n.Verdict) {
			add(numberLine(n, after), n.Concerns)
		}
	}
	return each
}

// foundJudged is what was found on a machine, as judged.
type foundJudged struct {
	outcomes []examine.Outcome
	changed  []graph.PositionID // the places that were judged, sorted
	against  map[graph.PositionID][]AgainstLine
}

func (w *work) foundRow(f graph.Fitted, judged foundJudged) FoundRow {
	p := w.setup.Position(f.Position)
	row := FoundRow{Position: p.ID, Name: p.Name, Safety: p.Safety, Built: w.builtPart(p.ID), Found: f.Part,
		Note: f.Note, How: w.foundHow(p, f.Part), Verdict: graph.Unknown}
	if planned, ok := w.planned(p.ID); ok {
		row.Planned = cmp.Or(string(planned), nothingThere)
	}
	for _, o := range judged.outcomes {
		if o.Concerns(p.ID) {
			row.Touches = append(row.Touches, o.What+" "+queries.LocalName(o.ID))
		}
	}
	seat := w.setup.Seat(p.ID)
	if f.AsBuilt {
		row.Found, row.How = row.Built, "the part as built"
	}
	if row.State = seat.State.Why; seat.State.Is == graph.Scrap {
		row.Verdict = graph.DoesNotFit
		return row
	}
	if row.Found == "" {
		return row // nothing is there: nothing mates
	}
	if row.Against = judged.against[p.ID]; slices.Contains(judged.changed, p.ID) {
		row.Verdict = graph.Fits // the places were judged: what they lack stands against them
	} else {
		row.Against = append(row.Against, undescribed(p.ID, row.Found))
	}
	if s, linked := w.successors.supply(f.Part, row.Built); linked && s.refused {
		row.Against = append(row.Against, AgainstLine{What: "supersession", Verdict: graph.DoesNotFit, Why: s.how})
	}
	for _, line := range row.Against {
		row.Verdict = row.Verdict.Worst(line.Verdict)
	}
	if seat.State.Is == graph.Doubtful {
		row.Verdict = row.Verdict.Worst(graph.Unknown)
	}
	return row
}

// foundHow compares a found part with the listed one.
func (w *work) foundHow(p graph.Position, found graph.PartID) string {
	built := w.builtPart(p.ID)
	parts := w.setup.Library().Part
	switch {
	case found == "":
		return "nothing is there"
	case built == "":
		return "no source says what belongs here"
	case found == built:
		return "the listed part, noted all the same"
	}
	if s, linked := w.successors.supply(found, built); linked {
		return s.how
	}
	if age := w.successors.lineage(found, built); age != "" {
		return age
	}
	if parts(built).SameCore(parts(found)) {
		return "another version of the listed number: " + evidence.NumberDiffers(parts(built).Number, parts(found).Number)
	}
	if where := w.listedElsewhere(p, found); where != "" {
		return where
	}
	if len(w.listed[found]) > 0 {
		on := []graph.VariantID{}
		for _, f := range w.listed[found] {
			on = append(on, f.On...)
		}
		return "listed elsewhere, on " + w.coverageWords(on)
	}
	return "no source lists it on any machine"
}

// leftClass says where a part that nothing needs belongs.
func (w *work) leftClass(line stockLine, links successors) (class, why string) {
	var here, model, others []graph.VariantID
	var at []graph.PositionID
	for _, f := range w.listed[line.Part] {
		switch {
		case slices.Contains(f.On, w.setup.Variant.ID):
			here, at = append(here, f.On...), append(at, f.Position)
		case f.Position.Model() == w.setup.Variant.Model:
			model = append(model, f.On...)
		default:
			others = append(others, f.On...)
		}
	}
	if len(here) > 0 {
		return leftSurplus, w.spareFor(line.Part, lists.Unique(at))
	}
	if at := w.standsInFor(line.Part, links); len(at) > 0 {
		return leftSurplus, "may take the place of what is listed at " + placesText(at)
	}
	switch {
	case len(model) > 0:
		return leftVariant, "this model, but " + w.coverageWords(model)
	case len(others) > 0:
		return leftForeign, "belongs to " + w.coverageWords(others)
	}
	if !w.setup.Library().Has(line.Part) {
		return leftUnknown, "the number is not in the graph"
	}
	return leftUnknown, "no source lists it on any machine" + w.itsKits(line)
}

// spareFor says what sits at the places where a surplus part is listed.
func (w *work) spareFor(part graph.PartID, at []graph.PositionID) string {
	for _, id := range at {
		seat, built := w.setup.Seat(id), w.builtPart(id)
		switch planned, isPlanned := w.planned(id); {
		case isPlanned && planned != part:
			return fmt.Sprintf("listed at %s, where %s is planned", id.Local(), cmp.Or(planned, "nothing"))
		case built != part:
			return fmt.Sprintf("listed at %s in another colour or by another source; %s counts there", id.Local(),
				cmp.Or(built, "nothing"))
		case seat.Part.ID != part && !seat.Empty:
			return fmt.Sprintf("listed at %s, where %s was found instead", id.Local(), seat.Part.ID)
		}
	}
	return "a spare for " + placesText(at)
}

// standsInFor are the positions of the variant whose listed part a part may
// replace.
func (w *work) standsInFor(part graph.PartID, links successors) []graph.PositionID {
	var at []graph.PositionID
	for _, c := range links.To(part) {
		if !links.Allows(c) {
			continue
		}
		for _, p := range w.positions {
			if w.builtPart(p.ID) == c.Listed {
				at = append(at, p.ID)
			}
		}
	}
	return lists.Unique(at)
}

func (w *work) itsKits(line stockLine) string {
	if line.Kit != "" {
		return ", only in kit " + string(line.Kit)
	}
	return ""
}

// doubt says what to look at before a part is sorted out on a look alone.
func (w *work) doubt(line stockLine) string {
	if graph.IsSure(line.Item.Sure) {
		return ""
	}
	if line.Kit != "" {
		return "read the number on the packet"
	}
	return "read the number on it, or measure it, before it is given away"
}

// offersFor are the lots in offers that hold what a want needs: the number itself, or
// one that may take its place. What goes on new every time is only taken new.
func (w *work) offersFor(one want) []offering {
	return lists.Kept(slices.Clone(w.offers), func(o offering) bool {
		s, linked := w.successors.supply(o.part.Part, one.part)
		return one.part != "" && linked && s.usable &&
			(!one.position.Renew || o.part.Condition == graph.ConditionNew)
	})
}

// offered are the offers that hold what a want needs, but for what was judged not to
// go there.
func (w *work) offered(want int) []Offered {
	var found []Offered
	one := w.wants[want]
	for _, o := range w.offersFor(one) {
		s, _ := w.successors.supply(o.part.Part, one.part)
		if o.part.Part != one.part && !counts(w.against(want, o.part.Part)) {
			continue
		}
		at := slices.IndexFunc(found, func(f Offered) bool { return f.Offer == o.offer.Name && f.Part == o.part.Part })
		if at >= 0 {
			found[at].Quantity += o.part.Quantity
			found[at].Others -= o.part.Quantity
			continue
		}
		f := Offered{Offer: o.offer.Name, Title: o.offer.Title, Part: o.part.Part, Quantity: o.part.Quantity,
			Others: o.pieces - o.part.Quantity, Price: o.offer.Asked(), Condition: o.part.Condition, How: s.how}
		if o.offer.Postage.Hundredths > 0 {
			f.Postage = o.offer.Postage.String()
		}
		found = append(found, f)
	}
	return found
}

// near lists what lies in the boxes, taken by nothing, and might be meant for a
// want: another revision or colour of the number, the part as built where
// another is planned, an edge that does not say yes, or a part that sits at the
// same place of another year or model.
func (w *work) near(one want) []CheckFirst {
	var found []CheckFirst
	for _, line := range w.lines {
		if line.taken >= line.Quantity || line.State.Is == graph.Scrap {
			continue
		}
		if why := w.nearness(one, line); why != "" {
			found = append(found, CheckFirst{Box: line.Box, Part: line.Part, Sure: line.Item.Sure, Why: why,
				Note: line.Item.Note})
		}
	}
	return found
}

func (w *work) nearness(one want, line stockLine) string {
	have := line.Part
	if s, linked := w.successors.supply(have, one.part); linked && s.usable && !line.mayGo(one.position) {
		return line.State.Why
	}
	if s, linked := w.successors.supply(have, one.part); linked && s.usable && have != one.part {
		if lines := w.tried[tryOf{one.position.ID, have}]; !counts(lines) {
			return s.how + ", but " + whyOf(lines, settled(lines))
		}
	}
	parts := w.setup.Library().Part
	wanted, other := parts(one.part), parts(have)
	if s, linked := w.successors.supply(have, one.part); linked && s.usable && one.position.Renew {
		return s.how + ", but it goes on new every time: only unused"
	}
	if have == w.builtPart(one.position.ID) {
		return "listed here as built, but another part is planned"
	}
	if s, linked := w.successors.supply(have, one.part); linked && !s.usable {
		return s.how
	}
	if wanted.SameCore(other) {
		return "another version of the number: " + evidence.NumberDiffers(wanted.Number, other.Number)
	}
	return w.listedElsewhere(one.position, have)
}

// listedElsewhere says on which other machines a part sits at this very place;
// empty when it does on none.
func (w *work) listedElsewhere(p graph.Position, part graph.PartID) string {
	on, schemes := []graph.VariantID{}, []string{}
	for _, f := range w.listed[part] {
		if f.Position.Local() != p.ID.Local() {
			continue
		}
		on = append(on, f.On...)
		if slices.Contains(f.On, w.setup.Variant.ID) && f.Scheme != "" {
			schemes = append(schemes, f.Scheme)
		}
	}
	switch {
	case len(on) == 0:
		return ""
	case len(schemes) > 0:
		return "listed here in colour scheme " + strings.Join(lists.Unique(schemes), ", ")
	case slices.Contains(on, w.setup.Variant.ID):
		return "also listed here, by a source that counts for less"
	}
	return "sits here on " + w.coverageWords(on)
}

// renewals are the parts to buy new whatever lies about, those of opened joints
// first. A position that is empty and wants such a part counts here only for
// what its joints say: its own row says what is short.
func (w *work) renewals(ctx context.Context, scope []graph.Position) ([]RenewLine, error) {
	open, err := w.opened(ctx)
	if err != nil {
		return nil, err
	}
	lines := map[graph.PartID]*RenewLine{}
	for _, p := range scope {
		seat := w.setup.Seat(p.ID)
		part := cmp.Or(w.builtPart(p.ID), seat.Part.ID)
		if planned, ok := w.planned(p.ID); ok && planned != "" {
			part = planned
		}
		if !p.Renew && !open.renew[p.ID] || part == "" {
			continue
		}
		line := lines[part]
		if line == nil {
			line = &RenewLine{Part: part, Name: w.nameOf(part), Safety: p.Safety}
			lines[part] = line
		}
		quantity := w.needed(p, part)
		line.All += quantity
		if open.at[p.ID] {
			line.Open += quantity
			line.opened = append(line.opened, p.ID)
		}
		line.At = append(line.At, p.ID)
		if p.Safety.Place() < line.Safety.Place() {
			line.Safety = p.Safety
		}
	}
	all := lists.Mapped(lists.KeysOf(lines), func(id graph.PartID) RenewLine { return *lines[id] })
	slices.SortStableFunc(all, func(x, y RenewLine) int {
		return cmp.Or(-cmp.Compare(min(x.Open, 1), min(y.Open, 1)), cmp.Compare(x.Safety.Place(), y.Safety.Place()))
	})
	return all, nil
}

// opened reads the joints at the positions that need something or are not as
// built: none of them can be fitted without opening its joints.
func (w *work) opened(ctx context.Context) (opening, error) {
	o := opening{map[graph.PositionID]bool{}, map[graph.PositionID]bool{}}
	var at []graph.PositionID
	for _, one := range w.wants {
		at, o.at[one.position.ID] = append(at, one.position.ID), true
		w.addLink(o.at, one)
	}
	for _, f := range w.bike.Found {
		at = append(at, f.Position)
	}
	if len(at) == 0 {
		return o, nil
	}
	joints, err := w.setup.Library().JointsTouching(ctx, w.setup.Variant.ID, lists.Unique(at))
	if err != nil {
		return o, err
	}
	for _, j := range joints {
		for _, id := range j.Renew {
			o.renew[id], o.at[id] = true, true
		}
		for _, id := range j.Places() {
			o.at[id] = true
		}
	}
	return o, nil
}

// addLink adds the place of the link that closes a wanted chain of its own make, which no
// joint need name.
func (w *work) addLink(at map[graph.PositionID]bool, one want) {
	if one.position.Kind != "chain" {
		return
	}
	for _, p := range w.positions {
		if p.Kind == "chain-link" && p.Assembly == one.position.Assembly &&
			w.setup.Library().Part(w.builtPart(p.ID)).Brand == w.setup.Library().Part(one.part).Brand {
			at[p.ID] = true
		}
	}
}

// asWholes drops from what is wanted what a spoked wheel has already in another form.
func (w *work) asWholes() {
	wanted := map[graph.PositionID]want{}
	for _, one := range w.wants {
		wanted[one.position.ID] = one
	}
	isWanted := func(id graph.PositionID) bool { _, is := wanted[id]; return is }
	atHand := func(id graph.PositionID) bool {
		return slices.ContainsFunc(w.lines, func(l stockLine) bool {
			return l.Part == wanted[id].part && l.mayGo(wanted[id].position)
		})
	}
	for _, l := range lacedOf(w.positions) {
		w.within = append(w.within, lists.Kept(l.notWanted(isWanted, atHand), isWanted)...)
	}
	w.wants = lists.Kept(w.wants, func(one want) bool { return !slices.Contains(w.within, one.position.ID) })
}

// takeListed takes out of the boxes what the list of what to get has from there: what the
// found and planned parts drag in.
func (w *work) takeListed(ctx context.Context) error {
	if len(w.free()) == 0 {
		return nil
	}
	list, err := buyFor(w, w.positions).list(ctx)
	for _, from := range list.FromBoxes {
		short := from.Quantity
		for i := range w.lines {
			line := &w.lines[i]
			if line.Part == from.Part && line.Box == from.Box && line.Kit == from.Kit && line.IsProved() {
				n := min(short, line.Quantity-line.taken)
				line.taken += n
				short -= n
			}
		}
	}
	return err
}

// allInBoxes reports whether all that has a part go to its place lies in the boxes.
func (w *work) allInBoxes(gets []swap.Get) bool {
	have := map[graph.PartID]int{}
	for _, b := range w.free() {
		if b.IsProved() {
			have[b.Part] += b.Quantity
		}
	}
	return !slices.ContainsFunc(gets, func(g swap.Get) bool { return g.IsOrdered() || have[g.Part] < g.Quantity })
}

// colours are those of a machine where a painted part is wanted in the scope.
func (w *work) colours(scope []graph.Position) Scheme {
	for _, one := range w.wants {
		if _, painted := machine.Painted(w.setup.Library().Part(one.part)); painted && inPositions(scope, one.position.ID) {
			return w.scheme
		}
	}
	return Scheme{}
}

// notProved says what stands against riding of what lies in the boxes, or is to be got, for
// places with a safety class: what was identified by eye only, and what is not known to mate
// with what it meets. What nobody recorded of the book's own parts is counted in one.
func (w *work) notProved() []swap.Hindrance {
	var all []swap.Hindrance
	unmeasured := map[string]bool{}
	for i, one := range w.wants {
		if _, refused := w.closers(i); refused != "" {
			continue // it is left out, and said
		}
		for _, use := range w.gifts(i) {
			if one.position.Safety != graph.SafetyNone && !graph.IsSure(use.Sure) {
				all = append(all, swap.ByEye(one.position.ID, use.Part))
			}
		}
		for _, line := range w.allAgainst(i) {
			switch {
			case !line.isOpen() || w.closing != nil && w.isPlanned(i): // what is planned was judged with all on
			case line.asBuilt && line.Verdict == graph.Unknown:
				unmeasured[line.What] = true
			default:
				all = append(all, swap.Judged(line.Verdict, line.What, line.Why))
			}
		}
	}
	if n := len(unmeasured); n > 0 {
		all = append(all, swap.Judged(graph.Unknown, fmt.Sprintf("%d joints, lines and places of the book's own parts", n),
			"nobody recorded what decides there; matewell bike missing "+string(w.bike.ID)+" lists each"))
	}
	return all
}

// RenewLine is a part that must be new every time.
type RenewLine struct {
	Part graph.PartID `json:"part"`
	Name string       `json:"name,omitempty"`
	// Open is how many the joints need that this work opens for sure: those at
	// which something is missing, planned or not as built.
	Open int `json:"open"`
	// All is how many there are in what was asked about, when all of it is taken
	// apart.
	All    int                `json:"all"`
	At     []graph.PositionID `json:"at,omitempty"` // sorted
	Safety graph.Safety       `json:"safety,omitempty"`

	opened []graph.PositionID // those of At whose joints this work opens for sure
}

// opening is what the work takes apart.
type opening struct {
	at    map[graph.PositionID]bool // positions of opened joints
	renew map[graph.PositionID]bool // those a joint says must be new
}
