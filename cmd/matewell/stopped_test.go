package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/disk/disktest"
	"matewell/graph/sampletest"
	"matewell/graph/store"
)

// stoppedProgram is the name under which the test program plays matewell and is
// stopped at the moment that stopVariable tells: "kill 3 LOG" or "fail 3 LOG".
const (
	stoppedProgram = "matewell-stopped"
	stopVariable   = "MATEWELL_TEST_STOP"
)

func stoppedMain() {
	how, rest, _ := strings.Cut(os.Getenv(stopVariable), " ")
	number, file, _ := strings.Cut(rest, " ")
	n, err := strconv.Atoi(number)
	log, errLog := os.Create(file)
	if err != nil || errLog != nil {
		panic(fmt.Sprint(err, errLog))
	}
	if how == "kill" {
		disktest.KillAt(n, log)
	} else {
		disktest.FailAt(n, log)
	}
	main()
}

// stopping is a command that is stopped at every moment, and what it changes.
type stopping struct {
	name, args string
	// before makes the state from which it starts; state tells what is there.
	before func(t *testing.T, home string)
	state  func(t *testing.T, home string) string
	many   int // moments there are at least
	// several says that files are put in place one by one: each is what it was or is to be.
	several bool
}

const stoppedFinding = "- id: gull-1\n  part: Tarnholt 207.7003\n  position: skerry-620:front-brake/master-cylinder\n" +
	"  on: [skerry-620/2002]\n  verdict: fits\n  method: fitted\n  by: gull\n"

func findingsFileIn(home string) string { return filepath.Join(home, "mine.yaml") }

func writeFindings(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func oneFinding(t *testing.T, home string) {
	writeFindings(t, findingsFileIn(home), "findings:\n"+stoppedFinding)
}

func findingsText(t *testing.T, home string) string {
	t.Helper()
	text, err := os.ReadFile(findingsFileIn(home))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// sourcesFolder is a data folder that names a source, and nothing else.
func sourcesFolder(t *testing.T, home, name string) {
	t.Helper()
	dir := filepath.Join(home, name)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	writeFindings(t, filepath.Join(dir, "sources.yaml"), "sources:\n  "+name+
		": {kind: factory parts list, title: A list}\n")
}

func loadedSources(t *testing.T, home string) string {
	t.Helper()
	s, err := store.OpenCurrent(filepath.Join(home, "store"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	sources, err := s.Sources(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, source := range sources {
		if source.ID == "first" || source.ID == "second" {
			ids = append(ids, string(source.ID))
		}
	}
	return strings.Join(ids, " ")
}

// importedFiles are the texts of what an import has written, file by file.
func importedFiles(t *testing.T, home string) string {
	t.Helper()
	var texts []string
	err := filepath.WalkDir(filepath.Join(home, "mine"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), ".matewell-") {
			return err
		}
		text, err := os.ReadFile(path)
		texts = append(texts, d.Name()+"\n"+string(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(texts, nextFile)
}

// nextFile parts the texts of files.
const nextFile = "\x00"

// isBetween reports whether each file is one of those before or after.
func isBetween(left, old, now string) bool {
	both := strings.Split(old+nextFile+now, nextFile)
	return !slices.ContainsFunc(strings.Split(left, nextFile), func(f string) bool { return !slices.Contains(both, f) })
}

func stoppings() []stopping {
	return []stopping{
		{"load", "load --store store second", func(t *testing.T, home string) {
			sourcesFolder(t, home, "first")
			sourcesFolder(t, home, "second")
			stopped(t, home, "", 0, "load --store store first")
		}, loadedSources, 20, false},
		{"load a changed file", "load --store store set", func(t *testing.T, home string) {
			sourcesFolder(t, home, "first")
			if err := os.Rename(filepath.Join(home, "first"), filepath.Join(home, "set")); err != nil {
				t.Fatal(err)
			}
			stopped(t, home, "", 0, "load --store store set")
			writeFindings(t, filepath.Join(home, "set", "sources.yaml"),
				"sources:\n  second: {kind: factory parts list, title: A list}\n")
		}, loadedSources, 20, false},
		{"record", "record 207.7003 --on skerry-620/2002 --position front-brake/master-cylinder --verdict fits " +
			"--method fitted --by heron --id heron-1 --data demo", oneFinding, findingsText, 6, false},
		{"import", "import list.csv --to mine", func(t *testing.T, home string) {
			list := filepath.Join(home, "list.csv")
			writeFindings(t, list, "number,name,qty,place\n101.1001,brake lever,1,front-brake/lever\n")
			stopped(t, home, "", 0, "import list.csv --to mine --brand Tarnholt")
			writeFindings(t, list, "number,name,qty,place\n101.1001,brake lever,1,front-brake/lever\n"+
				"101.1002,clutch lever,1,clutch/lever\n")
		}, importedFiles, 12, true},
		{"merge", "merge theirs.yaml --data demo", func(t *testing.T, home string) {
			oneFinding(t, home)
			writeFindings(t, filepath.Join(home, "theirs.yaml"), "findings:\n"+stoppedFinding+
				strings.ReplaceAll(stoppedFinding, "gull", "tern")+"withdrawals:\n- finding: gull-1\n  why: read wrongly\n")
		}, findingsText, 6, false},
		{"withdraw", "record withdraw gull-1 --why wrong --data demo", oneFinding, findingsText, 6, false},
	}
}

// TestStoppedAnywhere: a command that is killed just before or just after any step
// that puts a file in place or on disk, or for which that step fails, leaves what was
// there or what was to come, nothing between; and the next one gets through, and
// clears away what was left.
func TestStoppedAnywhere(t *testing.T) {
	alone(t)
	for _, c := range stoppings() {
		t.Run(c.name, func(t *testing.T) {
			template := disktest.Folder(t)
			c.before(t, template)
			home := func() string {
				dir := disktest.Folder(t)
				if err := os.CopyFS(dir, os.DirFS(template)); err != nil {
					t.Fatal(err)
				}
				return dir
			}
			dir := home()
			old := c.state(t, dir)
			moments := stopped(t, dir, "", 0, c.args)
			now := c.state(t, dir)
			if old == now || len(moments) < c.many {
				t.Fatalf("from %q to %q by %q", old, now, moments)
			}
			hows, few := []string{"kill"}, 8
			if sampletest.All() {
				hows, few = append(hows, "fail"), 1
			}
			seen := map[string]bool{}
			for _, how := range hows {
				for n := range moments {
					if last := n >= len(moments)-8; !last && n%few > 0 {
						continue // the last ones put what was made in place
					}
					dir := home()
					passed := stopped(t, dir, how, n+1, c.args)
					if how == "kill" && len(passed) != n+1 {
						t.Errorf("killed at moment %d, after %q", n+1, passed)
					}
					left := c.state(t, dir)
					if seen[left] = true; left != old && left != now && !(c.several && isBetween(left, old, now)) {
						t.Errorf("%s at %q leaves %q, neither\n%q nor\n%q", how, moments[n], left, old, now)
					}
					if left != now { // what was done already may be refused the second time
						stopped(t, dir, "", 0, c.args)
					}
					if after := c.state(t, dir); after != now {
						t.Errorf("the next one after %s at %q makes %q, want %q", how, moments[n], after, now)
					}
					if rest := leftBeside(t, dir); len(rest) > 0 {
						t.Errorf("after %s at %q the next one leaves %q", how, moments[n], rest)
					}
				}
			}
			if !seen[old] || !seen[now] {
				t.Errorf("only one state was ever seen: %v", seen)
			}
		})
	}
}

// leftBeside are files and folders that were to become others.
func leftBeside(t *testing.T, home string) []string {
	t.Helper()
	var left []string
	for _, pattern := range []string{".matewell-*", "*/.matewell-*", "*/unfinished-*"} {
		found, err := filepath.Glob(filepath.Join(home, pattern))
		if err != nil {
			t.Fatal(err)
		}
		left = slices.Concat(left, found)
	}
	return left
}

// stopped runs a command that is stopped at the n-th moment, at none for 0, and gives
// the moments that it passed. Without a how it must come to its end.
func stopped(t *testing.T, home, how string, n int, args string) []string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(home, "moments")
	cache := filepath.Join(home, "cache")
	if err := giveDemo(cache, desk.ProgramAt(self)); err != nil && !os.IsExist(err) {
		t.Fatal(err)
	}
	var out bytes.Buffer
	as := how
	if as == "" {
		as = "fail"
	}
	c := exec.Cmd{Path: self, Args: append([]string{stoppedProgram}, strings.Fields(args)...), Dir: home,
		Stdout: &out, Stderr: &out, Env: append(os.Environ(), stopVariable+"="+fmt.Sprintf("%s %d %s", as, n, log),
			"XDG_CACHE_HOME="+cache, "XDG_DATA_HOME="+filepath.Join(home, "data"),
			shelf.FindingsVariable+"="+findingsFileIn(home))}
	if err := c.Run(); err != nil && how == "" {
		t.Fatalf("%s: %v\n%s", args, err, &out)
	}
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSpace(string(text)), "\n")
}
