package main

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// This file lays out the sections of a swap that follow from its outcomes.

func trailSection(trails []swap.Trail) section {
	s := section{Title: "What each consequence drags in"}
	s.Table = table{Columns: []string{"from part to part", "comes to"}}
	s.Rows = table{Columns: []string{"trail", "ends", "comes to"}}
	for _, t := range trails {
		s.Table.add(breakAfter(t.Text, "/"), trailEnd(t))
		s.Rows.add(t.Text, t.Ends, trailEnd(t))
	}
	return s
}

// trailEnd is where a trail comes to rest.
func trailEnd(t swap.Trail) string {
	last := t.Steps[len(t.Steps)-1]
	switch t.Ends {
	case swap.EndsMates:
		for i := len(t.Steps) - 1; i >= 0; i-- {
			if words, ok := strings.CutPrefix(t.Steps[i].What, "takes "); ok {
				return "with " + words + " it mates"
			}
		}
		return "it mates " + last.What
	case swap.EndsMeasure:
		return "measure first: " + last.What
	case swap.EndsOrder:
		return last.What
	}
	return "nothing known closes it: " + last.What
}

func getSection(gets []swap.Get) section {
	s := section{Title: "What to get or make"}
	s.Table = table{Columns: []string{"for", "what", "also", "price"}}
	s.Rows = table{Columns: []string{"what", "position", "part", "quantity", "text", "spec", "for", "leaves", "also", "price"}}
	for _, g := range gets {
		s.Table.add(place(g.Position), getCell(g), join(g.Also, hard), g.Price)
		spec := make([]string, len(g.Spec))
		for i, f := range g.Spec {
			spec[i] = f.Name + ": " + f.Value
		}
		s.Rows.add(g.What, string(g.Position), string(g.Part), year(g.Quantity), g.Text, strings.Join(spec, "; "),
			list(g.For), list(g.Leaves), join(g.Also, hard), g.Price)
	}
	return s
}

// getCell is a part by its number, or an order field by field.
func getCell(g swap.Get) string {
	if g.Part != "" {
		text := hard(g.Part)
		if g.Quantity > 1 {
			text = fmt.Sprintf("%d x %s", g.Quantity, text)
		}
		if g.Name != "" {
			text += ", " + strings.TrimPrefix(g.Name, string(g.Part)+", ")
		}
		for _, f := range g.Spec {
			text += "; " + f.Name + ": " + f.Value
		}
		return g.What + " " + text
	}
	text := "order " + g.Text
	if g.Quantity > 1 {
		text = fmt.Sprintf("order %d x %s", g.Quantity, g.Text)
	}
	if g.What == "making list" {
		text = g.Text
	}
	for _, f := range g.Spec { // what the line above leaves out
		if !strings.Contains(text, f.Value) {
			text += "; " + f.Name + ": " + f.Value
		}
	}
	return text
}

func thenSection(t *swap.SwapThen) section {
	if t == nil {
		return section{}
	}
	s := outcomeSection("With all of that on as well", t.Left)
	s.Lines = []string{"In all: " + t.VerdictWords() + ". " + readyWords(t.Ready, t.NotReady)}
	if len(t.Figures) > 0 {
		s.Lines = append(s.Lines, "See the numbers below for: "+list(t.Figures)+".")
	}
	if len(t.Left) > 0 {
		s.Lines = append(s.Lines, "What is left:")
	}
	return s
}

func renewSection(rows []swap.RenewRow) section {
	s := section{Title: "What to renew anyway"}
	s.Table = table{Columns: []string{"where", "what"}}
	for _, r := range rows {
		text := r.Text
		if r.Quantity > 1 {
			text = strconv.Itoa(r.Quantity) + " x " + text
		}
		where := place(r.Position)
		if r.Position == "" {
			where = join(r.For, func(j graph.JointID) string { return localJoint(j) })
			if len(r.For) > 1 {
				text += ", at each"
			}
		}
		s.Table.add(where, text)
	}
	return s
}

func localJoint(j graph.JointID) string {
	_, local, _ := strings.Cut(string(j), ":")
	return local
}

func measureSection(rows []swap.MeasureRow) section {
	s := section{Title: "What to measure first"}
	s.Table = table{Columns: []string{"where", "what", "with", "to", "for"}, Detail: "for"}
	for _, r := range rows {
		s.Table.add(breakAfter(r.Where, "/"), r.What, r.Gauge, r.Accuracy, list(r.For))
	}
	return s
}

// numberSection says the source of each formula once, below.
func numberSection(numbers []examine.Number) section {
	s := section{Title: "Numbers, before and after"}
	s.Table = table{Columns: []string{"number", "stock", "before", "after", "donor", "change", "what it means"}, Detail: "what it means"}
	s.Rows = table{Columns: []string{"about", "name", "unit", "stock", "before", "after", "donor", "donor_on", "change", "words", "verdict", "source"}}
	bySource := map[string][]string{}
	var sources []string
	for _, n := range numbers {
		s.Table.add(numberName(n), stockCell(n), figureText(n.Before, ""), figureText(n.After, "unknown"), figureText(n.Donor, ""), hard(n.Change), numberWords(n))
		s.Rows.add(n.About, n.Name, n.Unit, figureText(n.Stock, ""), figureText(n.Before, ""), figureText(n.After, ""), figureText(n.Donor, ""),
			string(n.DonorOn), n.Change, n.Words, n.Verdict.String(), n.Source)
		if bySource[n.Source] == nil {
			sources = append(sources, n.Source)
		}
		bySource[n.Source] = append(bySource[n.Source], n.Name)
	}
	for _, source := range sources {
		s.After = append(s.After, fmt.Sprintf("%s: %s.", list(bySource[source]), source))
	}
	return s
}

func numberName(n examine.Number) string {
	if n.Unit == "" {
		return n.Name
	}
	return n.Name + ", " + n.Unit
}

func numberWords(n examine.Number) string {
	if n.Verdict == graph.NoVerdict || n.Verdict == graph.Fits || strings.HasPrefix(n.Words, n.Verdict.String()+":") {
		return n.Words
	}
	return n.Verdict.String() + ": " + n.Words
}

// stockCell leaves out what is the same as before.
func stockCell(n examine.Number) string {
	if n.Stock != nil && n.Before != nil && *n.Stock == *n.Before {
		return ""
	}
	return figureText(n.Stock, "")
}

// figureText prints a number, or what stands for one that is not known.
func figureText(v *float64, without string) string {
	if v == nil {
		return without
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}

func torqueSection(rows []swap.TorqueRow) section {
	s := section{Title: "Torque of each joint that is opened"}
	s.Table = table{Columns: []string{"joint", "torque", "source"}}
	s.Rows = table{Columns: []string{"joint", "torque", "source", "given", "see", "conflict"}}
	for _, r := range rows {
		torque, source := r.Torque, ""
		if r.Source != nil {
			source = r.Source.ID + " (" + r.Source.Rank.String() + ")"
		}
		given := join(r.Given, func(g swap.TorqueGiven) string {
			return g.Value + " for " + g.For + " (" + g.Source.ID + ")"
		})
		text := torqueWords(r, given)
		s.Table.add(localJoint(r.Joint), joinLines(hard(torque), text), source)
		s.Rows.add(localJoint(r.Joint), torque, source, given, r.See, strconv.FormatBool(r.Conflict))
	}
	return s
}

// torqueWords is what stands beside the value: why it does not hold, or what
// else is given.
func torqueWords(r swap.TorqueRow, given string) string {
	switch {
	case r.Torque == "" && given != "":
		return r.See + "; given: " + given
	case r.Conflict:
		return "sources disagree: " + given
	}
	return r.See
}

func joinLines(lines ...string) string {
	var kept []string
	for _, line := range lines {
		if line != "" {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n")
}

func conflictSection(conflicts []swap.Conflict) section {
	s := section{Title: "Where sources disagree"}
	for _, c := range conflicts {
		sides := join(c.Sides, func(side swap.ConflictSide) string {
			if side.Source == nil {
				return side.Says
			}
			return fmt.Sprintf("%s (%s, %s)", side.Says, side.Source.ID, side.Source.Rank)
		})
		s.Lines = append(s.Lines, fmt.Sprintf("%s: %s. To settle it: %s.", c.About, sides, strings.TrimSuffix(c.Settle, ".")))
	}
	return s
}
