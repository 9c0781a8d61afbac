package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
)

// This file puts into cells and sections what several answers share.

// list joins words for reading: "eu, uk".
func list(words []string) string { return strings.Join(words, ", ") }

// join puts several things into one cell.
func join[T any](all []T, say func(T) string) string {
	said := make([]string, len(all))
	for i, one := range all {
		said[i] = say(one)
	}
	return strings.Join(said, "; ")
}

// eachOnLine puts several things into one cell, a line for each.
func eachOnLine[T any](all []T, say func(T) string) string {
	said := make([]string, len(all))
	for i, one := range all {
		said[i] = say(one)
	}
	return strings.Join(said, "\n")
}

func year(y int) string {
	if y == 0 {
		return ""
	}
	return strconv.Itoa(y)
}

// place is a position without its model, which may be broken behind the slash.
func place(p graph.PositionID) string { return breakAfter(p.Local(), "/") }

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
	text := breakAfter(best.ID, "-")
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

// footnotes are sentences too long for a cell, each under a number.
type footnotes struct{ lines []string }

// add gives the mark that stands in the cell; what was said before keeps its mark.
func (n *footnotes) add(text string) string {
	for i, line := range n.lines {
		if have := fmt.Sprintf("[%d]", i+1); line == have+" "+text {
			return have
		}
	}
	mark := fmt.Sprintf("[%d]", len(n.lines)+1)
	n.lines = append(n.lines, mark+" "+text)
	return mark
}

func (n *footnotes) section() section { return section{Title: "Contradicted", Lines: n.lines} }

// verdictLines count the rows by verdict when there are several.
func verdictLines(counts []fits.VerdictCount) []string {
	if len(counts) == 0 || len(counts) == 1 && counts[0].Rows == 1 {
		return nil
	}
	said := make([]string, len(counts))
	for i, c := range counts {
		said[i] = fmt.Sprintf("%d %s", c.Rows, c.Verdict)
	}
	return []string{"Rows: " + list(said) + "."}
}

// splitSection lists the variants that the question does not tell apart, when
// that is a list to choose from, and the facts that would.
func splitSection(split []queries.SplitLine, settledBy []string) section {
	const choice = 12
	if len(split) < 2 {
		return section{} // one is what was asked about
	}
	s := section{Title: "The answer depends on which of these it is"}
	if len(split) > choice {
		s.Title = "The answer depends on which machine it is"
	} else {
		s.Table.Columns = []string{"variant", "market", "frame numbers"}
		for _, line := range split {
			s.Table.add(hard(line.Variant), line.Market, line.Frames)
		}
	}
	s.After = []string{"What settles it: " + settleWords(settledBy) + "."}
	return s
}

// settleWords names facts with the flags that give them.
func settleWords(facts []string) string {
	flags := strings.NewReplacer("frame number", "frame number (--frame)", "market", "market (--market)")
	return flags.Replace(list(facts))
}

// belongsSection names the places to ask about when nobody speaks of the part.
func belongsSection(a fits.FitsAnswer) section {
	if len(a.Belongs) == 0 {
		return section{}
	}
	s := section{Title: "Where a part of its kind belongs"}
	s.Table.Columns = []string{"position", "name", "safety"}
	for _, p := range a.Belongs {
		s.Table.add(p.Position.Local(), p.Name, string(p.Safety))
	}
	s.After = []string{fmt.Sprintf("To have the joints there judged: matewell swap --on %s %s=%s",
		a.On.Asked, a.Belongs[0].Position.Local(), strings.ReplaceAll(string(a.Part.ID), " ", "-"))}
	return s
}

func twinSection(twins []evidence.Twin) section {
	s := section{Title: "Other revisions and colours of the number"}
	s.Table.Columns = []string{"part", "differs", "listed"}
	for _, twin := range twins {
		s.Table.add(hard(twin.Part), twin.Differs, eachOnLine(twin.Listed, useText))
	}
	return s
}

// useSection lists where a part is listed.
func useSection(title string, uses []evidence.Use) section {
	s := section{Title: title}
	s.Table = table{Columns: []string{"on", "position", "source"}, Group: "position"}
	for _, use := range uses {
		s.Table.add(onCell(use.Coverage), place(use.Position), join(use.Sources, sourceID))
	}
	return s
}

// withdrawnSection keeps visible what somebody took back.
func withdrawnSection(findings []evidence.FindingLine) section {
	s := section{Title: "Withdrawn findings, not counted"}
	for _, f := range findings {
		s.Lines = append(s.Lines, fmt.Sprintf("%s: %s %s: withdrawn, %s", f.ID, hard(f.Part), f.Verdict, f.Withdrawn))
	}
	return s
}

func cautionSection(cautions []queries.Caution) section {
	s := section{Title: "Before anyone rides"}
	for _, c := range cautions {
		s.Lines = append(s.Lines, c.Text)
	}
	return s
}

// addMachineFlags adds the flags that name machines.
func addMachineFlags(e env, cmd *cobra.Command, w *where, on, market, frame *string) {
	cmd.Flags().StringVar(on, "on", "", "only on this `MACHINE`: a model, model year or years, variant, or bike")
	cmd.Flags().StringVar(market, "market", "", "only machines for this `MARKET`")
	cmd.Flags().StringVar(frame, "frame", "", "only the machine with this frame `NUMBER`")
	complete(cmd, "on", fromGraph(e, w, variantWords))
	complete(cmd, "market", fromGraph(e, w, marketWords))
}
