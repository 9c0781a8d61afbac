package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/bike"
)

func newBikeMissingCmd(e desk.Env) *cobra.Command {
	return bikeOfferCommand(e, runBikeMissing, cobra.Command{
		Use:   "missing NAME [--assembly ASSEMBLY]",
		Short: "Tell what the machine lacks after what lies in the boxes",
		Long: `Missing lists the positions of your machine where nothing is, or where something
else is planned, what blocks the work first. The boxes count only for the number
itself, for one that a supersession allows in that direction, and for what a kit
holds; what is near is named to be checked. Each part is judged in its place, with
what was found next to it: what does not go there, or nobody can tell, does not count.

Parts that go on new every time make a shopping list of their own, whatever lies
in the boxes. Positions nobody looked at are taken to be as the book says.

--offer names what can be had and holds what is short: a file of offers (matewell
schema offers), or "WHAT; PRICE" in one line. Which is the cheapest whole way is
for a plan to say: matewell donor --help.`,
		Example: `  matewell bike missing winter-project
  matewell bike missing winter-project --assembly front-brake`,
	})
}

func runBikeMissing(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	return ask(ctx, e, opts.askOptions, withOffers(e, opts, bike.BikeMissing), opts.BikeWorkQuestion, bikeMissingPage)
}

func bikeMissingPage(a bike.BikeMissingAnswer) page.Page {
	title := "What " + string(a.Bike) + " lacks"
	if a.Assembly != "" {
		title += " in " + a.Assembly
	}
	rows := page.Section{Title: title, Lines: missingLines(a)}
	rows.Table = page.Table{Columns: []string{"position", "safety", "needs", "part", "short", "in the boxes", "look out"},
		Detail: "look out", More: "in the boxes"}
	rows.Rows = page.Table{Columns: rows.Table.Columns}
	for _, row := range a.Rows {
		cells := []string{page.Place(row.Position), string(row.Safety), strconv.Itoa(row.Quantity), missingPart(row),
			strconv.Itoa(row.Short), page.EachOnLine(row.FromBox, boxUseText), missingLookOut(row)}
		rows.Rows.Add(cells...)
		if !isOpenPlace(row) {
			rows.Table.Add(cells...)
		}
	}
	if len(a.Rows) == 0 {
		rows.Lines = []string{"Nothing is missing that is known of."}
	}
	if a.Assumed > 0 {
		rows.After = []string{fmt.Sprintf("%s that nobody noted anything of %s taken to be as the book says.",
			page.Counted(a.Assumed, "position"), page.Plural(a.Assumed, "is", "are"))}
	}
	return page.Page{rows, openPlacesSection(a), newEveryTimeSection(a.Renew), toBuySection(a), cautionSection(a.Cautions)}
}

// isOpenPlace reports whether nobody says what belongs at a place, so that nobody can say
// either that something is missing there.
func isOpenPlace(row bike.MissingRow) bool { return row.State == bike.StateNotKnown }

// openPlacesSection counts those places, an assembly a line.
func openPlacesSection(a bike.BikeMissingAnswer) page.Section {
	s := page.Section{Title: "Not known: no source says what belongs there", Aside: true}
	s.Table = page.Table{Columns: []string{"assembly", "places", "safety"}}
	var places page.Tally
	safety := map[string]*page.Tally{}
	for _, row := range a.Rows {
		if !isOpenPlace(row) {
			continue
		}
		name := row.Position.Assembly().Local()
		places.Add(name)
		if safety[name] == nil {
			safety[name] = &page.Tally{}
		}
		if row.Safety != graph.SafetyNone {
			safety[name].Add(string(row.Safety))
		}
	}
	for _, name := range places.Names {
		s.Table.Add(page.Hard(name), strconv.Itoa(places.Of[name]), safety[name].Plain())
	}
	if len(places.Names) > 0 {
		s.After = []string{"Name what sits there, or import a parts list; what to measure first says: matewell gaps --on " +
			string(a.Bike)}
	}
	return s
}

// missingLines are the first lines: how much is lacking, what of it stands in the
// way of riding, what is to be found.
func missingLines(a bike.BikeMissingAnswer) []string {
	var safety, against page.Tally
	short, open := 0, 0
	for _, row := range a.Rows {
		if isOpenPlace(row) {
			open++
		} else {
			short += row.Short
		}
		if row.Safety != graph.SafetyNone {
			safety.Add(string(row.Safety))
		}
		for range min(len(row.Against), 1) {
			against.Add(row.Position.Local())
		}
	}
	if len(a.Rows) == 0 {
		return nil
	}
	var lines []string
	if lacking := len(a.Rows) - open; lacking > 0 {
		lines = append(lines, fmt.Sprintf("%s %s something; %s", page.Counted(lacking, "place"),
			page.Plural(lacking, "lacks", "lack"), foundWords(a, short)))
	}
	if open > 0 {
		lines = append(lines, fmt.Sprintf("At %s no source says what belongs there, and nobody noted what does.",
			page.Counted(open, "place")))
	}
	lines = append(lines, schemeLine(a.Colours)...)
	if len(safety.Names) > 0 {
		lines = append(lines, "Not ready to ride: "+safety.Plain()+" among them.")
	}
	if len(against.Names) > 0 {
		lines = append(lines, "Does not mate with what is there, or is not known to: "+page.List(against.Names)+".")
	}
	return lines
}

// foundWords says how much is still to be found of what is lacking, and whether the boxes hold
// any of it.
func foundWords(a bike.BikeMissingAnswer, short int) string {
	inBoxes := slices.ContainsFunc(a.Rows, func(row bike.MissingRow) bool { return len(row.FromBox) > 0 })
	switch {
	case short == 0:
		return "all of it lies in the boxes."
	case inBoxes:
		return page.Counted(short, "piece") + " still to be found, the rest lies in the boxes."
	}
	return page.Counted(short, "piece") + " still to be found: nothing of it lies in the boxes."
}

func missingPart(row bike.MissingRow) string {
	switch {
	case row.Part == "":
		return "no source says what belongs here"
	case row.State == bike.StatePlanned:
		return page.Hard(row.Part) + "\n(planned)"
	case row.State == bike.StateScrap:
		return page.Hard(row.Part) + "\n(what is there is scrap)"
	case row.State == bike.StateOff:
		return page.Hard(row.Part) + "\n(what is there does not go)"
	}
	return page.Hard(row.Part)
}

func boxUseText(u bike.BoxUse) string {
	text := fmt.Sprintf("%d x %s in %s", u.Quantity, page.Hard(u.Part), u.Box)
	if u.Kit != "" {
		text += " in kit " + page.Hard(u.Kit)
	}
	if u.Sure != "" {
		text += " (" + u.Sure + ")"
	}
	if u.State != "" {
		text += " (" + u.State + ")"
	}
	text += ownerNote(u.Note)
	if u.How != "the very number" {
		text += ", " + u.How
	}
	for _, c := range u.Changes {
		text += "; " + changeText(c)
	}
	for _, c := range u.Beside {
		text += fmt.Sprintf("; %d x %s for it in %s", c.Quantity, page.Hard(c.Part), c.Box)
	}
	return text
}

// ownerNote is what an owner noted on a piece, behind what is said of it; empty for none.
func ownerNote(note string) string {
	if note == "" {
		return ""
	}
	return ", note: " + note
}

func missingLookOut(row bike.MissingRow) string {
	var lines []string
	if row.Scrap != "" {
		lines = append(lines, "what is there: "+row.Scrap)
	}
	if row.Off != "" {
		lines = append(lines, row.Off)
	}
	for _, c := range row.CheckFirst {
		text := "check first: " + page.Hard(c.Part) + " in " + c.Box + ", " + c.Why
		if c.Sure != "" {
			text += " (" + c.Sure + ")"
		}
		text += ownerNote(c.Note)
		lines = append(lines, text)
	}
	for _, o := range row.Offered {
		lines = append(lines, o.Text())
	}
	for _, against := range row.Against {
		lines = append(lines, against.Verdict.String()+": "+against.Why)
	}
	for _, text := range row.Goes {
		lines = append(lines, "goes once this is on: "+text)
	}
	return page.EachOnLine(lines, func(s string) string { return s })
}

func newEveryTimeSection(lines []bike.RenewLine) page.Section {
	s := page.Section{Title: "New every time, whatever lies in the boxes"}
	s.Table = page.Table{Columns: []string{"part", "name", "for this work", "if all is stripped", "safety"}}
	for _, line := range lines {
		s.Table.Add(page.Hard(line.Part), line.Name, count(line.Open), strconv.Itoa(line.All), string(line.Safety))
	}
	return s
}

// toBuySection leaves what to buy to the one list of it.
func toBuySection(a bike.BikeMissingAnswer) page.Section {
	if len(a.Rows)+len(a.Renew) == 0 {
		return page.Section{}
	}
	return page.Section{Title: "What to buy, in kits and singly", Lines: []string{"matewell bike shop " + string(a.Bike)}}
}
