package datademo_test

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"

	datademo "matewell/data-demo"
	"matewell/graph"
	"matewell/loader"
)

// everyFileHasAnEntry reads SOURCES.md: every file of the set and every
// source must have an entry, and every entry must stand for something.
func everyFileHasAnEntry(t *testing.T, f graph.Facts) {
	body, err := os.ReadFile("SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{} // whether something was found for it
	for _, line := range strings.Split(string(body), "\n") {
		if cells := strings.Split(line, "|"); len(cells) > 2 {
			for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cells[1], -1) {
				named[m[1]] = false
			}
		}
	}
	total := int64(0)
	err = fs.WalkDir(datademo.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if info, err := d.Info(); err == nil {
			total += info.Size()
		}
		found := false
		for pattern := range named {
			if ok, _ := path.Match(pattern, name); ok {
				named[pattern], found = true, true
			}
		}
		if !found {
			t.Errorf("%s has no entry in SOURCES.md", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range f.Sources {
		if loader.OnlyStandard([]graph.Cite{{Pos: s.Pos}}) {
			continue // ships with the program, not with this set
		}
		if _, ok := named[string(s.ID)]; !ok {
			t.Errorf("source %q has no entry in SOURCES.md", s.ID)
		}
		named[string(s.ID)] = true
	}
	for name, found := range named {
		if !found {
			t.Errorf("the entry %q of SOURCES.md stands for nothing", name)
		}
	}
	if limit := int64(1_200_000); total > limit {
		t.Errorf("the set has %d bytes, more than %d: loading it gets slow", total, limit)
	}
}
