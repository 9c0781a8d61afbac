package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
	"matewell/loader/intake"
	"matewell/loader/partslist"
)

type importOptions struct {
	format page.Format
	file   string
	into   string
	force  bool
	// told is what was said about the list; it is kept beside what is written,
	// so that the next import of the list need not be told again.
	told importTold
}

// importTold is what a person says about a list.
type importTold struct {
	Name     string   `json:"name,omitempty"`
	Columns  []string `json:"columns,omitempty"` // HEADING=FIELD
	Places   []string `json:"places,omitempty"`  // NAME=POSITION
	Brand    string   `json:"brand,omitempty"`
	On       string   `json:"on,omitempty"`
	Bike     string   `json:"bike,omitempty"`
	Stock    bool     `json:"stock,omitempty"`
	Sheet    string   `json:"sheet,omitempty"`
	Encoding string   `json:"encoding,omitempty"`
}

func newImportCmd(e desk.Env) *cobra.Command {
	var opts importOptions
	cmd := &cobra.Command{
		Use:   "import FILE.csv|FILE.xlsx [--to DIR]",
		Short: "Take in a parts list or an inventory from a spreadsheet",
		Long: `Import reads a list as it is kept: any separator, encoding and line end, title
lines, headings in several languages, totals, blank rows. It tells by heading and
content what each column holds, and shows what it took for what. Without --to
nothing is written.

With --to it declares the numbers in a data folder, puts parts where their name,
place and heading say, and keeps what it can't place in a file of its own with a
reason a line. Nothing is guessed at: a number that a sheet programme spoilt is
left out and told. Each list has a folder of its own in there; import it again
after an edit, and only what changed is changed.`,
		Example: `  matewell import "rebuild list.csv"
  matewell import "rebuild list.csv" --to my-machine
  matewell import boxes.xlsx --to my-machine --bike winter --column "Got?=status"
  matewell import list.csv --to my-machine --brand Tarnholt \
      --place "brake caliper=front-brake/caliper-left"`,
		Args: wants(1, 1, "a file that ends in .csv or .xlsx"),
		RunE: func(cmd *cobra.Command, args []string) error {
			opts.file = args[0]
			return runImport(cmd.Context(), e, opts)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "tsv", "txt", "xlsx"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&opts.into, "to", "", "the data folder `DIR` to write to; made when there is none")
	flags.StringArrayVar(&opts.told.Columns, "column", nil, "what a column holds: \"`HEADING=FIELD`\", with a letter "+
		"for a column without a heading; may be given several times. Fields: "+fieldWords())
	flags.StringArrayVar(&opts.told.Places, "place", nil, "where a name of the list belongs: \"`NAME=POSITION`\"; may "+
		"be given several times")
	flags.StringVar(&opts.told.Brand, "brand", "", "`MAKER` of the parts of which nothing tells")
	flags.StringVar(&opts.told.On, "on", "", "the `MODEL` that the list is of, where it names none")
	flags.StringVar(&opts.told.Bike, "bike", "", "the `BIKE` whose boxes hold what the list says is there; the only "+
		"one if not given")
	flags.BoolVar(&opts.told.Stock, "stock", false, "everything on the list is there, in boxes of --bike")
	flags.StringVar(&opts.told.Sheet, "sheet", "", "read this `SHEET` of a workbook alone")
	flags.StringVar(&opts.told.Encoding, "encoding", "", "the `NAME` of the encoding, when it is not found out: utf-8, "+
		"latin-1, windows-1252, mac-roman, cp850 ...")
	flags.StringVar(&opts.told.Name, "name", "", "call the list this `NAME`, and not after its file")
	flags.BoolVar(&opts.force, "force", false, "write over files that were edited since")
	if err := cmd.MarkFlagDirname("to"); err != nil {
		panic(err) // the flag is made above
	}
	addFormatFlag(cmd, &opts.format)
	return cmd
}

func fieldWords() string {
	var words []string
	for _, f := range partslist.Fields() {
		words = append(words, string(f))
	}
	return strings.Join(words, ", ")
}

func runImport(ctx context.Context, e desk.Env, opts importOptions) error {
	body, err := readList(e, opts.file)
	if err != nil {
		return err
	}
	if opts.told.Name == "" {
		opts.told.Name = listName(opts.file)
	} else if opts.told.Name != listName(opts.told.Name) {
		return desk.Usagef("a list is called by small letters, digits and hyphens: --name %s", listName(opts.told.Name))
	}
	if err := shelf.CheckFolder("--to", opts.into); err != nil {
		return err
	}
	if opts.into == "" {
		return showList(e, opts, body)
	}
	return takeIn(ctx, e, opts, body)
}

// readList reads the file of a list, no more of it than a list can have.
func readList(e desk.Env, name string) ([]byte, error) {
	body, err := desk.ReadInput(e, name, partslist.MaxFile)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, desk.Reason(err))
	}
	return body, nil
}

// listName is the name of a file as a source is named.
func listName(file string) string {
	base := filepath.Base(filepath.ToSlash(file))
	base = strings.TrimSuffix(base, filepath.Ext(base))
	name := strings.Join(strings.FieldsFunc(partslist.Fold(base), func(r rune) bool {
		return r > 'z' || r < '0' ||
			r > '9' && r < 'a'
	}), "-")
	if name == "" {
		return "list"
	}
	return name
}

// readSheets understands a list.
func (opts importOptions) readSheets(body []byte, brands []graph.Brand) (partslist.File, error) {
	columns, err := toldColumns(opts.told.Columns)
	if err != nil {
		return partslist.File{}, err
	}
	list, err := partslist.Read(opts.file, body, partslist.Options{Brands: brands, Brand: graph.BrandID(opts.told.Brand),
		Columns: columns,
		Sheet:   opts.told.Sheet, Encoding: opts.told.Encoding})
	if err != nil {
		return list, fmt.Errorf("%s: %w", opts.file, err)
	}
	for heading := range columns {
		if !hasHeading(list, heading) {
			return list, desk.Usagef("no column is headed %q; there are: %s", heading, strings.Join(listHeadings(list), ", "))
		}
	}
	return list, nil
}

func toldColumns(told []string) (map[string]partslist.Field, error) {
	columns := map[string]partslist.Field{}
	for _, t := range told {
		at := strings.LastIndex(t, "=")
		if at <= 0 {
			return nil, desk.Usagef("--column wants HEADING=FIELD, not %q", t)
		}
		field := partslist.Field(strings.ToLower(strings.TrimSpace(t[at+1:])))
		if !slices.Contains(partslist.Fields(), field) {
			return nil, desk.Usagef("no field is called %q; there are: %s", string(field), fieldWords())
		}
		columns[strings.TrimSpace(t[:at])] = field
	}
	return columns, nil
}

func hasHeading(list partslist.File, heading string) bool {
	return slices.ContainsFunc(list.Sheets, func(s partslist.Sheet) bool {
		return slices.ContainsFunc(s.Columns, func(c partslist.Column) bool { return c.Is(heading) })
	})
}

func listHeadings(list partslist.File) []string {
	var names []string
	for _, s := range list.Sheets {
		for _, c := range s.Columns {
			if c.Heading != "" {
				names = append(names, fmt.Sprintf("%q", c.Heading))
			} else {
				names = append(names, c.Letter)
			}
		}
	}
	return names
}

// showList prints what a list is understood as, and writes nothing.
func showList(e desk.Env, opts importOptions, body []byte) error {
	list, err := opts.readSheets(body, nil)
	if err != nil {
		return err
	}
	desk, err := intake.Open(context.Background(), loader.Layer{Name: "nothing", FS: noFiles{}}, opts.told.Name,
		&diag.List{})
	if err != nil {
		return err
	}
	result, err := desk.Make(context.Background(), list, opts.intake())
	if err != nil {
		return err
	}
	answer := newImportAnswer(opts, list, result)
	if err := printAnswer(e, opts.format, answer, answer.page(), shelf.LeftOut{}); err != nil {
		return err
	}
	return answer.err()
}

func (opts importOptions) intake() intake.Options {
	return intake.Options{Name: opts.told.Name, Title: filepath.Base(opts.file), Model: graph.ModelID(opts.told.On),
		Bike:  graph.BikeID(opts.told.Bike),
		Stock: opts.told.Stock, Brand: graph.BrandID(opts.told.Brand), Places: toldPlaces(opts.told.Places)}
}

func toldPlaces(told []string) map[string]string {
	places := map[string]string{}
	for _, t := range told {
		if at := strings.LastIndex(t, "="); at > 0 {
			places[strings.TrimSpace(t[:at])] = strings.TrimSpace(t[at+1:])
		}
	}
	return places
}

// noFiles is a folder with nothing in it.
type noFiles struct{}

func (noFiles) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

func (noFiles) ReadDir(string) ([]fs.DirEntry, error) { return nil, nil }

func (n noFiles) Stat(name string) (fs.FileInfo, error) {
	if name != "." {
		_, err := n.Open(name)
		return nil, err
	}
	return os.Stat(os.TempDir())
}

// takeIn puts a list into a data folder. Whoever writes holds the lock of the folder, and
// what another import wrote meanwhile is read first.
func takeIn(ctx context.Context, e desk.Env, opts importOptions, body []byte) error {
	seen := stateOf(opts.into)
	t, err := understood(ctx, e, opts, body)
	if err != nil {
		return err
	}
	if t.isToWrite() {
		unlock, err := lockImports(ctx, opts.into)
		if err != nil {
			return err
		}
		defer unlock() // nothing is left to do about an error
		if stateOf(opts.into) != seen {
			if t, err = understood(ctx, e, opts, body); err != nil {
				return err
			}
		}
		if t.answer.Files, err = t.kept.write(t.opts, t.result.Files); err != nil {
			return err
		}
	}
	if err := printAnswer(e, opts.format, t.answer, t.answer.page(), shelf.LeftOut{}); err != nil {
		return err
	}
	return t.answer.err()
}

// takenIn is a list as it is understood beside what a data folder holds.
type takenIn struct {
	opts   importOptions // with what was said of it before
	kept   *kept
	result intake.Result
	answer importAnswer
}

func (t takenIn) isToWrite() bool { return len(t.result.Files) > 0 && t.answer.rows() > 0 }

// understood reads a list beside what the data folder holds, and writes nothing.
func understood(ctx context.Context, e desk.Env, opts importOptions, body []byte) (takenIn, error) {
	t := takenIn{opts: opts}
	layer := loader.Layer{Name: filepath.ToSlash(filepath.Clean(opts.into)), FS: e.DirFS(opts.into)}
	if info, err := fs.Stat(layer.FS, "."); errors.Is(err, fs.ErrNotExist) {
		layer.FS = noFiles{}
	} else if err != nil {
		return t, fmt.Errorf("read the folder %s: %w", opts.into, desk.Reason(err))
	} else if !info.IsDir() {
		return t, fmt.Errorf("%s is not a folder", opts.into)
	}
	var err error
	if t.kept, err = readKept(layer.FS, opts.told.Name); err != nil {
		return t, err
	}
	t.opts.told.remember(t.kept.Told)
	for _, p := range t.opts.told.Places {
		if strings.LastIndex(p, "=") <= 0 {
			return t, desk.Usagef("--place wants NAME=POSITION, not %q", p)
		}
	}
	folder, err := openFolder(ctx, e, layer, t.opts)
	if err != nil {
		return t, err
	}
	if err := t.opts.known(folder); err != nil {
		return t, err
	}
	list, err := t.opts.readSheets(body, folder.Brands())
	if err != nil {
		return t, err
	}
	if t.result, err = folder.Make(ctx, list, t.opts.intake()); err != nil {
		return t, err
	}
	t.answer = newImportAnswer(t.opts, list, t.result)
	t.answer.Into = layer.Name
	return t, nil
}

// openFolder reads a data folder without the files of the list itself.
func openFolder(ctx context.Context, e desk.Env, layer loader.Layer, opts importOptions) (*intake.Desk, error) {
	var probs diag.List
	folder, err := intake.Open(ctx, layer, opts.told.Name, &probs)
	if err != nil || probs.Err() == nil {
		return folder, err
	}
	if err := diag.Print(e.Err, &probs, shelf.SourceOf([]loader.Layer{layer})); err != nil {
		return nil, err
	}
	fmt.Fprintf(e.Err, "matewell: %s in %s, nothing imported\n", shelf.CountFaults(&probs), opts.into)
	return nil, desk.ErrSaid
}

// remember takes what was said when the list was imported before, where nothing
// is said now.
func (t *importTold) remember(before importTold) {
	for _, x := range []struct{ now, then *string }{{&t.Brand, &before.Brand}, {&t.On, &before.On}, {&t.Bike,
		&before.Bike},
		{&t.Sheet, &before.Sheet}, {&t.Encoding, &before.Encoding}} {
		if *x.now == "" {
			*x.now = *x.then
		}
	}
	t.Stock = t.Stock || before.Stock
	t.Columns = mergeTold(before.Columns, t.Columns)
	t.Places = mergeTold(before.Places, t.Places)
}

// mergeTold are both lists of NAME=WHAT, with the later word of a name.
func mergeTold(before, now []string) []string {
	name := func(t string) string { return partslist.Fold(t[:max(0, strings.LastIndex(t, "="))]) }
	var merged []string
	for _, t := range before {
		if !slices.ContainsFunc(now, func(n string) bool { return name(n) == name(t) }) {
			merged = append(merged, t)
		}
	}
	return append(merged, now...)
}

// known refuses a model or a bike that the folder does not have.
func (opts *importOptions) known(desk *intake.Desk) error {
	var models, bikes []string
	for _, m := range desk.Models() {
		models = append(models, string(m.ID))
	}
	for _, b := range desk.Bikes() {
		bikes = append(bikes, string(b.ID))
	}
	if opts.told.Bike == "" && len(bikes) == 1 {
		opts.told.Bike = bikes[0]
	}
	if opts.told.On != "" {
		model, _, _ := strings.Cut(opts.told.On, "/")
		if opts.told.On = model; !slices.Contains(models, model) {
			return fmt.Errorf("%s has no model %q%s", opts.into, model, thereIs(models))
		}
	}
	if opts.told.Bike != "" && !slices.Contains(bikes, opts.told.Bike) {
		return fmt.Errorf("%s has no bike %q%s", opts.into, opts.told.Bike, thereIs(bikes))
	}
	return nil
}

func thereIs(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "; there is " + strings.Join(names, ", ")
}
