package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
)

// addFormatFlag gives a command the flag every answer has.
func addFormatFlag(cmd *cobra.Command, f *page.Format) {
	*f = page.FormatTable
	cmd.Flags().VarP(f, "format", "f", "how to print the answer: "+strings.Join(page.Formats(), ", "))
	complete(cmd, "format", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return page.Formats(), cobra.ShellCompDirectiveNoFileComp
	})
}

// printAnswer writes an answer, and what it leaves out of the user's own findings: the
// answer itself as JSON, its page in the other formats.
func printAnswer(e desk.Env, f page.Format, answer any, p page.Page, left shelf.LeftOut) error {
	w := bufio.NewWriter(e.Out)
	if f == page.FormatJSON {
		w = bufio.NewWriter(screen(e))
	}
	if err := writeAnswer(e, w, f, answer, p, left); err != nil {
		return fmt.Errorf("print the answer: %w", err)
	}
	if err := w.Flush(); err != nil {
		return fmt.Errorf("print the answer: %w", err)
	}
	return nil
}

func writeAnswer(e desk.Env, w io.Writer, f page.Format, answer any, p page.Page, left shelf.LeftOut) error {
	if left.Any() {
		p = append(p, left.Section())
	}
	p = page.VisiblePage(p)
	switch f {
	case page.FormatJSON:
		if left.Any() {
			return left.WriteJSON(w, answer)
		}
		return page.WriteJSON(w, answer)
	case page.FormatCSV:
		return p.WriteCSV(w)
	case page.FormatMarkdown:
		return p.WriteMarkdown(w)
	default:
		return p.Write(w, e.Columns(), e.Colours())
	}
}

// screen is where an answer goes that is not laid out as a page: as it is when
// it is piped, made visible for a person at a terminal.
func screen(e desk.Env) io.Writer {
	if e.OutTerm {
		return page.VisibleWriter(e.Out)
	}
	return e.Out
}
