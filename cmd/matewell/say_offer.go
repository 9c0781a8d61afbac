package main

import (
	"fmt"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/donor"
	"matewell/queries/plan"
)

// boughtSection says which offers to buy, and where each part of them goes.
func boughtSection(bought []donor.BoughtOffer) page.Section {
	s := page.Section{Title: "Buy"}
	s.Table = page.Table{Columns: []string{"offer", "price", "for", "part"}, Group: "offer"}
	s.Rows = page.Table{Columns: []string{"offer", "title", "price", "postage", "parcel", "condition", "position", "part",
		"part_name", "quantity"}}
	for _, b := range bought {
		for i, u := range b.Used {
			price := ""
			if i == 0 {
				price = offerPrice(b)
			}
			part := countedPart(donor.DonorPart{Part: u.Part, PartName: u.PartName, Quantity: u.Quantity}, "")
			if u.Inspect {
				part += "; inspect it first"
			}
			s.Table.Add(offerWords(b), price, page.Place(u.Position), part)
			s.Rows.Add(b.Name, b.Title, b.Price, b.Postage, b.Parcel, string(b.Condition), string(u.Position), string(u.Part),
				u.PartName, page.Year(u.Quantity))
		}
	}
	return s
}

// offerWords name an offer as one would on the telephone.
func offerWords(b donor.BoughtOffer) string {
	words := b.Name
	if b.Title != "" {
		words += ", " + b.Title
	}
	return words + " (" + string(b.Condition) + ")"
}

func offerPrice(b donor.BoughtOffer) string {
	if b.Postage != "" {
		return b.Price + " + " + b.Postage + " postage"
	}
	return b.Price
}

// leftOverSection lists what of the offers nothing needs.
func leftOverSection(p donor.DonorPlan) page.Section {
	s := page.Section{Title: "Left over of what is bought, to keep or to sell"}
	s.Table = page.Table{Columns: []string{"offer", "part", "price"}, Group: "offer"}
	s.Rows = page.Table{Columns: []string{"offer", "part", "part_name", "quantity", "condition", "price"}}
	for _, b := range p.Buy {
		for _, l := range b.Left {
			s.Table.Add(b.Name, countedPart(donor.DonorPart{Part: l.Part, PartName: l.PartName, Quantity: l.Quantity}, ""),
				l.Price)
			s.Rows.Add(b.Name, string(l.Part), l.PartName, page.Year(l.Quantity), string(l.Condition), l.Price)
		}
	}
	if p.Route != nil && p.Route.LeftOver != "" {
		s.After = []string{"By the prices known for one of each it comes to " + p.Route.LeftOver + "; what it fetches " +
			"nobody knows."}
	}
	return s
}

// notOffered are the parts that come from elsewhere than the offers.
func notOffered(parts []donor.DonorPart) []donor.DonorPart {
	var others []donor.DonorPart
	for _, part := range parts {
		if !strings.HasPrefix(part.From, "offer ") {
			others = append(others, part)
		}
	}
	return others
}

// routeWords say what the whole way costs, how that compares with the cheapest and
// with the budget, and which offers are not needed.
func routeWords(a donor.DonorAnswer, p donor.DonorPlan) []string {
	var lines []string
	if p.Route != nil {
		text := "The whole way costs " + p.Route.Total + routeParts(*p.Route)
		for _, b := range p.Buy {
			if b.Price == graph.PriceUnknown {
				text += ", and what is asked for " + b.Name + ", which nobody named"
			}
		}
		lines = append(lines, text+".")
	}
	if c := a.Cheapest; c != nil {
		lines = append(lines, cheapestWords(*c))
	}
	if a.Budget != "" {
		lines = append(lines, "That is within the budget of "+a.Budget+", by the prices known.")
	}
	if len(a.NotBought) > 0 {
		lines = append(lines, "Not needed: "+page.List(a.NotBought)+".")
	}
	return lines
}

// routeParts are what a sum is made of, when it is of more than one thing.
func routeParts(r donor.DonorRoute) string {
	var parts []string
	for _, one := range []struct{ sum, what string }{{r.Offers, "offers"}, {r.Postage, "postage"}, {r.Other,
		"other parts"}} {
		if one.sum != "" {
			parts = append(parts, one.sum+" "+one.what)
		}
	}
	if len(parts) < 2 {
		return ""
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

func cheapestWords(c donor.CheapestRoute) string {
	proof := "found"
	if c.Proved {
		proof = "there is, proved"
	}
	if c.Same {
		return "That is the cheapest way " + proof + pricedWords(c.Cost) + "."
	}
	words := fmt.Sprintf("The cheapest way %s%s costs %s: %s, %s", proof, pricedWords(c.Cost), c.Cost.Money,
		page.Counted(c.Cost.Parts, "part"), c.Cost.Effort)
	if len(c.Buy) > 0 {
		words += ", with " + page.List(c.Buy)
	}
	return words + "; --prefer money tells it."
}

// pricedWords say what a sum leaves out.
func pricedWords(c donor.DonorCost) string {
	if n := len(c.Unpriced); n > 0 {
		return fmt.Sprintf(" by the prices known (%s without one %s not in it)", page.Counted(n, "thing"),
			page.Plural(n, "is", "are"))
	}
	return ""
}

// overBudgetWords say what one would have to spend.
func overBudgetWords(a donor.DonorAnswer) string {
	c := *a.OverBudget
	what := "The cheapest way found until then"
	if a.Outcome == plan.NotWithinBudget {
		what = "The cheapest way"
	}
	words := fmt.Sprintf("%s costs %s%s: %s to find or make, %s.", what, c.Money, pricedWords(c),
		page.Counted(c.Parts, "part"), c.Effort)
	if len(c.Unpriced) > 0 {
		words += fmt.Sprintf(" No price is known for: %s. Counted as the dearest for its place, the whole is %s.",
			page.List(counts(c.Unpriced)), c.Counted)
	}
	return words
}

// donorAfterSection says what becomes of a donor that is to stay usable.
func donorAfterSection(from graph.VariantID, after *donor.DonorAfter) page.Section {
	if after == nil {
		return page.Section{}
	}
	s := page.Section{Title: "What is left of the donor " + string(from)}
	s.Table.Columns = []string{"place", "gets", "instead of"}
	for _, part := range after.Gets {
		s.Table.Add(page.Place(part.Position), countedPart(part, ""), page.Hard(part.Was))
	}
	for _, part := range after.Lacks {
		s.Table.Add(page.Place(part.Position), "nothing", page.Hard(part.Was))
	}
	s.After = after.Why
	switch {
	case len(after.Gets)+len(after.Lacks) == 0:
		s.Lines = []string{"Nothing is taken from it."}
	case after.Usable:
		s.Lines = []string{"It can be ridden: nothing safety-relevant of it is missing, unknown or does not fit."}
	default:
		s.Lines = []string{"It can't be ridden:"}
	}
	return s
}
