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

func newBikeBagsCmd(e desk.Env) *cobra.Command {
	return bikeAskCommand(e, runBikeBags, cobra.Command{
		Use:   "bags NAME",
		Short: "Tell which bag of bolts, nuts and washers goes where",
		Long: `Bags tells where each bag of hardware goes, by what was measured in it: sort,
thread, length under the head, head, spanner size and class. The score of a place
is the pieces in both over the pieces in either. A label counts for nothing but
between places that match as well, and one that lies is pointed out.

Bolts that would start in the wrong hole and do harm there are warned about:
longer than a blind hole allows, too short to hold, weaker where safety hangs on
it, or of another pitch.`,
		Example: `  matewell bike bags winter-project
  matewell bike bags winter-project --format json`,
	})
}

func runBikeBags(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	return ask(ctx, e, opts.askOptions, bike.BikeBags, bike.BikeBagsQuestion{Name: opts.Name}, bikeBagsPage)
}

func bikeBagsPage(a bike.BikeBagsAnswer) page.Page {
	where := page.Section{Title: "Where the bags of " + string(a.Bike) + " go"}
	where.Table = page.Table{Columns: []string{"bag", "label", "goes to", "score", "pieces", "why"}, Detail: "why"}
	for _, b := range a.Bags {
		where.Table.Add(b.Bag, b.Label, bagPlace(b), bagScore(b), strconv.Itoa(b.Pieces), bagWhy(b))
	}
	if len(a.Bags) == 0 {
		where.Lines = []string{"No bags are recorded."}
	}
	contents := page.Section{Title: "What each bag holds, lacks and has over"}
	contents.Table = page.Table{Columns: []string{"bag", "is", "pieces", "what", "where"}, Group: "bag", Detail: "where"}
	for _, b := range a.Bags {
		bagContents(&contents.Table, b)
	}
	return page.Page{where, contents, bagWarnings(a.Warnings), cautionSection(a.Cautions)}
}

func bagPlace(b bike.BagRow) string {
	if b.Place == nil {
		return "nowhere on this machine"
	}
	text := b.Place.Name
	if !b.Settled {
		text = "not settled; best: " + text
	}
	return text
}

func bagScore(b bike.BagRow) string {
	if b.Place == nil {
		return ""
	}
	return scoreText(b.Place.Score)
}

func scoreText(score float64) string { return strconv.FormatFloat(score, 'f', 2, 64) }

// bagWhy is what speaks for a place, against it, and what would settle it.
func bagWhy(b bike.BagRow) string {
	var lines []string
	if b.Place != nil {
		lines = append(lines, fmt.Sprintf("%d of the %d pieces that go there", b.Place.Matched, b.Place.Expected))
	}
	if b.LabelWhy != "" {
		lines = append(lines, b.LabelWhy)
	}
	for _, tie := range b.Ties {
		lines = append(lines, "as well: "+tie.Name+" "+scoreText(tie.Score))
	}
	if !b.Settled {
		for _, next := range b.Next {
			lines = append(lines, "next: "+next.Name+" "+scoreText(next.Score))
		}
	}
	switch {
	case b.Settle != "":
		lines = append(lines, "to settle it: "+b.Settle)
	case b.ByCount:
		lines = append(lines, "by count: the same hardware also goes to "+places(b.Also))
	}
	return page.EachOnLine(lines, func(s string) string { return s })
}

// places names some positions, and how many more there are.
func places(all []graph.PositionID) string {
	const named = 3
	text := page.Join(all[:min(named, len(all))], page.Place)
	if more := len(all) - named; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func bagContents(t *page.Table, b bike.BagRow) {
	name := b.Bag
	if b.Label != "" {
		name += " (" + b.Label + ")"
	}
	for _, m := range matchLines(b.Matched) {
		t.Add(name, "matched", strconv.Itoa(m.pieces), m.item, places(m.at)+m.note)
	}
	for _, m := range b.Missing {
		where := page.Place(m.Position)
		if m.Renew {
			where += ", new every time anyway"
		}
		if m.AsFound != "" {
			where += ": " + m.AsFound
		}
		t.Add(name, "missing", strconv.Itoa(m.Quantity), missingHardware(m), where)
	}
	for _, o := range b.Over {
		t.Add(name, "over", strconv.Itoa(o.Quantity), o.Item, o.Text)
	}
}

// matchLine is what goes to several positions with the same to say of it.
type matchLine struct {
	item, note string
	pieces     int
	at         []graph.PositionID
}

func matchLines(all []bike.BagMatch) []matchLine {
	var lines []matchLine
	for _, m := range all {
		note := matchNote(m)
		i := slices.IndexFunc(lines, func(l matchLine) bool { return l.item == m.Item && l.note == note })
		if i < 0 {
			i, lines = len(lines), append(lines, matchLine{item: m.Item, note: note})
		}
		lines[i].pieces += m.Quantity
		lines[i].at = append(lines[i].at, m.Position)
	}
	return lines
}

// matchNote is what to know before pieces go where they match.
func matchNote(m bike.BagMatch) string {
	note := ""
	if m.AsFound != "" {
		note += ": " + m.AsFound
	}
	if len(m.Looks) > 0 {
		note += "; looks otherwise: " + page.List(m.Looks)
	}
	if m.Renew {
		note += "; new every time: not these again"
	} else if m.Safety != "" && len(m.Unread) > 0 {
		note += "; " + string(m.Safety) + ", so first read: " + page.List(m.Unread)
	}
	return note
}

func missingHardware(m bike.BagGap) string {
	if m.Part == "" {
		return "not the book's part"
	}
	return page.Hard(m.Part) + " " + m.Name
}

func bagWarnings(warnings []bike.BagWarning) page.Section {
	s := page.Section{Title: "Must not be swapped"}
	s.Table = page.Table{Columns: []string{"safety", "from", "what", "must not go to", "right there", "why"},
		Detail: "why"}
	for _, w := range warnings {
		s.Table.Add(string(w.Safety), w.Bag, w.Item, places(w.At), w.Right, w.Danger+": "+w.Why)
	}
	return s
}
