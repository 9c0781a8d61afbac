package swap

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
)

// SwapQuestion asks what putting other parts on a machine implies.
type SwapQuestion struct {
	On     string // a variant, or a user's own bike; see MachineQuestion
	Market string
	Frame  string
	Scheme string        // colour scheme of the machine; empty takes the first
	Swaps  []Replacement // at least one; no position twice
}

// Replacement is one part for one position, both as a person types them. The part
// "none" takes off what is there.
type Replacement struct {
	Position string
	Part     string
}

// NoPart is what a person types to take a part off.
const NoPart = "none"

// SwapAnswer is the answer to a SwapQuestion. Every list is in a stable order.
type SwapAnswer struct {
	ID string          `json:"id"` // see SwapID
	On graph.VariantID `json:"on"`
	// Covers are the variants asked about for which this is the answer; On is
	// the first of them.
	Covers []queries.Coverage `json:"covers"`
	Bike   graph.BikeID       `json:"bike,omitempty"`
	// Scheme is the colour scheme that the machine is taken to have.
	Scheme string     `json:"scheme,omitempty"`
	Swaps  []SwapLine `json:"swaps"`
	// Verdict is the worst of all that is judged; Ready is false as soon as
	// something safety-relevant is unknown or does not fit, with what was asked for
	// or with all of Get on as well, or fits only once something is got, made, altered
	// or looked at, and NotReady says what.
	Verdict  graph.Verdict `json:"verdict"`
	Ready    bool          `json:"ready_to_ride"`
	NotReady []Hindrance   `json:"not_ready,omitempty"`

	Mates       []examine.Outcome `json:"mates"`         // fits as it is
	WithChanges []examine.Outcome `json:"with_changes"`  // fits once something is done
	DoesNotMate []examine.Outcome `json:"does_not_mate"` // wanted, had and gap are in the checks
	Unknown     []examine.Outcome `json:"unknown"`
	// Before did not fit before either, at a place that the swap touches; it is
	// in none of the lists above.
	Before []examine.Outcome `json:"before,omitempty"`
	// Differs is in what the new parts differ from those they replace, with what
	// judged it; never nil.
	Differs []examine.Differs `json:"differs"`
	// NotJudged is what no rule judged about the changed places, what decides
	// first within each place; never nil.
	NotJudged []examine.NotJudged `json:"not_judged"`

	Get       []Get             `json:"get"`     // parts that close the gaps, else what to order
	Renew     []RenewRow        `json:"renew"`   // to be renewed anyway
	Measure   []MeasureRow      `json:"measure"` // what to measure first
	Numbers   []examine.Number  `json:"numbers"` // before and after
	Torques   []TorqueRow       `json:"torques"`
	Trails    []Trail           `json:"trails"`              // each consequence to its end
	Then      *SwapThen         `json:"then,omitempty"`      // with all of Get on, parts and what is made
	Conflicts []Conflict        `json:"conflicts,omitempty"` // sources against one another, or against the dimensions
	Cautions  []queries.Caution `json:"cautions,omitempty"`
}

// SafetyOpen reports whether something safety-relevant is unknown or does not fit: as
// it is, or with all on that there is to get, where what was to put it right does not.
func (a SwapAnswer) SafetyOpen() bool { return !a.Ready || a.Then != nil && !a.Then.Ready }

// SwapLine is one of the swaps as understood.
type SwapLine struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Was      graph.PartID     `json:"was,omitempty"` // empty when nothing is known to sit there
	WasName  string           `json:"was_name,omitempty"`
	WasWhy   string           `json:"was_why"`
	// WasByBook is true at a place of a machine in pieces of which nothing is noted: the
	// book's part counts.
	WasByBook bool `json:"-"`
	// WasElse are other parts that sources name there for this machine.
	WasElse []graph.PartID `json:"was_else,omitempty"`
	Now     graph.PartID   `json:"now,omitempty"` // empty when it is taken off
	NowName string         `json:"now_name,omitempty"`
	// BuiltOn is a machine the new part comes from; empty when no source lists
	// it anywhere but here.
	BuiltOn graph.VariantID `json:"built_on,omitempty"`
	// Box is where the new part lies already, of the boxes of the machine.
	Box string `json:"box,omitempty"`
	// FromKit is the kit that was asked for, when the part is taken out of one.
	FromKit graph.PartID `json:"from_kit,omitempty"`
	// Note says of a new part that gave way to another why it must not go back in
	// its place.
	Note string `json:"note,omitempty"`
	// Earned says by what the place came by its verdict: judged, measures the
	// same, listed, found; empty when by nothing, and then it is unknown.
	Earned examine.Earned `json:"earned_by,omitempty"`

	kind graph.KindID // of what belongs at the place
}

// SwapThen is what the swap comes to with all of Get on as well: the parts, and
// what is ordered or made as it says.
type SwapThen struct {
	// ID is that of the swap with the parts of Get in it as well; see SwapID.
	ID      string        `json:"id"`
	Verdict graph.Verdict `json:"verdict"`
	// OnceMade is true where something must be made or ordered by its sizes: the
	// verdict holds once that was made and measured.
	OnceMade bool        `json:"once_made"`
	Ready    bool        `json:"ready_to_ride"`
	NotReady []Hindrance `json:"not_ready,omitempty"`
	// Left are the outcomes that are then still worse than before.
	Left []examine.Outcome `json:"left"`
	// Figures are numbers that pass a limit, or that can't be held against one.
	Figures []string `json:"figures,omitempty"`
	// Numbers are those of them that come out otherwise than without these parts, or that
	// nothing asked for before.
	Numbers []examine.Number `json:"numbers,omitempty"`

	fitted map[graph.PositionID]graph.PartID // parts of Get that take a place
	on     *machine.Setup                    // the machine that Left was judged on
}

// Swap answers what a swap on one machine implies. Errors are *NotFoundError or
// *AmbiguousError, say what of the swaps can't be understood, or come from the reader. See SwapEach for a
// model year that holds several variants.
func Swap(ctx context.Context, r graph.Reader, q SwapQuestion) (SwapAnswer, error) {
	s, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, q.Scheme)
	if err != nil {
		return SwapAnswer{}, err
	}
	return answerOn(ctx, s, q)
}

// answerOn answers for a machine as it stands.
func answerOn(ctx context.Context, s *machine.Setup, q SwapQuestion) (SwapAnswer, error) {
	before, after, kits, err := swapSetups(ctx, s, q)
	if err != nil {
		return SwapAnswer{}, err
	}
	a, err := answer(ctx, examine.From(before), after, Asked{Ready: true, Kits: kits})
	a.named(q)
	return a, err
}

// swapSetups are the machine before and after the swap, and the kits that were
// asked for, by position.
func swapSetups(ctx context.Context, s *machine.Setup,
	q SwapQuestion) (before, after *machine.Setup, kits map[graph.PositionID]graph.PartID, err error) {
	before = s
	changes, kits, err := ReadSwaps(ctx, before, q.Swaps)
	if err != nil {
		return nil, nil, nil, err
	}
	if after, err = before.With(ctx, changes); err != nil {
		return nil, nil, nil, err
	}
	if scheme := schemeOfChanges(after); q.Scheme == "" && before.Bike == nil && scheme != before.Scheme {
		before = before.Sibling(before.Variant, scheme)
		after, err = before.With(ctx, changes)
	}
	return before, after, kits, err
}

// schemeOfChanges is the colour scheme of the first changed panel that belongs
// to one the machine was sold in: the machine is taken to have it when nobody
// said otherwise.
func schemeOfChanges(s *machine.Setup) string {
	for _, id := range s.Changed() {
		f, _ := machine.Painted(s.Seat(id).Part)
		if scheme := machine.BestText(f, "scheme"); slices.Contains(s.Variant.Schemes, scheme) {
			return scheme
		}
	}
	return s.Scheme
}

// SwapTo is Swap for a machine before and after, with names as Asked.Unnamed has them.
func SwapTo(ctx context.Context, before *examine.Before, after *machine.Setup) (SwapAnswer, error) {
	return answer(ctx, before, after, Asked{Ready: true, Unnamed: true})
}

// Between answers, and gives the machine before and after as well, for who asks
// about them further.
func Between(
	ctx context.Context, r graph.Reader, q SwapQuestion,
) (before, after *machine.Setup, a SwapAnswer, err error) {
	s, err := machine.NewSetup(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame}, q.Scheme)
	if err != nil {
		return nil, nil, a, err
	}
	before, after, kits, err := swapSetups(ctx, s, q)
	if err != nil {
		return nil, nil, a, err
	}
	a, err = answer(ctx, examine.From(before), after, Asked{Ready: true, Kits: kits})
	a.named(q)
	return before, after, a, err
}

func answer(ctx context.Context, stood *examine.Before, after *machine.Setup, asked Asked) (SwapAnswer, error) {
	j, err := Judge(ctx, stood, after, asked)
	a := j.Answer
	if err != nil {
		return a, err
	}
	f, trails, then, err := j.offers(ctx, stood, after)
	if err != nil {
		return a, err
	}
	a.Trails, a.Get = trails, f.gets
	if err := a.findBoxed(ctx, stood.Setup()); err != nil {
		return a, err
	}
	a.Renew = WithoutOrdered(renew(j.x, j.Outcomes, f.fitted), f.gets)
	a.Torques = lists.Mapped(a.Torques, func(r TorqueRow) TorqueRow { return r.OnceMade(f.gets) })
	a.closedWith(then)
	j.endsAs(&a, then)
	return a, nil
}

// findBoxed notes what of the parts asked for, and of those to get, lies in the boxes of
// the machine.
func (a *SwapAnswer) findBoxed(ctx context.Context, before *machine.Setup) error {
	boxed, err := boxesOf(ctx, before, nil)
	stock := machine.Stock(boxed)
	for i, line := range a.Swaps {
		if line.Now != "" {
			a.Swaps[i].Box = stock.Take(line.Now, before.Quantity(line.Position))
		}
	}
	for i, g := range a.Get {
		if !g.IsOrdered() {
			if a.Get[i].Box = stock.Take(g.Part, max(1, g.Quantity)); a.Get[i].Box != "" {
				a.Get[i].Price = "" // there is nothing to pay
			}
		}
	}
	return err
}

// closedWith notes of the parts to get what each puts right besides what it was looked for:
// what does not mate at its place without it, and is not among what is left with all on.
func (a *SwapAnswer) closedWith(then *SwapThen) {
	if then == nil {
		return
	}
	for _, o := range a.DoesNotMate {
		isLeft := slices.ContainsFunc(then.Left, func(left examine.Outcome) bool { return left.Key() == o.Key() })
		if isLeft || IsClosed(*a, o) {
			continue
		}
		for i, g := range a.Get {
			if g.What == GetPart && then.fitted[g.Position] == g.Part && o.SpeaksOf(g.Position) {
				a.Get[i] = g.Closing(o)
			}
		}
	}
}

// sort puts the outcomes into the sections of the answer.
func (a *SwapAnswer) sort(outcomes []examine.Outcome) {
	for _, o := range outcomes {
		switch o.After {
		case graph.Fits:
			a.Mates = append(a.Mates, o)
		case graph.FitsWithChanges:
			a.WithChanges = append(a.WithChanges, o)
		case graph.DoesNotFit:
			a.DoesNotMate = append(a.DoesNotMate, o)
		default:
			a.Unknown = append(a.Unknown, o)
		}
	}
}

// content is all that an answer says but for the variant it says it of.
func (a SwapAnswer) content() (string, error) {
	plain := a
	plain.ID, plain.On, plain.Covers = "", "", nil
	plain.Mates, plain.WithChanges = anonymous(a.Mates), anonymous(a.WithChanges)
	plain.DoesNotMate, plain.Unknown = anonymous(a.DoesNotMate), anonymous(a.Unknown)
	plain.Numbers = lists.Mapped(a.Numbers, func(n examine.Number) examine.Number {
		n.AnswerID = ""
		return n
	})
	if a.Then != nil {
		then := *a.Then
		then.ID = ""
		then.Left = anonymous(then.Left)
		plain.Then = &then
	}
	text, err := json.Marshal(plain)
	return string(text), err
}

// named gives the answer and its outcomes the identities that they can be asked
// about by.
func (a *SwapAnswer) named(q SwapQuestion) {
	id := SwapID{On: string(a.On), Scheme: q.Scheme}
	if a.Bike != "" {
		id.On = string(a.Bike)
	}
	for _, line := range a.Swaps {
		part := string(line.Now)
		if part == "" {
			part = NoPart
		}
		id.Swaps = append(id.Swaps, Replacement{Position: line.Position.Local(), Part: part})
	}
	a.ID = id.String()
	for _, list := range [][]examine.Outcome{a.Mates, a.WithChanges, a.DoesNotMate, a.Unknown} {
		for i := range list {
			id.Outcome = OutcomeName(list[i])
			list[i].AnswerID = id.String()
		}
	}
	for i := range a.Numbers {
		id.Outcome = numberName(a.Numbers[i])
		a.Numbers[i].AnswerID = id.String()
	}
	a.Then.named(id)
}

// named gives what is left with everything on the identities of the swap that
// has those parts in it too. What is made, and what goes between two parts, has
// no position and is in none, so that an outcome with such a part in it has no
// identity: asked about again it would come out as without that part.
func (t *SwapThen) named(id SwapID) {
	if t == nil {
		return
	}
	id.Outcome = ""
	id.Swaps = lists.Kept(slices.Clone(id.Swaps), func(r Replacement) bool {
		return !slices.ContainsFunc(lists.KeysOf(t.fitted),
			func(at graph.PositionID) bool { return at.Local() == r.Position })
	})
	for _, at := range lists.KeysOf(t.fitted) {
		id.Swaps = append(id.Swaps, Replacement{Position: at.Local(), Part: string(t.fitted[at])})
	}
	t.ID = id.String()
	for i := range t.Left {
		if id.Outcome = OutcomeName(t.Left[i]); !hasMade(t.on, t.Left[i]) {
			t.Left[i].AnswerID = id.String()
		}
	}
}

// hasMade reports whether one of the parts of an outcome was made, altered or packed,
// or has another one put between it and the next.
func hasMade(s *machine.Setup, o examine.Outcome) bool {
	if s == nil {
		return false
	}
	if _, between := s.Between(o.Joint.ID); between {
		return true
	}
	return slices.ContainsFunc(o.Ends, func(e examine.End) bool {
		seat := s.Seat(e.Position)
		return seat.Made || seat.Packed > 0
	})
}

// VerdictWords are the words for what a swap or plan comes to with what is to be
// got on: never a bare "fits" where something must be made first.
func (t *SwapThen) VerdictWords() string {
	if t.OnceMade && (t.Verdict == graph.Fits || t.Verdict == graph.FitsWithChanges) {
		return onceMade
	}
	return t.Verdict.String()
}

// Closing is what to get so that the swap goes on, parts by their numbers and
// what is made by its sizes; nothing that is for the sake of the places in without alone.
func (a SwapAnswer) Closing(without ...graph.PositionID) (needs []shop.Need, made []shop.Made) {
	for _, g := range a.Get {
		if g.IsWork() || a.isForAlone(g, without) {
			continue
		}
		at := []graph.PositionID{}
		if g.Position != "" {
			at = append(at, g.Position)
		}
		if g.IsOrdered() {
			made = append(made, shop.Made{What: g.What, Text: g.Text, Quantity: max(1, g.Quantity), At: at, Spec: g.Spec})
			continue
		}
		needs = append(needs, shop.Need{Part: g.Part, Quantity: max(1, g.Quantity), At: at, Why: shop.WhyCloses,
			Safety: safetyOf(a, g)})
	}
	return needs, made
}

// LinkMade is what to order of a link that goes by the maker of its chain.
func LinkMade(row RenewRow) shop.Made {
	return shop.Made{What: "connecting link", Text: row.Text, Quantity: 1, At: []graph.PositionID{row.Position}}
}

// isForAlone reports whether all that something closes is at some of the places.
func (a SwapAnswer) isForAlone(g Get, places []graph.PositionID) bool {
	at := func(e examine.End) bool { return slices.Contains(places, e.Position) }
	closed := lists.Kept(slices.Concat(a.DoesNotMate, a.WithChanges, a.Unknown), g.doesClose)
	return len(closed) > 0 && !slices.ContainsFunc(closed, func(o examine.Outcome) bool {
		return !slices.ContainsFunc(o.Ends, at)
	})
}

// Refused are the places at which what was asked for does not go, whatever is done, and
// nothing is to be got that goes there instead.
func (a SwapAnswer) Refused() []graph.PositionID {
	var at []graph.PositionID
	for _, line := range a.Swaps {
		if _, why := Closers(a, line.Position); line.Now != "" && why != "" && a.instead(line) == nil {
			at = append(at, line.Position)
		}
	}
	return at
}

// instead is what is to be got or ordered in the place of what was asked for, since that
// does not do there as it is; nil where nothing is.
func (a SwapAnswer) instead(line SwapLine) *Get {
	outcomes := slices.Concat(a.DoesNotMate, a.WithChanges, a.Unknown)
	for _, g := range a.Get {
		isThere := g.Position == line.Position && g.What == GetPart
		if g.IsOrdered() && IsOrderFor(g.What, line.kind) {
			isThere = g.Position == line.Position || slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
				return g.doesClose(o) && slices.Contains(o.Joint.Fasteners, line.Position)
			})
		}
		if isThere {
			return &g
		}
	}
	return nil
}

// PartsOn are the parts that sit where the swap and what closes its gaps change something,
// empty where nothing does any more.
func (a SwapAnswer) PartsOn() map[graph.PositionID]graph.PartID {
	on := map[graph.PositionID]graph.PartID{}
	for _, line := range a.Swaps {
		on[line.Position] = line.Now
	}
	for _, g := range a.Get {
		if g.What == GetPart && g.Part != "" && g.Position != "" {
			on[g.Position] = g.Part
		}
	}
	return on
}

// ShopQuestion is what to make one list of for a swap on the machine before it:
// the parts asked for, what closes the gaps, what goes on new, and what the work
// uses up. A part asked for that does not go there, whatever is done, is left out
// and said; bike is nil for a variant. Renew of the answer must hold what the order of
// work renews besides; apart are the ends of the joints it opens that fluid passes through.
func (a SwapAnswer) ShopQuestion(ctx context.Context, before *machine.Setup,
	apart []graph.PositionID) (shop.Question, error) {
	then, err := before.With(ctx, a.PartsOn())
	if err != nil {
		return shop.Question{}, err
	}
	q := shop.Question{On: before.Variant, WhyNot: WhyNotOn(examine.From(then))}
	if before.Bike != nil {
		q.Frame = before.Bike.Frame
	}
	var places, refused []graph.PositionID
	for _, line := range a.Swaps {
		if line.Now == "" {
			places = append(places, line.Position)
			continue
		}
		instead := a.instead(line)
		_, why := Closers(a, line.Position)
		if why == "" && instead != nil {
			why = instead.Text + " goes there"
		}
		if why != "" {
			q.Refused = append(q.Refused, shop.Refused{Part: line.Now, At: []graph.PositionID{line.Position},
				Safety: line.Safety,
				Why:    why})
			if instead == nil {
				refused = append(refused, line.Position)
			} else {
				places = append(places, line.Position)
			}
			continue
		}
		places = append(places, line.Position)
		q.Needs = append(q.Needs, shop.Need{Part: line.Now, Quantity: before.Quantity(line.Position),
			At: []graph.PositionID{line.Position}, Why: shop.WhyAsked, Safety: line.Safety})
	}
	if len(places) == 0 {
		return q, nil // nothing is done, and nothing is wanted for it
	}
	needs, made := a.Closing(refused...)
	q.Needs, q.Made = append(q.Needs, needs...), made
	for _, row := range a.Renew {
		if row.refills {
			places = append(places, row.Position)
		}
		if row.Link {
			q.Made = append(q.Made, LinkMade(row))
		}
		if row.Part == "" {
			continue // fluid, or in words what the place takes
		}
		places = append(places, row.Position)
		q.Needs = append(q.Needs, shop.Need{Part: row.Part, Quantity: max(1, row.Quantity),
			At:  []graph.PositionID{row.Position},
			Why: shop.WhyRenew, Safety: before.Position(row.Position).Safety})
	}
	if q.Boxes, err = boxesOf(ctx, before, q.Needs); err != nil {
		return q, err
	}
	return q, q.UsesUp(ctx, before, lists.Unique(places), apart, before.Quantity)
}

// NewShopAnswer is the list of a swap before anything is on it. Whether the machine
// may be ridden is said with all that is on the list fitted.
func NewShopAnswer(a SwapAnswer) ShopAnswer {
	list := ShopAnswer{On: a.On, Bike: a.Bike, Swaps: a.Swaps, Cautions: a.Cautions}
	list.Ready, list.NotReady = a.WithAll()
	list.NotReady = a.withMore(list.NotReady)
	return list
}

// withMore says, of what stands against riding because there are too few bolts, that the list
// brings enough.
func (a SwapAnswer) withMore(all []Hindrance) []Hindrance {
	outcomes := slices.Clone(a.WithChanges)
	if a.Then != nil {
		outcomes = append(outcomes, a.Then.Left...)
	}
	more := map[string]int{}
	for _, o := range outcomes {
		for _, g := range a.Get {
			if g.IsMore() && g.doesClose(o) {
				more[hindranceOf(o).What] = g.Quantity
			}
		}
	}
	all = slices.Clone(all)
	for i, h := range all {
		if n := more[h.What]; n > 0 && h.IsWork() {
			all[i].Why += fmt.Sprintf("; the list brings %d", n)
		}
	}
	return all
}

// WithAll is whether the machine may be ridden with all on that is to be got, and what
// stands against it.
func (a SwapAnswer) WithAll() (ready bool, notReady []Hindrance) {
	if a.Then != nil {
		return a.Then.Ready, a.Then.NotReady
	}
	return a.Ready, a.NotReady
}
