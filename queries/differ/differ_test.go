package differ_test

import (
	"context"
	"maps"
	"reflect"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/differ"
	"matewell/queries/readertest"
)

// TestDifferMirrors: on the demonstration data, A against B says the same as B
// against A the other way round.
func TestDifferMirrors(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	for _, pair := range [][2]string{{"skerry-620/2002/eu", "skerry-620/2004/eu"},
		{"skerry-620/2004/uk", "skerry-620s/2004/uk"}} {
		there, back := differOn(t, r, pair[0], pair[1]), differOn(t, r, pair[1], pair[0])
		if len(there.Rows) != len(back.Rows) || len(there.Rows) < 100 {
			t.Fatalf("%v: %d rows there, %d back", pair, len(there.Rows), len(back.Rows))
		}
		directions := 0
		for i, row := range there.Rows {
			other := back.Rows[i]
			if row.Position != other.Position || row.Class != other.Class || !sameWay(row.AOnB, other.BOnA) ||
				!sameWay(row.BOnA, other.AOnB) {
				t.Errorf("%v: %s is %s (%s), but %s is %s (%s) the other way round", pair, row.Position, row.Class, row.Interchange,
					other.Position, other.Class, other.Interchange)
			}
			if row.AOnB != nil {
				directions++
			}
		}
		if directions < 10 {
			t.Errorf("%v: only %d rows have a direction of interchange", pair, directions)
		}
	}
}

func sameWay(a, b *differ.Direction) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Verdict == b.Verdict && a.Via == b.Via && a.Rank == b.Rank
}

// TestDifferFromItself: a machine differs from itself in nothing.
func TestDifferFromItself(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	r := readertest.New(facts)
	for _, v := range facts.Variants[:3] {
		a := differOn(t, r, string(v.ID), string(v.ID))
		if len(a.Rows) < 100 {
			t.Fatalf("%s: only %d rows", v.ID, len(a.Rows))
		}
		for _, row := range a.Rows {
			if row.Class != differ.ClassSame {
				t.Errorf("%s: %s is %s: %s", v.ID, row.Position, row.Class, row.Why)
			}
		}
	}
}

func differOn(t *testing.T, r graph.Reader, a, b string) differ.DifferAnswer {
	t.Helper()
	answer, err := differ.Differ(context.Background(), r, differ.DifferQuestion{A: a, B: b})
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

// TestDifferOfYearsIsThatOfTheirVariants: what is judged once for several variants of a
// year comes out as when each is asked about for itself.
func TestDifferOfYearsIsThatOfTheirVariants(t *testing.T) {
	demotest.Alone(t)
	r := readertest.New(demotest.Facts(t))
	years := differOn(t, r, "skerry-620/2003", "skerry-620/2004")
	if len(years.Pairs) < 4 {
		t.Fatalf("only %d pairs", len(years.Pairs))
	}
	for _, pair := range []differ.VariantPair{years.Pairs[0], years.Pairs[len(years.Pairs)-1]} {
		alone := map[string]differ.DifferRow{}
		for _, row := range differOn(t, r, string(pair.A), string(pair.B)).Rows {
			alone[row.Position] = row
		}
		directions := 0
		for _, row := range years.Rows {
			if !slices.Contains(row.Pairs, pair) {
				continue
			}
			other := alone[row.Position]
			for _, ways := range [][2]*differ.Direction{{row.AOnB, other.AOnB}, {row.BOnA, other.BOnA}} {
				if !sameWay(ways[0], ways[1]) || ways[0] != nil &&
					(ways[0].Why != ways[1].Why || !reflect.DeepEqual(ways[0].Changes, ways[1].Changes)) {
					t.Errorf("%v: %s is %+v among its year, and %+v by itself", pair, row.Position, ways[0], ways[1])
				}
				if ways[0] != nil {
					directions++
				}
			}
		}
		if directions < 50 {
			t.Errorf("%v: only %d directions", pair, directions)
		}
	}
}

// TestWornGoesNowhere: a part that may go to the other machine does not once it is beyond
// its own limit; at the limit it still does. The limits are invented.
func TestWornGoesNowhere(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	const on, other = "skerry-620/2002/eu", "skerry-620/2004/eu"
	tried := 0
	for _, row := range differOn(t, readertest.New(facts), on, other).Rows {
		if row.AOnB == nil || row.AOnB.Verdict != graph.Fits || row.A.Part == "" || row.A.Part == row.B.Part {
			continue
		}
		at := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == row.A.Part })
		for i, f := range facts.Parts[at].Features {
			for _, l := range graph.WearLimits() {
				if _, measured := f.Dims[l.Dim]; l.Kind != f.Kind || measured || tried == 2 { // other rules may read it
					continue
				}
				tried++
				for _, limit := range []string{"5 mm", "4 mm", "6 mm"} {
					r := readertest.New(withFeature(facts, at, i, l.Dim, "5 mm", l.By, limit))
					a := differOn(t, r, on, other)
					k := slices.IndexFunc(a.Rows, func(r differ.DifferRow) bool { return r.Position == row.Position })
					worn := l.Most && limit == "4 mm" || !l.Most && limit == "6 mm"
					if to := a.Rows[k].AOnB; to == nil || (to.Verdict == graph.DoesNotFit) != worn {
						t.Errorf("%s with %s 5 mm, %s %s: %+v, want worn %t", row.A.Part, l.Dim, l.By, limit, to, worn)
					}
				}
			}
		}
	}
	if tried == 0 {
		t.Error("no part that wears may go to the other machine")
	}
}

// withFeature gives one feature of a part two more dimensions.
func withFeature(facts graph.Facts, part, feature int, one, is, other, limit string) graph.Facts {
	facts.Parts = slices.Clone(facts.Parts)
	f := slices.Clone(facts.Parts[part].Features)
	f[feature].Dims = maps.Clone(f[feature].Dims)
	f[feature].Dims[one], f[feature].Dims[other] = []graph.Reading{{Text: is}}, []graph.Reading{{Text: limit}}
	facts.Parts[part].Features = f
	return facts
}
