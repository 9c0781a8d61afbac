package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/donor"
	"matewell/queries/lists"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// donorPage lays out a plan in the order one would carry it out: first what it
// comes to. The order of work is told assembly by assembly, and what stays is
// counted, unless all is asked for.
func donorPage(a donor.DonorAnswer, all bool) page.Page {
	p := page.Page{donorHead(a)}
	if a.Clash != nil {
		p = append(p, clashSections(*a.Clash)...)
	}
	if len(a.Plans) == 0 {
		return append(p, unsettledSection(a), inTheWaySection(a.InTheWay))
	}
	first := a.Plans[0]
	p = append(p, notInSection(first.Refused), costSection(a, first, all),
		boughtSection(first.Buy),
		leftOverSection(first),
		takeSection("Take from the donor", first.Take),
		takeSection("Get", notOffered(first.Get)),
		takeSection("Take off for good", first.Off),
		takeSection("Leave on the donor, which alone has a place for it", first.LeftOut),
		makeSection(first.Make, all),
		modifySection(first.Modify),
		asBeforeSection(first.AsBefore),
		alternativesSection(a.Plans),
		notJudgedSection(first.Swap.NotJudged),
		measureSection(first.Swap.Measure),
		workSection(first, all),
		renewSection(first.Swap.Renew),
		donorAfterSection(a.From, first.DonorAfter),
		stateSection(first),
		numberSection(first.Swap.Numbers, all),
		torqueSection(first.Swap.Torques, all),
		conflictSection(first.Swap.Conflicts),
		staySection(first.Stay, all),
		cautionSection(first.Swap.Cautions))
	return p
}

// unsettledSection says that neither a plan nor a reason against one was found.
func unsettledSection(a donor.DonorAnswer) page.Section {
	if a.Clash != nil {
		return page.Section{}
	}
	s := page.Section{Title: "What it takes besides: " + a.Outcome}
	if a.OverBudget != nil {
		s.Title = "Within " + a.Budget + ": " + a.Outcome
		s.Lines = []string{overBudgetWords(a)}
		return s
	}
	s.Lines = []string{"Nothing is settled by that: give it longer with --time, or say with --keep what is to stay as " +
		"it is."}
	return s
}

// inTheWaySection says what the search could not put right until the time was over.
func inTheWaySection(joints []donor.ClashJoint) page.Section {
	s := page.Section{Title: "What stood in the way, in what was looked at",
		Table: page.Table{Columns: []string{"connection", "why"}}}
	for _, j := range joints {
		s.Table.Add(j.What+" "+localJoint(graph.JointID(j.ID)), j.Text)
	}
	return s
}

func donorHead(a donor.DonorAnswer) page.Section {
	s := page.Section{Title: "Donor plan for " + string(a.On)}
	if a.Bike != "" {
		s.Title = fmt.Sprintf("Donor plan for %s (%s)", a.Bike, a.On)
	}
	if a.From != "" {
		s.Title += " from " + string(a.From)
	}
	if len(a.Plans) > 0 {
		s.Lines = planLines(a.Plans[0])
	}
	s.Table.Columns = []string{"comes on", "part", "instead of", "price"}
	s.Rows.Columns = []string{"position", "part", "part_name", "was", "from", "quantity", "price", "note"}
	for _, part := range a.Goal {
		if isRefused(a, part.Position) {
			continue
		}
		s.Rows.Add(string(part.Position), string(part.Part), part.PartName, string(part.Was), part.From,
			page.Year(part.Quantity), part.Price, part.Note)
		s.Table.Add(page.Place(part.Position), goalCell(part), wasCell(part), part.Price)
		if part.Note != "" {
			s.After = append(s.After, fmt.Sprintf("Found before at %s: %s.", part.Position.Local(), part.Note))
		}
		if part.Retired != "" {
			s.After = append(s.After, fmt.Sprintf("Careful: %s %s.", page.Hard(part.Part), part.Retired))
		}
	}
	if len(a.Keep) > 0 {
		s.After = append(s.After, "Must stay: "+page.Join(a.Keep, graph.PositionID.Local)+".")
	}
	for _, note := range a.Notes {
		s.After = append(s.After, note+".")
	}
	return page.OnceOnly(s, "comes on", "part", "instead of")
}

// isRefused reports whether what was asked for at a place does not go in by the plan
// that is told.
func isRefused(a donor.DonorAnswer, id graph.PositionID) bool {
	return len(a.Plans) > 0 && slices.ContainsFunc(a.Plans[0].Refused,
		func(r donor.DonorRefused) bool { return r.Position == id })
}

// notInSection says what was meant to come on and does not go in.
func notInSection(refused []donor.DonorRefused) page.Section {
	s := page.Section{Title: "What does not go in"}
	s.Table = page.Table{Columns: []string{"place", "part", "why", "what goes there instead"}, Group: "place",
		Detail: "why"}
	for _, r := range refused {
		s.Table.Add(page.Place(r.Position), partCell(r.Part, r.PartName, ""), r.Why, r.Instead)
	}
	return s
}

// planLines are the first lines of a plan: what it comes to once it is carried
// out, what then stands in the way of riding, what was not judged.
func planLines(p donor.DonorPlan) []string {
	var lines []string
	if n := len(p.Refused); n > 0 {
		lines = append(lines, fmt.Sprintf("%s that %s to come on %s not go in: see below what goes there instead.",
			page.Counted(n, "part"), page.Plural(n, "was", "were"), page.Plural(n, "does", "do")))
	}
	lines = append(append(lines, "In all, once it is carried out: "+stateWords(p)), inTheWay(p.Swap)...)
	if open := notJudgedWords(p.Swap.NotJudged); open != "" {
		lines = append(lines, open)
	}
	return lines
}

// goalCell is what comes on: a part, or whichever of the offers the plan takes.
func goalCell(part donor.DonorPart) string {
	if part.From == donor.FromOffers {
		return "one of those offered"
	}
	return countedPart(part, "taken off")
}

// countedPart is a part with how many of it go on, and what is said without one.
func countedPart(part donor.DonorPart, without string) string {
	cell := partCell(part.Part, part.PartName, without)
	if part.Quantity > 1 {
		return fmt.Sprintf("%d x %s", part.Quantity, cell)
	}
	return cell
}

// wasCell is what the part comes instead of.
func wasCell(part donor.DonorPart) string {
	if part.EmptyNow {
		return "empty now"
	}
	return page.Hard(part.Was)
}

// besidesAsked says that a sum leaves out what was asked for by its number and has a price.
func besidesAsked(p donor.DonorPlan) string {
	if slices.ContainsFunc(p.Get,
		func(part donor.DonorPart) bool { return part.From == donor.FromAsked && part.Price != "" }) {
		return ", besides what was asked for"
	}
	return ""
}

func costSection(a donor.DonorAnswer, p donor.DonorPlan, all bool) page.Section {
	s := page.Section{Title: "What it takes besides: " + a.Outcome}
	c := p.Cost
	if c.Parts == 0 && c.Changes == 0 && c.Effort == graph.EffortNone.String() {
		s.Lines = append(s.Lines, "Nothing else need change.")
	} else {
		s.Lines = append(s.Lines, fmt.Sprintf("%s to find or make; hardest work: %s; %s besides what was asked for.",
			page.Counted(c.Parts, "part"), c.Effort, page.Counted(c.Changes, "place")+" changed"))
	}
	s.Lines = append(s.Lines, routeWords(a, p)...)
	if c.Money != "" && p.Route == nil {
		s.Lines = append(s.Lines, "Cost of what has a price"+besidesAsked(p)+": "+c.Money+".")
	}
	const few = 3
	switch unpriced := counts(c.Unpriced); {
	case len(unpriced) > few && !all:
		s.Lines = append(s.Lines, fmt.Sprintf("No price is known for %d of them. %s", len(c.Unpriced),
			page.AllPrints(len(c.Unpriced))))
	case len(unpriced) > 0:
		s.Lines = append(s.Lines, "No price is known for: "+page.List(unpriced)+".")
	}
	if n := c.SafetyUnknowns; n > 0 {
		s.Lines = append(s.Lines, fmt.Sprintf("%s left unknown: measure before you buy.", page.Counted(n,
			"safety-relevant thing")))
	}
	if n := c.OtherUnknowns; n > 0 {
		s.Lines = append(s.Lines, page.Counted(n, "other thing")+" left unknown.")
	}
	s.Lines = append(s.Lines, equalWords(a))
	if a.Gap != "" {
		s.Lines = append(s.Lines, "Not proved smallest: one with "+a.Gap+" is still possible.")
	}
	return s
}

// counts says each word once, in the order they come: "2 x Tarnholt 945.1251".
func counts(words []string) []string {
	times := map[string]int{}
	for _, word := range words {
		times[word]++
	}
	var said []string
	for _, word := range words {
		switch n := times[word]; {
		case n > 1:
			said = append(said, fmt.Sprintf("%d x %s", n, word))
		case n == 1:
			said = append(said, word)
		}
		delete(times, word)
	}
	return said
}

func equalWords(a donor.DonorAnswer) string {
	switch {
	case a.EqualAtLeast && a.Equal > 1:
		return fmt.Sprintf("At least %d plans cost the same.", a.Equal)
	case a.EqualAtLeast && a.Outcome == plan.ProvedSmallest:
		return "Others may cost the same."
	case a.EqualAtLeast:
		return "Others may cost the same or less."
	case a.Equal > 1 && len(a.Plans) < a.Equal && len(a.Plans) == 1:
		return fmt.Sprintf("%d plans cost the same; --all lists them.", a.Equal)
	case a.Equal > 1:
		return fmt.Sprintf("%d plans cost the same.", a.Equal)
	}
	return "No other plan costs the same."
}

// stateWords is what the plan comes to, with what is made made.
func stateWords(p donor.DonorPlan) string {
	verdict, ready, why := p.Swap.Verdict, p.Swap.Ready, p.Swap.NotReady
	if p.Swap.Then != nil {
		ready, why = p.Swap.Then.Ready, p.Swap.Then.NotReady
	}
	if len(p.NotInspected) > 0 {
		ready, why = false, slices.Concat(why, p.NotInspected)
	}
	words := verdict.String()
	if p.Swap.Then != nil {
		words = p.Swap.Then.VerdictWords()
	}
	if n := p.ToInspect; n > 0 {
		words = fmt.Sprintf("%s, since it hangs on the inspection of %s that nobody who knows has looked at; if %s sound: %s",
			p.Verdict, page.Counted(n, "part"), page.Plural(n, "it is", "they are"), words)
	}
	return words + ". " + readyWords(ready, why)
}

// stateSection says what stands against riding once the plan is carried out.
func stateSection(p donor.DonorPlan) page.Section {
	why := p.Swap.NotReady
	if p.Swap.Then != nil {
		why = p.Swap.Then.NotReady
	}
	t := page.Table{Columns: []string{"what", "why"}}
	for _, line := range slices.Concat(why, p.NotInspected) {
		t.Add(line.What, line.Why)
	}
	s := page.Section{Title: "What still stands against riding"}
	for _, row := range page.BothSides(t, "what").Rows {
		s.Lines = append(s.Lines, row[0]+": "+row[1])
	}
	return s
}

func takeSection(title string, parts []donor.DonorPart) page.Section {
	s := page.Section{Title: title}
	s.Table = page.Table{Columns: []string{"for", "part", "instead of", "price", "why"}, Detail: "why"}
	s.Rows = page.Table{Columns: []string{"position", "part", "part_name", "was", "from", "quantity", "price", "note",
		"for"}}
	for _, part := range parts {
		if part.Renew {
			continue // it is bought new
		}
		name := countedPart(part, "none")
		if strings.HasPrefix(part.From, "box ") {
			name += "\nfrom " + part.From
		}
		s.Table.Add(page.Place(part.Position), name, wasCell(part), part.Price, whyPart(part))
		s.Rows.Add(string(part.Position), string(part.Part), part.PartName, string(part.Was), part.From,
			page.Year(part.Quantity), part.Price, part.Note, page.List(part.For))
	}
	return page.OnceOnly(s, "for", "part", "instead of")
}

// whyPart is what a part settles, and what was found of it there before.
func whyPart(part donor.DonorPart) string {
	var said []string
	if len(part.For) > 0 {
		said = append(said, "settles "+page.List(part.For))
	}
	if part.Note != "" {
		said = append(said, "found before: "+part.Note)
	}
	if part.Retired != "" {
		said = append(said, "careful: it "+part.Retired)
	}
	return strings.Join(said, "; ")
}

func makeSection(gets []swap.Get, all bool) page.Section {
	s := getSection(gets, all)
	s.Title = "Adapters to get, and things to make or have made"
	return s
}

func modifySection(rows []donor.DonorModify) page.Section {
	s := page.Section{Title: "What has to be done besides"}
	s.Table.Columns = []string{"at", "do", "how hard"}
	for _, m := range rows {
		s.Table.Add(m.At, m.Do, m.Effort)
	}
	return page.OnceOnly(s, "at")
}

// asBeforeSection says what was not right before and is left as it was.
func asBeforeSection(rows []donor.AsBefore) page.Section {
	s := page.Section{Title: "What was no better before, and is left as it was"}
	s.Table = page.Table{Columns: []string{"at", "it", "why"}, Detail: "why"}
	for _, r := range rows {
		s.Table.Add(r.At, r.Verdict.String(), r.Why)
	}
	return s
}

// alternativesSection says in what each further plan differs from the first.
func alternativesSection(plans []donor.DonorPlan) page.Section {
	s := page.Section{Title: "Plans that cost the same"}
	s.Table.Columns = []string{"plan", "has", "where the first has"}
	first := partsOf(plans[0])
	for i, p := range plans[1:] {
		other := partsOf(p)
		s.Table.Add(strconv.Itoa(i+2), page.List(without(other, first)), page.List(without(first, other)))
	}
	return s
}

func partsOf(p donor.DonorPlan) []string {
	var all []string
	for _, parts := range [][]donor.DonorPart{p.Take, p.Get, p.Off} {
		for _, part := range parts {
			all = append(all, fmt.Sprintf("%s %s", part.Position.Local(), page.Hard(part.Part)))
		}
	}
	for _, g := range p.Make {
		all = append(all, g.Text)
	}
	return all
}

// without are the words of one list that another has not.
func without(all, other []string) []string {
	var left []string
	for _, word := range all {
		if !has(other, word) {
			left = append(left, word)
		}
	}
	return left
}

func has(all []string, word string) bool {
	for _, one := range all {
		if one == word {
			return true
		}
	}
	return false
}

func workSection(p donor.DonorPlan, all bool) page.Section {
	s := page.Section{Title: "Order of work"}
	s.Table.Columns = []string{"step", "do", "where", "part"}
	s.Rows.Columns = []string{"step", "do", "position", "part", "part_name", "quantity", "move_to", "with"}
	for i, step := range p.Work {
		s.Rows.Add(strconv.Itoa(i+1), step.Do, string(step.Position), string(step.Part), step.Text, page.Year(step.Quantity),
			string(step.MoveTo), page.Join(step.With, graph.PositionID.Local))
		s.Table.Add(strconv.Itoa(i+1), step.Do, page.Place(step.Position), stepCell(step))
	}
	if !all && len(p.Work) > 0 {
		s.Table = stagesOf(p.Work)
		s.After = append(s.After, fmt.Sprintf("%s. --all prints each.", page.Counted(len(p.Work), "step")))
	}
	if len(p.Cycle) > 0 {
		s.After = append(s.After, "No order satisfies all of these, each waits for another: "+page.Join(p.Cycle,
			graph.PositionID.Local)+".")
	}
	return s
}

// stagesOf is the order of work in few words: steps of one sort that follow one
// another are one row. Bolts are not named where they go with what they hold.
func stagesOf(work []donor.WorkStep) page.Table {
	t := page.Table{Columns: []string{"steps", "do", "what"}}
	for from := 0; from < len(work); {
		to := from + 1
		for to < len(work) && stageOf(work[to].Do) == stageOf(work[from].Do) {
			to++
		}
		steps := strconv.Itoa(from + 1)
		if to > from+1 {
			steps += "-" + strconv.Itoa(to)
		}
		t.Add(steps, stageOf(work[from].Do), stageCell(work[from:to]))
		from = to
	}
	return t
}

// stageOf is the sort of work that a step belongs to.
func stageOf(do string) string {
	switch do {
	case donor.DoOut, donor.DoOff, donor.DoFree:
		return "take off"
	case donor.DoFit, donor.DoBack, donor.DoIn, donor.DoHook, donor.DoLeave:
		return "fit"
	}
	return do
}

// stageCell names what a stage is about, in its order, left and right once: what
// is new there by its number, what was there before without.
func stageCell(steps []donor.WorkStep) string {
	t := page.Table{Columns: []string{"where", "part"}}
	bolts := 0
	for _, step := range steps {
		switch step.Do {
		case donor.DoOut, donor.DoIn:
			bolts++
			continue
		case donor.DoFit:
			what := page.Hard(step.Part)
			if what == "" {
				what = step.Text
			}
			t.Add(page.Place(step.Position), what)
		case donor.DoOff, donor.DoBack:
			t.Add(page.Place(step.Position), "")
		case donor.DoTight:
			joint, torque, _ := strings.Cut(step.Text, ": ")
			if strings.Contains(torque, "see the maker's manual") {
				torque = "by the maker's manual"
			}
			t.Add(joint, page.Hard(torque))
		default:
			t.Add(page.Place(step.Position), step.Text)
		}
	}
	said := page.Join(page.BothSides(t, "where", "part").Rows, func(row []string) string {
		if row[1] == "" {
			return row[0]
		}
		what := lists.Mapped(strings.Split(row[1], "\n"), func(what string) string { return cmp.Or(what, "the old one") })
		return row[0] + " (" + page.List(what) + ")"
	})
	switch {
	case bolts > 0 && said == "":
		return page.Counted(bolts, "lot") + " of bolts, screws, nuts or washers"
	case bolts > 0:
		return said + "; " + page.Counted(bolts, "lot") + " of bolts, screws, nuts or washers with them"
	}
	return said
}

// stepCell is what a step is done with, and what goes with it.
func stepCell(step donor.WorkStep) string {
	cell := step.Text
	if step.Part != "" {
		cell = partCell(step.Part, strings.TrimPrefix(step.Text, string(step.Part)+", "), "")
	}
	if step.Quantity > 1 {
		cell = fmt.Sprintf("%d x %s", step.Quantity, cell)
	}
	if step.New {
		cell += "; new"
	}
	switch {
	case step.MoveTo != "" && (step.Do == donor.DoOff || step.Do == donor.DoOut):
		cell += "; from the old " + step.MoveTo.Local()
	case step.MoveTo != "":
		cell += "; into the new " + step.MoveTo.Local()
	case step.Bench != "":
		cell += "; " + benchText(step.Bench)
	}
	if n := len(step.With); n > 0 {
		cell += "; as one with what is on it"
	}
	return cell
}

// benchText says that something is done off the machine, and to what.
func benchText(on graph.PositionID) string { return "on the bench, with " + on.Local() }

func staySection(parts []donor.DonorPart, all bool) page.Section {
	s := page.Section{Title: "What was looked at and stays"}
	if len(parts) == 0 {
		return s
	}
	if all {
		s.Lines = []string{page.Join(parts, stayWords) + "."}
		return s
	}
	var stays page.Tally
	for _, part := range parts {
		stays.Add(page.AssemblyOf(part.Position.Local()))
	}
	s.Lines = []string{stays.At() + ". " + page.AllPrints(len(parts))}
	return s
}

func stayWords(p donor.DonorPart) string {
	if p.EmptyNow {
		return p.Position.Local() + " (empty now)"
	}
	return p.Position.Local() + " (" + page.Hard(p.Part) + ")"
}
