package donor_test

import (
	"cmp"
	"fmt"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/plan"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// A block whose holes are M8 is changed for one of M10, so that each of its four plugs must
// be changed: two of them of brakes, two of no class. What screws in is one number for the
// first two and one for the others.
const blockAndPlugs = `-- sources.yaml --
sources:
  list: {kind: factory parts list, title: parts list}
-- base.yaml --
source: list
brands: {Tarnholt: {}}
kinds:
  block: {name: block, features: {a: female-thread, b: female-thread, c: female-thread, d: female-thread}}
  plug: {name: plug, features: {stem: male-thread}}
  cap: {name: cap, features: {stem: male-thread}}
models:
  tern-90:
    maker: Tarnholt
    name: Tern 90
    variants: [{year: 2001, market: eu}, {year: 2003, market: eu}]
    assemblies:
      block:
        name: Block
        positions:
          block: {kind: block}
          plug-a: {kind: plug, safety: brake}
          plug-b: {kind: plug, safety: brake}
          cap-c: {kind: cap}
          cap-d: {kind: cap}
    joints:
      a: {a: block/plug-a.stem, b: block/block.a}
      b: {a: block/plug-b.stem, b: block/block.b}
      c: {a: block/cap-c.stem, b: block/block.c}
      d: {a: block/cap-d.stem, b: block/block.d}
parts:
%s-- fitments.csv --
model,position,part,years,source
tern-90,block/block,Tarnholt B-8,2001,list
tern-90,block/block,Tarnholt B-10,2003,list
tern-90,block/plug-a,Tarnholt P-8,2001,list
tern-90,block/plug-b,Tarnholt P-8,2001,list
tern-90,block/cap-c,Tarnholt C-8,2001,list
tern-90,block/cap-d,Tarnholt C-8,2001,list
tern-90,block/plug-a,Tarnholt P-10,2003,list
tern-90,block/plug-b,Tarnholt P-10,2003,list
tern-90,block/cap-c,Tarnholt C-10,2003,list
tern-90,block/cap-d,Tarnholt C-10,2003,list
`

var blockPlaces = []struct {
	at     string
	part   graph.PartID
	safety bool
}{{"plug-a", "Tarnholt P-10", true}, {"plug-b", "Tarnholt P-10", true},
	{"cap-c", "Tarnholt C-10", false}, {"cap-d", "Tarnholt C-10", false}}

// blockMarket is what plugs and caps can be had from: by their numbers at a price, the
// donor, a box, offers.
type blockMarket struct {
	price     map[graph.PartID]int
	from      bool // there is a donor
	stays     bool
	boxed     map[graph.PartID]int
	offers    []graph.Offer
	budget    int
	prefer    plan.Prefer
	reaches   int // the best by trying all: parts to find, and money
	money     int
	cheapest  int
	isTooDear bool // no way keeps the budget
}

func drawMarket(t *rapid.T) *blockMarket {
	m := &blockMarket{price: map[graph.PartID]int{}, boxed: map[graph.PartID]int{}}
	for _, part := range []graph.PartID{"Tarnholt P-10", "Tarnholt C-10"} {
		m.price[part] = rapid.IntRange(1, 12).Draw(t, "price of "+string(part)) * 100
		m.boxed[part] = rapid.IntRange(0, 2).Draw(t, "in the box of "+string(part))
	}
	m.from, m.stays = rapid.Bool().Draw(t, "donor"), rapid.Bool().Draw(t, "stays")
	for i := range rapid.IntRange(0, 3).Draw(t, "offers") {
		euros := func(what string, most int) measure.Money {
			return measure.Money{Hundredths: 100 * rapid.IntRange(0, most).Draw(t, what), Currency: "EUR"}
		}
		o := graph.Offer{Name: fmt.Sprint("lot ", i), Price: euros("price", 20), Postage: euros("postage", 6),
			Parcel: rapid.SampledFrom([]string{"", "one parcel"}).Draw(t, "parcel")}
		for _, part := range []graph.PartID{"Tarnholt P-10", "Tarnholt C-10"} {
			if n := rapid.IntRange(0, 2).Draw(t, "of "+string(part)); n > 0 {
				o.Parts = append(o.Parts, graph.OfferedPart{Part: part, Quantity: n})
			}
		}
		if len(o.Parts) > 0 {
			m.offers = append(m.offers, o)
		}
	}
	m.budget = 100 * rapid.IntRange(0, 40).Draw(t, "budget")
	m.prefer = rapid.SampledFrom([]plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney}).Draw(t, "prefer")
	return m
}

// tryAll finds the best way by trying each source for each place.
func (m *blockMarket) tryAll() {
	const bought, donors, boxed = -1, -2, -3
	m.reaches, m.money, m.cheapest = 1<<30, 1<<30, 1<<30
	sources := []int{bought, boxed}
	if m.from {
		sources = append(sources, donors)
	}
	for i := range m.offers {
		sources = append(sources, i)
	}
	choice := make([]int, len(blockPlaces))
	var from func(k int)
	from = func(k int) {
		if k == len(choice) {
			m.weigh(choice)
			return
		}
		for _, source := range sources {
			if source == donors && m.stays && blockPlaces[k].safety {
				continue // what comes off is M8, and the donor's block M10
			}
			choice[k] = source
			from(k + 1)
		}
	}
	from(0)
	m.isTooDear = m.reaches == 1<<30
}

// weigh takes up one way, as long as there is enough of everything.
func (m *blockMarket) weigh(choice []int) {
	parts, money := 0, 0
	left := map[string]int{}
	postage := map[string]int{}
	for part, n := range m.boxed {
		left["box"+string(part)] = n
	}
	for i, o := range m.offers {
		for _, p := range o.Parts {
			left[fmt.Sprint(i, p.Part)] = p.Quantity
		}
	}
	isBought := map[int]bool{}
	for k, source := range choice {
		part := blockPlaces[k].part
		switch {
		case source == -1:
			money += m.price[part]
		case source == -3:
			if left["box"+string(part)]--; left["box"+string(part)] < 0 {
				return
			}
		case source >= 0:
			key := fmt.Sprint(source, part)
			if left[key]--; left[key] < 0 {
				return
			}
			isBought[source] = true
		}
		if source != -3 {
			parts++
		}
	}
	for i := range isBought {
		o := m.offers[i]
		money += o.Price.Hundredths
		parcel := cmp.Or(o.Parcel, o.Name)
		postage[parcel] = max(postage[parcel], o.Postage.Hundredths)
	}
	for _, paid := range postage {
		money += paid
	}
	m.cheapest = min(m.cheapest, money)
	if m.budget > 0 && money > m.budget {
		return
	}
	best := [2]int{m.reaches, m.money}
	one := [2]int{parts, money}
	if m.prefer == plan.PreferMoney {
		if one[1] < best[1] || one[1] == best[1] && one[0] < best[0] {
			m.reaches, m.money = parts, money
		}
		return
	}
	if one[0] < best[0] || one[0] == best[0] && one[1] < best[1] {
		m.reaches, m.money = parts, money
	}
}

func (m *blockMarket) facts(t *testing.T) graph.Facts {
	text := ""
	for part, thread := range map[string]string{"B-8": "M8x1.25", "B-10": "M10x1.25"} {
		text += "  - {number: Tarnholt " + part + ", kind: block, features: {"
		for i, hole := range []string{"a", "b", "c", "d"} {
			if i > 0 {
				text += ", "
			}
			text += hole + ": {thread: " + thread + ", depth: 20 mm, hole: through, material: steel, grip: 3 mm}"
		}
		text += "}}\n"
	}
	for part, thread := range map[string]string{"8": "M8x1.25", "10": "M10x1.25"} {
		for letter, kind := range map[string]string{"P": "plug", "C": "cap"} {
			price := ""
			if n := m.price[graph.PartID("Tarnholt "+letter+"-"+part)]; n > 0 {
				price = fmt.Sprintf(", price: %d EUR", n/100)
			}
			text += fmt.Sprintf("  - {number: Tarnholt %s-%s, kind: %s%s, features: {stem: {thread: %s, length: 18 mm}}}\n",
				letter, part, kind, price, thread)
		}
	}
	facts := demotest.Story(t, txtar.Parse([]byte(fmt.Sprintf(blockAndPlugs, text))))
	box := graph.Box{Name: "tin"}
	for _, part := range []graph.PartID{"Tarnholt P-10", "Tarnholt C-10"} {
		if n := m.boxed[part]; n > 0 {
			box.Items = append(box.Items, graph.BoxItem{Part: part, Quantity: n, Sure: "number read"})
		}
	}
	facts.Bikes = append(facts.Bikes, graph.Bike{ID: "mine", Variant: "tern-90/2001/eu", Boxes: []graph.Box{box}})
	return facts
}

// TestCheapestOfSources puts plans for which a place has several sources to all ways there
// are: by number, from a donor that may have to stay usable, from a box that runs out, from
// offers that are had whole, with the postage of a parcel paid once, within a budget.
func TestCheapestOfSources(t *testing.T) {
	sampletest.Checks(t, 60, 100)
	rapid.Check(t, func(rt *rapid.T) {
		m := drawMarket(rt)
		m.tryAll()
		q := donor.DonorQuestion{On: "mine", Boxes: true, Prefer: m.prefer, Time: time.Hour, Offers: m.offers,
			DonorStays: m.from && m.stays, ReversibleAll: true,
			Swaps: []swap.Replacement{{Position: "block/block", Part: "Tarnholt B-10"}}}
		if m.from {
			q.From = "tern-90/2003/eu"
		}
		paid := 0 // for the block, which is in the whole way with offers or a budget
		if m.budget > 0 {
			q.Budget = measure.Money{Hundredths: m.budget, Currency: "EUR"}
		}
		a, err := donor.Donor(t.Context(), readertest.New(m.facts(t)), q)
		switch {
		case err != nil:
			rt.Fatal(err)
		case m.isTooDear:
			if len(a.Plans) > 0 || a.OverBudget == nil || hundredths(a.OverBudget.Money) != m.cheapest {
				rt.Fatalf("%d plans, %s, over budget %+v; want none, the cheapest for %d", len(a.Plans), a.Outcome,
					a.OverBudget, m.cheapest)
			}
		case len(a.Plans) == 0:
			rt.Fatalf("no plan, %s; want %d parts for %d", a.Outcome, m.reaches, m.money)
		default:
			got := a.Plans[0].Cost
			if a.Outcome != plan.ProvedSmallest || got.Parts != m.reaches || hundredths(got.Money) != m.money+paid {
				rt.Fatalf("%s: %d parts for %q; want %d for %d", a.Outcome, got.Parts, got.Money, m.reaches, m.money)
			}
		}
	})
}

// hundredths is a sum as it is told; none is nothing.
func hundredths(told string) int {
	m, err := measure.ParseMoney(told)
	if err != nil {
		return 0
	}
	return m.Hundredths
}
