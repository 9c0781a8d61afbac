package main

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"matewell/queries/lists"
)

// TestWalks: each of the three walks of DEVELOPERS.md goes through files that are there, through none twice, and
// through as many as it says. A name without a folder lies in the folder of the one before.
func TestWalks(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(text), "## Three walks")
	rows := regexp.MustCompile("(?m)^\\| `(\\w+)` \\| (.*) \\| (\\d+) \\|$").FindAllStringSubmatch(after, -1)
	if len(rows) != 3 {
		t.Fatalf("%d walks, want 3", len(rows))
	}
	for _, row := range rows {
		var files []string
		dir := "cmd/matewell"
		for _, step := range strings.Split(row[2], " > ") {
			said := regexp.MustCompile("^((?:`[^`]+`, )*`[^`]+`)").FindString(step) // what stands behind is words
			for _, name := range strings.Split(strings.ReplaceAll(said, "`", ""), ", ") {
				if name == "" {
					continue // the file of one rule
				}
				if strings.Contains(name, "/") {
					dir = path.Dir(name)
				}
				files = append(files, path.Join(dir, path.Base(name)))
			}
		}
		for _, file := range files {
			if _, err := os.Stat(filepath.Join(root, filepath.FromSlash(file))); err != nil {
				t.Errorf("%s: no file %s", row[1], file)
			}
		}
		n := len(files) + strings.Count(row[2], "the file of one rule")
		if said, _ := strconv.Atoi(row[3]); said != n || len(lists.Unique(slices.Clone(files))) != len(files) {
			t.Errorf("%s: goes through %d files, says %d: %v", row[1], n, said, files)
		}
	}
}
