package swap

import (
	"context"
	"crypto/sha256"
	"fmt"
	"reflect"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Trials tries single parts on a machine, each alone and at one place, as Judge judges
// it: what is the same for all of them is read and worked out once. It is for questions
// that try many, and gives no more than the verdict and what that rests on.
type Trials struct {
	before  *examine.Before
	around  examine.Near
	known   Known
	sayings *fits.Sayings
}

// Known is what was judged on all machines of a question, by all that decides it: most
// variants of a model are alike around most places.
type Known struct {
	outcomes examine.Decided
	whole    map[examine.Decider]Tried
}

// NewKnown knows nothing yet.
func NewKnown() Known { return Known{outcomes: examine.Decided{}, whole: map[examine.Decider]Tried{}} }

// Tried is all that a part comes to at a place. What a place has not earned is not
// looked for where something measures so that it does not fit.
type Tried struct {
	Outcomes []examine.Outcome // what is said first, then what was worked out
	Numbers  []examine.Number
}

// Unpainted is it without what is said of the finish: a part of another colour goes on
// all the same.
func (t Tried) Unpainted() Tried { return t.without(examine.OfFinish) }

// Unsaid is what was worked out, without what sources say.
func (t Tried) Unsaid() Tried { return t.without(examine.OfWord) }

func (t Tried) without(what string) Tried {
	if !slices.ContainsFunc(t.Outcomes, func(o examine.Outcome) bool { return o.What == what }) {
		return t // as nearly all are: outcomes are large
	}
	t.Outcomes = lists.Kept(t.Outcomes, func(o examine.Outcome) bool { return o.What != what })
	return t
}

// Verdict is what it comes to together, as that of a SwapAnswer.
func (t Tried) Verdict() graph.Verdict { return leftVerdict(t.Outcomes, t.Numbers) }

// NewTrials reads what meets some places of a machine, in a few calls for all of them;
// said is what sources say of all parts that are to be tried there.
func NewTrials(ctx context.Context, s *machine.Setup, at []graph.PositionID, said *fits.Sayings,
	known Known) (*Trials, error) {
	around, err := examine.ConnectionsUnclassed(ctx, s, at)
	if err != nil {
		return nil, err
	}
	before := examine.From(s)
	return &Trials{before: before, around: around.Near(before), sayings: said, known: known}, nil
}

// Judge judges a part at a place: everything that it meets there, what sources say of it,
// its figures, and by what it earns the place.
func (t *Trials) Judge(ctx context.Context, at graph.PositionID, part graph.PartID) (Tried, error) {
	s := t.before.Setup()
	after, err := s.With(ctx, map[graph.PositionID]graph.PartID{at: part})
	if err != nil {
		return Tried{}, err
	}
	if err := after.Library().ReadKinds(ctx, []graph.KindID{after.Library().Part(part).Kind}); err != nil {
		return Tried{}, err
	}
	x := judgingBy(t.around.At(at).Examiner(t.before, after).Afterwards(), t.said)
	all, err := x.met(ctx, trialScope(at, t.known.outcomes))
	if err != nil {
		return Tried{}, err
	}
	whys := lists.Mapped(all.Outcomes[:all.said], func(o examine.Outcome) string { return fmt.Sprint(o.After, o.Checks) })
	key := examine.Decider(sha256.Sum256(fmt.Append(nil, at, " ", after.Content(at), " for ", s.Content(at), " beside ",
		s.Content(machine.OtherSide(at)), " ", x.words[at], x.firstHand[at], whys, "\n", all.decidedBy)))
	if had, ok := t.known.whole[key]; ok && reflect.DeepEqual(had.Numbers, all.Numbers) {
		return had, nil
	}
	if all.Unsaid().Verdict() != graph.DoesNotFit {
		if _, err := x.earn(ctx, &all, false); err != nil {
			return Tried{}, err
		}
	}
	t.known.whole[key] = all.Tried
	return all.Tried, nil
}

// said takes what was read of all parts together. What is said of a kit hangs on what
// else is in it.
func (t *Trials) said(ctx context.Context, at fits.Spot) ([]fits.FitsRow, error) {
	s := t.before.Setup()
	if l := s.Library(); l.Part(at.Part).IsKit() {
		return fits.SaidAt(ctx, l.Reader(), at, s.Frame)
	}
	return t.sayings.Rows(at), nil
}
