package swap_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/differ"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// These tests ask one thing two ways. Where two answers differ, the stricter one is
// right: each test names what may differ, and why.

// swapOne judges one part at one place of a machine as built.
func swapOne(t *testing.T, before *machine.Setup, at graph.PositionID, part graph.PartID) swap.SwapAnswer {
	t.Helper()
	after, err := before.With(t.Context(), map[graph.PositionID]graph.PartID{at: part})
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), examine.From(before), after, swap.Asked{})
	if err != nil {
		t.Fatalf("%s at %s: %v", part, at, err)
	}
	return j.Answer
}

func variantNamed(t *testing.T, facts graph.Facts, id graph.VariantID) graph.Variant {
	t.Helper()
	i := slices.IndexFunc(facts.Variants, func(v graph.Variant) bool { return v.ID == id })
	if i < 0 {
		t.Fatalf("no variant %s", id)
	}
	return facts.Variants[i]
}

// TestDifferAgreesWithSwap: whether the part of one machine goes on the other comes
// out the same, asked of both machines or of the one it is put on. Paint is left out:
// a part of another colour goes on, and a swap says that it does not match.
func TestDifferAgreesWithSwap(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.OneIn(t, 2)
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	pairs := [][2]graph.VariantID{{"skerry-620/2002/eu", "skerry-620/2004/eu"},
		{"skerry-620/2004/uk", "skerry-620s/2004/uk"}, {"skerry-620/2004/eu", "fjeld-750/2004/eu"}}
	tried := 0
	for _, pair := range pairs[:sampletest.Of(t, 1, len(pairs))] {
		a, err := differ.Differ(t.Context(), r, differ.DifferQuestion{A: string(pair[0]), B: string(pair[1])})
		if err != nil {
			t.Fatal(err)
		}
		v := variantNamed(t, facts, pair[1])
		before := machine.StartIn(machine.NewLibrary(r), v, "")
		for _, row := range a.Rows {
			if row.AOnB == nil || row.A == nil || !share(row.Position+string(pair[1])) {
				continue
			}
			at := graph.PositionID(string(v.Model) + ":" + row.Position)
			if err := before.Load(t.Context(), at); err != nil {
				t.Fatal(err)
			}
			if before.Seat(at).Part.ID == row.A.Part {
				continue
			}
			tried++
			got := swapOne(t, before, at, row.A.Part)
			if unpainted(got) != row.AOnB.Verdict {
				t.Errorf("%s at %s: differ says %s (%s), swap %s (%s)", row.A.Part, at, row.AOnB.Verdict, row.AOnB.Why,
					unpainted(got), whyNot(got))
			}
		}
	}
	enough(t, tried, 26)
}

// TestDifferOnTwins: where one machine has the very parts of its sister under other
// numbers, all of them go on the other, asked of both machines or of the one it is put
// on.
func TestDifferOnTwins(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.OneIn(t, 4)
	pairs := [][2]graph.VariantID{{"fjeld-750/2004/eu", "fjeld-750/2005/eu"},
		{"skerry-620/2003/eu/late", "skerry-620/2003/uk/late"}}
	for _, pair := range pairs[:sampletest.Of(t, 1, len(pairs))] {
		facts, twins := renumbered(demotest.Facts(t), pair[0])
		r := once.New(readertest.New(facts))
		a, err := differ.Differ(t.Context(), r, differ.DifferQuestion{A: string(pair[0]), B: string(pair[1])})
		if err != nil {
			t.Fatal(err)
		}
		before := machine.StartIn(machine.NewLibrary(r), variantNamed(t, facts, pair[1]), "")
		tried := 0
		for _, row := range a.Rows {
			if row.A == nil || row.B == nil || row.AOnB == nil || twins[row.A.Part] != row.B.Part {
				continue
			}
			tried++
			if onlyByHeat(row.AOnB) || isBare(facts, row.A.Part) {
				continue
			}
			if row.AOnB.Verdict != graph.Fits || row.BOnA == nil || row.BOnA.Verdict != graph.Fits {
				t.Errorf("%s: the twin of %s: %s (%s), the other way %+v", row.Position, row.B.Part, row.AOnB.Verdict,
					row.AOnB.Why, row.BOnA)
			}
			if !share(row.Position) {
				continue
			}
			at := graph.PositionID(string(before.Variant.Model) + ":" + row.Position)
			if err := before.Load(t.Context(), at); err != nil {
				t.Fatal(err)
			}
			if got := swapOne(t, before, at, row.A.Part); unpainted(got) != row.AOnB.Verdict {
				t.Errorf("%s at %s: differ says %s (%s), swap %s (%s)", row.A.Part, at, row.AOnB.Verdict, row.AOnB.Why,
					unpainted(got), whyNot(got))
			}
		}
		enough(t, tried, 50)
	}
}

// onlyByHeat reports whether a direction is open for a gap beside the exhaust alone,
// which no dimension of a part gives.
func onlyByHeat(d *differ.Direction) bool {
	return strings.Contains(d.Why, "nobody has measured how far")
}

// isBare reports whether nothing is recorded of a part that could be compared.
func isBare(facts graph.Facts, id graph.PartID) bool {
	return slices.ContainsFunc(facts.Parts, func(p graph.Part) bool { return p.ID == id && len(p.Features) == 0 })
}

// renumbered are facts in which every part of a variant has another number, and what it
// was called before.
func renumbered(facts graph.Facts, on graph.VariantID) (graph.Facts, map[graph.PartID]graph.PartID) {
	twins, parts := map[graph.PartID]graph.PartID{}, map[graph.PartID]graph.Part{}
	for _, p := range facts.Parts {
		parts[p.ID] = p
	}
	facts.Parts, facts.Fitments = slices.Clone(facts.Parts), slices.Clone(facts.Fitments)
	var more []graph.Fitment
	for i, f := range facts.Fitments {
		p, ok := parts[f.Part]
		if !ok || p.IsKit() || !slices.Contains(f.On, on) {
			continue
		}
		twin := graph.PartID(fmt.Sprintf("%s 8%08d", p.Brand, i))
		p.ID, p.Aliases = twin, nil
		facts.Parts, twins[twin] = append(facts.Parts, p), f.Part
		facts.Fitments[i].On = slices.DeleteFunc(slices.Clone(f.On), func(v graph.VariantID) bool { return v == on })
		f.Part, f.On = twin, []graph.VariantID{on}
		f.ID += "-twin"
		more = append(more, f)
	}
	facts.Fitments = append(facts.Fitments, more...)
	slices.SortFunc(facts.Parts, func(a, b graph.Part) int { return cmp.Compare(a.ID, b.ID) })
	return facts, twins
}

// unpainted is the verdict of a swap without what is said of its finish.
func unpainted(a swap.SwapAnswer) graph.Verdict {
	worst := graph.Fits
	for _, o := range slices.Concat(a.Mates, a.WithChanges, a.Unknown, a.DoesNotMate) {
		if o.What != examine.OfFinish {
			worst = worst.Worst(o.After)
		}
	}
	for _, n := range a.Numbers {
		worst = worst.Worst(n.Verdict)
	}
	return worst
}

// TestFitsAgreesWithSwap: a swap is never better than what sources say of the part at
// its place, and where it is worse than a list that says "fits", it shows both sides.
func TestFitsAgreesWithSwap(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.OneIn(t, 8)
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	tried := 0
	for _, p := range facts.Parts {
		if !share(string(p.ID)) || p.IsKit() {
			continue
		}
		a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: string(p.ID)})
		if err != nil {
			t.Fatal(err)
		}
		seen := map[graph.PositionID]bool{}
		for _, row := range a.Rows {
			if row.Part != p.ID || seen[row.Position] || row.Coverage.Frames != "" || len(row.SettledBy) > 0 {
				continue
			}
			seen[row.Position] = true
			on := variantNamed(t, facts, row.Coverage.On[0])
			before := machine.StartIn(machine.NewLibrary(r), on, "")
			if err := before.Load(t.Context(), row.Position); err != nil {
				t.Fatal(err)
			}
			if before.Seat(row.Position).Part.ID == p.ID {
				continue
			}
			tried++
			got := swapOne(t, before, row.Position, p.ID)
			switch said := row.Verdict; {
			case got.Verdict < said:
				t.Errorf("%s at %s of %s: fits says %s (%s), swap %s", p.ID, row.Position, on.ID, said, row.Why, got.Verdict)
			case said == graph.Fits && got.Verdict == graph.DoesNotFit && len(got.DoesNotMate) == 0:
				t.Errorf("%s at %s of %s: fits says %s, swap %s and not why", p.ID, row.Position, on.ID, said, got.Verdict)
			case said == graph.Fits && row.Via != evidence.ViaListed && len(openWith(got)) > 0:
				t.Errorf("%s at %s of %s: fits says %s (%s), swap is not ready: %v", p.ID, row.Position, on.ID, said, row.Why,
					openWith(got))
			}
		}
	}
	enough(t, tried, 36)
}

// openWith is what stands against riding with a part on that did not before, by what was
// measured: what nobody measured is answered by the word of who says that it goes there.
func openWith(a swap.SwapAnswer) []swap.Hindrance {
	worse := lists.Kept(slices.Concat(a.Unknown, a.DoesNotMate), func(o examine.Outcome) bool {
		return o.IsWorse() && slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
			return c.Verdict == graph.DoesNotFit || c.Verdict == graph.Unknown && c.Gap != ""
		})
	})
	return lists.Kept(swap.NotReady(worse, a.Numbers), func(h swap.Hindrance) bool { return !h.IsWork() })
}

// TestOneByOneIsBothAtOnce: a swap of two parts says the same whichever is put on
// first, and as when both are put on at once.
func TestOneByOneIsBothAtOnce(t *testing.T) {
	demotest.Alone(t)
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, s := range demotest.Swaps() {
		if len(s.Swaps) < 2 {
			continue
		}
		before, after, _, err := swap.Between(t.Context(), r, swap.SwapQuestion{On: s.On, Swaps: s.Swaps})
		if err != nil {
			t.Fatal(err)
		}
		want := judgedText(t, before, after)
		for _, turned := range []bool{false, true} {
			changed := after.Changed()
			if turned {
				slices.Reverse(changed)
			}
			step := before
			for _, id := range changed {
				if step, err = step.With(t.Context(), map[graph.PositionID]graph.PartID{id: after.Seat(id).Part.ID}); err != nil {
					t.Fatal(err)
				}
			}
			if got := judgedText(t, before, step); got != want {
				t.Errorf("%s, one by one (turned %v): another answer than both at once", s.Name, turned)
			}
		}
	}
}

func judgedText(t *testing.T, before, after *machine.Setup) string {
	t.Helper()
	j, err := swap.Judge(t.Context(), examine.From(before), after, swap.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(j.Answer)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestLeftAgreesWithRight: where both sides are built with the same part, another one
// put on the left comes out as it does on the right.
func TestLeftAgreesWithRight(t *testing.T) {
	demotest.Alone(t)
	share := sampletest.Share(t, 24, 3) // each with each would tell no more
	facts := demotest.Facts(t)
	byKind := map[graph.KindID][]graph.Part{}
	for _, p := range facts.Parts {
		if !p.IsKit() {
			byKind[p.Kind] = append(byKind[p.Kind], p)
		}
	}
	tried := 0
	eachBuiltOf(t, facts, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
		twin := machine.OtherSide(at.ID)
		if twin == "" || at.ID > twin {
			return
		}
		if err := before.Load(t.Context(), twin); err != nil {
			t.Fatal(err)
		}
		if before.Seat(twin).Part.ID != part.ID {
			return
		}
		for _, o := range byKind[part.Kind] {
			if o.ID == part.ID || !share(string(at.ID)+string(o.ID)) {
				continue
			}
			tried++
			left, right := r.judged(t, before, at, o), r.judged(t, before, before.Seat(twin).Position, o)
			if left.Verdict != right.Verdict {
				t.Errorf("%s at %s: %s (%s), on the other side %s (%s)", o.ID, at.ID, left.Verdict, whyNot(left), right.Verdict,
					whyNot(right))
			}
		}
	})
	enough(t, tried, 480)
}

// TestLeftForRight: what is built on one side alone is never a bare fit on the other
// where another part is built and nothing that was judged tells the two apart.
func TestLeftForRight(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	tried := 0
	eachBuiltOf(t, facts, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
		twin := machine.OtherSide(at.ID)
		if twin == "" {
			return
		}
		if err := before.Load(t.Context(), twin); err != nil {
			t.Fatal(err)
		}
		there := before.Seat(twin)
		if there.Empty || there.Part.SameCore(part) {
			return
		}
		tried++
		a := r.judged(t, before, there.Position, part)
		if a.Verdict == graph.Fits && len(a.Differs) == 0 {
			t.Errorf("%s of the other side at %s: a bare fit", part.ID, twin)
		}
	})
	enough(t, tried, 155)
}

// TestRefusedStaysRefused: what a supersession of the demonstration does not let go
// back is refused wherever the newer part is built, by chain and by kit too, with the
// reason; and no trail or swap offers it unsaid.
func TestRefusedStaysRefused(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	r := once.New(readertest.New(facts))
	built := map[graph.PartID][]graph.Fitment{}
	for _, f := range facts.Fitments {
		built[f.Part] = append(built[f.Part], f)
	}
	edges := map[graph.SupersessionID]graph.Supersession{}
	for _, e := range facts.Supersessions {
		edges[e.ID] = e
	}
	w := evidence.NewWalker(edges)
	tried := 0
	for _, part := range sortedParts(built) {
		for _, c := range w.FromListed(part) {
			if c.Newer || c.Verdict() != graph.DoesNotFit {
				continue
			}
			for _, f := range built[part] {
				on := variantNamed(t, facts, f.On[len(f.On)-1])
				if _, holds := c.HoldsOn(on, ""); !holds || slices.ContainsFunc(built[c.Target], func(o graph.Fitment) bool {
					return o.Position == f.Position && slices.Contains(o.On, on.ID)
				}) {
					continue
				}
				tried++
				before := machine.StartIn(machine.NewLibrary(r), on, "")
				if err := before.Load(t.Context(), f.Position); err != nil {
					t.Fatal(err)
				}
				a := swapOne(t, before, f.Position, c.Target)
				reason := c.Edges[len(c.Edges)-1].Reason
				if a.Verdict != graph.DoesNotFit || !slices.ContainsFunc(a.DoesNotMate, func(o examine.Outcome) bool {
					return strings.Contains(o.Why, reason)
				}) {
					t.Errorf("%s at %s of %s, %d steps back: %s (%s), want a no for %q", c.Target, f.Position, on.ID, len(c.Edges),
						a.Verdict, whyNot(a), reason)
				}
			}
		}
	}
	enough(t, tried, 50)
}

func sortedParts(m map[graph.PartID][]graph.Fitment) []graph.PartID {
	var ids []graph.PartID
	for id := range m {
		ids = append(ids, id)
	}
	slices.SortFunc(ids, func(a, b graph.PartID) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	return ids
}
