package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
)

// notBoth refuses two flags that exclude one another.
func notBoth(cmd *cobra.Command, a, b string) {
	cmd.MarkFlagsMutuallyExclusive(a, b) // so that completion knows
	beforehand(cmd, func() error {
		if cmd.Flags().Changed(a) && cmd.Flags().Changed(b) {
			return desk.Usagef("--%s and --%s exclude one another: give one of them", a, b)
		}
		return nil
	})
}

// beforehand has a command refuse a command line before it runs.
func beforehand(cmd *cobra.Command, refuses func() error) {
	before := cmd.PreRunE
	cmd.PreRunE = func(cmd *cobra.Command, args []string) error {
		if before != nil {
			if err := before(cmd, args); err != nil {
				return err
			}
		}
		return refuses()
	}
}

// meantBy are the flags that somebody may mean who typed another; those that a command
// has are offered.
func meantBy(name string) []string {
	return map[string][]string{
		"place": {"position", "assembly", "swap", "take"}, "position": {"place", "assembly", "swap", "take"},
		"part": {"swap", "take"}, "bike": {"on"}, "machine": {"on"}, "model": {"on"}, "variant": {"on"}, "year": {"on"},
		"json": {"format"}, "csv": {"format"}, "output": {"sheet", "picture"}, "out": {"sheet", "picture"},
		"donor": {"from"}, "file": {"sheet", "from"},
	}[name]
}

// flagError says of a flag that a command doesn't have which one may be meant.
func flagError(cmd *cobra.Command, err error) error {
	name, unknown := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !unknown {
		return desk.WrongUsage(err)
	}
	var names, offer []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	for _, other := range meantBy(name) {
		if cmd.Flags().Lookup(other) != nil {
			offer = append(offer, "--"+other)
		}
	}
	if len(offer) == 0 {
		for _, other := range graph.Nearest(name, names, 3) {
			offer = append(offer, "--"+other)
		}
	}
	text := fmt.Sprintf("%s has no flag --%s", cmd.CommandPath(), name)
	if hint := diag.DidYouMean(offer...); hint != "" {
		text += "; " + hint
	}
	return desk.Usagef("%s", text)
}

// allHelp is what --all does for an answer that folds.
const allHelp = "print everything, not only what to decide or do"

func addAllFlag(cmd *cobra.Command, all *bool) { cmd.Flags().BoolVar(all, "all", false, allHelp) }

// addWhere gives a command the flags that choose the graph.
func addWhere(cmd *cobra.Command, w *shelf.Where) {
	cmd.Flags().StringArrayVarP(&w.Data, "data", "d", nil,
		"answer from the files in this folder `DIR` (\"demo\" is the built-in set); may be given several times, later "+
			"ones add to and may contradict earlier ones")
	cmd.Flags().StringVar(&w.Store, "store", "",
		"answer from what was loaded into this `PLACE`: a folder or a postgres:// address")
	notBoth(cmd, "data", "store")
	if err := cmd.MarkFlagDirname("data"); err != nil {
		panic(err) // the flag is made two lines above
	}
}
