package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// shopSections lay out one list of what to get.
func shopSections(title string, l shop.List) page.Page {
	return page.Page{buyingSection(title, l), boxedSection(l.FromBoxes), madeSection(l.Made),
		consumableSection(l.Consumables), wantedSection(l.Wanted),
		refusedSection("Not on the list: it will not go", l.Refused)}
}

// buyingSection is what to buy. In CSV, which goes to a shop, every cell holds one
// value.
func buyingSection(title string, l shop.List) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"seller", "number", "pieces", "each", "sum", "what"}, Group: "seller",
		Detail: "what"}
	s.Rows.Columns = []string{"seller", "maker", "number", "name", "pieces", "each", "sum", "currency", "positions", "why",
		"safety", "holds_up", "gives", "over", "instead_of", "remarks"}
	for _, row := range l.Rows {
		s.Table.Add(row.Seller, page.Hard(row.Part), strconv.Itoa(row.Quantity), row.Price, sumText(row), buyingWhat(row))
		s.Rows.Add(row.Seller, string(row.Part.Brand()), row.Part.Number(), row.Name, strconv.Itoa(row.Quantity),
			strings.TrimSuffix(row.Price, " "+row.Currency), amount(row.Sum, row.Price), row.Currency,
			page.Join(row.At, graph.PositionID.Local), strings.Join(row.Why, "; "), string(row.Safety), count(row.HoldsUp),
			page.Join(row.Gives, pieceText), count(row.Over), page.Join(row.For,
				func(id graph.PartID) string { return string(id) }),
			strings.Join(row.Remarks, "; "))
	}
	if len(l.Rows) == 0 {
		s.Lines = []string{"Nothing is to be bought."}
	}
	s.After = totalLines(l)
	return s
}

func sumText(row shop.Row) string {
	if row.Price == "" {
		return "no price"
	}
	return amount(row.Sum, row.Price) + " " + row.Currency
}

func amount(sum float64, price string) string {
	if price == "" {
		return ""
	}
	return strings.TrimSuffix(strconv.FormatFloat(sum, 'f', 2, 64), ".00")
}

// buyingWhat is what a number is and what it is for.
func buyingWhat(row shop.Row) string {
	var lines []string
	text := row.Name
	if row.Safety != "" {
		text += " (" + string(row.Safety) + ")"
	}
	lines = append(lines, text+": "+page.List(row.Why)+"; for "+places(row.At))
	if row.HoldsUp > 0 {
		lines = append(lines, fmt.Sprintf("holds up %d %s", row.HoldsUp, page.Plural(row.HoldsUp, "place", "places")))
	}
	if len(row.Gives) > 0 {
		text := "gives " + page.Join(row.Gives, pieceText)
		if row.Over > 0 {
			text += fmt.Sprintf(", %d over", row.Over)
		}
		lines = append(lines, text)
	}
	if len(row.For) > 0 {
		lines = append(lines, "instead of "+page.Join(row.For, func(id graph.PartID) string { return page.Hard(id) }))
	}
	return page.EachOnLine(append(lines, row.Remarks...), func(s string) string { return s })
}

func totalLines(l shop.List) []string {
	if len(l.Rows) == 0 {
		return nil
	}
	var sums []string
	for _, t := range l.Totals {
		sums = append(sums, amount(t.Sum, t.Currency)+" "+t.Currency)
	}
	text := "In all: " + page.List(sums)
	if len(sums) == 0 {
		text = "In all: nobody gave a price"
	}
	if l.Unpriced > 0 && len(sums) > 0 {
		text += fmt.Sprintf(", and %d %s without a price", l.Unpriced, page.Plural(l.Unpriced, "piece", "pieces"))
	}
	proof := "Kits and packs are chosen so that it costs least by the prices known, which is proved."
	if !l.Proved {
		proof = "Kits and packs are the cheapest choice found in the time allowed."
	}
	return []string{text + ".", proof, "Prices are what the data says; postage is not in them."}
}

// boxedSection is what need not be bought, since it lies in the boxes.
func boxedSection(rows []shop.FromBox) page.Section {
	s := page.Section{Title: "Out of your boxes"}
	s.Table = page.Table{Columns: []string{"box", "number", "pieces", "what"}, Group: "box", Detail: "what"}
	for _, row := range rows {
		what := row.Name
		if row.Safety != "" {
			what += " (" + string(row.Safety) + ")"
		}
		what += ": " + page.List(row.Why) + "; for " + places(row.At)
		if row.Kit != "" {
			what += "; in kit " + page.Hard(row.Kit)
		}
		if row.Note != "" {
			what += "; note: " + row.Note
		}
		s.Table.Add(row.Box, page.Hard(row.Part), strconv.Itoa(row.Quantity), what)
	}
	return s
}

// madeSection is what is made or ordered by its sizes.
func madeSection(made []shop.Made) page.Section {
	s := page.Section{Title: "To have made, or to order by its sizes"}
	s.Table = page.Table{Columns: []string{"what", "pieces", "for", "sizes"}, Detail: "sizes"}
	for _, m := range made {
		sizes := page.EachOnLine(m.Spec, func(f mating.Field) string { return f.Name + ": " + f.Value })
		if sizes == "" {
			sizes = m.Text
		}
		s.Table.Add(m.What, strconv.Itoa(m.Quantity), places(m.At), sizes)
	}
	if len(made) > 0 {
		s.After = []string{"Measure on the machine before it is ordered: what is made to a drawing is not taken back."}
	}
	return s
}

func consumableSection(all []shop.Consumed) page.Section {
	s := page.Section{Title: "What the work uses up"}
	s.Table = page.Table{Columns: []string{"what", "grade", "how much", "for"}}
	for _, c := range all {
		s.Table.Add(c.What, c.Grade, c.Text, places(c.At))
	}
	return s
}

func wantedSection(all []shop.Wanted) page.Section {
	s := page.Section{Title: "Sold no more: to look for second-hand"}
	s.Table = page.Table{Columns: []string{"number", "pieces", "safety", "for", "line to look for it by"},
		Detail: "line to look for it by"}
	for _, w := range all {
		lines := append([]string{w.Line}, w.Remarks...)
		s.Table.Add(page.Hard(w.Part), strconv.Itoa(w.Quantity), string(w.Safety), places(w.At),
			page.EachOnLine(lines, func(s string) string { return s }))
	}
	return s
}

func refusedSection(title string, all []shop.Refused) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"number", "safety", "for", "why"}, Detail: "why"}
	for _, r := range all {
		s.Table.Add(page.Hard(r.Part), string(r.Safety), places(r.At), r.Why)
	}
	return s
}

// swapShopPage is the list of a swap or a plan.
func swapShopPage(a swap.ShopAnswer) page.Page {
	on := string(a.On)
	if a.Bike != "" {
		on = string(a.Bike)
	}
	p := shopSections("What to get for "+page.Join(a.Swaps,
		func(l swap.SwapLine) string { return page.Place(l.Position) })+" on "+on, a.List)
	if len(a.Offers) > 0 {
		if len(a.Rows) == 0 {
			p[0].Lines = []string{"Nothing else is to be bought."}
		}
		p = slices.Insert(p, 1, offersToBuy(a.Offers))
	}
	return append(p, withAllSection(a.Ready, a.NotReady), cautionSection(a.Cautions))
}

// offersToBuy lists the offers that a plan buys.
func offersToBuy(offers []swap.ShopOffer) page.Section {
	s := page.Section{Title: "Offers to buy besides, each whole"}
	s.Table = page.Table{Columns: []string{"offer", "price", "for"}, Detail: "for"}
	for _, o := range offers {
		name, price := o.Name, o.Price
		if o.Title != "" {
			name += ", " + o.Title
		}
		if o.Postage != "" {
			price += " + " + o.Postage + " postage"
		}
		s.Table.Add(name, price, page.Join(o.For, page.Place))
	}
	return s
}

// withAllSection says whether the machine may be ridden then, and what stands against it:
// what has one reason is one row, and what is only work comes last.
func withAllSection(ready bool, notReady []swap.Hindrance) page.Section {
	s := page.Section{Title: "Whether it may be ridden with all of that on", Lines: []string{readyWords(ready, notReady)}}
	s.Table = page.Table{Columns: []string{"what stands against it", "why"}, Detail: "why"}
	for _, isWork := range []bool{false, true} {
		kept := lists.Kept(slices.Clone(notReady), func(a swap.Hindrance) bool { return a.IsWork() == isWork })
		whats, reasons := map[string][]string{}, []string{}
		for _, a := range kept {
			if whats[a.Why] == nil {
				reasons = append(reasons, a.Why)
			}
			whats[a.Why] = append(whats[a.Why], a.What)
		}
		for _, why := range reasons {
			s.Table.Add(strings.Join(whats[why], "; "), why)
		}
	}
	return s
}

func pieceText(c evidence.ContentLine) string {
	return fmt.Sprintf("%d x %s", c.Quantity, page.Hard(c.Part))
}
