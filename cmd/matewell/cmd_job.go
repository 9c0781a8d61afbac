package main

import (
	"context"
	"errors"
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
	"matewell/queries/job"
)

type jobOptions struct {
	askOptions
	job.JobQuestion
	sheetOptions
	force bool
}

// jobList asks for the list by name, as "list jobs" does.
const jobList = "list"

func newJobCmd(e desk.Env) *cobra.Command {
	var opts jobOptions
	cmd := &cobra.Command{
		Use:   "job [list|NAME]",
		Short: "Tell how an assembly is rebuilt",
		Long: `Job lays out the rebuilding of an assembly: inner parts with the kit that brings
them, what goes in new every time, what to inspect and its limit, fluids and
greases, the steps, the torque of each joint that is opened, what to try
afterwards. Each line says who says so. Without a name it lists the jobs that are
known, with --on those of a machine. On a bike of your own it also says what lies
in the boxes. --sheet writes it for the bench.`,
		Example: `  matewell job --on skerry-620/2003
  matewell job fork-legs --on winter-project
  matewell job front-calipers --on skerry-620/2005/eu --sheet calipers.html`,
		Args: wants(0, 1, "at most one job; matewell list jobs names them"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] != jobList {
				opts.Name = args[0]
			}
			if opts.sheet != "" && opts.Name == "" {
				return desk.Usagef("--sheet is of one job: name it")
			}
			if err := opts.check(); err != nil {
				return err
			}
			return runJob(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, jobWords)),
	}
	addMachineFlags(e, cmd, &opts.Where, &opts.On, &opts.Market, &opts.Frame)
	opts.addFlag(cmd)
	cmd.Flags().BoolVar(&opts.force, "force", false, "let --sheet write over a file that is not matewell's")
	opts.addFlags(cmd)
	return cmd
}

// jobWords offers the names of the jobs.
func jobWords(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
	jobs, err := r.Jobs(ctx)
	words := []string{jobList}
	for _, j := range jobs {
		words = append(words, string(j.ID))
	}
	return words, err
}

func runJob(ctx context.Context, e desk.Env, opts jobOptions) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	answer, err := job.Job(ctx, r, opts.JobQuestion)
	var noMachine *job.NoMachineError
	if errors.As(err, &noMachine) {
		return desk.Usagef("%v, with --on", err)
	}
	if err != nil {
		return err
	}
	if answer.Card == nil {
		return printAnswer(e, opts.format, answer, jobListPage(answer), r.Left)
	}
	if opts.sheet != "" {
		if len(answer.Card.On) > 1 {
			return desk.Usagef("a sheet is for one machine, and %s is any of these: %s", opts.On,
				page.Join(answer.Card.On, func(v graph.VariantID) string { return string(v) }))
		}
		if err := writeJobSheet(e, opts.sheet, jobCardSheet(*answer.Card), opts.force); err != nil {
			return err
		}
	}
	if err := printAnswer(e, opts.format, answer, jobPage(*answer.Card), r.Left); err != nil {
		return err
	}
	if answer.SafetyOpen() {
		return desk.ErrUnsafe
	}
	return nil
}

func jobListPage(a job.JobAnswer) page.Page {
	s := page.Section{Title: "Jobs"}
	s.Table.Columns = []string{"job", "what is done", "on", "places", "steps"}
	for _, j := range a.Jobs {
		on, places := page.Join(j.Models, func(m graph.ModelID) string { return string(m) }), strconv.Itoa(j.Places)
		if len(j.Kinds) > 0 {
			on, places = "any with: "+page.Join(j.Kinds, func(k graph.KindID) string { return string(k) }), ""
		}
		s.Table.Add(page.Hard(j.Job), j.Name, on, places, strconv.Itoa(j.Steps))
	}
	if len(a.Jobs) == 0 {
		s.Lines = []string{`No job is recorded: write one under "jobs" in a data file; see: matewell schema jobs`}
	}
	return page.Page{s}
}

// jobPage lays out a job in the order it is worked through.
func jobPage(c job.JobCard) page.Page {
	p := page.Page{jobHead(c), splitSection(c.Split, c.SettledBy)}
	if len(c.Split) > 0 {
		c = withOnly(c)
	}
	return append(p, besideSection(c), jobLineSection("Beware", c.Cautions), jobKitSection(c.Kits), innerSection(c.Parts),
		fillSection(c.Fill), toolSection(c.Tools), jobStepSection(c.Steps), lookSection(c.Look), jobJointSection(c),
		jobLineSection("Afterwards", c.Checks),
		cautionSection(c.Before), jobSourceSection(c.Sources))
}

func toolSection(tools []string) page.Section { return page.Section{Title: "Tools", Lines: tools} }

func jobHead(c job.JobCard) page.Section {
	s := page.Section{Title: c.Name + " on " + jobMachine(c), Lines: c.Proof}
	s.Table = page.Table{Columns: []string{"place", "what", "part", "safety", "look out"}, Detail: "look out"}
	for _, p := range c.Places {
		out := p.There
		if p.Book != "" {
			out = "another part than the book's " + page.Hard(p.Book)
		}
		s.Table.Add(page.Place(p.Position), p.Name, page.Hard(p.Part), string(p.Safety), out)
	}
	return s
}

// besideSection is what was noted of the machine around the job.
func besideSection(c job.JobCard) page.Section {
	s := page.Section{Title: "On this machine"}
	for _, b := range c.Beside {
		s.Lines = append(s.Lines, b.Position.Local()+": "+strings.Join(b.Says, "; "))
	}
	if len(c.Beside) > 0 {
		s.Lines = append(s.Lines, fmt.Sprintf("What that comes to, and whether it may be ridden: matewell bike %s", c.Bike))
	}
	return s
}

func jobMachine(c job.JobCard) string {
	on := page.Join(queries.CoveragesOf(c.On, queries.UniverseOf(c.On)), onCell)
	if len(c.On) == 1 {
		on = string(c.On[0])
	}
	if c.Bike != "" {
		return fmt.Sprintf("%s (%s)", c.Bike, on)
	}
	return on
}

// withOnly puts in front of lines which machines they hold for, where several are
// asked about.
func withOnly(c job.JobCard) job.JobCard {
	only := func(l job.Line) job.Line {
		if len(l.Only) > 0 {
			l.Text = page.Join(queries.CoveragesOf(l.Only, queries.UniverseOf(c.On)), queries.Coverage.String) + ": " + l.Text
		}
		return l
	}
	for i := range c.Kits {
		c.Kits[i].Line = only(c.Kits[i].Line)
	}
	for i := range c.Parts {
		c.Parts[i].Line = only(c.Parts[i].Line)
	}
	for i := range c.Fill {
		c.Fill[i].Line = only(c.Fill[i].Line)
	}
	for i := range c.Look {
		c.Look[i].Line = only(c.Look[i].Line)
	}
	for _, lines := range [][]job.Line{c.Steps, c.Checks, c.Cautions} {
		for i := range lines {
			lines[i] = only(lines[i])
		}
	}
	return c
}

// lineSource is the source of a line, left out where it is the practice of the trade.
func lineSource(l job.Line) string {
	if l.Practice {
		return ""
	}
	return page.BreakAfter(l.Source, "-")
}

func jobKitSection(kits []job.Kit) page.Section {
	s := page.Section{Title: "Kits that bring inner parts"}
	s.Table = page.Table{Columns: []string{"kit", "what", "pieces", "price", "in your boxes", "source"}}
	s.Rows.Columns = []string{"kit", "what", "pieces", "brings", "price", "in_boxes", "source", "sold_as"}
	for _, k := range kits {
		s.Table.Add(numberCell(k.Part), k.Text, strconv.Itoa(k.Quantity), k.Price, page.Join(k.InBoxes, inBoxWords),
			lineSource(k.Line))
		s.Rows.Add(string(k.Part.Part), k.Text, strconv.Itoa(k.Quantity), page.Join(k.Brings, page.Hard), k.Price,
			page.Join(k.InBoxes, inBoxWords), k.Source, string(k.SoldAs))
	}
	return s
}

func innerSection(parts []job.Part) page.Section {
	s := page.Section{Title: "Inner parts"}
	s.Table = page.Table{Columns: []string{"pieces", "what", "part", "new", "in kit", "in your boxes", "source"}}
	s.Rows.Columns = []string{"pieces", "what", "part", "renew", "kits", "in_boxes", "source", "sold_as"}
	for _, p := range parts {
		renew := ""
		if p.Renew {
			renew = "always"
		}
		s.Table.Add(strconv.Itoa(p.Quantity), p.Text, numberCell(p), renew, page.Join(p.Kits, page.Hard),
			page.Join(p.InBoxes, inBoxWords), lineSource(p.Line))
		s.Rows.Add(strconv.Itoa(p.Quantity), p.Text, string(p.Part), yesNo(p.Renew), page.Join(p.Kits, page.Hard),
			page.Join(p.InBoxes, inBoxWords), p.Source, string(p.SoldAs))
	}
	return s
}

// numberCell is the number to order: the one that is sold today, with the one that
// the job names, and what must be changed along with it.
func numberCell(p job.Part) string {
	switch {
	case p.SoldAs != "":
		text := page.Hard(p.SoldAs) + "\ninstead of " + page.Hard(p.Part)
		for _, w := range p.With {
			text += "\nwith " + pieceText(w)
		}
		return text
	case p.Gone:
		return page.Hard(p.Part) + "\nsold no more"
	}
	return page.Hard(p.Part)
}

func inBoxWords(b job.InBox) string {
	text := fmt.Sprintf("%d x %s in %s", b.Quantity, page.Hard(b.Part), b.Box)
	if b.Sure != "" {
		text += " (" + b.Sure + ")"
	}
	if b.State != "" {
		text += " (" + b.State + ")"
	}
	text += ownerNote(b.Note)
	return text
}

func fillSection(fill []job.Fill) page.Section {
	s := page.Section{Title: "Fluids and greases"}
	s.Table.Columns = []string{"what", "sort", "amount", "where", "source"}
	for _, f := range fill {
		s.Table.Add(f.Text, f.Spec, f.Amount, f.Where, lineSource(f.Line))
	}
	return s
}

func lookSection(looks []job.Look) page.Section {
	s := page.Section{Title: "Inspect, and what the limit is"}
	s.Table.Columns = []string{"what", "look for", "limit", "with", "source"}
	for _, l := range looks {
		limit := l.Limit
		if limit == "" && l.Gauge != "" {
			limit = "see the maker's manual"
		}
		s.Table.Add(l.Text, l.For, limit, l.Gauge, lineSource(l.Line))
	}
	return s
}

func jobStepSection(steps []job.Line) page.Section {
	s := page.Section{Title: "Steps"}
	s.Table.Columns = []string{"step", "what to do", "source"}
	for i, l := range steps {
		s.Table.Add(strconv.Itoa(i+1), l.Text, lineSource(l))
	}
	return s
}

func jobLineSection(title string, lines []job.Line) page.Section {
	s := page.Section{Title: title}
	for _, l := range lines {
		text := l.Text
		if source := lineSource(l); source != "" {
			text += " (" + source + ")"
		}
		s.Lines = append(s.Lines, text)
	}
	return s
}

func jobJointSection(c job.JobCard) page.Section {
	block := jointBlock(c.Joints)
	s := page.Section{Title: block.Title, Table: block.Table, After: block.After}
	if len(c.On) > 1 {
		s.Lines = []string{"For torques, name one machine with --on."}
	}
	return s
}

func jobSourceSection(sources []evidence.Source) page.Section {
	s := page.Section{Title: "Sources"}
	for _, v := range sources {
		s.Lines = append(s.Lines, strings.TrimSuffix(fmt.Sprintf("%s: %s, %s", v.ID, v.Kind, v.Title), ", "))
	}
	if len(sources) > 0 {
		s.Lines = append(s.Lines, "Lines without a source are common practice.")
	}
	return s
}

// jobCardSheet lays out the sheet of a job.
func jobCardSheet(c job.JobCard) jobSheet {
	head := jobHead(c)
	s := jobSheet{Title: head.Title, State: []string{"A brake, fork, wheel or drive that was apart is ridden only " +
		"after a second person " +
		"has looked at it."}}
	if len(c.Before) == 0 {
		s.State = nil
	}
	for _, p := range c.Places {
		switch {
		case p.Book != "":
			s.State = append(s.State, p.Position.Local()+
				": another part than this job was written for. Read the first warning.")
		case p.There != "":
			s.State = append(s.State, fmt.Sprintf("%s: %s.", p.Position.Local(), p.There))
		}
	}
	s.State = append(s.State, besideSection(c).Lines...)
	lines := func(title, id string, lines []job.Line) sheetBlock {
		return sheetBlock{ID: id, Title: title, Boxes: jobLineSection("", lines).Lines}
	}
	inspect := blockOf("inspect", lookSection(c.Look)).ticked()
	inspect.Table.Columns = append(inspect.Table.Columns, "found")
	for i, row := range inspect.Table.Rows {
		inspect.Table.Rows[i] = append(row, toWrite)
	}
	sign := sheetBlock{ID: "sign", Title: "Who did it, who checked it", Write: []string{"done by, date", "mileage"}}
	for _, caution := range c.Before {
		if caution.Safety != graph.SafetyNone {
			sign.Write = append(sign.Write, string(caution.Safety)+" checked by a second person, date")
		}
	}
	s.Blocks = []sheetBlock{
		{ID: "machine", Title: "Which machine, and how that is known", Lines: c.Proof},
		blockOf("scope", page.Section{Table: head.Table}).titled("What is rebuilt"),
		lines("Beware", "beware", c.Cautions),
		blockOf("kits", jobKitSection(c.Kits)).ticked(),
		blockOf("parts", innerSection(c.Parts)).ticked().titled("Lay out: inner parts"),
		blockOf("fill", fillSection(c.Fill)).ticked(),
		{ID: "tools", Title: "Tools", Boxes: c.Tools},
		blockOf("steps", jobStepSection(c.Steps)).ticked(),
		inspect,
		jointBlock(c.Joints),
		lines("Afterwards, before anyone rides", "checks", c.Checks),
		sign,
		{ID: "notes", Title: "Notes", Write: []string{"", "", "", ""}},
		sourceBlock(c.Sources),
	}
	s.Cautions = cautionSection(c.Before).Lines
	return s
}
