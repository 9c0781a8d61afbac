package main

import (
	"cmp"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"matewell/graph/sampletest"
)

// notHere are the words of examples that need a file, a server or a finding of
// the reader's own.
var notHere = []string{"my-data", "all.nq", "heron.yaml", ".csv", ".xlsx", "gull-2026-11-25", "source <(", " > ",
	"--picture", "start my-holm"}

// TestHelpExamples asks every example of every command of the built-in data: an
// example that fails teaches nothing. What a script runs word for word, it need not; of
// the others an ordinary run asks a sample.
func TestHelpExamples(t *testing.T) {
	alone(t)
	e, _, _ := testEnv(t)
	root := newRootCmd(e)
	asked, inScript, share := 0, scripted(t), sampletest.OneIn(t, 5)
	var visit func(*cobra.Command)
	visit = func(cmd *cobra.Command) {
		for line := range strings.Lines(strings.ReplaceAll(cmd.Example, "\\\n", " ")) {
			example := strings.TrimSpace(line)
			if needsMore(example) {
				continue
			}
			asked++
			if inScript[words(strings.TrimPrefix(example, "matewell"))] || !share(example) {
				continue
			}
			t.Run(cmd.CommandPath()+"/"+example, func(t *testing.T) { askExample(t, example) })
		}
		for _, sub := range cmd.Commands() {
			visit(sub)
		}
	}
	visit(root)
	if asked < 30 {
		t.Errorf("only %d examples were asked; was the form of help changed?", asked)
	}
}

func needsMore(example string) bool {
	for _, word := range notHere {
		if strings.Contains(example, word) {
			return true
		}
	}
	return example == ""
}

func askExample(t *testing.T, example string) {
	e, out, errs := testEnv(t)
	own := e.Getenv
	folders := map[string]string{"XDG_CACHE_HOME": demoCache(t), "XDG_CONFIG_HOME": t.TempDir()}
	e.Getenv = func(name string) string { return cmp.Or(folders[name], own(name)) }
	t.Chdir(t.TempDir()) // what an example writes goes there
	line, ok := strings.CutPrefix(example, "matewell ")
	if !ok && example != "matewell" {
		t.Fatalf("%q is no command line of matewell", example)
	}
	args := shellWords(line)
	if strings.HasPrefix(line, "record ") && !strings.HasPrefix(line, "record name") {
		args = append(args, "--by", "gull") // nobody has said yet who they are
	}
	if code := run(e, args); code != exitAnswered && code != exitUnsafe || out.Len()+errs.Len() == 0 {
		t.Errorf("exit %d, printed %d bytes; it said:\n%s", code, out.Len(), errs)
	}
}
