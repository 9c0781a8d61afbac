package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
)

// completer offers words for an argument or a flag that is being typed.
type completer = func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective)

// complete gives a flag its completer.
func complete(cmd *cobra.Command, flag string, f completer) {
	if err := cmd.RegisterFlagCompletionFunc(flag, f); err != nil {
		panic(err) // the flag is not there: a slip in this program, found by any test
	}
}

// maxOffered is how many words are offered at once; more help nobody.
const maxOffered = 200

// fromGraph makes a completer that reads the graph the flags choose. It stays
// silent when there is none: a shell line is no place for faults.
func fromGraph(e desk.Env, w *shelf.Where, words wordsFrom) completer {
	return func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		quiet := e
		quiet.Err, quiet.ErrTerm = io.Discard, false
		r, err := shelf.Open(cmd.Context(), quiet, *w)
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		defer r.Close()
		found, err := words(cmd.Context(), r, typed)
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		found = slices.DeleteFunc(found, func(word string) bool { return !strings.HasPrefix(word, typed) })
		return found[:min(len(found), maxOffered)], cobra.ShellCompDirectiveNoFileComp
	}
}

// atMost offers nothing more once n arguments are typed.
func atMost(n int, f completer) completer {
	return func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= n {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return f(cmd, args, typed)
	}
}

// maxLooked is how many numbers are looked at: of those that begin as typed, a
// few may do so only by a mark other than their number.
const maxLooked = 10 * maxOffered

// partWords offers the part numbers that begin as typed: the number alone, or
// with its brand once that was begun. Both are spelled without a blank, so that
// the shell needs no quotes, unless a blank was typed.
func partWords(ctx context.Context, r graph.Reader, typed string) ([]string, error) {
	ids, err := r.PartNumbers(ctx, graph.NumberKey(typed), maxLooked)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, id := range ids {
		number := strings.ReplaceAll(id.Number(), " ", "")
		for _, word := range []string{number, string(id.Brand()) + "-" + number, string(id)} {
			if strings.HasPrefix(word, typed) {
				words = append(words, word)
				break
			}
		}
	}
	slices.Sort(words)
	return slices.Compact(words), nil
}

// variantWords offers models, then model years, then variants: as many words
// as the part typed so far calls for.
func variantWords(ctx context.Context, r graph.Reader, typed string) ([]string, error) {
	models, err := r.Models(ctx)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, m := range models {
		words = append(words, string(m.ID))
	}
	variants, err := r.VariantsOf(ctx, modelIDs(models)...)
	if err != nil {
		return nil, err
	}
	for _, v := range variants {
		parts := strings.Split(string(v.ID), "/")
		for n := 2; n <= len(parts); n++ {
			words = append(words, strings.Join(parts[:n], "/"))
		}
	}
	slices.Sort(words)
	return slices.Compact(words), nil
}

// nothing offers no words, and no file names either.
func nothing(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// kindWords offers the kinds of part.
func kindWords(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
	kinds, err := r.Kinds(ctx)
	var words []string
	for _, k := range kinds {
		words = append(words, string(k.ID))
	}
	return words, err
}

// marketWords offers the markets of all models.
func marketWords(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
	models, err := r.Models(ctx)
	if err != nil {
		return nil, err
	}
	variants, err := r.VariantsOf(ctx, modelIDs(models)...)
	if err != nil {
		return nil, err
	}
	var words []string
	for _, v := range variants {
		words = append(words, v.Market)
	}
	slices.Sort(words)
	return slices.Compact(words), nil
}

// modelsOn are the models a machine may be of: the one it names, else all.
func modelsOn(ctx context.Context, r graph.Reader, on string) ([]graph.ModelID, error) {
	if model := graph.VariantID(on).Model(); model != "" {
		return []graph.ModelID{model}, nil
	}
	models, err := r.Models(ctx)
	return modelIDs(models), err
}

func modelIDs(models []graph.Model) []graph.ModelID {
	ids := make([]graph.ModelID, len(models))
	for i, m := range models {
		ids[i] = m.ID
	}
	return ids
}

// wordsFrom looks words up in a graph.
type wordsFrom = func(ctx context.Context, r graph.Reader, typed string) ([]string, error)

// positionsOn offers the positions of the machine in a flag, without the model.
func positionsOn(on *string) wordsFrom {
	return func(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
		models, err := modelsOn(ctx, r, *on)
		if err != nil {
			return nil, err
		}
		positions, err := r.PositionsOf(ctx, models...)
		var words []string
		for _, p := range positions {
			words = append(words, p.ID.Local())
		}
		slices.Sort(words)
		return slices.Compact(words), err
	}
}

// assembliesOn offers the assemblies of the machine in a flag.
func assembliesOn(on *string) wordsFrom {
	return func(ctx context.Context, r graph.Reader, _ string) ([]string, error) {
		models, err := modelsOn(ctx, r, *on)
		if err != nil {
			return nil, err
		}
		assemblies, err := r.AssembliesOf(ctx, models...)
		var words []string
		for _, a := range assemblies {
			words = append(words, a.ID.Local())
		}
		slices.Sort(words)
		return slices.Compact(words), err
	}
}
