package main

import (
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
)

const rootHelp = `matewell tells whether motorcycle parts mate well: which exact variant a machine
is, what fits there, what differs between two years, and who says so.

Without any set-up it answers from a built-in, invented data set, and says so.
Check and load your own with "matewell check DIR" and "matewell load DIR".`

const rootExample = `  matewell fits "Tarnholt 207.4418b"
  matewell fits --on skerry-620/2003/eu/late --assembly front-brake
  matewell differ skerry-620/2002 skerry-620/2004
  matewell check my-data`

// The groups that the help sorts the commands into.
const (
	groupAsk  = "ask"
	groupData = "data"
)

// newRootCmd is the whole command line. To add a command, write its file and
// name its constructor here.
func newRootCmd(e desk.Env) *cobra.Command {
	var showVersion bool
	root := &cobra.Command{
		Use:     "matewell",
		Short:   "Tell whether motorcycle parts mate well",
		Long:    rootHelp,
		Example: rootExample,
		Args:    knownCommand,
		// A mistyped command may be two letters off.
		SuggestionsMinimumDistance: 2,
		SilenceErrors:              true, // run in exit.go reports them, once
		SilenceUsage:               true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if showVersion {
				return runVersion(e)
			}
			return writeHelp(e.Out, cmd)
		},
	}
	root.SetIn(e.In)
	root.SetOut(e.Out)
	root.SetErr(e.Err)
	root.SetFlagErrorFunc(flagError)
	root.PersistentFlags().BoolP("help", "h", false, "show this help")
	root.Flags().BoolVar(&showVersion, "version", false, "print which matewell this is")
	root.CompletionOptions.DisableDefaultCmd = true // ours is cmd_completion.go
	root.SetHelpCommand(newHelpCmd(e))
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) { _ = writeHelp(e.Out, cmd) })
	root.AddGroup(&cobra.Group{ID: groupAsk, Title: "Questions:"},
		&cobra.Group{ID: groupData, Title: "Your data:"})
	for _, c := range []struct {
		group   string
		command *cobra.Command
	}{
		{groupAsk, newFitsCmd(e)},
		{groupAsk, newDifferCmd(e)},
		{groupAsk, newPartCmd(e)},
		{groupAsk, newWhereCmd(e)},
		{groupAsk, newIdentifyCmd(e)},
		{groupAsk, newFindCmd(e)},
		{groupAsk, newListCmd(e)},
		{groupAsk, newBikeCmd(e)},
		{groupAsk, newJobCmd(e)},
		{groupAsk, newSwapCmd(e)},
		{groupAsk, newDonorCmd(e)},
		{groupAsk, newGapsCmd(e)},
		{groupAsk, newWhyCmd(e)},
		{groupAsk, newConflictsCmd(e)},
		{groupAsk, newGaugeCmd(e)},
		{groupData, newStartCmd(e)},
		{groupData, newImportCmd(e)},
		{groupData, newCheckCmd(e)},
		{groupData, newLoadCmd(e)},
		{groupData, newRecordCmd(e)},
		{groupData, newMergeCmd(e)},
		{groupData, newExportCmd(e)},
		{groupData, newSchemaCmd(e)},
		{"", newCompletionCmd(e)},
		{"", newVersionCmd(e)},
	} {
		c.command.GroupID = c.group
		root.AddCommand(c.command)
	}
	return root
}

// knownCommand refuses a word that is no command, with the nearest that is.
func knownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return desk.Usagef("there is no command %q; did you mean %s?", args[0], strings.Join(near, " or "))
	}
	return desk.Usagef("there is no command %q", args[0])
}
