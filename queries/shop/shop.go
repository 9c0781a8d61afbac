package shop

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Need is a part that is to be got.
type Need struct {
	Part     graph.PartID
	Quantity int // at least 1
	At       []graph.PositionID
	Why      string // one of the Why constants, or in words
	Safety   graph.Safety
	HoldsUp  int    // places that can't be fitted before it is there
	Remark   string // what to look at before it is ordered; may be empty
	// Companion is true for what must be changed along with another part: pieces that
	// are needed anyway, at a place of their own, serve for it.
	Companion bool
}

// Why something is needed.
const (
	WhyMissing  = "missing"
	WhyPlanned  = "planned"
	WhyScrap    = "what is there is scrap"
	WhyNotGoing = "what is there does not go"
	WhyRenew    = "new every time"
	WhyAsked    = "asked for"
	WhyCloses   = "closes a gap"
	WhyLeaks    = "renews what leaks"
)

// Question is what to make a list of.
type Question struct {
	On      graph.Variant
	Frame   string // the machine's own frame number; may be empty
	Needs   []Need
	Made    []Made
	Refused []Refused // what is left out, since it will not go
	// Places are those whose parts are fitted or whose joints are opened: they take
	// what the work uses up.
	Places []PlaceTakes
	Fluids []Consumed // of circuits that are opened
	// Stock is what lies about, in sound pieces that nothing else takes; it is
	// taken off the needs. Parts out of it go by their own number only.
	Stock map[graph.PartID]int
	// Boxes are what lies in boxes of one's own besides, each told where it is taken. What
	// goes on new every time comes out of them only where it is noted as new.
	Boxes []machine.InBox
	// Given is what places of their own get out of boxes: a companion that is among it
	// is not got once more.
	Given map[graph.PartID]int
	// WhyNot says why a part does not mate at a place, empty when nothing is against it;
	// nil where nobody can judge. A newer number is ordered only where nothing is.
	WhyNot func(ctx context.Context, part graph.PartID, at graph.PositionID) (string, error)
}

// UsesUp notes what work at some places of a machine uses up: what they take, what fills
// the circuits that it opens, and, where neither says so, what the jobs that are done
// there do. Apart are further places at which a joint of a circuit is opened; pieces is how
// many of its part a place has.
func (q *Question) UsesUp(ctx context.Context, s *machine.Setup, opened, apart []graph.PositionID,
	pieces func(graph.PositionID) int) error {
	if len(opened)+len(apart) == 0 {
		return nil
	}
	l := s.Library()
	circuits, err := l.CircuitsTouching(ctx, s.Variant.ID, slices.Concat(opened, apart))
	if err != nil {
		return err
	}
	around := slices.Clone(opened)
	for _, c := range circuits {
		around = append(around, c.Members...)
	}
	if err := s.Load(ctx, lists.Unique(around)...); err != nil {
		return err
	}
	jobs, err := l.Reader().Jobs(ctx)
	if err != nil {
		return err
	}
	w := worked{setup: s, opened: opened, circuits: circuits,
		places: lists.Mapped(lists.Unique(around), func(id graph.PositionID) graph.Position { return s.Position(id) })}
	w.jobs = graph.JobsAt(jobs, w.places)
	for _, id := range opened {
		q.Places = append(q.Places, PlaceTakes{At: id, Pieces: pieces(id), Takes: s.Position(id).Takes})
	}
	q.Fluids = append(w.fluids(), w.fills()...)
	return nil
}

// Made is what is made or ordered by its sizes.
type Made struct {
	What     string             `json:"what"` // "hose", "spacer", "bolt" ...
	Text     string             `json:"text"`
	Quantity int                `json:"quantity"`
	At       []graph.PositionID `json:"at,omitempty"`
	Spec     []mating.Field     `json:"spec,omitempty"`
}

// Refused is what somebody wants and must not be ordered.
type Refused struct {
	Part   graph.PartID       `json:"part"`
	Name   string             `json:"name,omitempty"`
	At     []graph.PositionID `json:"at,omitempty"`
	Safety graph.Safety       `json:"safety,omitempty"`
	Why    string             `json:"why"`
}

// FromBox is what need not be got, since it lies in a box of one's own.
type FromBox struct {
	Box      string             `json:"box"`
	Part     graph.PartID       `json:"part"`
	Name     string             `json:"name,omitempty"`
	Quantity int                `json:"quantity"`
	Kit      graph.PartID       `json:"kit,omitempty"` // the kit it is still in
	At       []graph.PositionID `json:"at,omitempty"`
	Why      []string           `json:"why"`
	Safety   graph.Safety       `json:"safety,omitempty"`
	Note     string             `json:"note,omitempty"` // of its owner on this piece
}

// List is what to get.
type List struct {
	// Rows are what to buy: by seller, the one with what blocks most first, then
	// by what blocks first.
	Rows []Row  `json:"rows"`
	Made []Made `json:"made"`
	// FromBoxes are what of the needs lies in boxes already.
	FromBoxes []FromBox `json:"from_boxes,omitempty"`
	// Consumables are what the work uses up.
	Consumables []Consumed `json:"consumables"`
	// Wanted is what is sold no more, with a line to look for it by.
	Wanted  []Wanted  `json:"wanted"`
	Refused []Refused `json:"refused"`
	Totals  []Total   `json:"totals"` // by currency
	// Unpriced is how many pieces nobody gave a price for.
	Unpriced int `json:"unpriced"`
	// Proved is true when no other choice of kits and packs costs less.
	Proved bool `json:"proved"`
}

// Row is one number to buy.
type Row struct {
	Seller   string       `json:"seller"`
	Part     graph.PartID `json:"part"`
	Name     string       `json:"name,omitempty"`
	Quantity int          `json:"quantity"`
	Price    string       `json:"price,omitempty"`    // of one, as written
	Currency string       `json:"currency,omitempty"` // of the sum
	Sum      float64      `json:"sum,omitempty"`      // of all pieces; 0 when nobody gave a price
	// Gives is what of the list a kit or pack holds, Over how many pieces it holds
	// that nothing needs.
	Gives []evidence.ContentLine `json:"gives,omitempty"`
	Over  int                    `json:"over,omitempty"`
	// For are the older numbers that were asked for and this one takes the place
	// of.
	For     []graph.PartID     `json:"for,omitempty"`
	At      []graph.PositionID `json:"at,omitempty"`
	Why     []string           `json:"why"`
	Safety  graph.Safety       `json:"safety,omitempty"`
	HoldsUp int                `json:"holds_up"`
	Remarks []string           `json:"remarks,omitempty"`
}

// Total is the sum of what has a price, in one currency.
type Total struct {
	Currency string  `json:"currency"`
	Sum      float64 `json:"sum"`
}

// Make makes the list. Errors come from the reader.
func Make(ctx context.Context, r graph.Reader, q Question) (List, error) {
	m := &maker{r: r, q: q, wanted: map[graph.PartID]*wanting{}, parts: map[graph.PartID]graph.Part{}}
	l := List{Rows: []Row{}, Made: append([]Made{}, q.Made...), Consumables: consumables(q.Places, q.Fluids),
		Wanted:  []Wanted{},
		Refused: append([]Refused{}, q.Refused...), Totals: []Total{}, Proved: true}
	if err := readLines(ctx, m); err != nil {
		return l, err
	}
	if err := m.needAll(ctx); err != nil {
		return l, err
	}
	m.takeStock()
	l.FromBoxes = m.takeBoxed()
	maps.DeleteFunc(m.wanted, func(_ graph.PartID, w *wanting) bool { return w.quantity == 0 })
	if err := readGoods(ctx, m); err != nil {
		return l, err
	}
	var err error
	if l.Wanted, err = secondHand(ctx, m); err != nil {
		return l, err
	}
	if err := choose(ctx, m, &l); err != nil {
		return l, err
	}
	for i, refused := range l.Refused {
		l.Refused[i].Name = m.parts[refused.Part].Name
	}
	l.sort()
	l.addUp()
	return l, inSize(ctx, r, l.Made)
}

// maker makes one list.
type maker struct {
	r      graph.Reader
	q      Question
	ways   evidence.Ways
	parts  map[graph.PartID]graph.Part
	wanted map[graph.PartID]*wanting // by the number to buy
	prices map[graph.PartID]price
	kits   []graph.Part // that hold something of what is wanted, sorted
	scale  string       // the currency that money is counted in
}

// wanting is one number to buy, from all the needs for it.
type wanting struct {
	quantity int
	renewed  int            // of these, what goes on new every time
	asked    []graph.PartID // older numbers that were asked for
	gone     bool           // sold no more
	kitOnly  bool           // sold no more but in a kit
	why      []string
	at       []graph.PositionID
	remarks  []string
	safety   graph.Safety
	holdsUp  int
}

func (w *wanting) add(n Need) {
	w.quantity += n.Quantity
	if n.Why == WhyRenew {
		w.renewed += n.Quantity
	}
	w.at = append(w.at, n.At...)
	w.why = append(w.why, n.Why)
	if n.Remark != "" {
		w.remarks = append(w.remarks, n.Remark)
	}
	w.holdsUp = max(w.holdsUp, n.HoldsUp)
	w.safety = weightier(w.safety, n.Safety)
}

// weightier is the safety class that is named first among the classes.
func weightier(a, b graph.Safety) graph.Safety {
	if b.Place() < a.Place() {
		return b
	}
	return a
}

// needAll adds all needs, those for themselves first: what stands on the list at its own
// place is not wanted once more because it goes with another part too.
func (m *maker) needAll(ctx context.Context) error {
	var companions []Need
	for _, n := range m.q.Needs {
		if n.Companion {
			companions = append(companions, n)
			continue
		}
		with, err := m.need(ctx, n, n.At)
		if err != nil {
			return err
		}
		companions = append(companions, with...)
	}
	spare := maps.Clone(m.q.Given)
	if spare == nil {
		spare = map[graph.PartID]int{}
	}
	for number, w := range m.wanted {
		spare[number] += w.quantity
	}
	for len(companions) > 0 {
		n := companions[0]
		companions = companions[1:]
		number, err := m.numberFor(ctx, n.Part, nil)
		if err != nil {
			return err
		}
		served := min(n.Quantity, spare[number.Part])
		spare[number.Part] -= served
		if n.Quantity -= served; n.Quantity == 0 {
			continue
		}
		with, err := m.need(ctx, n, nil)
		if err != nil {
			return err
		}
		companions = append(companions, with...)
	}
	return nil
}

// numbered is the number under which a need is counted.
type numbered struct {
	Sold
	sold  graph.PartID // what may be changed along with is a matter of this one
	inKit bool         // sold in a kit only, of which Part is a piece
}

// numberFor finds the number under which a part is counted: that which is sold today, and
// of a kit the piece in it. At are the places where the part itself goes, as far as known.
func (m *maker) numberFor(ctx context.Context, part graph.PartID, at []graph.PositionID) (numbered, error) {
	c, err := currentNumber(ctx, m, part, at)
	n := numbered{Sold: c, sold: c.Part}
	if piece := m.pieceOf(c.Part, part); piece != "" {
		n.Part, n.inKit = piece, true
	}
	return n, err
}

// need adds a need under the number that is sold today, and gives what must be
// changed along with it. What is sold in a kit now is counted in pieces of what the
// kit holds of it: a kit of two seals serves both legs. At are the places where the part
// itself goes, as far as that is known.
func (m *maker) need(ctx context.Context, n Need, at []graph.PositionID) ([]Need, error) {
	c, err := m.numberFor(ctx, n.Part, at)
	if err != nil {
		return nil, err
	}
	w := m.wanted[c.Part]
	if w == nil {
		w = &wanting{gone: c.Gone}
		m.wanted[c.Part] = w
	}
	if c.inKit && !w.kitOnly {
		w.kitOnly = true
		w.remarks = append(w.remarks, string(c.Part)+" is sold in a kit only")
	}
	if c.Part != n.Part && !slices.Contains(w.asked, n.Part) {
		w.asked = append(w.asked, n.Part)
	}
	if c.Remark != "" && !c.inKit {
		w.remarks = append(w.remarks, c.Remark)
	}
	w.add(n)
	return lists.Mapped(c.With, func(with evidence.ContentLine) Need {
		return Need{Part: with.Part, Quantity: with.Quantity * n.Quantity, At: n.At, Why: "goes with " + string(c.sold),
			Safety: n.Safety, HoldsUp: n.HoldsUp, Companion: true}
	}), nil
}

// pieceOf is the part in a kit that goes where another one does, which the kit took the
// place of; empty where the kit holds none, or is not sold itself.
func (m *maker) pieceOf(kit, part graph.PartID) graph.PartID {
	if kit == part || m.parts[kit].Gone || len(m.ways.ByOld[kit]) > 0 {
		return ""
	}
	may := mayGo(m, part)
	at := slices.IndexFunc(may, func(id graph.PartID) bool { return m.parts[kit].Holds(id) > 0 })
	if at < 0 {
		return ""
	}
	return may[at]
}

// takeStock takes off what lies about.
func (m *maker) takeStock() {
	for _, id := range lists.KeysOf(m.wanted) {
		for _, number := range append([]graph.PartID{id}, m.wanted[id].asked...) {
			m.wanted[id].quantity -= min(m.wanted[id].quantity, m.q.Stock[number])
		}
	}
}

// takeBoxed takes off what lies in boxes, and says what.
func (m *maker) takeBoxed() []FromBox {
	var all []FromBox
	boxes := slices.Clone(m.q.Boxes)
	for _, id := range lists.KeysOf(m.wanted) {
		w := m.wanted[id]
		for i, b := range boxes {
			most := w.quantity
			if !b.IsUnused() {
				most -= w.renewed
			}
			n := min(most, b.Quantity)
			if n <= 0 || !b.IsProved() || b.Part != id && !slices.Contains(w.asked, b.Part) {
				continue
			}
			w.quantity -= n
			boxes[i].Quantity -= n
			all = append(all, FromBox{Box: b.Box, Part: b.Part, Name: m.parts[b.Part].Name, Quantity: n, Kit: b.Kit,
				At: lists.Unique(slices.Clone(w.at)), Why: lists.Unique(slices.Clone(w.why)), Safety: w.safety,
				Note: b.Item.Note})
		}
	}
	return all
}

// toBuy are the numbers that are sold, sorted.
func (m *maker) toBuy() []graph.PartID {
	return lists.Kept(lists.KeysOf(m.wanted), func(id graph.PartID) bool { return !m.wanted[id].gone })
}

// against is why a newer number does not go to one of the places where an older one is
// wanted, as far as that is judged; empty when nothing is against it. One that goes with
// other parts is not judged alone.
func (m *maker) against(ctx context.Context, c evidence.Lineage, at []graph.PositionID) (string, error) {
	newer := c.Target
	with := slices.ContainsFunc(c.Edges, func(e graph.Supersession) bool { return len(e.Companions) > 0 })
	if m.q.WhyNot == nil || with || m.parts[newer].IsKit() {
		return "", nil
	}
	for _, id := range at {
		if why, err := m.q.WhyNot(ctx, newer, id); err != nil || why != "" {
			return fmt.Sprintf("%s takes its place and does not go to %s: %s", newer, id.Local(), why), err
		}
	}
	return "", nil
}

// takeFromKits has what is sold no more by itself be bought in a kit that is sold. A
// number that was superseded stays to be looked for: there is a reason why it went.
func (m *maker) takeFromKits() {
	for id, w := range m.wanted {
		isHeld := slices.ContainsFunc(m.kits, func(k graph.Part) bool { return k.Holds(id) > 0 })
		if w.gone && isHeld && len(m.ways.ByOld[id]) == 0 {
			w.gone, w.kitOnly = false, true
			w.remarks = append(w.remarks, string(id)+" is sold in a kit only")
		}
	}
}

func (l *List) sort() {
	urgent := map[string]Row{}
	for _, row := range l.Rows {
		first, seen := urgent[row.Seller]
		if !seen || compareRows(row, first) < 0 {
			urgent[row.Seller] = row
		}
	}
	slices.SortFunc(l.Rows, func(a, b Row) int {
		if a.Seller != b.Seller {
			return cmp.Or(compareUrgency(urgent[a.Seller], urgent[b.Seller]), cmp.Compare(a.Seller, b.Seller))
		}
		return compareRows(a, b)
	})
}

// compareUrgency puts what holds up more first, then what more hangs on.
func compareUrgency(a, b Row) int {
	return cmp.Or(-cmp.Compare(a.HoldsUp, b.HoldsUp), cmp.Compare(a.Safety.Place(), b.Safety.Place()))
}

func compareRows(a, b Row) int { return cmp.Or(compareUrgency(a, b), cmp.Compare(a.Part, b.Part)) }

// addUp sums what has a price, by currency.
func (l *List) addUp() {
	sums := map[string]float64{}
	for _, row := range l.Rows {
		if row.Price == "" {
			l.Unpriced += row.Quantity
			continue
		}
		sums[row.Currency] += row.Sum
	}
	for _, currency := range lists.KeysOf(sums) {
		l.Totals = append(l.Totals, Total{currency, sums[currency]})
	}
}

// SafetyOpen reports whether something that safety hangs on was left out, since it
// will not go, or is sold no more.
func (l List) SafetyOpen() bool {
	return slices.ContainsFunc(l.Refused, func(r Refused) bool { return r.Safety != "" }) ||
		slices.ContainsFunc(l.Wanted, func(w Wanted) bool { return w.Safety != "" })
}
