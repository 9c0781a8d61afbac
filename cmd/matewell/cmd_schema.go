package main

import (
	"context"
	"embed"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/help"
	"matewell/graph"
	"matewell/loader"
)

// answerSchemas holds one JSON Schema for each answering command, under its
// name. A test makes them from the answer structs and compares.
//
//go:embed schema/*.json
var answerFiles embed.FS

func answerSchemas() fs.FS {
	files, err := fs.Sub(answerFiles, "schema")
	if err != nil {
		panic(err) // the path is a constant of this file
	}
	return files
}

func newSchemaCmd(e desk.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "schema [NAME]",
		Short: "Print the JSON Schema of an answer or of a data file",
		Long: `Schema prints a JSON Schema (2020-12): that of what a command prints with
--format json; that of a key of the YAML data files or of a row of the CSV
lists, which lets an editor complete and check them; that of a part of one of
the standard kinds, or of one kind of feature, by its name. Without a name it
lists the names; the kinds are in: matewell help kinds, matewell help features.`,
		Example: `  matewell schema
  matewell schema fits
  matewell schema parts > parts.schema.json
  matewell schema fitments
  matewell schema caliper`,
		Args: wants(0, 1, "at most one name of a schema"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listSchemas(e)
			}
			return runSchema(cmd.Context(), e, args[0])
		},
		ValidArgsFunction: atMost(1, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return slices.Concat(schemaNames(answerSchemas()), schemaNames(loader.Schemas())), cobra.ShellCompDirectiveNoFileComp
		}),
	}
}

func listSchemas(e desk.Env) error {
	_, err := fmt.Fprintf(e.Out, "answers:    %s\ndata files: %s\nkinds:      each by its name; see: matewell help "+
		"kinds, matewell help features\n",
		strings.Join(schemaNames(answerSchemas()), ", "), strings.Join(schemaNames(loader.Schemas()), ", "))
	return err
}

func runSchema(ctx context.Context, e desk.Env, name string) error {
	for _, files := range []fs.FS{answerSchemas(), loader.Schemas()} {
		for _, file := range schemaFiles(files) {
			if schemaName(file) != name {
				continue
			}
			content, err := fs.ReadFile(files, file)
			if err != nil {
				return err
			}
			_, err = e.Out.Write(content)
			return err
		}
	}
	kinds, err := help.ReadKinds(ctx)
	if err != nil {
		return err
	}
	var content []byte
	if k, ok := kinds.Kind(name); ok {
		content, err = loader.KindSchema(k)
	} else if f, ok := graph.FeatureKindNamed(name); ok {
		content, err = loader.FeatureSchema(f)
	} else {
		return desk.Usagef("there is no schema %q; see: matewell schema", name)
	}
	if err != nil {
		return err
	}
	_, err = e.Out.Write(content)
	return err
}

func schemaFiles(files fs.FS) []string {
	found, err := fs.Glob(files, "*.json")
	if err != nil {
		panic(err) // the pattern above is wrong, whatever the files
	}
	return found
}

func schemaName(file string) string {
	name, _, _ := strings.Cut(file, ".")
	return name
}

func schemaNames(files fs.FS) []string {
	var names []string
	for _, file := range schemaFiles(files) {
		names = append(names, schemaName(file))
	}
	return names
}
