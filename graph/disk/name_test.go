package disk_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"matewell/graph/disk"
	"matewell/graph/disk/disktest"
)

func TestFileName(t *testing.T) {
	tests := []struct{ words, want string }{
		{"holm-400", "holm-400"},
		{"Größe 5/8 in", "Größe 5-8 in"},
		{`front: "left"?`, "front- -left--"},
		{"con", "con-"},
		{"Aux.2", "Aux-.2"},
		{"nul .txt", "nul-.txt"},
		{"COM\u00b2", "COM\u00b2-"},
		{"com10", "com10"},
		{"console", "console"},
		{" ..hidden. ", "hidden"},
		{"a\x00b\nc", "a-b-c"},
		{"bad \xff byte", "bad - byte"},
		{"", "unnamed"},
		{"...", "unnamed"},
		{strings.Repeat("ü", 100), strings.Repeat("ü", 60)},
	}
	for _, tt := range tests {
		if got := disk.FileName(tt.words); got != tt.want {
			t.Errorf("FileName(%q) = %q, want %q", tt.words, got, tt.want)
		}
	}
}

// Whatever the words, there can be a file of that name, a second time too.
func TestFileNameOfAnything(t *testing.T) {
	dir := disktest.Folder(t)
	rapid.Check(t, func(rt *rapid.T) {
		words := rapid.OneOf(rapid.String(),
			rapid.StringMatching(`(?i)(con|prn|aux|nul|com[0-9]|lpt[0-9]) *[.:]?[a-z .]{0,3}`)).Draw(rt, "words")
		name := disk.FileName(words)
		if name == "" || len(name) > 120+1 || !utf8.ValidString(name) || disk.FileName(name) != name {
			rt.Fatalf("%q gives %q, and that %q", words, name, disk.FileName(name))
		}
		path := filepath.Join(dir, name+".yaml")
		if err := os.WriteFile(path, []byte(name), 0o600); err != nil {
			rt.Fatal(err)
		}
		if _, err := os.Stat(path); err != nil {
			rt.Fatal(err)
		}
		if err := os.Remove(path); err != nil {
			rt.Fatal(err)
		}
	})
}
