package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/queries"
)

// The exit codes, repeated in every command's help.
const (
	exitAnswered = 0 // answered; "nothing fits" is an answer
	exitFailed   = 1 // bad data, an identity that is not in the graph, or a failure
	exitUsage    = 2 // wrong command line
	exitUnsafe   = 3 // answered, but something safety-relevant is unknown, does not fit, or fits only after work
	// exitStopped is what a shell expects of a program stopped by Ctrl-C.
	exitStopped = 130
)

// run carries out one command line and gives its exit code. It is the only
// place where an error turns into words.
func run(e desk.Env, args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends it at once
	e.Bars, e.Err = e.Err, page.VisibleWriter(e.Err)
	out := &answerWriter{to: e.Out}
	e.Out = out
	root := newRootCmd(e)
	root.InitDefaultHelpCmd() // before noteStart, to which it is a command like others
	if err := tooLong(args); err != nil {
		return report(e, root, err)
	}
	root.SetArgs(args)
	started := false
	noteStart(root, &started)
	cmd, err := root.ExecuteContextC(ctx)
	if err != nil && !started {
		err = desk.WrongUsage(err) // whatever stops a command before it runs is in what was typed
	}
	if out.failed != nil && !desk.ReaderGone(out.failed) {
		return notPrinted(e, out.failed)
	}
	return report(e, cmd, err)
}

// mostTyped is how many bytes an argument may have: more than a name, a path or a note needs.
const mostTyped = 5_000

// tooLong refuses an argument that nobody typed: what is looked up letter by letter
// would take for ever.
func tooLong(args []string) error {
	for i, arg := range args {
		if len(arg) > mostTyped {
			return desk.Usagef("argument %d has %d bytes; the most that is read is %d", i+1, len(arg), mostTyped)
		}
	}
	return nil
}

// answerWriter is where answers go; it remembers the first failure, which some
// commands have no way to hand on.
type answerWriter struct {
	to     io.Writer
	failed error
}

func (a *answerWriter) Write(p []byte) (int, error) {
	n, err := a.to.Write(p)
	if a.failed == nil {
		a.failed = err
	}
	return n, err
}

// notPrinted says that what a command prints could not be written, whichever command
// and whatever else it has come to: half an answer is none.
func notPrinted(e desk.Env, err error) int {
	fmt.Fprintf(e.Err, "matewell: what is printed here can't be written: %s\n",
		shelf.WithoutSecrets(desk.Reason(err).Error()))
	return exitFailed
}

// noteStart has every command note that it began to run. Cobra gives no type
// to its own faults, so this tells a wrong command line from a failure.
func noteStart(cmd *cobra.Command, started *bool) {
	if carryOut := cmd.RunE; carryOut != nil {
		cmd.RunE = func(cmd *cobra.Command, args []string) error {
			*started = true
			return carryOut(cmd, args)
		}
	}
	for _, c := range cmd.Commands() {
		noteStart(c, started)
	}
}

// sayError says an error in lines that fit the terminal.
func sayError(e desk.Env, err error) {
	text := "matewell: " + shelf.WithoutSecrets(err.Error())
	if width := e.Columns(); width > 0 {
		text = strings.Join(page.Wrap(text, width, "  "), "\n")
	}
	fmt.Fprintln(e.Err, text)
}

func report(e desk.Env, cmd *cobra.Command, err error) int {
	var wrong desk.UsageError
	var unreadable *queries.QuestionError
	switch {
	case err == nil:
		return exitAnswered
	case errors.Is(err, desk.ErrUnsafe):
		return exitUnsafe
	case errors.Is(err, desk.ErrSaid):
		return exitFailed
	case desk.ReaderGone(err):
		return exitAnswered // the reader has seen enough; that is no fault
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(e.Err, "matewell: stopped")
		return exitStopped
	case errors.As(err, &wrong), errors.As(err, &unreadable):
		sayError(e, err)
		fmt.Fprintf(e.Err, "Try: %s --help\n", cmd.CommandPath())
		return exitUsage
	}
	sayError(e, err)
	var damaged *shelf.DamagedError
	if errors.As(err, &damaged) {
		shelf.SayHowToMend(e, damaged.Stores)
	}
	return exitFailed
}
