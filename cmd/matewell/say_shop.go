package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/shop"
	"matewell/queries/swap"
)

// shopSections lay out one list of what to get.
func shopSections(title string, l shop.List) page {
	return page{buyingSection(title, l), boxedSection(l.FromBoxes), madeSection(l.Made),
		consumableSection(l.Consumables), wantedSection(l.Wanted),
		refusedSection("Not on the list: it will not go", l.Refused)}
}

// buyingSection is what to buy. In CSV, which goes to a shop, every cell holds one
// value.
func buyingSection(title string, l shop.List) section {
	s := section{Title: title}
	s.Table = table{Columns: []string{"seller", "number", "pieces", "each", "sum", "what"}, Group: "seller",
		Detail: "what"}
	s.Rows.Columns = []string{"seller", "maker", "number", "name", "pieces", "each", "sum", "currency", "positions", "why",
		"safety", "holds_up", "gives", "over", "instead_of", "remarks"}
	for _, row := range l.Rows {
		s.Table.add(row.Seller, hard(row.Part), strconv.Itoa(row.Quantity), row.Price, sumText(row), buyingWhat(row))
		s.Rows.add(row.Seller, string(row.Part.Brand()), row.Part.Number(), row.Name, strconv.Itoa(row.Quantity),
			strings.TrimSuffix(row.Price, " "+row.Currency), amount(row.Sum, row.Price), row.Currency,
			join(row.At, graph.PositionID.Local), strings.Join(row.Why, "; "), string(row.Safety), count(row.HoldsUp),
			join(row.Gives, pieceText), count(row.Over), join(row.For, func(id graph.PartID) string { return string(id) }),
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
	lines = append(lines, text+": "+list(row.Why)+"; for "+places(row.At))
	if row.HoldsUp > 0 {
		lines = append(lines, fmt.Sprintf("holds up %d %s", row.HoldsUp, plural(row.HoldsUp, "place", "places")))
	}
	if len(row.Gives) > 0 {
		text := "gives " + join(row.Gives, pieceText)
		if row.Over > 0 {
			text += fmt.Sprintf(", %d over", row.Over)
		}
		lines = append(lines, text)
	}
	if len(row.For) > 0 {
		lines = append(lines, "instead of "+join(row.For, func(id graph.PartID) string { return hard(id) }))
	}
	return eachOnLine(append(lines, row.Remarks...), func(s string) string { return s })
}

func totalLines(l shop.List) []string {
	if len(l.Rows) == 0 {
		return nil
	}
	var sums []string
	for _, t := range l.Totals {
		sums = append(sums, amount(t.Sum, t.Currency)+" "+t.Currency)
	}
	text := "In all: " + list(sums)
	if len(sums) == 0 {
		text = "In all: nobody gave a price"
	}
	if l.Unpriced > 0 && len(sums) > 0 {
		text += fmt.Sprintf(", and %d %s without a price", l.Unpriced, plural(l.Unpriced, "piece", "pieces"))
	}
	proof := "Kits and packs are chosen so that it costs least by the prices known, which is proved."
	if !l.Proved {
		proof = "Kits and packs are the cheapest choice found in the time allowed."
	}
	return []string{text + ".", proof, "Prices are what the data says; postage is not in them."}
}

// boxedSection is what need not be bought, since it lies in the boxes.
func boxedSection(rows []shop.FromBox) section {
	s := section{Title: "Out of your boxes"}
	s.Table = table{Columns: []string{"box", "number", "pieces", "what"}, Group: "box", Detail: "what"}
	for _, row := range rows {
		what := row.Name
		if row.Safety != "" {
			what += " (" + string(row.Safety) + ")"
		}
		what += ": " + list(row.Why) + "; for " + places(row.At)
		if row.Kit != "" {
			what += "; in kit " + hard(row.Kit)
		}
		s.Table.add(row.Box, hard(row.Part), strconv.Itoa(row.Quantity), what)
	}
	return s
}

// madeSection is what is made or ordered by its sizes.
func madeSection(made []shop.Made) section {
	s := section{Title: "To have made, or to order by its sizes"}
	s.Table = table{Columns: []string{"what", "pieces", "for", "sizes"}, Detail: "sizes"}
	for _, m := range made {
		sizes := eachOnLine(m.Spec, func(f mating.Field) string { return f.Name + ": " + f.Value })
		if sizes == "" {
			sizes = m.Text
		}
		s.Table.add(m.What, strconv.Itoa(m.Quantity), places(m.At), sizes)
	}
	if len(made) > 0 {
		s.After = []string{"Measure on the machine before it is ordered: what is made to a drawing is not taken back."}
	}
	return s
}

func consumableSection(all []shop.Consumed) section {
	s := section{Title: "What the work uses up"}
	s.Table = table{Columns: []string{"what", "grade", "how much", "for"}}
	for _, c := range all {
		s.Table.add(c.What, c.Grade, c.Text, places(c.At))
	}
	return s
}

func wantedSection(all []shop.Wanted) section {
	s := section{Title: "Sold no more: to look for second-hand"}
	s.Table = table{Columns: []string{"number", "pieces", "safety", "for", "line to look for it by"},
		Detail: "line to look for it by"}
	for _, w := range all {
		lines := append([]string{w.Line}, w.Remarks...)
		s.Table.add(hard(w.Part), strconv.Itoa(w.Quantity), string(w.Safety), places(w.At),
			eachOnLine(lines, func(s string) string { return s }))
	}
	return s
}

func refusedSection(title string, all []shop.Refused) section {
	s := section{Title: title}
	s.Table = table{Columns: []string{"number", "safety", "for", "why"}, Detail: "why"}
	for _, r := range all {
		s.Table.add(hard(r.Part), string(r.Safety), places(r.At), r.Why)
	}
	return s
}

// swapShopPage is the list of a swap or a plan.
func swapShopPage(a swap.ShopAnswer) page {
	on := string(a.On)
	if a.Bike != "" {
		on = string(a.Bike)
	}
	p := shopSections("What to get for "+join(a.Swaps,
		func(l swap.SwapLine) string { return place(l.Position) })+" on "+on, a.List)
	return append(p, withAllSection(a.Ready, a.NotReady), cautionSection(a.Cautions))
}

// withAllSection says whether the machine may be ridden then, and what stands against it:
// what has one reason is one row, and what is only work comes last.
func withAllSection(ready bool, notReady []swap.Hindrance) section {
	s := section{Title: "Whether it may be ridden with all of that on", Lines: []string{readyWords(ready, notReady)}}
	s.Table = table{Columns: []string{"what stands against it", "why"}, Detail: "why"}
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
			s.Table.add(strings.Join(whats[why], "; "), why)
		}
	}
	return s
}

func pieceText(c evidence.ContentLine) string {
	return fmt.Sprintf("%d x %s", c.Quantity, hard(c.Part))
}
