package worksheet

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/assemble"
	"matewell/queries/donor"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// Sheet is what is taken to the bench for one piece of work. Every list is in a
// stable order.
type Sheet struct {
	// Proof says how it is known which variant the machine is, and what is still to
	// be looked at; at least one sentence.
	Proof []string
	// LayOut are the parts to have at hand before the first bolt comes out.
	LayOut []Item
	Tools  []string
	// Steps are the work in order, tightening one joint after another as one step, each of
	// as many joints as Turns says; Cycle, when it is not empty, are positions that wait for
	// one another.
	Steps  []donor.WorkStep
	Turns  []int
	Cycle  []graph.PositionID
	Joints []Joint         // those that are opened, in the order they are tightened
	Renew  []swap.RenewRow // what goes on new, also what is opened on the way
	// Threads are those to clean before anything is screwed in.
	Threads []string
	// Checks are what to try afterwards, for what was touched.
	Checks  []string
	Sources []evidence.Source // sorted by identity, each once
}

// Item is something to lay out.
type Item struct {
	Position graph.PositionID // where it goes; empty for what belongs to the whole
	Part     graph.PartID     // empty for what is made or goes by a description
	Text     string           // the name, or the description
	Quantity int              // 0 for what is in no pieces, as fluid
	New      bool             // must be new, though it is the same part
	Box      string           // where it lies already, of the boxes of the machine
}

// Joint is one joint that is opened.
type Joint struct {
	Joint graph.JointID `json:"joint"`
	// Also are further joints that the very same fasteners hold.
	Also      []graph.JointID `json:"also,omitempty"`
	Fasteners []Fastener      `json:"fasteners"`
	// Torque is the value to use; empty when See says where to look instead.
	Torque string           `json:"torque,omitempty"`
	Source *evidence.Source `json:"source,omitempty"`
	See    string           `json:"see,omitempty"`
}

// Fastener is a bolt, nut or washer of a joint.
type Fastener struct {
	Position graph.PositionID `json:"position"`
	Part     graph.PartID     `json:"part,omitempty"` // empty when nobody says what sits there
	Text     string           `json:"text"`
	Quantity int              `json:"quantity"`
	New      bool             `json:"new,omitempty"` // must be new each time
	IsClip   bool             `json:"-"`             // one of these holds one end of a hose
}

// ForSwap is the sheet of a swap on one machine, with what the answer says to get
// on as well. Errors come from the reader, or are those of swap.Swap.
func ForSwap(ctx context.Context, r graph.Reader, q swap.SwapQuestion, a swap.SwapAnswer) (Sheet, error) {
	b, err := newBuilder(ctx, r, q, a)
	if err != nil {
		return Sheet{}, err
	}
	work, err := donor.OrderOfWork(ctx, b.before, &a)
	if err != nil {
		return Sheet{}, err
	}
	b.changes, b.after = a.PartsOn(), work.After
	return b.sheet(a, work.Made, work.Steps, work.Cycle)
}

// ForPlan is the sheet of a plan; q names the machine as the question did.
func ForPlan(ctx context.Context, r graph.Reader, q swap.SwapQuestion, p donor.DonorPlan) (Sheet, error) {
	b, err := newBuilder(ctx, r, q, p.Swap)
	if err != nil {
		return Sheet{}, err
	}
	if err := b.fit(); err != nil {
		return Sheet{}, err
	}
	return b.sheet(p.Swap, p.Make, p.Work, p.Cycle)
}

// builder makes one sheet.
type builder struct {
	ctx           context.Context
	machines      queries.Machines
	before, after *machine.Setup
	changes       map[graph.PositionID]graph.PartID
	all           []graph.Joint // of the machine, once any was read
}

func newBuilder(ctx context.Context, r graph.Reader, q swap.SwapQuestion, a swap.SwapAnswer) (*builder, error) {
	on := q.On
	m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: on, Market: q.Market, Frame: q.Frame})
	if err != nil {
		return nil, err
	}
	if m.Bike == "" {
		on = string(a.On)
	}
	b := &builder{ctx: ctx, machines: m, changes: map[graph.PositionID]graph.PartID{}}
	b.before, err = machine.NewSetup(ctx, r, queries.MachineQuestion{On: on}, a.Scheme)
	for _, line := range a.Swaps {
		b.changes[line.Position] = line.Now
	}
	return b, err
}

// fit puts the changes on.
func (b *builder) fit() (err error) {
	if err = b.before.Load(b.ctx, lists.KeysOf(b.changes)...); err != nil {
		return err
	}
	b.after, err = b.before.With(b.ctx, b.changes)
	return err
}

// sheet puts together what is known; gets are what is made or ordered besides the parts.
func (b *builder) sheet(a swap.SwapAnswer, gets []swap.Get, steps []donor.WorkStep,
	cycle []graph.PositionID) (Sheet, error) {
	s := Sheet{Proof: Proof(b.before.Variant, b.machines.Frame), Cycle: cycle, Renew: a.Renew}
	if len(b.machines.Variants) > 1 {
		s.Proof = anyOf(b.machines.Variants)
	}
	var opened []graph.JointID
	turned := map[graph.JointID]graph.PositionID{}
	for i, step := range steps {
		if step.Do != donor.DoTight {
			s.Steps = append(s.Steps, step)
			continue
		}
		if i == 0 || steps[i-1].Do != donor.DoTight {
			s.Steps, s.Turns = append(s.Steps, donor.WorkStep{Do: donor.DoTight}), append(s.Turns, 0)
		}
		opened = append(opened, step.Joint)
		turned[step.Joint] = step.Position
		s.Turns[len(s.Turns)-1]++
	}
	s.sayTurns()
	s.LayOut = layOut(s.Steps, b.changes, a.Renew)
	if err := b.findBoxed(s.LayOut); err != nil {
		return s, err
	}
	stops(s.Steps, a)
	joints, err := b.readJoints(opened)
	if err != nil {
		return s, err
	}
	rows := lists.ByKey(a.Torques, func(r swap.TorqueRow) graph.JointID { return r.Joint })
	for _, row := range swap.TorquesStanding(b.after, joints, joints, a.Torques) {
		rows[row.Joint] = row
	}
	for _, j := range joints {
		row, ok := rows[j.ID]
		if !ok { // what screws in by itself, and of which nobody gives a torque
			row = swap.TorqueRow{Joint: j.ID, Fasteners: []graph.PositionID{turned[j.ID]}, See: "see the maker's manual"}
		}
		s.Joints = append(s.Joints, ordered(sharedOut(counted(jointOf(b.after, j, row), s.Steps), b.all, b.after), gets))
	}
	s.Threads = threads(b, joints, s.Steps)
	s.Tools = tools(b.before, b.after, s.Steps, s.Joints, a.Measure)
	s.Checks = queries.ChecksAfter(touched(b, a, s.Steps))
	cites := lists.Mapped(readingsOf(a), func(r graph.Reading) graph.Cite { return r.Cite })
	if err := b.before.Library().Evidence().Load(b.ctx, b.before.Library().Reader(), cites); err != nil {
		return s, err
	}
	s.Sources = b.sources(a, s)
	return s, nil
}

// findBoxed notes what of the parts to lay out lies in the boxes of the machine.
func (b *builder) findBoxed(items []Item) error {
	if b.before.Bike == nil {
		return nil
	}
	boxed, err := machine.Boxed(b.ctx, b.before.Library(), *b.before.Bike, nil)
	stock := machine.Stock(boxed)
	for i, item := range items {
		if item.Part != "" && !item.New {
			items[i].Box = stock.Take(item.Part, item.Quantity)
		}
	}
	return err
}

// sayTurns says of each turn of tightening which joints of the list it is.
func (s *Sheet) sayTurns() {
	from, turn := 1, 0
	for i, step := range s.Steps {
		if step.Do != donor.DoTight {
			continue
		}
		to := from + s.Turns[turn] - 1
		switch {
		case len(s.Turns) == 1:
			s.Steps[i].Text = "each joint, in the order of the list of joints"
		case from == to:
			s.Steps[i].Text = fmt.Sprintf("joint %d of the list of joints", from)
		default:
			s.Steps[i].Text = fmt.Sprintf("joints %d to %d of the list of joints, in its order", from, to)
		}
		from, turn = to+1, turn+1
	}
}

// stops says at the step that puts two parts together which do not mate, also with all that
// is to be got, that the work ends there: who ticks steps does not look at the first page.
func stops(steps []donor.WorkStep, a swap.SwapAnswer) {
	failing := a.DoesNotMate
	if a.Then != nil {
		failing = lists.Kept(slices.Clone(a.Then.Left), func(o examine.Outcome) bool {
			return o.After == graph.DoesNotFit
		})
	}
	for _, o := range failing {
		last := -1
		for i, step := range steps {
			isOn := slices.Contains([]string{donor.DoFit, donor.DoBack, donor.DoIn}, step.Do)
			if isOn && slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == step.Position }) {
				last = i
			}
		}
		if last >= 0 && !strings.Contains(steps[last].Text, stop) {
			steps[last].Text = strings.TrimPrefix(steps[last].Text+"; ", "; ") + stop + " does not fit: " + o.Why
		}
	}
}

// stop begins what is said at a step that ends the work.
const stop = "STOP:"

// readJoints reads the joints by their identities, in that order.
func (b *builder) readJoints(ids []graph.JointID) ([]graph.Joint, error) {
	all, err := b.before.Library().Reader().JointsOf(b.ctx, b.before.Variant.Model)
	if err != nil {
		return nil, err
	}
	b.all = lists.Kept(all, func(j graph.Joint) bool { return slices.Contains(j.On, b.before.Variant.ID) })
	known := lists.ByKey(all, func(j graph.Joint) graph.JointID { return j.ID })
	var found []graph.Joint
	for _, id := range ids {
		if j, ok := known[id]; ok {
			found = append(found, j)
		}
	}
	return found, readAround(b.ctx, b.before, found)
}

// readAround reads what joints join, and who gives their torques.
func readAround(ctx context.Context, s *machine.Setup, joints []graph.Joint) error {
	var seats []graph.PositionID
	var cites []graph.Cite
	for _, j := range joints {
		seats = append(seats, j.Places()...)
		for _, reading := range j.Torque {
			cites = append(cites, reading.Cite)
		}
	}
	if err := s.Library().Evidence().Load(ctx, s.Library().Reader(), cites); err != nil {
		return err
	}
	return s.Load(ctx, lists.Unique(seats)...)
}

// Work is what taking something out and putting it back comes to.
type Work struct {
	// Joints are those in which something is turned or that have a torque, in the order in which
	// they are tightened.
	Joints []Joint
	Tools  []string
}

// WorkAt is the work on a machine as it stands to take out what sits at the places, with that
// on what is in the way.
func WorkAt(ctx context.Context, s *machine.Setup, places []graph.PositionID) (Work, error) {
	if err := s.Load(ctx, places...); err != nil {
		return Work{}, err
	}
	a := swap.SwapAnswer{}
	for _, id := range places {
		part := s.Seat(id).Part.ID
		if s.Seat(id).Empty {
			part = s.BuiltAt(id).Part.ID
		}
		if part != "" {
			a.Swaps = append(a.Swaps, swap.SwapLine{Position: id, Now: part})
		}
	}
	work, err := donor.OrderOfWork(ctx, s, &a)
	if err != nil {
		return Work{}, err
	}
	all := lists.Mapped(lists.KeysOf(work.Known), func(id graph.JointID) graph.Joint { return work.Known[id] })
	if err := readAround(ctx, s, all); err != nil {
		return Work{}, err
	}
	var joints []Joint
	for _, step := range work.Steps {
		if step.Do != donor.DoTight {
			continue
		}
		j := work.Known[step.Joint]
		rows := swap.TorquesStanding(s, []graph.Joint{j}, all, nil)
		at := slices.IndexFunc(rows, func(r swap.TorqueRow) bool { return r.Joint == j.ID })
		row := swap.TorqueRow{Joint: j.ID, Fasteners: []graph.PositionID{step.Position}, See: "see the maker's manual"}
		if at >= 0 {
			row = rows[at]
		}
		joints = append(joints, sharedOut(jointOf(s, j, row), all, s))
	}
	done := Work{Joints: merged(joints)}
	done.Tools = tools(s, s, work.Steps, done.Joints, nil)
	return done, nil
}

// sharedOut has of clips on the ends of several hoses each joint have its own.
func sharedOut(j Joint, all []graph.Joint, s *machine.Setup) Joint {
	for i, f := range j.Fasteners {
		if !assemble.IsHoseClip(s.Position(f.Position).Kind) {
			continue
		}
		with := lists.Kept(slices.Clone(all), func(k graph.Joint) bool { return slices.Contains(k.Fasteners, f.Position) })
		j.Fasteners[i].Quantity = donor.PiecesEach(s.Quantity(f.Position), len(with))
	}
	return j
}

// merged has two joints that the very same bolts hold, as a double banjo bolt does two hoses,
// be one line: they are tightened at once.
func merged(joints []Joint) []Joint {
	var found []Joint
	for _, j := range joints {
		bolts := func(j Joint) []graph.PositionID {
			return lists.Mapped(j.Fasteners, func(f Fastener) graph.PositionID { return f.Position })
		}
		at := slices.IndexFunc(found, func(k Joint) bool {
			isOne := !slices.ContainsFunc(k.Fasteners, func(f Fastener) bool { return f.IsClip })
			return isOne && len(k.Fasteners) > 0 && slices.Equal(bolts(j), bolts(k)) && j.Torque == k.Torque && j.See == k.See
		})
		if at < 0 {
			found = append(found, j)
			continue
		}
		found[at].Also = append(found[at].Also, j.Joint)
	}
	return found
}

// jointOf is a joint with the torque that its row gives for what is turned in it.
func jointOf(s *machine.Setup, j graph.Joint, row swap.TorqueRow) Joint {
	found := Joint{Joint: j.ID, Fasteners: []Fastener{}}
	for _, id := range row.Fasteners {
		f := Fastener{Position: id, Text: s.Position(id).Name, Quantity: s.Quantity(id),
			New: s.Position(id).Renew || slices.Contains(j.Renew, id), IsClip: assemble.IsHoseClip(s.Position(id).Kind)}
		if seat := s.Seat(id); !seat.Empty {
			f.Part, f.Text = seat.Part.ID, seat.Part.Name
		}
		found.Fasteners = append(found.Fasteners, f)
	}
	found.Torque, found.Source, found.See = row.Torque, row.Source, row.See
	switch {
	case row.Conflict && row.Torque != "":
		found.See = andGiven(found.See, "sources disagree; given: ", row.Given)
	case row.Conflict:
		found.See = andGiven(found.See, "given: ", row.Given)
	case row.Torque == "":
		found.See = andGiven(found.See, "given, but not sure to hold: ", row.Given)
	}
	return found
}

// andGiven adds to a text what sources give, each with what it is given for.
func andGiven(see, is string, given []swap.TorqueGiven) string {
	if len(given) == 0 {
		return see
	}
	values := strings.Join(lists.Mapped(given, func(g swap.TorqueGiven) string {
		if g.For == swap.TorqueAsBuilt {
			return fmt.Sprintf("%s (%s)", g.Value, g.Source.ID)
		}
		return fmt.Sprintf("%s for %s (%s)", g.Value, g.For, g.Source.ID)
	}), ", ")
	return strings.TrimPrefix(see+"; "+is+values, "; ")
}

// ordered has a fastener that is ordered by its sizes be that, not the one that it
// takes the place of. Where several are, as on either side of a bracket, the first
// stands for its place and the others follow it.
func ordered(j Joint, gets []swap.Get) Joint {
	found := []Fastener{}
	for _, f := range j.Fasteners {
		orders := lists.Kept(slices.Clone(gets),
			func(g swap.Get) bool { return g.What == swap.GetBolts && g.Part == "" && g.Position == f.Position })
		for _, g := range orders {
			found = append(found, Fastener{Position: f.Position, Quantity: g.Quantity,
				Text: strings.TrimPrefix(g.Text, "order ")})
		}
		if len(orders) == 0 {
			found = append(found, f)
		}
	}
	j.Fasteners = found
	return j
}

// counted has the fasteners that go on be as many as the steps of the work put on.
func counted(j Joint, steps []donor.WorkStep) Joint {
	for i, f := range j.Fasteners {
		own := lists.Kept(slices.Clone(steps), func(s donor.WorkStep) bool { // and not a sleeve that lies on an axle
			return s.Part == f.Part || f.Part == ""
		})
		if n := putOn(own, f.Position); n > 0 {
			j.Fasteners[i].Quantity = n
		}
	}
	return j
}

// putOn is how many the steps of the work put on at a place; 0 when none does.
func putOn(steps []donor.WorkStep, id graph.PositionID) int {
	n := 0
	for _, step := range steps {
		if step.Position == id && slices.Contains([]string{donor.DoFit, donor.DoBack, donor.DoIn}, step.Do) {
			n += step.Quantity
		}
	}
	return n
}

// layOut is what goes on and was not there, what must be new, and what is renewed
// without a place of its own.
func layOut(steps []donor.WorkStep, changes map[graph.PositionID]graph.PartID, renew []swap.RenewRow) []Item {
	var items []Item
	add := func(i Item, more bool) {
		if more || i.Part != "" { // fluid is in no pieces
			i.Quantity = max(1, i.Quantity)
		}
		if i.Part != "" {
			i.Text = strings.TrimPrefix(i.Text, string(i.Part)+", ")
		}
		at := slices.IndexFunc(items, func(have Item) bool {
			return have.Position == i.Position && have.Part == i.Part && (i.Part != "" || have.Text == i.Text)
		})
		switch {
		case at < 0:
			items = append(items, i)
		case more: // another of the same: a sleeve into each of two bearings
			items[at].Quantity += i.Quantity
		}
	}
	for _, s := range steps {
		_, changed := changes[s.Position] // a bolt is put in, whether it is another or not
		if s.Do == donor.DoFit || (s.Do == donor.DoIn || s.Do == donor.DoBack) && (s.New || changed) {
			add(Item{Position: s.Position, Part: s.Part, Text: s.Text, Quantity: s.Quantity, New: s.New}, true)
		}
	}
	for _, r := range renew {
		if r.Work {
			continue
		}
		if r.Part == "" || !slices.ContainsFunc(items, func(i Item) bool { return i.Position == r.Position }) {
			text := r.Text
			if r.Part == "" { // what is done with it stands among the steps
				text, _, _ = strings.Cut(text, "; ")
			}
			if r.Position == "" && len(r.For) > 0 {
				text += ", at " + strings.Join(lists.Mapped(r.For, func(j graph.JointID) string {
					return queries.LocalName(string(j))
				}), ", ")
			}
			add(Item{Position: r.Position, Part: r.Part, Text: text, Quantity: r.Quantity, New: true}, false)
		}
	}
	return items
}

// Proof says by what a variant was told: its frame number, empty when nobody gave it.
func Proof(v graph.Variant, frame string) []string {
	switch {
	case v.Frames.IsZero() && frame == "":
		return []string{"Taken by its name, " + string(v.ID) + ": nobody recorded its frame numbers. Read the number on " +
			"the steering head and the maker's plate, and have a dealer's list confirm the model year."}
	case v.Frames.IsZero():
		return []string{fmt.Sprintf("Frame number %s; nobody recorded the frame numbers of %s, so that it proves "+
			"nothing yet.", frame, v.ID)}
	case frame == "":
		return []string{fmt.Sprintf("Taken by its name: not proved yet. Read the frame number on the steering head: it "+
			"must lie within %s.", v.Frames)}
	}
	if has, err := v.Frames.Has(frame); err != nil || !has {
		return []string{fmt.Sprintf("Frame number %s does NOT lie within %s, the numbers of %s: settle this first.", frame,
			v.Frames, v.ID)}
	}
	return []string{fmt.Sprintf("Frame number %s lies within %s. Read it on the steering head once more before you begin.",
		frame, v.Frames)}
}

// anyOf says which variants it may be, where the answer is the same for all of them.
func anyOf(variants []graph.Variant) []string {
	said := lists.Mapped(variants, func(v graph.Variant) string {
		if v.Frames.IsZero() {
			return string(v.ID)
		}
		return fmt.Sprintf("%s (%s)", v.ID, v.Frames)
	})
	return []string{"It may be any of these, and the answer is the same for them: " + strings.Join(said, "; ") +
		". Not proved yet: read the frame number on the steering head."}
}

// sources are all that speak in the sheet.
func (b *builder) sources(a swap.SwapAnswer, s Sheet) []evidence.Source {
	byID := map[string]evidence.Source{}
	add := func(v *evidence.Source) {
		if v != nil && v.ID != "" && v.ID != "-" {
			v := *v
			v.Says, v.At = "", ""
			if _, have := byID[v.ID]; !have {
				byID[v.ID] = v
			}
		}
	}
	for _, j := range s.Joints {
		add(j.Source)
	}
	for _, r := range a.Torques {
		for _, g := range r.Given {
			add(&g.Source)
		}
	}
	for _, step := range s.Steps {
		if step.Position != "" {
			built := b.before.BuiltAt(step.Position)
			add(&built.Source)
		}
	}
	for _, c := range a.Conflicts {
		for _, side := range c.Sides {
			add(side.Source)
		}
	}
	for _, reading := range readingsOf(a) {
		voice := b.before.Library().Evidence().ReadingVoice(reading, &b.before.Variant)
		add(&voice)
	}
	all := make([]evidence.Source, 0, len(byID))
	for _, id := range lists.KeysOf(byID) {
		all = append(all, byID[id])
	}
	slices.SortFunc(all, func(x, y evidence.Source) int { return cmp.Compare(x.ID, y.ID) })
	return all
}

// readingsOf are the readings that the answer was judged by.
func readingsOf(a swap.SwapAnswer) []graph.Reading {
	var all []graph.Reading
	for _, outcomes := range [][]examine.Outcome{a.Mates, a.WithChanges, a.DoesNotMate, a.Unknown} {
		for _, o := range outcomes {
			for _, c := range o.Checks {
				for _, u := range c.Uses {
					all = append(all, u.Reading)
				}
			}
		}
	}
	for _, n := range a.Numbers {
		for _, u := range slices.Concat(n.Uses, n.WasUses) {
			all = append(all, u.Reading)
		}
	}
	return all
}
