package shop

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// price is what one piece of a number costs.
type price struct {
	text     string // as written
	cents    int    // hundredths of the currency
	currency string
	seller   string
}

// readGoods reads the kits that hold what is to be bought, and what everything
// costs.
func readGoods(ctx context.Context, m *maker) error {
	if err := readParts(ctx, m, lists.KeysOf(m.wanted)); err != nil {
		return err
	}
	if wanted := lists.KeysOf(m.wanted); len(wanted) > 0 {
		ids, err := m.r.KitsWith(ctx, wanted...)
		if err != nil {
			return err
		}
		kits, err := m.r.Parts(ctx, ids...)
		if err != nil {
			return err
		}
		edges, err := m.r.SupersessionsOf(ctx, ids...)
		if err != nil {
			return err
		}
		old := map[graph.PartID]bool{}
		for _, e := range edges {
			old[e.Old] = true
		}
		m.kits = lists.Kept(kits, func(k graph.Part) bool { return !k.Gone && !old[k.ID] })
	}
	m.takeFromKits()
	buy := m.toBuy()
	m.kits = lists.Kept(m.kits, func(k graph.Part) bool {
		return slices.ContainsFunc(buy, func(id graph.PartID) bool { return k.Holds(id) > 0 })
	})
	return readPrices(ctx, m, buy)
}

// readPrices finds the cheapest price of each number. Of several currencies the
// one that most numbers are priced in is what money is counted in; prices in
// another one are printed, and not compared.
func readPrices(ctx context.Context, m *maker, buy []graph.PartID) error {
	m.prices = map[graph.PartID]price{}
	goods := lists.Mapped(buy, func(id graph.PartID) graph.Part { return m.parts[id] })
	goods = append(goods, m.kits...)
	var named []graph.SourceID
	count := map[string]int{}
	for _, p := range goods {
		for _, r := range p.Price {
			named = append(named, r.Source)
			if money, err := measure.ParseMoney(r.Text); err == nil {
				count[money.Currency]++
			}
		}
	}
	for _, currency := range lists.KeysOf(count) {
		if m.scale == "" || count[currency] > count[m.scale] {
			m.scale = currency
		}
	}
	sources := map[graph.SourceID]graph.Source{}
	if len(named) > 0 {
		all, err := m.r.Sources(ctx, lists.Unique(named)...)
		if err != nil {
			return err
		}
		for _, s := range all {
			sources[s.ID] = s
		}
	}
	for _, p := range goods {
		m.prices[p.ID] = cheapest(m, p, sources)
	}
	return nil
}

// cheapest is the least price of a part in the currency that counts, else the
// first in another one. Where no seller is named, the maker's dealers have it.
func cheapest(m *maker, p graph.Part, sources map[graph.SourceID]graph.Source) price {
	best := price{seller: "dealer for " + string(p.ID.Brand())}
	for _, r := range p.Price {
		money, err := measure.ParseMoney(r.Text)
		if err != nil {
			continue
		}
		cents, currency := money.Hundredths, money.Currency
		next := price{text: r.Text, cents: cents, currency: currency, seller: best.seller}
		if s := sources[r.Source]; s.Kind == graph.SourceSeller {
			if next.seller = s.Title; s.Title == "" {
				next.seller = string(s.ID)
			}
		}
		if best.text == "" || best.currency != m.scale && currency == m.scale || currency == best.currency &&
			cents < best.cents {
			best = next
		}
	}
	return best
}

// counts is what a number counts when choices are compared, in hundredths: its
// price; for one that nobody priced the least that a piece costs in a kit with it.
// So a kit is not bought for one of its pieces, the rest of it left over, because
// that piece has no price; it is where all of it is of use.
func counts(m *maker, id graph.PartID) int {
	if p := m.prices[id]; p.text != "" && p.currency == m.scale {
		return p.cents
	}
	least := 0
	for _, kit := range m.kits {
		p := m.prices[kit.ID]
		if kit.Holds(id) == 0 || p.text == "" || p.currency != m.scale {
			continue
		}
		each := (p.cents + kit.Pieces() - 1) / kit.Pieces()
		if least == 0 || each < least {
			least = each
		}
	}
	return least
}

// countsKit is what a kit counts: its price; for one that nobody priced what its
// contents count singly, and more than any other kit of the same that has a price: an
// unknown price is not nothing.
func countsKit(m *maker, kit graph.Part) int {
	if p := m.prices[kit.ID]; p.text != "" && p.currency == m.scale {
		return p.cents
	}
	sum := 0
	for _, c := range kit.Contains {
		sum += c.Quantity * counts(m, c.Part)
	}
	for _, other := range m.kits {
		p := m.prices[other.ID]
		if p.text != "" && p.currency == m.scale && !slices.ContainsFunc(kit.Contains, func(c graph.Content) bool {
			return other.Holds(c.Part) < c.Quantity
		}) {
			sum = max(sum, p.cents+1)
		}
	}
	return sum
}
