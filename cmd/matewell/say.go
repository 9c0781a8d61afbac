package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
)

// This file puts into cells and sections what several answers share.

// onCell says on which machines a row holds.
func onCell(c queries.Coverage) string { return string(c.Model) + " " + c.String() }

func sourceID(s evidence.Source) string { return s.ID }

// rankText is how good a voice is, in words; what the trade does is nobody's report.
func rankText(s evidence.Source) string {
	if s.Kind == string(graph.SourcePractice) {
		return s.Kind
	}
	return s.Rank.String()
}

// voicesText names voices; those that are not counted again are marked.
func voicesText(voices []evidence.Source) string {
	said := lists.Mapped(voices, sourceID)
	for i, of := range evidence.Repeats(voices) {
		said[i] += repeatText(voices, i, of)
	}
	return strings.Join(said, "; ")
}

// repeatText says of a voice where it is taken from, and which earlier one it repeats;
// of is negative for one that counts.
func repeatText(voices []evidence.Source, at, of int) string {
	text := ""
	if from := voices[at].ReprintOf; from != "" {
		text = ", taken from " + from
	}
	switch {
	case of < 0:
		return text
	case text == "":
		text = ", of one origin with " + voices[of].ID
	}
	return text + ", so not counted again"
}

// sourceCell names the best source, how good it is, and how many more there are.
func sourceCell(best evidence.Source, rank evidence.Rank, others []evidence.Source) string {
	if best.ID == "" {
		return ""
	}
	text := page.BreakAfter(best.ID, "-")
	if rank != evidence.NoRank {
		text += " (" + rank.String() + ")"
	}
	if len(others) > 0 {
		text += fmt.Sprintf(" and %d more", len(others))
	}
	return text
}

// changeText is what has to be done, with how hard it is.
func changeText(c evidence.Change) string {
	text := c.Do
	if c.Part != "" && !strings.Contains(text, string(c.Part)) {
		text += " (" + string(c.Part) + ")"
	}
	if c.Effort != graph.EffortNone {
		text += ": " + c.Effort.String()
	}
	return text
}

// verdictLines count the rows by verdict when there are several.
func verdictLines(counts []fits.VerdictCount) []string {
	if len(counts) == 0 || len(counts) == 1 && counts[0].Rows == 1 {
		return nil
	}
	said := make([]string, len(counts))
	for i, c := range counts {
		said[i] = fmt.Sprintf("%d %s", c.Rows, c.Verdict)
	}
	return []string{"Rows: " + page.List(said) + "."}
}

// splitSection lists the variants that the question does not tell apart, when
// that is a list to choose from, and the facts that would.
func splitSection(split []queries.SplitLine, settledBy []string) page.Section {
	const choice = 12
	if len(split) < 2 {
		return page.Section{} // one is what was asked about
	}
	s := page.Section{Title: "The answer depends on which of these it is"}
	if len(split) > choice {
		s.Title = "The answer depends on which machine it is"
	} else {
		s.Table.Columns = []string{"variant", "market", "frame numbers"}
		for _, line := range split {
			s.Table.Add(page.Hard(line.Variant), line.Market, line.Frames)
		}
	}
	s.After = []string{"What settles it: " + settleWords(settledBy) + "."}
	return s
}

// settleWords names facts with the flags that give them.
func settleWords(facts []string) string {
	flags := strings.NewReplacer("frame number", "frame number (--frame)", "market", "market (--market)")
	return flags.Replace(page.List(facts))
}

// belongsSection names the places to ask about when nobody speaks of the part.
func belongsSection(a fits.FitsAnswer) page.Section {
	if len(a.Belongs) == 0 {
		return page.Section{}
	}
	s := page.Section{Title: "Where a part of its kind belongs"}
	s.Table.Columns = []string{"position", "name", "safety"}
	for _, p := range a.Belongs {
		s.Table.Add(p.Position.Local(), p.Name, string(p.Safety))
	}
	s.After = []string{fmt.Sprintf("To have the joints there judged: matewell swap --on %s %s=%s",
		a.On.Asked, a.Belongs[0].Position.Local(), strings.ReplaceAll(string(a.Part.ID), " ", "-"))}
	return s
}

func twinSection(twins []evidence.Twin) page.Section {
	s := page.Section{Title: "Other revisions and colours of the number"}
	s.Table.Columns = []string{"part", "differs", "listed"}
	for _, twin := range twins {
		s.Table.Add(page.Hard(twin.Part), twin.Differs, page.EachOnLine(twin.Listed, useText))
	}
	return s
}

// manyUses is at how many places a part may be listed for each to be printed unasked:
// above it are bolts and washers that go anywhere.
const manyUses = 500

// useSection lists where a part is listed; of many places it counts those of each model,
// unless all is asked for.
func useSection(title string, uses []evidence.Use, all bool) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"on", "position", "source"}, Group: "position"}
	for _, use := range uses {
		s.Table.Add(onCell(use.Coverage), page.Place(use.Position), page.Join(use.Sources, sourceID))
	}
	if all || len(uses) <= manyUses {
		return s
	}
	s = page.KeptRows(s)
	var models page.Tally
	seen := map[graph.PositionID]bool{}
	for _, use := range uses {
		if !seen[use.Position] {
			seen[use.Position] = true
			models.Add(string(use.Position.Model()))
		}
	}
	s.Table = page.Table{Columns: []string{"on", "places"}}
	for _, model := range models.Names {
		s.Table.Add(model, strconv.Itoa(models.Of[model]))
	}
	s.Lines = append(s.Lines, page.Counted(len(seen), "place")+" of "+page.Counted(len(models.Names), "model")+
		", counted by model; "+page.AllPrints(len(seen)))
	return s
}

// withdrawnSection keeps visible what somebody took back.
func withdrawnSection(findings []evidence.FindingLine) page.Section {
	s := page.Section{Title: "Withdrawn findings, not counted"}
	for _, f := range findings {
		s.Lines = append(s.Lines, fmt.Sprintf("%s: %s %s: withdrawn, %s", f.ID, page.Hard(f.Part), f.Verdict, f.Withdrawn))
	}
	return s
}

func cautionSection(cautions []queries.Caution) page.Section {
	s := page.Section{Title: "Before anyone rides"}
	for _, c := range cautions {
		s.Lines = append(s.Lines, c.Text)
	}
	return s
}

// addMachineFlags adds the flags that name machines.
func addMachineFlags(e desk.Env, cmd *cobra.Command, w *shelf.Where, on, market, frame *string) {
	cmd.Flags().StringVar(on, "on", "", "only on this `MACHINE`: a model, model year or years, variant, or bike")
	cmd.Flags().StringVar(market, "market", "", "only machines for this `MARKET`")
	cmd.Flags().StringVar(frame, "frame", "", "only the machine with this frame `NUMBER`")
	complete(cmd, "on", fromGraph(e, w, variantWords))
	complete(cmd, "market", fromGraph(e, w, marketWords))
}
