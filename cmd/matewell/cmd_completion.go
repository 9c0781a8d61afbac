package main

import (
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
)

func newCompletionCmd(e desk.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Print what makes a shell complete commands, models and part numbers",
		Long: `Completion prints a script for bash, zsh, fish or powershell. Once the shell has
read it, the tab key completes commands and flags, and models, positions and
part numbers from the graph. In PowerShell this line has it read, typed or kept in
the file that $PROFILE names:

  matewell completion powershell | Out-String | Invoke-Expression`,
		Example: `  source <(matewell completion bash)
  matewell completion fish > ~/.config/fish/completions/matewell.fish`,
		Args: wants(1, 1, "the name of one shell: "+strings.Join(shells(), ", ")),
		RunE: func(cmd *cobra.Command, args []string) error {
			script, ok := shellScripts(cmd.Root())[args[0]]
			if !ok {
				return desk.Usagef("no script for the shell %q; there is one for: %s", args[0], strings.Join(shells(), ", "))
			}
			return script(e.Out)
		},
		ValidArgsFunction: atMost(1, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return shells(), cobra.ShellCompDirectiveNoFileComp
		}),
	}
}

// shellScripts gives for each shell what writes its script.
func shellScripts(root *cobra.Command) map[string]func(io.Writer) error {
	const describe = true // offer the short help beside each word
	return map[string]func(io.Writer) error{
		"bash":       func(w io.Writer) error { return root.GenBashCompletionV2(w, describe) },
		"zsh":        root.GenZshCompletion,
		"fish":       func(w io.Writer) error { return root.GenFishCompletion(w, describe) },
		"powershell": root.GenPowerShellCompletionWithDesc,
	}
}

func shells() []string { return slices.Sorted(maps.Keys(shellScripts(nil))) }
