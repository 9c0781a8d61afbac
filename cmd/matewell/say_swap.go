package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// This file lays out the sections of a swap that follow from its outcomes.

// trailSection follows each consequence to its end. Those that end in what is to
// be got, made or measured are counted: that has its own sections.
func trailSection(trails []swap.Trail, all bool) page.Section {
	s := page.Section{Title: "What each consequence drags in"}
	s.Table = page.Table{Columns: []string{"from part to part", "comes to"}}
	s.Rows = page.Table{Columns: []string{"trail", "ends", "comes to"}}
	elsewhere := 0
	for _, t := range trails {
		s.Rows.Add(t.Text, t.Ends, trailEnd(t))
		if !all && (t.Ends == swap.EndsMates || t.Ends == swap.EndsOrder || t.Ends == swap.EndsMeasure) {
			elsewhere++
			continue
		}
		s.Table.Add(page.BreakAfter(t.Text, "/"), trailEnd(t))
	}
	if elsewhere > 0 {
		s.After = append(s.After, fmt.Sprintf("%d %s in what is to be got, made or measured, above. %s", elsewhere,
			page.Plural(elsewhere, "ends", "end"), page.AllPrints(elsewhere)))
	}
	return page.OnceOnly(s, "from part to part")
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

// getSection lists what to get or make. What only the shop that makes it needs to
// know is left out unless all is asked for.
func getSection(gets []swap.Get, all bool) page.Section {
	s := page.Section{Title: "What to get or make"}
	s.Table = page.Table{Columns: []string{"for", "what", "also", "price"}}
	s.Rows = page.Table{Columns: []string{"what", "position", "part", "quantity", "text", "spec", "for", "leaves", "also",
		"price"}}
	shortened := false
	for _, g := range gets {
		short := g
		if !all && g.Part == "" {
			short.Spec = lists.Kept(slices.Clone(g.Spec), func(f mating.Field) bool { return !forTheShop(f) })
			shortened = shortened || len(short.Spec) < len(g.Spec)
		}
		s.Table.Add(page.Place(g.Position), getCell(short), page.Join(g.Also, page.Hard), g.Price)
		spec := make([]string, len(g.Spec))
		for i, f := range g.Spec {
			spec[i] = f.Name + ": " + f.Value
		}
		s.Rows.Add(g.What, string(g.Position), string(g.Part), page.Year(g.Quantity), g.Text, strings.Join(spec, "; "),
			page.List(g.For), page.List(g.Leaves), page.Join(g.Also, page.Hard), g.Price)
	}
	if !all && shortened {
		s.After = append(s.After, "For the shop that makes it (material, edges, fits, finish): --all prints every field.")
	}
	return page.OnceOnly(s, "for")
}

// forTheShop reports whether a field of an order is for who makes the thing, not
// for who decides about it.
func forTheShop(f mating.Field) bool {
	for _, name := range []string{"material", "hole to hole", "hole's centre to edge", "finish", "ends",
		"bore, by ISO 286", "outside, by ISO 286"} {
		if strings.HasPrefix(f.Name, name) {
			return true
		}
	}
	return false
}

// getCell is a part by its number, or an order field by field.
func getCell(g swap.Get) string {
	if g.Part != "" {
		text := page.Hard(g.Part)
		if g.Quantity > 1 {
			text = fmt.Sprintf("%d x %s", g.Quantity, text)
		}
		if g.Name != "" {
			text += ", " + strings.TrimPrefix(g.Name, string(g.Part)+", ")
		}
		for _, f := range g.Spec {
			text += "; " + f.Name + ": " + f.Value
		}
		if g.Box != "" {
			text += "; in your box " + g.Box
		}
		if g.Note != "" {
			text += "; careful: it " + g.Note
		}
		return g.What + " " + text
	}
	text := "order " + g.Text
	if g.Quantity > 1 {
		text = fmt.Sprintf("order %d x %s", g.Quantity, g.Text)
	}
	if g.IsWork() {
		text = g.Text
	}
	for _, f := range g.Spec { // what the line above leaves out
		if !strings.Contains(text, f.Value) {
			text += "; " + f.Name + ": " + f.Value
		}
	}
	return text
}

// thenSection says what is left with everything on. What is left as it is without
// has its row above, and is named only.
func thenSection(a swap.SwapAnswer, all bool) page.Section {
	if a.Then == nil {
		return page.Section{}
	}
	told := slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges)
	var fresh, as []examine.Outcome
	for _, o := range a.Then.Left {
		if !all && slices.ContainsFunc(told, func(t examine.Outcome) bool {
			return t.What == o.What && t.ID == o.ID &&
				t.Why == o.Why
		}) {
			as = append(as, o)
			continue
		}
		fresh = append(fresh, o)
	}
	s := outcomeSection("With all of that on as well", fresh)
	s.Rows = outcomeRecords(a.Then.Left)
	s.Lines = []string{"In all: " + a.Then.VerdictWords() + ". " + readyWords(a.Then.Ready, a.Then.NotReady)}
	for _, n := range a.Then.Numbers {
		s.Lines = append(s.Lines, numberName(n)+": "+figureText(n.After, "unknown")+", "+numberWords(n)+".")
	}
	below := lists.Kept(a.Then.Figures, func(name string) bool {
		return !slices.ContainsFunc(a.Then.Numbers, func(n examine.Number) bool { return n.Name == name })
	})
	if len(below) > 0 {
		s.Lines = append(s.Lines, "See the numbers below for: "+page.List(below)+".")
	}
	if len(as) > 0 {
		s.Lines = append(s.Lines, "Still as above: "+page.Join(namesOnce(as), func(name string) string { return name })+".")
	}
	if len(fresh) > 0 {
		s.Lines = append(s.Lines, "What is left:")
	}
	return s
}

// namesOnce names what outcomes are about, left and right once.
func namesOnce(outcomes []examine.Outcome) []string {
	t := page.Table{Columns: []string{"what"}}
	for _, o := range outcomes {
		t.Add(meetingName(o))
	}
	var names []string
	for _, row := range page.BothSides(t, "what").Rows {
		names = append(names, row[0])
	}
	return names
}

func renewSection(rows []swap.RenewRow) page.Section {
	s := page.Section{Title: "What to renew and do anyway"}
	s.Table = page.Table{Columns: []string{"where", "what"}}
	for _, r := range rows {
		text := r.Text
		if r.Quantity > 1 {
			text = strconv.Itoa(r.Quantity) + " x " + text
		}
		where := page.Place(r.Position)
		if r.Position == "" {
			where = page.Join(r.For, func(j graph.JointID) string { return localJoint(j) })
			if len(r.For) > 1 {
				text += ", at each"
			}
		}
		s.Table.Add(where, text)
	}
	return page.OnceOnly(s, "where")
}

func localJoint(j graph.JointID) string {
	_, local, _ := strings.Cut(string(j), ":")
	return local
}

func measureSection(rows []swap.MeasureRow) page.Section {
	s := page.Section{Title: "What to measure first"}
	s.Table = page.Table{Columns: []string{"where", "what", "with", "to", "for"}, Detail: "for"}
	for _, r := range rows {
		s.Table.Add(page.BreakAfter(r.Where, "/"), r.What, r.Gauge, r.Accuracy, page.List(r.For))
	}
	return page.OnceOnly(s, "where")
}

// numberSection says the source of each formula once, below, when all is asked for.
func numberSection(numbers []examine.Number, all bool) page.Section {
	s := page.Section{Title: "Numbers, before and after"}
	s.Table = page.Table{Columns: []string{"number", "stock", "before", "after", "donor", "change", "what it means"},
		Detail: "what it means"}
	s.Rows = page.Table{Columns: []string{"about", "name", "unit", "stock", "before", "after", "donor", "donor_on",
		"change", "words", "verdict", "source"}}
	bySource := map[string][]string{}
	var sources []string
	for _, n := range numbers {
		s.Table.Add(numberName(n), stockCell(n), figureText(n.Before, ""), figureText(n.After, "unknown"),
			figureText(n.Donor, ""), page.Hard(n.Change), numberWords(n))
		s.Rows.Add(n.About, n.Name, n.Unit, figureText(n.Stock, ""), figureText(n.Before, ""), figureText(n.After, ""),
			figureText(n.Donor, ""),
			string(n.DonorOn), n.Change, n.Words, n.Verdict.String(), n.Source)
		if bySource[n.Source] == nil {
			sources = append(sources, n.Source)
		}
		bySource[n.Source] = append(bySource[n.Source], n.Name)
	}
	if !all && len(sources) > 0 {
		s.After = []string{"Formulas and where they come from: --all prints them."}
		return s
	}
	for _, source := range sources {
		s.After = append(s.After, fmt.Sprintf("%s: %s.", page.List(bySource[source]), source))
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

// torqueSection gives each torque with its source. Joints that only the maker's
// manual knows a value for are named together.
func torqueSection(rows []swap.TorqueRow, all bool) page.Section {
	s := page.Section{Title: "Torque of each joint that is opened"}
	s.Table = page.Table{Columns: []string{"joint", "torque", "as built", "elsewhere", "source"}, Detail: "as built",
		More: "elsewhere"}
	s.Rows = page.Table{Columns: []string{"joint", "torque", "source", "given", "see", "conflict"}}
	unsaid := page.Table{Columns: []string{"joint"}}
	other := 0
	for _, r := range rows {
		torque, source := r.Torque, ""
		if r.Source != nil {
			source = r.Source.ID + " (" + rankText(*r.Source) + ")"
		}
		given := page.Join(r.Given, func(g swap.TorqueGiven) string {
			return g.Value + " for " + g.For + " (" + g.Source.ID + ")"
		})
		s.Rows.Add(localJoint(r.Joint), torque, source, given, r.See, strconv.FormatBool(r.Conflict))
		if torque == "" && given == "" && !all {
			unsaid.Add(localJoint(r.Joint))
			continue
		}
		if torque == "" {
			other++
			s.Table.Add(localJoint(r.Joint), orManual(r), givenAs(r, true), givenAs(r, false), "")
			continue
		}
		s.Table.Add(localJoint(r.Joint), joinLines(page.Hard(torque), torqueWords(r, given)), "", "", source)
	}
	s = page.OnceOnly(s, "joint")
	if other > 0 {
		s.After = append(s.After, "Where no torque stands, none of those given is sure to hold, since the part that "+
			"carries the thread or what is clamped is another, or sources disagree: the maker's manual for that part says.")
	}
	if len(unsaid.Rows) > 0 {
		s.After = append(s.After, "No source here gives one; the maker's manual for the part that carries the thread says: "+
			page.Join(page.BothSides(unsaid, "joint").Rows, func(row []string) string { return row[0] })+".")
	}
	return s
}

// orManual says that a joint's torque is not known here.
func orManual(r swap.TorqueRow) string {
	if r.Conflict {
		return "sources disagree"
	}
	return "see the manual"
}

// givenAs are the values given for the joint as built, or for others, with where
// they hold.
func givenAs(r swap.TorqueRow, built bool) string {
	var values []string
	for _, g := range r.Given {
		value := g.Value + " (" + g.Source.ID + ")"
		if asBuilt := g.For == swap.TorqueAsBuilt; asBuilt != built {
			continue
		}
		if !built {
			value = g.Value + " on " + g.For
		}
		values = append(values, value)
	}
	return strings.Join(values, "\n")
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

func conflictSection(conflicts []swap.Conflict) page.Section {
	s := page.Section{Title: "Where sources disagree"}
	for _, c := range conflicts {
		sides := page.Join(c.Sides, func(side swap.ConflictSide) string {
			if side.Source == nil {
				return side.Says
			}
			return fmt.Sprintf("%s (%s, %s)", side.Says, side.Source.ID, side.Source.Rank)
		})
		s.Lines = append(s.Lines, fmt.Sprintf("%s: %s. To settle it: %s.", c.About, sides, strings.TrimSuffix(c.Settle, ".")))
	}
	return s
}
