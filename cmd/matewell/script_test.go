package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph/sampletest"
)

// scripts is where the script tests are, seen from this folder.
const scripts = "../../testdata/script"

func TestMain(m *testing.M) {
	testscript.Main(withDemo{m}, map[string]func(){"matewell": main, stoppedProgram: stoppedMain})
}

// TestScripts runs every script; with -short, those that only ask the built-in
// data more, or load it whole, are left out. A script that begins with "[!all] skip"
// runs where all is to be tried. Set MATEWELL_UPDATE to
// have the wanted output rewritten, then read the diff as if it were code.
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs("../../data-demo")
	if err != nil {
		t.Fatal(err)
	}
	files, programs := scriptFiles(t), programFolder(t)
	if testing.Short() {
		files = slices.DeleteFunc(files, func(file string) bool {
			name := filepath.Base(file)
			return strings.HasPrefix(name, "demo_") || strings.HasPrefix(name, "swap_demo_") ||
				name == "load_readme.txtar"
		})
	}
	testscript.Run(t, testscript.Params{
		Files:               files,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Condition: func(name string) (bool, error) {
			if name == "all" {
				return sampletest.All(), nil
			}
			return false, fmt.Errorf("no condition %q", name)
		},
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"answerof": answerOf},
		UpdateScripts: os.Getenv("MATEWELL_UPDATE") != "",
		Setup: func(s *testscript.Env) error {
			home := filepath.Join(s.WorkDir, "home")
			s.Setenv("HOME", home)
			for name, dir := range map[string]string{"USERPROFILE": "", "LOCALAPPDATA": "AppData/Local",
				"APPDATA": "AppData/Roaming"} {
				s.Setenv(name, filepath.Join(home, filepath.FromSlash(dir))) // where Windows has it
			}
			s.Setenv("DEMO", demo)
			data, err := desk.Env{Getenv: s.Getenv}.DataDir()
			if err != nil {
				return err
			}
			s.Setenv("DATA", data)
			cache := filepath.Join(s.WorkDir, "cache")
			s.Setenv("XDG_CACHE_HOME", cache)
			if programs != "" {
				s.Setenv("PATH", programs+string(filepath.ListSeparator)+s.Getenv("PATH"))
			}
			program, err := scriptedProgram(s.Getenv("PATH"))
			return errors.Join(err, giveDemo(cache, desk.ProgramAt(program)))
		},
	})
}

// programFolder is a folder with the program as users have it, for a run of all scripts:
// to link it takes less than the hundreds of starts that it saves, since what only tests
// need doubles each. Empty, for the tests' own program, where some are run, or there is no
// go command, as under Wine.
func programFolder(t *testing.T) string {
	t.Helper()
	if some := flag.Lookup("test.run"); some != nil && some.Value.String() != "" {
		return ""
	}
	if _, err := exec.LookPath("go"); err != nil {
		return ""
	}
	dir := t.TempDir()
	build := exec.Command("go", "build", "-buildvcs=false", "-ldflags=-s -w", "-o", dir, ".") // nobody debugs it
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build matewell: %v\n%s", err, out)
	}
	return dir
}

// scriptedProgram finds the matewell that scripts run.
func scriptedProgram(path string) (string, error) {
	for _, dir := range filepath.SplitList(path) {
		file := filepath.Join(dir, "matewell")
		if runtime.GOOS == "windows" {
			file += ".exe"
		}
		if _, err := os.Stat(file); err == nil {
			return file, nil
		}
	}
	return "", errors.New("no matewell for scripts in " + path)
}

// TestScriptNames keeps a script findable: <command>_<case>.txtar, its first
// line a sentence.
func TestScriptNames(t *testing.T) {
	commands := map[string]bool{"demo": true, "help": true}
	for _, c := range newRootCmd(desk.Env{}).Commands() {
		commands[c.Name()] = true
	}
	files := scriptFiles(t)
	for _, file := range files {
		name := filepath.Base(file)
		command, _, ok := strings.Cut(name, "_")
		if !ok || !commands[command] || !strings.HasSuffix(name, ".txtar") {
			t.Errorf("%s: want a name like <command>_<case>.txtar", name)
		}
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := strings.Cut(string(content), "\n")
		if !regexp.MustCompile(`^# [A-Z].*\.$`).MatchString(first) {
			t.Errorf("%s: the first line must be a sentence that says what is tested, not %q", name, first)
		}
	}
}

// TestReadmeCommands runs no command itself: it wants each one that README.md
// and the pages of help show to be run by a script, so that what the reader is told still works.
func TestReadmeCommands(t *testing.T) {
	run := scripted(t)
	shown := readmeCommands(toldToReaders(t))
	if len(shown) < 2 {
		t.Fatalf("README.md shows %d commands; was its form changed?", len(shown))
	}
	for _, command := range shown {
		if !run[words(command)] {
			t.Errorf("README.md shows %q, which no script runs", "matewell"+command)
		}
	}
}

// scripted are the commands that scripts run, as words gives them.
func scripted(t *testing.T) map[string]bool {
	t.Helper()
	run := map[string]bool{}
	for _, file := range scriptFiles(t) {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(content)) {
			if _, command, ok := strings.Cut(line, "exec matewell"); ok {
				run[words(command)] = true
			}
		}
	}
	return run
}

// readmeCommands are the matewell commands in the code blocks, without the
// program's name.
func readmeCommands(readme string) []string {
	var commands []string
	for i, block := range strings.Split(readme, "```") {
		if i%2 == 0 {
			continue
		}
		for line := range strings.Lines(strings.ReplaceAll(block, "\\\n", " ")) { // a line may go on in the next
			line = strings.TrimPrefix(strings.TrimSpace(line), "$ ")
			for _, start := range []string{"matewell", "go run ./cmd/matewell"} {
				if rest, ok := strings.CutPrefix(line, start+" "); ok {
					rest, _, _ = strings.Cut(rest, " #")
					commands = append(commands, " "+rest)
				}
			}
		}
	}
	return commands
}

// words makes commands comparable: scripts quote with ' where a shell would
// also take ".
func words(command string) string {
	return strings.Join(strings.Fields(strings.NewReplacer(`"`, "", "'", "").Replace(command)), " ")
}

func scriptFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(scripts + "/*")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts in %s: %v", scripts, err)
	}
	return files
}

// TestNothingForbidden reads every file of the project for what must not be
// published: places on one machine, and hosts of package registries.
func TestNothingForbidden(t *testing.T) {
	// Written in pieces, so that this file does not hold them.
	words := []string{"/" + "work/", "/" + "root/", "/" + "home/", "/" + "Users/", "/" + "tmp/",
		"proxy." + "golang.org", "registry." + "npmjs.org", "deb." + "debian.org"}
	files := 0
	err := filepath.WalkDir("../..", func(name string, entry os.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && (entry.Name() == ".git" || entry.Name() == "bin"):
			return filepath.SkipDir
		case entry.IsDir() || entry.Name() == ".git": // a file where git has the folder elsewhere
			return nil
		}
		content, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		files++
		if isBinary(content) {
			return nil
		}
		for _, word := range words {
			if at := forbiddenAt(content, word); at >= 0 {
				t.Errorf("%s:%d: holds %q", name, bytes.Count(content[:at], []byte("\n"))+1, word)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 50 {
		t.Errorf("read %d files only; is this still the project's folder?", files)
	}
}

// forbiddenAt finds a word that does not go on from another: a path that starts
// with a variable, as in a script, is none of one machine.
func forbiddenAt(content []byte, word string) int {
	for from := 0; ; {
		at := bytes.Index(content[from:], []byte(word))
		if at < 0 {
			return -1
		}
		at += from
		if at == 0 || !strings.HasPrefix(word, "/") || bytes.IndexByte([]byte(" \t\n\"'`(=:,"), content[at-1]) >= 0 {
			return at
		}
		from = at + 1
	}
}

// isBinary tells a built program that somebody left here from a text.
func isBinary(content []byte) bool { return bytes.IndexByte(content[:min(len(content), 8000)], 0) >= 0 }
