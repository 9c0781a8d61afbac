package bike

import (
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/testdata/published"
)

// TestAllotFindsPublishedOptima puts published assignment problems through the
// very pairing that boxes and bags go through.
//
// Source: Christofides, Graph Theory (1975), 8x8, optimum 76, and small cases of
// scientific libraries' own tests; testdata/published/assignment.json names each.
func TestAllotFindsPublishedOptima(t *testing.T) {
	one := func(int) int { return 1 }
	for name, tt := range published.Assignments(t) {
		t.Run(name, func(t *testing.T) {
			pairs := allot(pieces(len(tt.Cost), one), pieces(len(tt.Cost[0]), one),
				func(i, j int) (float64, bool) { return tt.Cost[i][j], true }, func(int) float64 { return costUnserved })
			total, count := 0.0, 0
			for pair, n := range pairs {
				total += float64(n) * tt.Cost[pair.row][pair.column]
				count += n
			}
			if want := min(len(tt.Cost), len(tt.Cost[0])); count != want || total != tt.Opt {
				t.Errorf("%d pairs cost %g, want %d and %g", count, total, want, tt.Opt)
			}
		})
	}
}

// hardware makes a bolt as measured and as a part of a length; 0 leaves it
// unmeasured on the bolt.
func hardware(length int) (graph.BagItem, graph.Part) {
	text := measure.Format(float64(length), measure.Length)
	item := graph.BagItem{Kind: "bolt", Dims: map[string]string{"thread": "M6x1", "length": text}}
	if length == 0 {
		delete(item.Dims, "length")
	}
	part := graph.Part{ID: graph.PartID("Tarnholt " + text), Kind: "bolt",
		Features: []graph.Feature{{Name: "thread", Kind: "male-thread",
			Dims: map[string][]graph.Reading{"thread": {{Text: "M6x1"}}, "length": {{Text: text}}}}}}
	return item, part
}

// TestBagsBalance: whatever lies in a bag is matched or over, and whatever a
// group takes is matched or missing; no position is filled twice by two bags
// that are settled.
func TestBagsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := &bagTable{ownMachine: &ownMachine{setup: &machine.Setup{}}}
		for i := range rapid.IntRange(1, 6).Draw(t, "slots") {
			_, part := hardware(rapid.SampledFrom([]int{16, 20, 25}).Draw(t, "part"))
			n := rapid.IntRange(1, 4).Draw(t, "quantity")
			id := graph.PositionID("m:" + string(rune('a'+i%2)) + "/bolt-" + string(rune('0'+i)))
			table.slots = append(table.slots, slot{position: graph.Position{ID: id, Assembly: id.Assembly(), Name: id.Local(),
				Kind: "bolt"},
				part: part, size: sizeOf(part), quantity: n})
			table.left = append(table.left, n)
		}
		table.group(nil)
		for range rapid.IntRange(1, 4).Draw(t, "bags") {
			var bag graph.Bag
			for range rapid.IntRange(1, 3).Draw(t, "sorts") {
				item, _ := hardware(rapid.SampledFrom([]int{0, 16, 20, 25, 30}).Draw(t, "item"))
				item.Quantity = rapid.IntRange(1, 5).Draw(t, "pieces")
				bag.Contents = append(bag.Contents, item)
			}
			table.bike.Bags = append(table.bike.Bags, bag)
		}
		settled := map[graph.PositionID]int{}
		for i, p := range table.placeBags() {
			checkBalance(t, table, table.bike.Bags[i], p, settled)
		}
		for _, s := range table.slots {
			if settled[s.position.ID] > s.quantity {
				t.Fatalf("%s takes %d, settled bags give it %d", s.position.ID, s.quantity, settled[s.position.ID])
			}
		}
	})
}

func checkBalance(t *rapid.T, table *bagTable, bag graph.Bag, p placing, settled map[graph.PositionID]int) {
	row := table.bagRow(bag, p, looseTable{})
	matched, over, missing, expected := 0, 0, 0, 0
	for _, m := range row.Matched {
		matched += m.Quantity
		if p.settled {
			settled[m.Position] += m.Quantity
		}
	}
	for _, o := range row.Over {
		over += o.Quantity
	}
	if matched+over != row.Pieces {
		t.Fatalf("%d matched and %d over of %d pieces", matched, over, row.Pieces)
	}
	if row.Place == nil {
		return
	}
	for _, m := range row.Missing {
		missing += m.Quantity
	}
	expected = row.Place.Expected
	if matched+missing != expected || matched != row.Place.Matched {
		t.Fatalf("%d matched and %d missing, but the place takes %d and matched %d", matched, missing, expected,
			row.Place.Matched)
	}
	if want := float64(matched) / float64(row.Pieces+expected-matched); row.Place.Score != want {
		t.Fatalf("score %g, want %g", row.Place.Score, want)
	}
}

// TestShareBalances: what boxes give never exceeds what they hold or what is
// wanted, and a safety position goes first.
func TestShareBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []graph.PartID{"T 1", "T 2", "T 3"}
		var wants []want
		var lines []stockLine
		for range rapid.IntRange(1, 6).Draw(t, "wants") {
			p := graph.Position{Safety: rapid.SampledFrom([]graph.Safety{"", graph.SafetyBrake}).Draw(t, "safety")}
			wants = append(wants, want{p, rapid.SampledFrom(names).Draw(t, "part"), rapid.IntRange(1, 3).Draw(t, "needs"), ""})
		}
		for range rapid.IntRange(0, 6).Draw(t, "lines") {
			lines = append(lines, stockLine{InBox: machine.InBox{Part: rapid.SampledFrom(names).Draw(t, "part"),
				Quantity: rapid.IntRange(1, 3).Draw(t, "holds")}})
		}
		got, used, unserved := make([]int, len(wants)), make([]int, len(lines)), map[graph.PartID]bool{}
		for _, g := range share(wants, lines,
			func(w want, l stockLine) (supply, bool) { return supply{usable: true}, w.part == l.Part }) {
			if wants[g.want].part != lines[g.line].Part {
				t.Fatalf("%s for %s", lines[g.line].Part, wants[g.want].part)
			}
			got[g.want] += g.quantity
			used[g.line] += g.quantity
		}
		for i, w := range wants {
			if got[i] > w.quantity {
				t.Fatalf("%d given, %d wanted", got[i], w.quantity)
			}
			if got[i] < w.quantity && w.position.Safety != "" {
				unserved[w.part] = true
			}
		}
		for i, l := range lines {
			if used[i] > l.Quantity || used[i] < l.Quantity && unserved[l.Part] {
				t.Fatalf("%d used of %d while a safety position is short", used[i], l.Quantity)
			}
		}
		for i, w := range wants {
			if unserved[w.part] && w.position.Safety == "" && got[i] > 0 {
				t.Fatalf("%s went to a position without a safety class first", w.part)
			}
		}
	})
}

func TestFrameFits(t *testing.T) {
	frames, err := measure.ParseFrames("TK6A-000101 to TK6A-004120")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name, frame string
		frames      measure.Frames
		want        string
	}{
		{"last of the variant", "TK6A-004120", frames, FrameYes},
		{"one past the end", "TK6A-004121", frames, FrameNo},
		{"another prefix", "TK6B-000500", frames, FrameNo},
		{"not read yet", "", frames, FrameUnknown},
		{"frame numbers not recorded", "TK6A-004120", measure.Frames{}, FrameUnknown},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, why := frameFits(graph.Bike{Frame: tt.frame}, graph.Variant{Frames: tt.frames}); got != tt.want ||
				why == "" {
				t.Errorf("got %q (%s), want %q", got, why, tt.want)
			}
		})
	}
}
