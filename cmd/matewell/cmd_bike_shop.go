package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/bike"
)

func newBikeShopCmd(e desk.Env) *cobra.Command {
	return bikeOfferCommand(e, runBikeShop, cobra.Command{
		Use:   "shop NAME [--assembly ASSEMBLY]",
		Short: "Make one list of what to get for the machine",
		Long: `Shop makes one list of all that your machine still needs: what is missing,
planned or scrap and lies in no box, what the found and planned parts drag in, what
goes on new every time where joints are opened, what is made to measure, and the
oil, fluid and grease that the work uses up.

Old numbers become those that are sold today, where the newer one may go there.
Kits and packs are chosen so that the whole costs least. The list is sorted by
seller and by what holds up most. What is sold no more comes with a line to look
for it by. What a rule or a finding says will not go is left out, and said.

--offer names what can be had and holds some of it, beside the number it would do
for; prices of offers are not in the sum.

--format csv gives a shop one row a number.`,
		Example: `  matewell bike shop winter-project
  matewell bike shop winter-project --assembly front-brake --format csv`,
	})
}

func runBikeShop(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	lay := func(a bike.BikeShopAnswer) page.Page {
		if opts.format == page.FormatCSV {
			return page.Page{buyingSection("", a.List)}
		}
		return bikeShopPage(a)
	}
	return ask(ctx, e, opts.askOptions, withOffers(e, opts, bike.BikeShop), opts.BikeWorkQuestion, lay)
}

func bikeShopPage(a bike.BikeShopAnswer) page.Page {
	title := "What to get for " + string(a.Bike)
	if a.Assembly != "" {
		title += ", " + a.Assembly
	}
	p := shopSections(title, a.List)
	if len(a.Rows) > 0 {
		p[0].Lines = append(schemeLine(a.Colours), p[0].Lines...)
	}
	if len(a.NotListed) > 0 && len(a.Rows) == 0 {
		p[0].Lines = []string{"Nothing can be listed to buy: no source says what belongs where something is missing."}
	}
	onIt := refusedSection("On the machine already: it will not go, whatever is bought", a.OnIt)
	return append(p, notListedSection(a.NotListed), lookFirstSection(a.Bike, a.Look), onIt,
		withAllSection(a.Ready, a.NotReady), cautionSection(a.Cautions))
}

// lookFirstSection names the pieces on the machine that a look decides about.
func lookFirstSection(on graph.BikeID, rows []bike.LookFirst) page.Section {
	s := page.Section{Title: "On the machine already: to look at before you buy"}
	s.Table = page.Table{Columns: []string{"place", "safety", "state", "what renews it"}, Detail: "state"}
	for _, row := range rows {
		renews := "a new one: " + page.Hard(row.Part)
		if row.Job != "" {
			renews = fmt.Sprintf("matewell job %s --on %s; else a new one: %s", row.Job, on, page.Hard(row.Part))
		}
		s.Table.Add(page.Place(row.Position), string(row.Safety), row.State, renews)
	}
	return s
}

// notListedSection says what is missing and can't be put on the list.
func notListedSection(rows []bike.NotListed) page.Section {
	s := page.Section{Title: "What can't be listed: no source says what belongs there"}
	t := page.Table{Columns: []string{"place", "what", "pieces", "safety"}}
	pieces := 0
	for _, n := range rows {
		pieces += n.Quantity
		t.Add(page.Place(n.Position), n.Name, strconv.Itoa(n.Quantity), string(n.Safety))
	}
	s.Table = page.BothSides(t, "place", "what")
	if len(rows) > 0 {
		s.Lines = []string{fmt.Sprintf("%s still to be found, at %s.", page.Counted(pieces, "piece"),
			page.Counted(len(rows), "place"))}
	}
	return s
}
