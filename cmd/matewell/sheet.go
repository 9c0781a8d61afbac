package main

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"html/template"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/drawing"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/donor"
	"matewell/queries/evidence"
	"matewell/queries/figure"
	"matewell/queries/lists"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

// A job sheet is one HTML page, set for A4 and black ink, that needs nothing from
// anywhere. All text goes through html/template, so that nothing a fact says is
// taken for markup.

//go:embed sheet.html.tmpl
var sheetTemplate string

// toWrite is a cell of a sheet that somebody fills in.
const toWrite = "____________"

// mostUnbroken is how long a text may be that is kept on one line, as "take off".
const mostUnbroken = 12

// jobSheet is what the page shows.
type jobSheet struct {
	Title    string
	Made     string // the day
	State    []string
	Blocks   []sheetBlock
	Cautions []string
}

// sheetBlock is one section of the page. Of its table, rows that somebody ticks have
// a box in front.
type sheetBlock struct {
	ID      string
	Title   string
	Lines   []string
	Boxes   []string // sentences with a box in front
	Table   page.Table
	Tick    bool
	After   []string
	Picture template.HTML // made by this program, its text escaped
	Write   []string      // what to write on lines
}

// sheetOptions are the flags of a command that can write a job sheet.
type sheetOptions struct{ sheet string }

func (o *sheetOptions) addFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.sheet, "sheet", "", "also write a job sheet for the bench into this HTML `FILE`")
}

// check refuses a file that no browser would open as a page.
func (o *sheetOptions) check() error {
	if ext := strings.ToLower(filepath.Ext(o.sheet)); o.sheet != "" && ext != ".html" && ext != ".htm" {
		return desk.Usagef("a job sheet is an .html file, and %s is none", o.sheet)
	}
	return nil
}

// writeJobSheet writes the page into a file.
func writeJobSheet(e desk.Env, file string, s jobSheet, force bool) error {
	s.Made = desk.Today(e)
	var b bytes.Buffer
	if err := s.write(&b); err != nil {
		return fmt.Errorf("write %s: %w", file, err)
	}
	return desk.WriteOwn(e, "wrote", file, b.Bytes(), force)
}

func (s jobSheet) write(b *bytes.Buffer) error {
	page, err := template.New("sheet").Funcs(template.FuncMap{
		"plain": page.Soft,
		"mark":  func() string { return desk.OwnMark },
		"lines": func(text string) []string { return strings.Split(text, "\n") },
		"pieces": func(line string) []string {
			return strings.Split(strings.ReplaceAll(line, page.HardSpace, " "), page.SoftBreak)
		},
		"whole":   func(line string) bool { return strings.Contains(line, page.HardSpace) && !strings.Contains(line, " ") },
		"short":   func(cell string) bool { return cell != "" && utf8.RuneCountInString(cell) <= mostUnbroken },
		"toWrite": func() string { return toWrite },
		"number":  func(i int) int { return i + 1 },
	}).Parse(sheetTemplate)
	if err != nil {
		return err
	}
	kept := s.Blocks[:0]
	for _, block := range s.Blocks {
		block.Table = block.Table.WithoutEmptyColumns()
		if !block.isEmpty() {
			kept = append(kept, block)
		}
	}
	s.Blocks = kept
	return page.Execute(b, s)
}

func (b sheetBlock) isEmpty() bool {
	return len(b.Lines)+len(b.Boxes)+len(b.Table.Rows)+len(b.After)+len(b.Write) == 0 && b.Picture == ""
}

// blockOf shows a section of an answer as it stands.
func blockOf(id string, s page.Section) sheetBlock {
	return sheetBlock{ID: id, Title: s.Title, Lines: s.Lines, Table: s.Table, After: s.After}
}

// ticked is a block whose rows somebody ticks.
func (b sheetBlock) ticked() sheetBlock {
	b.Tick = true
	return b
}

// titled is a block under another title.
func (b sheetBlock) titled(title string) sheetBlock {
	b.Title = title
	return b
}

// swapSheet lays out the sheet of a swap.
func swapSheet(a swap.SwapAnswer, w worksheet.Sheet, f figure.Figures) jobSheet {
	head := swapHead(a)
	scope := blockOf("scope", page.Section{Table: head.Table}).titled("What is done")
	for _, g := range a.Get {
		if g.What == swap.GetPart && slices.ContainsFunc(a.Swaps,
			func(l swap.SwapLine) bool { return l.Position == g.Position }) {
			scope.After = append(scope.After, fmt.Sprintf("At %s what was asked for does not do; the work below fits %s "+
				"instead.", g.Position.Local(), g.Part))
		}
	}
	s := jobSheet{Title: head.Title, State: swapState(a)}
	s.Blocks = append(s.Blocks, scope, openBlock(a))
	s.Blocks = append(s.Blocks, benchBlocks(a, w, f)...)
	s.Cautions = cautionSection(a.Cautions).Lines
	return s
}

// swapState is what the work comes to, in a sentence or two.
func swapState(a swap.SwapAnswer) []string {
	state := "In all: " + a.Verdict.String() + ". " + readyWords(a.Ready, a.NotReady)
	if a.Then != nil {
		state = "With everything below on: " + a.Then.VerdictWords() + ". " + readyWords(a.Then.Ready, a.Then.NotReady)
		if a.Then.Verdict == graph.Fits && !a.Then.Ready { // something was so before
			state = "With everything below on, what is changed fits, and what was so before stands against riding. " +
				readyWords(a.Then.Ready, a.Then.NotReady)
		}
	}
	return append([]string{state}, restOf(a)...)
}

// openBlock is what stands against riding.
func openBlock(a swap.SwapAnswer) sheetBlock {
	why := a.NotReady
	if a.Then != nil {
		why = a.Then.NotReady
	}
	return sheetBlock{ID: "open", Title: "Settle before anyone rides", Boxes: lists.Mapped(why, swap.Hindrance.String)}
}

// donorSheet lays out the sheet of a plan.
func donorSheet(a donor.DonorAnswer, p donor.DonorPlan, w worksheet.Sheet, f figure.Figures) jobSheet {
	head := donorHead(a)
	s := jobSheet{Title: head.Title, State: []string{"Checked joint by joint: " + stateWords(p)}}
	scope := blockOf("scope", page.Section{Table: head.Table, After: head.After}).titled("What is done")
	s.Blocks = append(s.Blocks, scope, openBlock(p.Swap),
		blockOf("modify", modifySection(p.Modify)).ticked(), blockOf("make", makeSection(p.Make, true)).ticked())
	s.Blocks = append(s.Blocks, benchBlocks(p.Swap, w, f)...)
	s.Cautions = cautionSection(p.Swap.Cautions).Lines
	return s
}

// writeBikeSheet writes the card of a machine of one's own for the bench, with the work
// of what is planned.
func writeBikeSheet(ctx context.Context, e desk.Env, r graph.Reader, opts bikeOptions, c bike.BikeCard) error {
	missing, err := bike.BikeMissing(ctx, r, bike.BikeWorkQuestion{Name: opts.Name})
	if err != nil {
		return err
	}
	bags, err := bike.BikeBags(ctx, r, bike.BikeBagsQuestion{Name: opts.Name})
	if err != nil {
		return err
	}
	s := bikeSheet(c, missing, bags)
	q := swap.SwapQuestion{On: string(c.Bike)}
	for _, p := range c.Changes {
		if part := p.Planned; part != "" {
			if !strings.Contains(part, " ") { // "missing": it is to stay empty
				part = swap.NoPart
			}
			q.Swaps = append(q.Swaps, swap.Replacement{Position: p.Position.Local(), Part: part})
		}
	}
	if len(q.Swaps) > 0 {
		a, err := swap.Swap(ctx, r, q)
		if err != nil {
			return err
		}
		bench, err := worksheet.ForSwap(ctx, r, q, a)
		if err != nil {
			return err
		}
		figures, err := figure.ForSwap(ctx, r, q, a)
		if err != nil {
			return err
		}
		planned := swapSheet(a, bench, figures)
		planned.Blocks[0] = planned.Blocks[0].titled("What is planned")
		s.State = append(s.State, "What is planned. "+planned.State[0])
		s.Cautions, s.Blocks = planned.Cautions, append(s.Blocks, planned.Blocks...)
	}
	return writeJobSheet(e, opts.sheet, s, opts.force)
}

// bikeSheet lays out a machine without what is planned.
func bikeSheet(c bike.BikeCard, missing bike.BikeMissingAnswer, bags bike.BikeBagsAnswer) jobSheet {
	s := jobSheet{Title: fmt.Sprintf("%s, built as %s", c.Bike, c.Variant)}
	add := func(id string, ticked bool, p page.Page) {
		for i, section := range p {
			if section.Title == cautionSection(nil).Title {
				s.Cautions = section.Lines // at the end, once
				continue
			}
			block := blockOf(fmt.Sprintf("%s-%d", id, i+1), section)
			block.Tick = ticked && len(section.Table.Rows) > 0
			s.Blocks = append(s.Blocks, block)
		}
	}
	classed := len(lists.Kept(slices.Clone(missing.Rows),
		func(row bike.MissingRow) bool { return row.Safety != graph.SafetyNone }))
	if n := classed; n > 0 {
		s.State = append(s.State, fmt.Sprintf("Not ready to ride: %d %s empty or %s for a part.", n,
			page.Plural(n, "safety-relevant place is", "safety-relevant places are"), page.Plural(n, "waits", "wait")))
	}
	if n := len(missing.Rows) - classed; n > 0 {
		s.State = append(s.State, fmt.Sprintf("%d %s empty or %s for a part, and no safety hangs on %s.", n,
			page.Plural(n, "place is", "places are"), page.Plural(n, "waits", "wait"), page.Plural(n, "it", "them")))
	}
	add("card", false, bikeCardPage(c))
	add("missing", true, bikeMissingPage(missing))
	add("bags", true, bikeBagsPage(bags))
	return s
}

// benchBlocks are what every sheet of a change has, in the order of the work.
func benchBlocks(a swap.SwapAnswer, w worksheet.Sheet, f figure.Figures) []sheetBlock {
	return []sheetBlock{
		{ID: "machine", Title: "Which machine, and how that is known", Lines: w.Proof},
		blockOf("measure", measureSection(a.Measure)).ticked(),
		layOutBlock(w.LayOut),
		{ID: "tools", Title: "Tools and gauges", Boxes: w.Tools},
		stepBlock(w),
		jointBlock(w.Joints),
		{ID: "threads", Title: "Threads to clean first", Boxes: w.Threads},
		pointBlock(f.Points),
		blockOf("renew", renewSection(w.Renew)).ticked(),
		blockOf("numbers", numberSection(a.Numbers, true)),
		{ID: "picture", Title: "What meets what", Picture: sheetPicture(a)},
		{ID: "figures", Title: "Points, paths and rows to scale", Picture: sheetFigures(f)},
		blockOf("not-judged", withoutAfter(notJudgedSection(a.NotJudged))),
		{ID: "checks", Title: "Afterwards, before anyone rides", Boxes: w.Checks,
			After: []string{"Common practice; where the maker's manual says otherwise, the manual holds."}},
		signBlock(a),
		{ID: "notes", Title: "Notes", Write: []string{"", "", "", ""}},
		sourceBlock(w.Sources),
	}
}

// withoutAfter leaves out how more is listed: on paper nothing is.
func withoutAfter(s page.Section) page.Section {
	s.After = nil
	return s
}

func layOutBlock(items []worksheet.Item) sheetBlock {
	b := sheetBlock{ID: "lay-out", Title: "Lay out first", Tick: true}
	b.Table.Columns = []string{"pieces", "part", "what", "for", "note"}
	for _, i := range items {
		note := ""
		switch {
		case i.New:
			note = "new"
		case i.Box != "":
			note = "from box " + i.Box
		}
		b.Table.Add(count(i.Quantity), page.Hard(i.Part), i.Text, page.Place(i.Position), note)
	}
	return b
}

func stepBlock(w worksheet.Sheet) sheetBlock {
	s := workSection(donor.DonorPlan{Work: w.Steps, Cycle: w.Cycle}, true)
	more, turn := 0, 0 // each joint is a step of its own wherever there is no list of joints
	for i, row := range s.Table.Rows {
		row[0] = strconv.Itoa(i + 1 + more)
		if row[1] != donor.DoTight || turn >= len(w.Turns) {
			continue
		}
		if n := w.Turns[turn]; n > 1 {
			more += n - 1
			row[0] += "-" + strconv.Itoa(i+1+more)
		}
		turn++
	}
	return blockOf("order", s).ticked()
}

func jointBlock(joints []worksheet.Joint) sheetBlock {
	b := sheetBlock{ID: "joints", Title: "Tighten, joint by joint", Tick: true}
	b.Table.Columns = []string{"joint", "fasteners", "torque", "source"}
	for _, j := range joints {
		torque, source := joinLines(page.Hard(j.Torque), j.See), ""
		if j.Source != nil {
			source = j.Source.ID + " (" + rankText(*j.Source) + ")"
		}
		names := page.Join(append([]graph.JointID{j.Joint}, j.Also...), localJoint)
		b.Table.Add(names, page.EachOnLine(j.Fasteners, fastenerWords), torque, source)
	}
	if len(joints) > 0 {
		b.After = []string{"A torque holds for the thread, dry or oiled, as its source has it."}
	}
	return b
}

func fastenerWords(f worksheet.Fastener) string {
	text := f.Text
	if f.Part != "" {
		text = page.Hard(f.Part) + ", " + text
	}
	if f.Quantity > 1 {
		text = fmt.Sprintf("%d x %s", f.Quantity, text)
	}
	if f.New {
		text += ", new"
	}
	return text
}

// pointBlock is what holds each panel at each of its points.
func pointBlock(points []figure.Point) sheetBlock {
	b := sheetBlock{ID: "points", Title: "What holds each panel, point by point", Tick: true}
	b.Table.Columns = []string{"position", "point", "has", "opposite", "takes", "look out"}
	for _, p := range points {
		opposite := p.Meets
		if opposite == "" {
			opposite = "nothing"
		}
		out := p.Off
		switch {
		case p.Has == "":
			out = "the part has no point here"
		case p.Meets == "":
			out = "a point to make on " + p.On.Local()
		case len(p.Takes) == 0:
			out = joinLines(out, "the book names nothing that holds it")
		}
		b.Table.Add(page.Place(p.At), p.Point, p.Has, opposite, page.EachOnLine(p.Takes, pieceAtPoint), out)
	}
	if len(points) > 0 {
		b.After = []string{"How many pieces stands for all points of the part that take that piece together."}
	}
	return b
}

func pieceAtPoint(p figure.Piece) string {
	name := p.Part.Name
	if p.Part.ID == "" {
		name = p.Position.Local() + ", not known which"
	}
	return fastenerWords(worksheet.Fastener{Position: p.Position, Part: p.Part.ID, Text: name, Quantity: p.Quantity})
}

// signBlock is who has done the work and who has looked at it, on lines to write on.
func signBlock(a swap.SwapAnswer) sheetBlock {
	b := sheetBlock{ID: "sign", Title: "Who did it, who checked it", Write: []string{"done by, date", "mileage"}}
	for _, c := range a.Cautions {
		if c.Safety != graph.SafetyNone {
			b.Write = append(b.Write, string(c.Safety)+" checked by a second person, date")
		}
	}
	return b
}

func sourceBlock(sources []evidence.Source) sheetBlock {
	b := sheetBlock{ID: "sources", Title: "Sources"}
	b.Table.Columns = []string{"source", "what it is", "title", "date"}
	for _, s := range sources {
		b.Table.Add(s.ID, s.Kind, s.Title, s.Date)
	}
	return b
}

// sheetFigures are the figures of a change, to stand in a page; empty when there are
// none.
func sheetFigures(f figure.Figures) template.HTML {
	if f.IsEmpty() {
		return ""
	}
	return template.HTML(drawing.Figures(f)) // all text in it went through escape
}

// sheetPicture is the picture of a swap, to stand in a page.
func sheetPicture(a swap.SwapAnswer) template.HTML {
	return template.HTML(strings.Join(drawing.Swap(a, verdictLine(a)), "\n")) // all text in it went through escape
}
