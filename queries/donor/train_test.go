package donor_test

import (
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/plan"
	"matewell/queries/readertest"
)

// A row of three pieces, each splined into the next: 20 teeth on wren-1, 24 on tern-2. A piece
// X-1 takes 24 on its left and 20 on its right, and on rook-3 sits beside the first of tern-2.
// A lug is screwed to a plate: M8 on wren-1, M10 on tern-2, each with its hole.
const trains = `-- sources.yaml --
sources:
  list: {kind: factory parts list, title: parts list}
-- base.yaml --
source: list
brands: {Tarnholt: {}}
kinds:
  piece-a: {name: piece, features: {right: spline}}
  piece-b: {name: piece, features: {left: spline, right: spline}}
  piece-c: {name: piece, features: {left: spline}}
  lug: {name: lug, features: {face: bolt-pattern}}
  kit: {name: kit}
  plate: {name: plate, features: {face: bolt-pattern}}
models:
MODELSparts:
  - {number: Tarnholt A-20, kind: piece-a, features: {right: {teeth: 20, major: 30 mm}}}
  - {number: Tarnholt A-24, kind: piece-a, features: {right: {teeth: 24, major: 34 mm}}}
  - {number: Tarnholt B-20, kind: piece-b, features: {left: {teeth: 20, major: 30 mm}, right: {teeth: 20, major: 30 mm}}}
  - {number: Tarnholt B-24, kind: piece-b, features: {left: {teeth: 24, major: 34 mm}, right: {teeth: 24, major: 34 mm}}}
  - {number: Tarnholt X-1, kind: piece-b, price: 90 EUR,
     features: {left: {teeth: 24, major: 34 mm}, right: {teeth: 20, major: 30 mm}}}
  - {number: Tarnholt C-20, kind: piece-c, features: {left: {teeth: 20, major: 30 mm}}}
  - {number: Tarnholt C-24, kind: piece-c, features: {left: {teeth: 24, major: 34 mm}}}
  - {number: Tarnholt K-9, kind: kit, contains: [{part: Tarnholt A-24}, {part: Tarnholt B-24}, {part: Tarnholt C-24}]}
  - {number: Tarnholt L-8, kind: lug, features: {face: {count: 2, spacing: 60 mm, thread: M8x1.25}}}
  - {number: Tarnholt L-10, kind: lug, features: {face: {count: 2, spacing: 60 mm, thread: M10x1.5}}}
  - {number: Tarnholt P-8, kind: plate,
     features: {face: {count: 2, spacing: 60 mm, hole: 8.5 mm, thickness: 5 mm, edge: 16 mm}}}
  - {number: Tarnholt P-10, kind: plate,
     features: {face: {count: 2, spacing: 60 mm, hole: 10.5 mm, thickness: 5 mm, edge: 16 mm}}}
-- fitments.csv --
model,position,part,years,source
`

func trainFacts(t *testing.T, withRook bool) graph.Facts {
	machines := []struct{ model, a, b, c, lug, plate string }{
		{"wren-1", "A-20", "B-20", "C-20", "L-8", "P-8"}, {"tern-2", "A-24", "B-24", "C-24", "L-10", "P-10"},
		{"rook-3", "A-24", "X-1", "C-20", "L-8", "P-8"}}
	if !withRook {
		machines = machines[:2]
	}
	models, fitments := "", ""
	for _, m := range machines {
		models += "  " + m.model + ":\n    maker: Tarnholt\n    name: " + m.model + `
    variants: [{year: 2001, market: eu}]
    assemblies:
      train:
        name: Train
        positions: {a: {kind: piece-a}, b: {kind: piece-b}, c: {kind: piece-c}, lug: {kind: lug},
          plate: {kind: plate, safety: brake}}
    joints:
      ab: {a: train/a.right, b: train/b.left}
      bc: {a: train/b.right, b: train/c.left}
      j: {a: train/lug.face, b: train/plate.face}
`
		for at, part := range map[string]string{"a": m.a, "b": m.b, "c": m.c, "lug": m.lug, "plate": m.plate} {
			fitments += m.model + ",train/" + at + ",Tarnholt " + part + ",2001,list\n"
		}
	}
	return demotest.Story(t, txtar.Parse([]byte(strings.Replace(trains, "MODELS", models, 1)+fitments)))
}

// TestPlansOfTrains holds plans of rows of three against what is best by hand.
func TestPlansOfTrains(t *testing.T) {
	offer := func(part graph.PartID) []graph.Offer {
		return []graph.Offer{{Name: "ad", Price: measure.Money{Hundredths: 1000, Currency: "EUR"},
			Parts: []graph.OfferedPart{{Part: part, Quantity: 1}}}}
	}
	tests := []struct {
		name     string
		rook     bool
		from     string
		take     string
		offers   []graph.Offer
		prefer   plan.Prefer
		parts    int
		unknowns int
		changed  graph.PartID // some part that must be in it
		buys     int
	}{
		{name: "one that sat beside it elsewhere", rook: true, from: "tern-2", take: "train/a", parts: 1,
			changed: "Tarnholt X-1"},
		{name: "nobody had it beside that one", from: "tern-2", take: "train/a", parts: 2, changed: "Tarnholt B-24"},
		{name: "the donor has what is offered", from: "tern-2", take: "train/a", offers: offer("Tarnholt A-24"),
			prefer: plan.PreferMoney, parts: 2, changed: "Tarnholt A-24"},
		{name: "a kit is opened", take: "train/a", offers: offer("Tarnholt K-9"), prefer: plan.PreferMoney, parts: 2,
			changed: "Tarnholt C-24", buys: 1},
		{name: "all of an offer, and nothing unknown", take: "train/a", offers: offer("Tarnholt K-9"), parts: 2,
			changed: "Tarnholt C-24", buys: 1},
		{name: "the donor's neighbour for a hole", from: "tern-2", take: "train/lug", parts: 1, changed: "Tarnholt P-10"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q := donor.DonorQuestion{On: "wren-1/2001/eu", Take: []string{tt.take}, Offers: tt.offers, Prefer: tt.prefer,
				Time: time.Hour}
			if tt.from != "" {
				q.From = tt.from + "/2001/eu"
			}
			a, err := donor.Donor(t.Context(), readertest.New(trainFacts(t, tt.rook)), q)
			if err != nil || len(a.Plans) == 0 {
				t.Fatalf("%s, error %v", a.Outcome, err)
			}
			got := a.Plans[0]
			has := false
			for _, part := range append(got.Take, got.Get...) {
				has = has || part.Part == tt.changed
			}
			if a.Outcome != plan.ProvedSmallest || got.Cost.Parts != tt.parts || !has || len(got.Buy) != tt.buys ||
				got.Cost.SafetyUnknowns+got.Cost.OtherUnknowns != tt.unknowns {
				t.Errorf("%s: %+v, buys %d, has %s %v", a.Outcome, got.Cost, len(got.Buy), tt.changed, has)
			}
		})
	}
}
