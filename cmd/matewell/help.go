package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/help"
)

const exitHelp = `Exit status:
  0   answered; "nothing fits" is an answer too
  1   bad data, a name that is not in the graph, or a failure
  2   wrong command line
  3   answered, but something safety-relevant is unknown, does not fit, or fits
      only once something is got, made or altered
  130 stopped by Ctrl-C
`

// writeHelp prints a command's help: what it does, how it is typed, examples,
// the commands below it, its flags, and the exit status.
func writeHelp(w io.Writer, cmd *cobra.Command) error {
	cmd.InheritedFlags() // has cobra add those of the commands above
	var b strings.Builder
	b.WriteString(strings.TrimSpace(cmd.Long) + "\n\n")
	fmt.Fprintf(&b, "Usage:\n  %s\n", cmd.UseLine())
	if cmd.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "  %s COMMAND ...\n", cmd.CommandPath())
	}
	if cmd.HasExample() {
		fmt.Fprintf(&b, "\nExamples:\n%s\n", cmd.Example)
	}
	for _, group := range cmd.Groups() {
		writeCommands(&b, cmd, group.Title, group.ID)
	}
	writeCommands(&b, cmd, "Other:", "")
	if cmd.HasAvailableFlags() {
		fmt.Fprintf(&b, "\nFlags:\n%s", cmd.Flags().FlagUsagesWrapped(help.Width))
	}
	if cmd.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "\nMore about a command: %s COMMAND --help\n", cmd.CommandPath())
	}
	if !cmd.HasParent() {
		b.WriteString("More about answers, data files, your machine: matewell help TOPIC, with\nfirst, answers, " +
			"machine, plans, data, systems, kinds, features\n")
	}
	fmt.Fprintf(&b, "\n%s", exitHelp)
	_, err := io.WriteString(w, b.String())
	return err
}

func writeCommands(w io.Writer, parent *cobra.Command, title, group string) {
	first := true
	for _, c := range parent.Commands() {
		if c.GroupID != group || !c.IsAvailableCommand() {
			continue
		}
		if first {
			fmt.Fprintf(w, "\n%s\n", title)
			first = false
		}
		fmt.Fprintf(w, "  %-*s  %s\n", parent.NamePadding(), c.Name(), c.Short)
	}
}

func newHelpCmd(e desk.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND | TOPIC | kinds | features | KIND | FEATURE]",
		Short: "Tell more about a command, a kind of part or a kind of feature",
		Long: `Help tells what a command does and how it is typed. "help answers" tells how
to read an answer, "help machine" how to keep a machine of your own and what
you find out, "help data" how data files are written, "help systems" what holds
on Windows and macOS. "help kinds" lists the kinds of part that every data set
may use, "help features" the kinds of mating feature, "help undecided" what
decides nothing and why; the name of one tells what it must measure, what
decides, what it meets and how it is written in a data file.`,
		Example: `  matewell help fits
  matewell help answers
  matewell help kinds
  matewell help caliper
  matewell help banjo`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				if told, err := help.Topic(e.Out, args[0]); told || err != nil {
					return err
				}
			}
			if len(args) > 0 {
				if told, err := help.Kinds(cmd.Context(), e, strings.Join(args, "-"), commandNamed(cmd.Root(), args[0])); told ||
					err != nil {
					return err
				}
			}
			about, rest, err := cmd.Root().Find(args)
			if err != nil {
				return desk.WrongUsage(err)
			}
			if len(rest) > 0 {
				return help.NoTopic(cmd.Context(), e, about, rest, knownCommand)
			}
			return writeHelp(e.Out, about)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, c := range cmd.Root().Commands() {
				if c.IsAvailableCommand() && len(args) == 0 {
					names = append(names, c.Name()+"\t"+c.Short)
				}
			}
			if len(args) == 0 {
				names = append(append(names, help.Topics...), help.KindTopics(cmd.Context())...)
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	}
}

// commandNamed reports whether a word is one of the commands.
func commandNamed(root *cobra.Command, name string) bool {
	return slices.ContainsFunc(root.Commands(), func(c *cobra.Command) bool { return c.Name() == name })
}

// wants makes a wrong number of arguments a usage error that names what is
// wanted. A most of -1 is no limit.
func wants(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return desk.Usagef("%s wants %s", cmd.Name(), what)
		case most >= 0 && len(args) > most:
			return desk.Usagef("%s wants %s, so what is %q?", cmd.Name(), what, args[most])
		}
		return nil
	}
}
