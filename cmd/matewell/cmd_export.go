package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/store"
)

type exportOptions struct {
	shelf.Where
	format exportFormat
}

// exportFormat is how a whole graph is written.
type exportFormat string

const (
	exportNQuads exportFormat = "nquads"
	exportJSONLD exportFormat = "jsonld"
)

func exportFormats() []string { return []string{string(exportNQuads), string(exportJSONLD)} }

// String, Set and Type make exportFormat a flag that refuses an unknown word.
func (f *exportFormat) String() string { return string(*f) }
func (f *exportFormat) Type() string   { return "GRAPH" }
func (f *exportFormat) Set(word string) error {
	if !slices.Contains(exportFormats(), word) {
		return fmt.Errorf("want one of: %s", strings.Join(exportFormats(), ", "))
	}
	*f = exportFormat(word)
	return nil
}

func newExportCmd(e desk.Env) *cobra.Command {
	opts := exportOptions{format: exportNQuads}
	cmd := &cobra.Command{
		Use:   "export",
		Short: "Write the whole graph in an open format",
		Long: `Export writes every fact to standard output, your own findings with them: as
N-Quads (RDF 1.1), which "matewell load" takes back without loss, or as JSON-LD
1.1, which says the same. The name of each graph is the source that says so.

Who says a thing, when, and what it was taken from is said in PROV-O and
schema.org, measures once more in QUDT beside the text as it was written. All
other terms are in https://matewell.example/terms#. The same facts give the same
bytes.`,
		Example: `  matewell export > all.nq
  matewell load all.nq
  matewell export --data my-data --format jsonld > my-data.jsonld`,
		Args: wants(0, 0, "no arguments: it writes the whole graph"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runExport(cmd.Context(), e, opts)
		},
		ValidArgsFunction: nothing,
	}
	addWhere(cmd, &opts.Where)
	cmd.Flags().VarP(&opts.format, "format", "f", "what to write: "+strings.Join(exportFormats(), ", "))
	complete(cmd, "format", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return exportFormats(), cobra.ShellCompDirectiveNoFileComp
	})
	return cmd
}

func runExport(ctx context.Context, e desk.Env, opts exportOptions) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	shelf.BeThrifty(e, 0)
	return writeExport(ctx, e.Out, r.Store, opts.format)
}

func writeExport(ctx context.Context, w io.Writer, s *store.Store, f exportFormat) error {
	if f == exportJSONLD {
		return s.WriteJSONLD(ctx, w)
	}
	return s.WriteNQuads(ctx, w)
}
