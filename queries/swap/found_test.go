package swap_test

import (
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// shareOfFound is how many of all there are to try even CI tries one of: each is judged on two machines, twice.
const shareOfFound = 8

// A part that is put on a bike on which its pair was changed already is judged no better
// than both at once on the machine as built, whichever comes last: left and right, and the
// two yokes, each changed alike.
func TestSecondOfAPair(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		share, tried := sampletest.Share(t, set.share, shareOfFound), 0
		eachBuiltOf(t, set.facts, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
			kind := before.Library().Kind(part.Kind)
			if err := before.Load(t.Context(), machine.OtherSide(at.ID)); err != nil {
				t.Fatal(err)
			}
			for _, other := range partnersOf(before, set.facts.Positions, at, part) {
				for _, m := range mutantsOf(before.Variant.ID, at, part, kind) {
					twin, ok := m.onThe(other)
					if !ok || !share(m.name()) {
						continue
					}
					tried++
					secondOf(t, r, before, [2]mutant{m, twin}, true)
					secondOf(t, r, before, [2]mutant{twin, m}, true)
				}
			}
		})
		enough(t, tried, 12)
	}
}

// What two parts do to one another is judged alike when one of them is on the bike
// already: both ends of a joint, each changed alike. What was found there is another than
// built too, and says no more of what stays on the machine.
func TestSecondOfAJoint(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		share, tried := sampletest.Share(t, set.share, shareOfFound), 0
		r := mutantsOver(set.facts)
		eachPair(t, r, set.facts, set.facts.Joints, share, func(before *machine.Setup, p pairMutant) {
			tried++
			secondOf(t, r, before, p.ends, false)
			secondOf(t, r, before, [2]mutant{p.ends[1], p.ends[0]}, false)
		})
		enough(t, tried, 12)
	}
}

// partnersOf is what sits on the other side of a place, or in the other yoke; each pair
// once.
func partnersOf(s *machine.Setup, places []graph.Position, at graph.Position, part graph.Part) []machine.Seat {
	var found []machine.Seat
	for _, p := range places {
		seat := s.Seat(p.ID)
		if p.ID > at.ID && !seat.Empty && (p.ID == machine.OtherSide(at.ID) ||
			machine.HasKind(part, "yoke-offset") && machine.HasKind(seat.Part, "yoke-offset")) {
			found = append(found, seat)
		}
	}
	return found
}

// secondOf tries the second of two changes on a bike that has the first already against
// both at once on the machine as built. Of two that make a pair all that either of them
// touches must be told, else what the second takes part in.
func secondOf(t *testing.T, r *mutants, before *machine.Setup, ends [2]mutant, isPair bool) {
	t.Helper()
	put := map[graph.PositionID]graph.PartID{}
	for _, m := range ends {
		made := m.made()
		r.count++
		made.ID = graph.PartID(fmt.Sprintf("%s 9%08d", m.part.Brand, r.count))
		r.parts[made.ID] = made
		defer delete(r.parts, made.ID)
		put[m.at.ID] = made.ID
	}
	first, second := ends[0].at.ID, ends[1].at.ID
	onBike := machine.StartIn(before.Library(), before.Variant, before.Scheme)
	onBike.Bike = &graph.Bike{ID: "own", Variant: before.Variant.ID,
		Found: []graph.Fitted{{Position: first, Part: put[first]}}}
	both := changedOn(t, before, put)
	last := changedOn(t, onBike, map[graph.PositionID]graph.PartID{second: put[second]})
	then := lists.ByKey(last.Outcomes, examine.Outcome.Key)
	for _, o := range both.Outcomes {
		isSaid := o.ID == string(first) && examine.IsSaid(o)
		got := then[o.Key()]
		isTold := got.After != graph.NoVerdict // of a joint, what the second alone does not touch is not told again
		if !isSaid && isBetter(got, o) && (isPair || isTold && o.Concerns(second)) {
			t.Errorf("%s, then %s: %s %s is %s (%s), both at once %s (%s)", ends[0], ends[1], o.What, o.ID,
				got.After, got.Why, o.After, o.Why)
		}
	}
	isOpen := func(o examine.Outcome) bool { // of what the second takes part in, where no record is missing
		got, told := then[o.Key()]
		isOfFirst := told && len(got.Safety) == 0 // what hangs on it hangs on the first alone
		return !isOfFirst && !examine.IsSaid(o) && o.After > graph.Fits && o.IsOpen() && !o.HasWork() && o.IsWorse() &&
			slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == second })
	}
	if slices.ContainsFunc(both.Outcomes, isOpen) && last.Answer.Ready {
		t.Errorf("%s, then %s: ready to ride, both at once not: %v", ends[0], ends[1], both.Answer.NotReady)
	}
	for _, n := range both.Answer.Numbers { // a number that nobody can work out was none before the second either
		if isPair && n.Verdict == graph.DoesNotFit && !slices.ContainsFunc(last.Answer.Numbers, func(l examine.Number) bool {
			return l.Name == n.Name && l.Verdict >= n.Verdict
		}) {
			t.Errorf("%s, then %s: nothing of %s", ends[0], ends[1], n.Name)
		}
	}
}

// isBetter reports whether an outcome comes out better than another; whatever stands against
// riding alike is none: of what is on the bike already another may be offered.
func isBetter(got, than examine.Outcome) bool {
	return than.After > graph.Fits && got.After < than.After &&
		(than.IsOpen() && !got.IsOpen() || got.After == graph.NoVerdict)
}

func changedOn(t *testing.T, s *machine.Setup, put map[graph.PositionID]graph.PartID) swap.Judgement {
	t.Helper()
	after, err := s.With(t.Context(), put)
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), examine.From(s), after, swap.Asked{Ready: true})
	if err != nil {
		t.Fatal(err)
	}
	return j
}
