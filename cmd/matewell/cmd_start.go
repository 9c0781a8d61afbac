package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing/fstest"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/graph/measure"
	"matewell/loader"
)

type startOptions struct {
	format  page.Format
	data    []string // folders below the new one
	dir     string
	maker   string
	name    string
	model   string
	like    string
	years   string
	market  string
	frame   string
	answers map[string]*string
}

// startAnswer is what "matewell start" prints as JSON.
type startAnswer struct {
	Folder  string            `json:"folder"`
	Model   string            `json:"model"`
	Bike    string            `json:"bike"`
	Like    []string          `json:"like"`               // patterns, or a sister model
	Assumed []string          `json:"assumed,omitempty"`  // "fork: conventional": what nobody said
	OwnYear int               `json:"own_year,omitempty"` // of several, that which one's own machine is taken to be of
	Files   []string          `json:"files"`              // written
	Holds   []shelf.FactCount `json:"holds"`              // of the new model
}

func newStartCmd(e desk.Env) *cobra.Command {
	opts := startOptions{answers: map[string]*string{}}
	cmd := &cobra.Command{
		Use:   "start DIR",
		Short: "Begin a data folder for your own machine",
		Long: `Start writes a data folder for a machine: what sort it is, in a dozen words, and
your own machine. Places, joints, lines, circuits and rows come from patterns
that ship with matewell, so the files are short; what you know better, you write
into them. On a terminal it asks; in a script, flags answer.

A sister of a model that some folder describes already is begun with --like.`,
		Example: `  matewell start my-holm --maker Tarnholt --name "Holm 400" --year 1982 --front-brake drum --shocks twin
  matewell start my-skerry --maker Tarnholt --name "Skerry 650" --year 2007-2008 --like skerry-620/2006/eu --data demo
  matewell start my-holm`,
		Args: wants(1, 1, "a folder to begin"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.dir = args[0]
			return runStart(cmd.Context(), e, opts)
		},
		ValidArgsFunction: folders,
	}
	flags := cmd.Flags()
	flags.StringVar(&opts.maker, "maker", "", "`BRAND` that made it, one word")
	flags.StringVar(&opts.name, "name", "", "`NAME` it was sold under")
	flags.StringVar(&opts.model, "model", "", "`ID` of the model in your files, made from its name if not given")
	flags.StringVar(&opts.years, "year", "", "model `YEAR`, or several: 1998-2001")
	flags.StringVar(&opts.market, "market", "", "`MARKET` it was sold in, such as eu; any if not given")
	flags.StringVar(&opts.frame, "frame", "", "`NUMBER` stamped on the frame of your own machine")
	flags.StringVar(&opts.like, "like", "", "a model of the data, or a `VARIANT` of it, whose places it has, instead "+
		"of answers to the choices below")
	flags.StringArrayVarP(&opts.data, "data", "d", nil, "folder `DIR` that describes that model; \"demo\" is the "+
		"built-in set")
	for _, c := range loader.Choices() {
		answer := new(string)
		opts.answers[c.Name] = answer
		flags.StringVar(answer, c.Name, "", strings.ToLower(c.Ask[:1])+c.Ask[1:]+": "+graph.OrList(c.Words())+" (`WORD`)")
		complete(cmd, c.Name, fixedWords(c.Words()))
	}
	addFormatFlag(cmd, &opts.format)
	return cmd
}

func runStart(ctx context.Context, e desk.Env, opts startOptions) error {
	if err := shelf.CheckFolder("what a machine is begun in", opts.dir); err != nil {
		return err
	}
	before, err := startedBefore(ctx, e, opts)
	if err != nil {
		return err
	}
	if err := askStart(ctx, e, &opts); err != nil {
		return err
	}
	m, assumed, err := opts.machine(e)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(before.Models, func(known graph.Model) bool { return known.ID == m.Model }) {
		return fmt.Errorf("a model is called %s already; give this one another name with --model", m.Model)
	}
	m.HasMaker = slices.ContainsFunc(before.Brands, func(b graph.Brand) bool { return string(b.ID) == m.Maker })
	answer := startAnswer{Folder: filepath.ToSlash(opts.dir), Model: string(m.Model), Bike: m.Bike(), Like: m.Like,
		Assumed: assumed}
	if m.From != m.To {
		answer.OwnYear = m.From
	}
	files := map[string]string{disk.FileName(string(m.Model)) + ".yaml": m.Text(),
		disk.FileName(m.Bike()) + ".yaml": m.BikeText()}
	if answer.Holds, err = tryStart(ctx, e, opts, m, files); err != nil {
		return err
	}
	if answer.Files, err = writeNew(opts.dir, files); err != nil {
		return err
	}
	return printAnswer(e, opts.format, answer, answer.page(opts.data), shelf.LeftOut{})
}

// below are the folders that lie under the new files: those named, and the
// folder itself when it holds any.
func (o startOptions) below() []string {
	names := slices.Clone(o.data)
	if _, err := os.Stat(o.dir); err == nil && loader.HasData(os.DirFS(o.dir)) {
		names = append(names, o.dir)
	}
	return names
}

// startedBefore reads what lies under the new files: a machine may be added to a
// folder, but not to one with faults.
func startedBefore(ctx context.Context, e desk.Env, opts startOptions) (graph.Facts, error) {
	names := opts.below()
	layers, err := shelf.Layers(e, names)
	if err != nil {
		return graph.Facts{}, err
	}
	var probs diag.List
	facts, err := shelf.LoadFiles(ctx, e, layers, &probs)
	if err == nil && probs.Err() != nil {
		err = fmt.Errorf("there are faults in %s; see them with: matewell check %s", page.List(names),
			strings.Join(names, " "))
	}
	return facts, err
}

// askStart asks on a terminal for what no flag said.
func askStart(ctx context.Context, e desk.Env, opts *startOptions) error {
	if !e.InTerm || !e.OutTerm {
		return nil
	}
	restore, err := e.Raw()
	if err != nil {
		return err
	}
	defer restore()
	a := &asker{Terminal: term.NewTerminal(readWriter{e.In, e.Out}, "")}
	a.AutoCompleteCallback = a.completeLine
	fmt.Fprint(a, "Enter keeps what stands in brackets, Tab completes, Ctrl-D stops.\n")
	questions := []asked{
		{"Who made it", "one word, as it stands in front of part numbers", &opts.maker, nil, loader.CheckBrand},
		{"Name it was sold under", "", &opts.name, nil, func(typed string) error { _, err := modelID(typed); return err }},
		{"Model year", "1998, or 1998-2001", &opts.years, nil, func(typed string) error {
			_, _,
				err := yearsOf(typed)
			return err
		}},
	}
	if opts.like == "" {
		for _, c := range loader.Choices() {
			if *opts.answers[c.Name] == "" {
				*opts.answers[c.Name] = c.Words()[0]
				questions = append(questions, asked{c.Ask, answersHint(c), opts.answers[c.Name], c.Words, oneOf(c.Words())})
			}
		}
	}
	for _, q := range questions {
		if *q.value != "" && q.words == nil {
			continue // said by a flag
		}
		if err := a.ask(ctx, q); err != nil {
			return err
		}
	}
	return nil
}

// answersHint lists the answers of a choice, each with what it is.
func answersHint(c loader.Choice) string {
	var said []string
	for _, a := range c.Answers {
		if a.Is != "" {
			said = append(said, a.Word+": "+a.Is)
		} else {
			said = append(said, a.Word)
		}
	}
	return strings.Join(said, "; ")
}

func oneOf(words []string) func(string) error {
	return func(typed string) error {
		if slices.Contains(words, typed) {
			return nil
		}
		return fmt.Errorf("want %s", graph.OrList(words))
	}
}

// machine is what was said, with what was not said filled in and named.
func (o startOptions) machine(e desk.Env) (m loader.StartedMachine, assumed []string, err error) {
	switch {
	case o.maker == "" || o.name == "" || o.years == "":
		return m, nil, desk.Usagef("say what machine it is: --maker BRAND --name NAME --year YEAR")
	case o.like != "" && slices.ContainsFunc(loader.Choices(),
		func(c loader.Choice) bool { return *o.answers[c.Name] != "" }):
		return m, nil, desk.Usagef("--like says what it has; leave out --fork and the other choices")
	}
	if err := loader.CheckBrand(o.maker); err != nil {
		return m, nil, desk.Usagef("%v", err)
	}
	m = loader.StartedMachine{Maker: o.maker, Name: o.name, Market: o.market, Frame: o.frame, Date: desk.Today(e)}
	if m.Market == "" {
		m.Market = "any"
	}
	id := o.model
	if id == "" {
		id = o.name
	}
	if m.Model, err = modelID(id); err != nil {
		return m, nil, desk.Usagef("%v", err)
	}
	if m.From, m.To, err = yearsOf(o.years); err != nil {
		return m, nil, desk.Usagef("%v", err)
	}
	if o.like != "" {
		m.Like = []string{o.like}
		return m, nil, nil
	}
	given := map[string]string{}
	for _, c := range loader.Choices() {
		if given[c.Name] = *o.answers[c.Name]; given[c.Name] == "" {
			assumed = append(assumed, c.Name+" "+c.Words()[0])
		}
	}
	if m.Like, err = loader.PatternsFor(given); err != nil {
		return m, nil, desk.Usagef("%v", err)
	}
	return m, assumed, nil
}

// modelID makes the identity of a model from its name.
func modelID(name string) (graph.ModelID, error) {
	id := loader.NameFor(name)
	if !regexp.MustCompile(`^[a-z]`).MatchString(id) {
		id = strings.Trim("model-"+id, "-")
	}
	if id == "model" {
		return "", fmt.Errorf("the name %q has neither letter nor digit", name)
	}
	return graph.ModelID(id), nil
}

// maxYears is more than any model was made.
const maxYears = 40

func yearsOf(text string) (from, to int, err error) {
	years, err := measure.ParseYears(text)
	switch {
	case err != nil:
		return 0, 0, err
	case years.From == 0 || years.To-years.From > maxYears:
		return 0, 0, fmt.Errorf("want a model year, 1998, or several, 1998-2001; not %q", text)
	}
	return years.From, years.To, nil
}

// tryStart reads the new files over all that lies below them, before anything is
// written. It gives what the new model has.
func tryStart(ctx context.Context, e desk.Env, opts startOptions, m loader.StartedMachine,
	files map[string]string) ([]shelf.FactCount, error) {
	layers, err := shelf.Layers(e, opts.below())
	if err != nil {
		return nil, err
	}
	written := fstest.MapFS{}
	for name, text := range files {
		written[name] = &fstest.MapFile{Data: []byte(text)}
	}
	layers = append(layers, loader.Layer{Name: filepath.ToSlash(filepath.Clean(opts.dir)), FS: written})
	var probs diag.List
	facts, err := shelf.LoadFiles(ctx, e, layers, &probs)
	if err != nil {
		return nil, err
	}
	var told diag.List // warnings of what lies below are for who checks that
	for _, d := range probs.Sorted() {
		if d.Severity == diag.Error || strings.HasPrefix(d.Pos.File, layers[len(layers)-1].Name+"/") {
			told.Add(d)
		}
	}
	if err := diag.Print(e.Err, &told, shelf.SourceOf(layers)); err != nil {
		return nil, err
	}
	if told.Err() != nil {
		fmt.Fprintf(e.Err, "matewell: %s, nothing written\n", shelf.CountFaults(&told))
		return nil, desk.ErrSaid
	}
	return shelf.CountFacts(layoutOf(facts, m.Model)), nil
}

// layoutOf are the facts that say how one model is laid out.
func layoutOf(f graph.Facts, model graph.ModelID) (own graph.Facts) {
	for _, v := range f.Variants {
		if v.Model == model {
			own.Variants = append(own.Variants, v)
		}
	}
	for _, p := range f.Positions {
		if p.Model == model {
			own.Positions = append(own.Positions, p)
		}
	}
	for _, j := range f.Joints {
		if j.Model == model {
			own.Joints = append(own.Joints, j)
		}
	}
	for _, r := range f.Runs {
		if r.Model == model {
			own.Runs = append(own.Runs, r)
		}
	}
	for _, c := range f.Circuits {
		if c.Model == model {
			own.Circuits = append(own.Circuits, c)
		}
	}
	for _, s := range f.Stacks {
		if s.Model == model {
			own.Stacks = append(own.Stacks, s)
		}
	}
	return own
}

// writeNew writes files into a folder, which is made when it is not there. None
// may be there already.
func writeNew(dir string, files map[string]string) ([]string, error) {
	var names []string
	for name := range files {
		path := filepath.Join(dir, name)
		if _, err := os.Lstat(path); err == nil {
			return nil, fmt.Errorf("%s is there already; give the machine another --model, or move the file away",
				filepath.ToSlash(path))
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", dir, desk.Reason(err))
	}
	for i, name := range names {
		path := filepath.Join(dir, name)
		if err := disk.Replace(path, []byte(files[name]), 0o666); err != nil {
			return nil, fmt.Errorf("write %s: %w", path, desk.Reason(err))
		}
		names[i] = filepath.ToSlash(path)
	}
	return names, nil
}

func (a startAnswer) page(data []string) page.Page {
	lines := []string{fmt.Sprintf("Wrote %s: %s has %s.", page.List(a.Files), a.Model, shelf.SayCounts(a.Holds))}
	if len(a.Assumed) > 0 {
		lines = append(lines, "Assumed, since nobody said so: "+strings.Join(a.Assumed,
			", ")+". Change \"like\" in "+a.Folder+"/"+a.Model+".yaml where it is otherwise.")
	}
	if a.OwnYear != 0 {
		lines = append(lines, fmt.Sprintf(
			"Your own machine is taken to be of %d: change \"variant\" in %s/%s.yaml where it is not.", a.OwnYear,
			a.Folder, a.Bike))
	}
	lines = append(lines, fmt.Sprintf("All that nobody noted counts as on your machine. Is it in pieces? Write "+
		"\"everything: missing\" in %s/%s.yaml.", a.Folder, a.Bike))
	flags := ""
	for _, d := range append(slices.Clone(data), a.Folder) {
		flags += " --data " + d
	}
	next := []string{
		"matewell list positions" + flags,
		"matewell import parts-list.csv --to " + a.Folder,
		"matewell gaps --on " + a.Bike + flags,
	}
	rows := page.Table{Columns: []string{"what", "how many"}}
	for _, c := range a.Holds {
		rows.Add(c.What, strconv.Itoa(c.Count))
	}
	return page.Page{{Lines: lines, Rows: rows}, {Title: "What next", Lines: next}}
}
