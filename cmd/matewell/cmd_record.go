package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/loader"
	"matewell/queries/evidence"
)

type recordOptions struct {
	askOptions
	evidence.RecordQuestion
	to   string // findings file; empty is the usual one
	from string // a filled measuring sheet; empty when a finding is typed
}

// recordAnswer is what "matewell record" prints as JSON.
type recordAnswer struct {
	Finding evidence.FindingLine `json:"finding"`
	File    string               `json:"file"`
	Text    string               `json:"text"` // as it stands in the file
	// Known is true when the very same finding was there already; nothing was
	// written then.
	Known bool `json:"known,omitempty"`
	// Lost is true when the finding was written to a file that can't be read as
	// a whole, so that it does not count until the file is mended.
	Lost bool `json:"lost,omitempty"`
}

func newRecordCmd(e desk.Env) *cobra.Command {
	var opts recordOptions
	cmd := &cobra.Command{
		Use:   "record PART [--on MACHINE --position POSITION --verdict VERDICT]",
		Short: "Keep what you found out about a part",
		Long: `Record keeps a finding of your own: that a part fits, or not, at a position of a
machine, what had to be done, and what you measured on it. Without a part, on a
terminal, it asks.

The finding is checked, then added to a plain-text file of your own, and counts
in every answer from then on. What you measured on the very part outranks any
list; where safety hangs on it, a measurement against a list is a dispute until a
second person has measured the same. The file may be edited, kept under version
control, and sent to a friend, who takes it in with "matewell merge". With --to and
the name of a store, a folder or a postgres:// address, it counts for all who ask
that store; several people may record to it at once.`,
		Example: `  matewell record name gull
  matewell record 207.4418b --measured "port.thread=M10x1; thread gauge" --method measured
  matewell record "Tarnholt 207.4418b" --on skerry-620/2004/eu --position caliper-left \
      --verdict "does not fit" --method fitted --note "bolt centres are 16 mm apart"
  matewell record --from front-brake.csv
  matewell record withdraw gull-2026-11-25-k3w5q2ab --why "read off the wrong caliper"
  matewell record list --by gull`,
		Args: wants(0, 1, "one part number; put quotes around a brand and a number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				opts.Part = args[0]
			}
			if opts.from != "" {
				if len(args) > 0 || len(opts.Measured) > 0 || opts.Verdict != "" {
					return desk.Usagef("--from takes all from the sheet; leave out the part and what was measured")
				}
				return runRecordSheet(cmd.Context(), e, opts)
			}
			return runRecord(cmd.Context(), e, opts)
		},
		ValidArgsFunction: atMost(1, fromGraph(e, &opts.Where, partWords)),
	}
	opts.addFlags(e, cmd)
	cmd.AddCommand(newRecordListCmd(e), newRecordWithdrawCmd(e), newRecordNameCmd(e))
	return cmd
}

func (o *recordOptions) addFlags(e desk.Env, cmd *cobra.Command) {
	addMachineFlags(e, cmd, &o.Where, &o.On, &o.Market, &o.Frame)
	flags := cmd.Flags()
	flags.StringVar(&o.Position, "position", "", "at this `POSITION` of the machine")
	flags.StringVar(&o.Verdict, "verdict", "", "fits, \"fits with changes\", unknown, or \"does not fit\" (`VERDICT`)")
	flags.StringArrayVar(&o.Changes, "change", nil, "what had to be done: \"`WHAT`; effort; part\"; effort and part "+
		"may be left out; may be given several times")
	flags.StringArrayVar(&o.Measured, "measured", nil, "a dimension of the very part: \"feature.dimension=`VALUE`; "+
		"gauge\"; may be given several times")
	flags.StringVar(&o.Method, "method", "", "how you know: "+strings.Join(methodWords(), ", ")+" (`HOW`)")
	flags.StringVar(&o.Date, "date", "", "`WHEN`, today if not given: 2024, 2024-05 or 2024-05-11")
	flags.StringVar(&o.By, "by", "", "`WHO` found it, if not you; may be a nickname")
	flags.StringVar(&o.Origin, "origin", "", "`WHERE` it was taken from, when not first hand")
	flags.StringArrayVar(&o.Photos, "photo", nil, "name of a photo `FILE`; may be given several times")
	flags.StringVar(&o.Note, "note", "", "free `TEXT`")
	flags.StringVar(&o.ID, "id", "", "`NAME` of the finding, made from who, when and what if not given")
	flags.StringVar(&o.from, "from", "", "all that is filled in on this `SHEET`, as matewell gaps --sheet writes one")
	addFindingsFlag(cmd, &o.to)
	complete(cmd, "position", fromGraph(e, &o.Where, positionsOn(&o.On)))
	complete(cmd, "verdict", fixedWords(graph.VerdictWords()))
	complete(cmd, "method", fixedWords(methodWords()))
	o.askOptions.addFlags(cmd)
}

func addFindingsFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "to", "", "the findings `FILE`, if not your usual one (or set "+shelf.FindingsVariable+
		"), or a store that you share with others")
}

func runRecord(ctx context.Context, e desk.Env, opts recordOptions) (err error) {
	file, err := shelf.FindingsTo(e, opts.to, &opts.Where)
	if err != nil {
		return err
	}
	r, err := file.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	if opts.Part == "" {
		if err := askFinding(ctx, e, r, &opts.RecordQuestion); err != nil {
			return err
		}
	}
	if err := fillIn(e, &opts.RecordQuestion); err != nil {
		return err
	}
	finding, err := evidence.FindingFor(ctx, r, opts.RecordQuestion)
	if err != nil {
		return err
	}
	return keepFinding(ctx, e, r, opts, finding, file)
}

// fillIn adds what need not be typed, and refuses what lacks too much.
func fillIn(e desk.Env, q *evidence.RecordQuestion) error {
	if q.Date == "" {
		q.Date = desk.Today(e)
	}
	if isLater(q.Date, desk.Today(e)) {
		return desk.Usagef("--date %s lies in the future: today is %s", q.Date, desk.Today(e))
	}
	if q.By == "" && q.Origin == "" {
		name, err := userName(e)
		if err != nil {
			return err
		}
		if q.By = name; name == "" {
			return desk.Usagef("say who you are: --by NAME, or once for all: matewell record name NAME")
		}
	}
	switch {
	case q.Part == "":
		return desk.Usagef("record wants a part number")
	case q.Method == "" && len(q.Measured) > 0:
		q.Method = string(graph.MethodMeasured)
	case q.Method == "":
		return desk.Usagef("say how you know: --method %s", graph.OrList(methodWords()))
	}
	switch {
	case q.Verdict == "" && len(q.Measured) == 0:
		return desk.Usagef("record wants a verdict (--verdict) or a measurement (--measured)")
	case q.Verdict != "" && (q.On == "" || q.Position == ""):
		return desk.Usagef("a verdict is about a place: add --on MACHINE and --position POSITION")
	}
	return nil
}

// keepFinding checks a finding and adds it to the file. When it can't be
// written, its text is printed, so that it is not lost.
func keepFinding(ctx context.Context, e desk.Env, r shelf.Opened, opts recordOptions, f graph.Finding,
	file shelf.FindingsPlace) error {
	text, err := loader.FindingText(f)
	if err != nil {
		return err
	}
	before, err := r.Findings(ctx, f.ID)
	if err != nil {
		return err
	}
	lines, err := evidence.FindingLines(ctx, r, []graph.Finding{f})
	if err != nil {
		return err
	}
	answer := recordAnswer{Finding: lines[0], File: filepath.ToSlash(file.Path), Text: text, Known: len(before) > 0}
	if answer.Known {
		if before[0].Withdrawn != "" {
			return fmt.Errorf("%s was recorded before, and taken back: %s; nothing was written, since it would not count. "+
				"Give it another name with --id", f.ID, before[0].Withdrawn)
		}
		if same, err := sameFinding(before[0], f); err != nil || !same {
			return errors.Join(err, fmt.Errorf("another finding is called %s already; give this one another name with --id",
				f.ID))
		}
		return printAnswer(e, opts.format, answer, answer.page(), r.Left)
	}
	if err := shelf.CheckTyped(ctx, e, r, text, typedFlags(text, opts.RecordQuestion)); err != nil {
		return err
	}
	file.Known = r.Mine
	added, err := file.Add(ctx, []string{text}, nil)
	switch {
	case errors.Is(err, loader.ErrTaken):
		return fmt.Errorf("another finding is called %s already; give this one another name with --id", f.ID)
	case err != nil:
		return notWritten(e, err, text)
	}
	answer.Known = len(added) == 0 // somebody recorded it in the meantime
	answer.Lost = r.Left.Whole
	return printAnswer(e, opts.format, answer, answer.page(), r.Left)
}

// notWritten reports a finding that could not be written, with its text.
func notWritten(e desk.Env, err error, text string) error {
	fmt.Fprintf(e.Err, "matewell: nothing was written: %s\nThis is what was to be added; keep it:\n\n%s",
		shelf.WithoutSecrets(err.Error()), text)
	return desk.ErrSaid
}

// sameFinding reports whether two findings claim the same.
func sameFinding(a, b graph.Finding) (bool, error) {
	a.Withdrawn, a.WithdrawnOn, b.Withdrawn, b.WithdrawnOn = "", "", "", ""
	textA, errA := loader.FindingText(a)
	textB, errB := loader.FindingText(b)
	return textA == textB, errors.Join(errA, errB)
}

func (a recordAnswer) page() page.Page {
	said := "Recorded " + string(a.Finding.ID) + " in " + a.File + ":"
	if a.Lost {
		said = "Wrote " + string(a.Finding.ID) + " to " + a.File + ". It does not count: the file has faults, and none of " +
			"it is read until they are mended:"
	}
	if a.Known {
		said = string(a.Finding.ID) + " was recorded before; nothing was written:"
	}
	return page.Page{{Lines: textLines(said, a.Text), Rows: findingTable([]evidence.FindingLine{a.Finding})}}
}

func methodWords() []string {
	var words []string
	for _, m := range graph.Methods() {
		words = append(words, string(m))
	}
	return words
}

// fixedWords offers words that don't depend on the graph.
func fixedWords(words []string) completer {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return words, cobra.ShellCompDirectiveNoFileComp
	}
}
