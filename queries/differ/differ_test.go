package differ_test

import (
	"context"
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
