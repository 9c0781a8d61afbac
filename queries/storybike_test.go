package queries_test

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/bike"
)

// bikeAnswer asks what a story says behind "bike".
func bikeAnswer(ctx context.Context, r graph.Reader, q asked) (any, string, error) {
	name := q.arg(1)
	switch q.arg(0) {
	case "missing":
		a, err := bike.BikeMissing(ctx, r, bike.BikeWorkQuestion{Name: name, Assembly: q.options["assembly"]})
		return a, bikeMissingText(a), err
	case "shop":
		a, err := bike.BikeShop(ctx, r, bike.BikeWorkQuestion{Name: name, Assembly: q.options["assembly"]})
		return a, bikeShopText(a), err
	case "leftover":
		a, err := bike.BikeLeftover(ctx, r, bike.BikeLeftoverQuestion{Name: name})
		return a, bikeLeftoverText(a), err
	case "found":
		a, err := bike.BikeFound(ctx, r, bike.BikeFoundQuestion{Name: name})
		return a, bikeFoundText(a), err
	case "bags":
		a, err := bike.BikeBags(ctx, r, bike.BikeBagsQuestion{Name: name})
		return a, bikeBagsText(a), err
	}
	a, err := bike.Bike(ctx, r, bike.BikeQuestion{Name: q.arg(0)})
	return a, bikeText(a), err
}

func bikeText(a bike.BikeAnswer) string {
	var b strings.Builder
	for _, line := range a.Bikes {
		fmt.Fprintf(&b, "%s | %s | found %d, missing %d, planned %d, in boxes %d, bags %d\n", line.Bike, line.Variant,
			line.Found,
			line.Missing, line.Planned, line.Boxes, line.Bags)
	}
	if c := a.Card; c != nil {
		fmt.Fprintf(&b, "    frame number agrees: %s, %s\n", c.FrameFits, c.FrameWhy)
		for _, p := range c.Changes {
			fmt.Fprintf(&b, "    %s: book %s, found %s, planned %s\n", p.Position.Local(), orDash(string(p.Built)),
				orDash(p.Found), orDash(p.Planned))
		}
	}
	return b.String()
}

func bikeMissingText(a bike.BikeMissingAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		fmt.Fprintf(&b, "%s | %s | %d x %s | short of %d\n", row.Position.Local(), row.State, row.Quantity,
			orDash(string(row.Part)), row.Short)
		for _, u := range row.FromBox {
			fmt.Fprintf(&b, "    from %s: %d x %s, %s (%s)\n", u.Box, u.Quantity, u.Part, u.How, u.Sure)
			for _, c := range u.Changes {
				fmt.Fprintf(&b, "        %s\n", c.Do)
			}
		}
		for _, c := range row.CheckFirst {
			fmt.Fprintf(&b, "    check first: %s in %s, %s\n", c.Part, c.Box, c.Why)
		}
		for _, against := range row.Against {
			fmt.Fprintf(&b, "    %s: %s: %s\n", against.What, against.Verdict, against.Why)
		}
	}
	for _, line := range a.Renew {
		fmt.Fprintf(&b, "new every time: %s: %d for this work, %d in all\n", line.Part, line.Open, line.All)
	}
	return b.String() + openText(a.SafetyOpen())
}

func bikeShopText(a bike.BikeShopAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		fmt.Fprintf(&b, "buy %d x %s for %s\n", row.Quantity, row.Part, strings.Join(row.Why, ", "))
	}
	for _, r := range a.OnIt {
		fmt.Fprintf(&b, "on it, will not go: %s: %s\n", r.Part, r.Why)
	}
	for _, n := range a.NotReady {
		fmt.Fprintf(&b, "not ready: %s\n", n)
	}
	fmt.Fprintf(&b, "proved %v\n", a.Proved)
	return b.String() + openText(a.SafetyOpen())
}

func openText(open bool) string {
	if open {
		return "something safety-relevant is unknown or does not fit\n"
	}
	return ""
}

func bikeLeftoverText(a bike.BikeLeftoverAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		fmt.Fprintf(&b, "%s | %s | %d x %s | %s (%s)\n", row.Class, row.Box, row.Quantity, row.Part, row.Why, row.Sure)
		if row.Kit != "" {
			fmt.Fprintf(&b, "    in kit %s\n", row.Kit)
		}
		if row.Doubt != "" {
			fmt.Fprintf(&b, "    %s\n", row.Doubt)
		}
	}
	fmt.Fprintf(&b, "%d pieces, %d needed\n", a.Pieces, a.Needed)
	return b.String()
}

func bikeFoundText(a bike.BikeFoundAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		fmt.Fprintf(&b, "%s | book %s | found %s | %s | %s\n", row.Position.Local(), orDash(string(row.Built)),
			orDash(string(row.Found)), row.Verdict, row.How)
		for _, against := range row.Against {
			fmt.Fprintf(&b, "    %s: %s: %s\n", against.What, against.Verdict, against.Why)
		}
	}
	fmt.Fprintf(&b, "as the book says: %d\n", a.AsBook)
	return b.String() + openText(a.SafetyOpen())
}

func bikeBagsText(a bike.BikeBagsAnswer) string {
	var b strings.Builder
	for _, bag := range a.Bags {
		bagText(&b, bag)
	}
	for _, w := range a.Warnings {
		var at []string
		for _, id := range w.At {
			at = append(at, id.Local())
		}
		fmt.Fprintf(&b, "warning: %s of %s must not go to %s (%s): %s: %s\n", w.Item, w.Bag, strings.Join(at, ", "), w.Right,
			w.Danger, w.Why)
	}
	return b.String() + openText(a.SafetyOpen())
}

func bagText(b *strings.Builder, bag bike.BagRow) {
	if bag.Place == nil {
		fmt.Fprintf(b, "%s | nowhere\n", bag.Bag)
	} else {
		fmt.Fprintf(b, "%s | %s | %d of %d, score %.3f | settled %v\n", bag.Bag, bag.Place.Name, bag.Place.Matched,
			bag.Place.Expected,
			bag.Place.Score, bag.Settled)
	}
	if bag.LabelIs != bike.LabelNone {
		fmt.Fprintf(b, "    label %s: %s\n", bag.LabelIs, orDash(bag.LabelWhy))
	}
	for _, tie := range bag.Ties {
		fmt.Fprintf(b, "    as well: %s\n", tie.Name)
	}
	if bag.Settle != "" {
		fmt.Fprintf(b, "    to settle it: %s\n", bag.Settle)
	}
	for _, m := range bag.Matched {
		notes := slices.Concat(m.Looks, []string{})
		if len(m.Unread) > 0 {
			notes = append(notes, "not read: "+strings.Join(m.Unread, ", "))
		}
		if m.AsFound != "" {
			notes = append(notes, m.AsFound)
		}
		fmt.Fprintf(b, "    matched: %d %s to %s", m.Quantity, m.Item, m.Position.Local())
		if len(notes) > 0 {
			fmt.Fprintf(b, " (%s)", strings.Join(notes, "; "))
		}
		b.WriteByte('\n')
	}
	for _, m := range bag.Missing {
		fmt.Fprintf(b, "    missing: %d %s at %s\n", m.Quantity, orDash(string(m.Part)), m.Position.Local())
	}
	for _, o := range bag.Over {
		fmt.Fprintf(b, "    over: %d %s: %s\n", o.Quantity, o.Item, o.Text)
	}
}
