package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/bike"
)

func newBikeFoundCmd(e desk.Env) *cobra.Command {
	return bikeAskCommand(e, runBikeFound, cobra.Command{
		Use:   "found NAME",
		Short: "Tell what on the machine is not what the book says",
		Long: `Found lists the positions of your machine where something else is than the book
says, how that compares with the book's part, and whether it mates with what is
really next to it. It tells which later answers are judged with what was found.`,
		Example: `  matewell bike found winter-project
  matewell bike found grey-gull --format json`,
	})
}

func runBikeFound(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	return ask(ctx, e, opts.askOptions, bike.BikeFound, bike.BikeFoundQuestion{Name: opts.Name}, bikeFoundPage)
}

func bikeFoundPage(a bike.BikeFoundAnswer) page.Page {
	s := page.Section{Title: "What on " + string(a.Bike) + " is not as built"}
	s.Table = page.Table{Columns: []string{"position", "safety", "book", "found", "verdict", "why"}, Group: "position",
		Detail: "why"}
	for _, row := range a.Rows {
		s.Table.Add(page.Place(row.Position), string(row.Safety), page.Hard(row.Built), foundCell(row.Found),
			row.Verdict.String(), foundWhy(row))
	}
	if len(a.Rows)+len(a.Moved) == 0 {
		s.Lines = []string{"Nothing is noted that is not as built."}
	}
	s.Lines = append(s.Lines, foundLines(a.Rows)...)
	if a.AsBook > 0 {
		s.After = []string{fmt.Sprintf("%s %s taken to be as the book says: nobody noted anything of %s.",
			page.Counted(a.AsBook, "other position"), page.Plural(a.AsBook, "is", "are"), page.Plural(a.AsBook, "it", "them"))}
	}
	s.After = append(s.After,
		"Judged with what was found: "+page.List(a.AsFound)+". Answered from the book: "+page.List(a.AsBuilt)+".")
	return page.Page{s, movedSection(a.Moved), outcomeSection("What does not fit as it stands", a.Standing),
		cautionSection(a.Cautions)}
}

// movedSection is what hangs elsewhere than as built, and what that does.
func movedSection(rows []bike.MovedRow) page.Section {
	s := page.Section{Title: "What hangs elsewhere than as built"}
	s.Table = page.Table{Columns: []string{"position", "safety", "now", "verdict", "why"}, Group: "position",
		Detail: "why"}
	for _, row := range rows {
		why := page.EachOnLine(row.Says, func(l bike.AgainstLine) string { return l.What + ": " + l.Why })
		if row.Note != "" {
			why += "\nnote: " + row.Note
		}
		s.Table.Add(page.Place(row.Position), string(row.Safety), row.Where, row.Verdict.String(), why)
	}
	return s
}

// foundLines are the first lines: how much is not as built, and what of it stands
// in the way of riding, worst first.
func foundLines(rows []bike.FoundRow) []string {
	if len(rows) == 0 {
		return nil
	}
	var verdicts, open []string
	for _, verdict := range []graph.Verdict{graph.DoesNotFit, graph.Unknown, graph.FitsWithChanges, graph.Fits} {
		n := 0
		for _, row := range rows {
			if row.Verdict != verdict {
				continue
			}
			n++
			if verdict != graph.Fits && verdict != graph.FitsWithChanges && row.Safety != graph.SafetyNone {
				open = append(open, "  "+verdict.String()+": "+page.Place(row.Position))
			}
		}
		if n > 0 {
			verdicts = append(verdicts, verdictCount(n, verdict))
		}
	}
	lines := []string{fmt.Sprintf("%s %s not as built: %s.", page.Counted(len(rows), "place"),
		page.Plural(len(rows), "is", "are"), page.List(verdicts))}
	if len(open) > 0 {
		lines = append(lines, "Not ready to ride:")
	}
	return append(lines, open...)
}

// verdictCount is "2 do not fit".
func verdictCount(n int, v graph.Verdict) string {
	word := v.String()
	if many := map[graph.Verdict]string{graph.DoesNotFit: "do not fit", graph.FitsWithChanges: "fit with changes",
		graph.Fits: "fit"}[v]; n > 1 && many != "" {
		word = many
	}
	return fmt.Sprintf("%d %s", n, word)
}

func foundCell(part graph.PartID) string {
	if part == "" {
		return "nothing"
	}
	return page.Hard(part)
}

func foundWhy(row bike.FoundRow) string {
	text := row.How
	if row.State != "" {
		text += "\n" + row.State
	}
	for _, against := range row.Against {
		// a number begins with its verdict itself; several joints may say the same
		why := strings.TrimPrefix(against.Why, against.Verdict.String()+": ")
		if !strings.Contains(text+"\n", ": "+why+"\n") {
			text += "\n" + against.Verdict.String() + ": " + against.What + ": " + why
		}
	}
	if row.Planned != "" {
		text += "\nplanned: " + page.Hard(row.Planned)
	}
	if row.Note != "" {
		text += "\nnote: " + row.Note
	}
	return text
}
